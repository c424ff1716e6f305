"""Examples are tried before they are shown: put in place of what was wrong, they must be accepted there."""

from __future__ import annotations

import copy
import tomllib
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import replace
from typing import Any

from tunwright.build.base import Wrong
from tunwright.build.model import Build
from tunwright.build.sketch import Sketch

TRIED = 12
"""Examples that are tried; later ones are left out, for trying takes time."""


def with_good_examples(wrongs: Iterable[Wrong], raw: Mapping[str, Any], context: dict[str, Any]) -> Iterator[Wrong]:
    """The same, less the examples that would not be accepted where they stand.

    wrongs: what is wrong
    raw: the document as parsed
    context: context of the validation
    """
    left = TRIED
    for wrong in wrongs:
        good = bool(wrong.example) and left > 0 and _accepted(wrong, raw, context)
        left -= bool(wrong.example)
        yield wrong if good or not wrong.example else replace(wrong, example="")


def _accepted(wrong: Wrong, raw: Mapping[str, Any], context: dict[str, Any]) -> bool:
    """Whether nothing is wrong any more at a place once the example stands there."""
    trial = copy.deepcopy(dict(raw))
    try:
        _put(trial, wrong)
    except (LookupError, TypeError, ValueError):
        return False
    sketch = Sketch(context)
    sketch.table(Build, trial)
    return wrong.path not in sketch.unread and all(one.path != wrong.path for one in sketch.found)


def _put(raw: dict[str, Any], wrong: Wrong) -> None:
    """Put an example in its place: a value at the path, or a key with its value in the table there or around it."""
    pair = "=" in wrong.example.partition('"')[0] and wrong.example[0] not in '[{"'
    given = tomllib.loads(wrong.example if pair else f"value = {wrong.example}")
    ((key, value),) = given.items()
    here: Any = raw
    for part in wrong.path[:-1]:
        here = here[part]
    if not pair:
        here[wrong.path[-1]] = value
    elif wrong.path[-1] == key or not isinstance(here[wrong.path[-1]], dict):
        here[key] = value
    else:
        here[wrong.path[-1]][key] = value
