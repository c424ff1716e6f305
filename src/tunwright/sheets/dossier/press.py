"""From plain data to PDF. The data goes in as a JSON file beside the template: no text ever becomes markup.

Only the fonts that come with typst are used, so every machine prints the same bytes. Where a text has letters these
fonts lack (other scripts than Latin, Greek and Cyrillic), the machine's own fonts help out for those letters.
"""

from __future__ import annotations

import json
import re
from functools import lru_cache
from importlib.resources import files
from typing import Any

import typst

from tunwright.build.shown import THIN_SPACE

_TEMPLATE = ("dossier.typ", "tables.typ", "marks.typ")
_LONG_WORD = re.compile(r"[^\s\u200b-]{19,}")
_UNIT = re.compile(r"(?<=\d) (?=(?:kg|g|t|mm|µm|m|m²|L|US gal|lb|in|ft|ft²|%|kN|N|bar|psi|MPa)(?![\w]))")
_NO_BREAK, _NARROW_NO_BREAK = "\u00a0", "\u202f"
_PIECE = 9  # letters of a long word between the places where it may break
_WHOLE = frozenset({"svg", "hashes"})  # keys whose texts stay as they are
_BEYOND = re.compile("[^\\x00-\\u058f\\u1e00-\\u2bff\\ufb00-\\ufb06\\ufffd]")


def pressed(data: dict[str, Any]) -> bytes:
    """The dossier as PDF; the same data gives the same bytes.

    data: everything the template prints
    """
    text = json.dumps(_typeset(data), ensure_ascii=False)
    own_fonts = _BEYOND.search(text) is None
    made = typst.compile({**_templates(), "data.json": text.encode()}, format="pdf", ignore_system_fonts=own_fonts)
    return bytes(made)  # type: ignore[arg-type]


@lru_cache(maxsize=1)
def _templates() -> dict[str, bytes]:
    """The template files; the first is the main one."""
    here = files(__package__)
    found = {name: here.joinpath(name).read_bytes() for name in _TEMPLATE}
    return {"main": found[_TEMPLATE[0]], **found}


def _typeset(data: Any, key: str = "") -> Any:
    """The data with figures that stay together, and places to break in words longer than a column is wide."""
    if key in _WHOLE:
        return data
    if isinstance(data, str):
        together = _UNIT.sub(_NO_BREAK, data.replace(THIN_SPACE, _NARROW_NO_BREAK))
        return _LONG_WORD.sub(_pieces, together)
    if isinstance(data, dict):
        return {name: _typeset(value, name) for name, value in data.items()}
    if isinstance(data, list):
        return [_typeset(value) for value in data]
    return data


def _pieces(found: re.Match[str]) -> str:
    word = found.group()
    return "\u200b".join(word[i : i + _PIECE] for i in range(0, len(word), _PIECE))
