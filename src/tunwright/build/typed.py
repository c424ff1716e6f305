"""Values as a person would type them in a build file, and text made safe to print."""

from __future__ import annotations

import datetime as dt
import math
import unicodedata
from collections.abc import Mapping

_LONGEST_DIGITS = 60
_HIDDEN = frozenset({"Cc", "Cf", "Cn", "Co", "Cs", "Zl", "Zp"})  # categories of characters that show nothing


def as_typed(value: object) -> str:
    """A value of a TOML document as it stands there; tables and lists by what they are.

    value: anything the reader of TOML gives
    """
    if isinstance(value, Mapping | list | tuple):
        return "a table" if isinstance(value, Mapping) else "a list"
    if isinstance(value, bool):
        return "true" if value else "false"
    if isinstance(value, int) and value.bit_length() > 3 * _LONGEST_DIGITS:
        return f"a number of {_digits(value)} digits"
    return value.isoformat() if isinstance(value, dt.date | dt.time) else str(value)


def _digits(value: int) -> int:
    """Digits of a whole number, found without writing it out."""
    return int(value.bit_length() * math.log10(2)) + 1


def capital(text: str) -> str:
    """A text that begins with a capital letter.

    text: the text
    """
    return f"{text[:1].upper()}{text[1:]}"


def quoted(text: str) -> str:
    """Text in quotes, as TOML wants it.

    text: any text
    """
    inner = text.replace("\\", "\\\\").replace('"', '\\"')
    return f'"{printable(inner)}"'


def printable(text: str) -> str:
    """Text with everything that is no visible character written out as its number, so that it cannot harm a terminal.

    text: any text
    """
    return "".join(f"\\u{ord(c):04x}" if unicodedata.category(c) in _HIDDEN else c for c in text)


def metres(value: float) -> str:
    """A length as it would be typed, quotes included: in millimetres below a metre.

    value: the length [m]
    """
    if abs(value) < 1.0:
        return f'"{round(value * 1000, 1):g} mm"'
    return f'"{round(value, 3):g} m"'


def listed(words: list[str], joint: str = "or") -> str:
    """Words as a person lists them: a, b or c.

    words: what to list
    joint: word before the last
    """
    return words[0] if len(words) == 1 else f"{', '.join(words[:-1])} {joint} {words[-1]}" if words else ""
