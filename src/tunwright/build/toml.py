"""The tables of a TOML text, read once for all who ask."""

from __future__ import annotations

import tomllib
from collections.abc import Mapping
from functools import lru_cache
from typing import Any


@lru_cache(maxsize=8)
def tables(text: str) -> Mapping[str, Any]:
    """What a text says, kept and so not to be changed: a text that was written is read back, and then read.

    text: the document
    tomllib.TOMLDecodeError, RecursionError, ValueError: as tomllib raises them
    """
    return tomllib.loads(text)
