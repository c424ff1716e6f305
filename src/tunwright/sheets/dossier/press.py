"""From plain data to PDF. The data goes in as one JSON text that the template reads: no text ever becomes markup.

Only the fonts that come with typst are used, so every machine prints the same bytes, and the PDF is one a screen reader
can read (PDF/UA-1). Where a text has letters these fonts lack, the machine's own fonts help out for those letters.
"""

from __future__ import annotations

import json
import re
from functools import lru_cache
from importlib.resources import files
from typing import Any

import typst

from tunwright.build.shown import THIN_SPACE

_TEMPLATE = ("marks.typ", "tables.typ", "dossier.typ")  # each uses what stands above it
_LONG_WORD = re.compile(r"[^\s\u200b-]{19,}")
_PIECE = 9  # letters of a long word between the places where it may break
_UNIT = re.compile(r"(?<=\d) (?=(?:kg|g|t|mm|µm|m|m²|L|US gal|lb|in|ft|ft²|%|kN|N|bar|psi|MPa)(?![\w]))")
_NO_BREAK, _NARROW_NO_BREAK = "\u00a0", "\u202f"
_PLAIN = str.maketrans(
    {
        THIN_SPACE: _NARROW_NO_BREAK,
        **dict.fromkeys("\u2028\u2029", " "),
        **dict.fromkeys("\u202a\u202b\u202c\u202d\u202e\u2066\u2067\u2068\u2069"),  # these would turn letters round
    }
)
_WHOLE = frozenset({"svg", "hashes"})  # keys whose texts stay as they are


def pressed(data: dict[str, Any]) -> bytes:
    """The dossier as PDF; the same data gives the same bytes.

    data: everything the template prints
    """
    inputs = {"data": json.dumps(_typeset(data), ensure_ascii=False)}
    try:
        return typst.compile(
            _template(), format="pdf", ignore_system_fonts=True, sys_inputs=inputs, pdf_standards="ua-1"
        )
    except typst.TypstError:  # the standard refuses letters without a face
        return typst.compile(_template(), format="pdf", sys_inputs=inputs)


@lru_cache(maxsize=1)
def _template() -> bytes:
    """The template files as one."""
    here = files(__package__)
    return b"\n".join(here.joinpath(name).read_bytes() for name in _TEMPLATE)


def _typeset(data: Any, key: str = "") -> Any:
    """The data with figures that stay together, and places to break in words longer than a column is wide."""
    if key in _WHOLE:
        return data
    if isinstance(data, str):
        return _LONG_WORD.sub(_pieces, _UNIT.sub(_NO_BREAK, data.translate(_PLAIN)))
    if isinstance(data, dict):
        return {name: _typeset(value, name) for name, value in data.items()}
    if isinstance(data, list):
        return [_typeset(value) for value in data]
    return data


def _pieces(found: re.Match[str]) -> str:
    word = found.group()
    return "\u200b".join(word[i : i + _PIECE] for i in range(0, len(word), _PIECE))
