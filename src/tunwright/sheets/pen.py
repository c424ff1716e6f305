"""SVG elements: compact numbers, colours by theme, paths. Used by drawings and charts alike.

Theme "paper" writes the colours of print. Theme "css" writes `var(--role,light colour)` in the same attributes and adds
class names, so a page recolours by setting variables and a picture standing alone still shows. Both use presentation
attributes only, no style sheet, so they work under a strict content policy and in print renderers.
"""

from __future__ import annotations

import zlib
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from html import escape
from typing import Literal

from tunwright.sheets.layers import FONTS, LIGHT, PAPER

Theme = Literal["paper", "css"]


def number(value: float, digits: int = 2) -> str:
    """A number for an attribute: rounded, no trailing zeros, no leading zero, never "-0"."""
    text = f"{value:.{digits}f}"
    if "." in text:
        text = text.rstrip("0").rstrip(".")
    if text in ("-0", ""):
        return "0"
    return text.replace("0.", ".", 1) if text.startswith(("0.", "-0.")) else text


def numbers(values: Iterable[float]) -> str:
    """Numbers for a path or list, separated only where needed."""
    out = ""
    for value in values:
        text = number(value)
        out += text if not out or text.startswith("-") else " " + text
    return out


def clean(text: str) -> str:
    """Text safe inside an element or a quoted attribute."""
    return escape(text, quote=True)


@dataclass(frozen=True)
class Pen:
    """Writes elements in one theme; `key` keeps the ids of several pictures in one page apart."""

    theme: Theme
    key: str

    def __post_init__(self) -> None:
        if self.theme not in ("paper", "css"):
            raise ValueError(f"theme {self.theme!r} is not known; allowed are 'paper' and 'css'")

    def colour(self, role: str) -> str:
        """A colour role as an attribute value."""
        return f"var(--{role},{LIGHT[role]})" if self.theme == "css" else PAPER[role]

    def fill(self, name: str | None) -> str:
        """A fill attribute; "hatch" refers to the pattern of `definitions`."""
        if name is None:
            return ' fill="none"'
        return f' fill="url(#{self.key}-hatch)"' if name == "hatch" else f' fill="{self.colour(name)}"'

    def stroke(self, role: str, weight: float, dash: Sequence[float] = ()) -> str:
        """Stroke attributes; a weight of 0 draws no line."""
        if weight == 0.0:
            return ' stroke="none"'
        dashes = f' stroke-dasharray="{numbers(dash)}"' if dash else ""
        return f' stroke="{self.colour(role)}" stroke-width="{number(weight)}"{dashes}'

    def group(self, name: str) -> str:
        """A class attribute, only in the "css" theme."""
        return f' class="{name}"' if self.theme == "css" else ""

    def definitions(self) -> str:
        """The hatching pattern: thin lines under 45 degrees, 1.5 mm apart."""
        line = f'<path d="M0 0V1.5"{self.stroke("accent", 0.2)}/>'
        return (
            f'<defs><pattern id="{self.key}-hatch" width="1.5" height="1.5" patternUnits="userSpaceOnUse" '
            f'patternTransform="rotate(45)">{line}</pattern></defs>'
        )

    def text(
        self,
        x: float,
        y: float,
        words: str,
        *,
        size: float,
        anchor: str = "start",
        bold: bool = False,
        halo: bool = False,
        turn: float = 0.0,
        extra: str = "",
    ) -> str:
        """A text element: size is the font size, turn in degrees clockwise about (x, y)."""
        parts = [f'<text x="{number(x)}" y="{number(y)}" font-size="{number(size)}"']
        parts.append(f' text-anchor="{anchor}"' if anchor != "start" else "")
        parts.append(' font-weight="700"' if bold else "")
        parts.append(f' transform="rotate({number(turn)} {numbers((x, y))})"' if number(turn) != "0" else "")
        parts.append(self.halo(size) if halo else "")
        parts.append(f"{extra}>{clean(words)}</text>")
        return "".join(parts)

    def halo(self, size: float) -> str:
        """Attributes that give letters a border in the colour of the sheet."""
        border = f'stroke="{self.colour("sheet")}" stroke-width="{number(size * 0.28)}" stroke-linejoin="round"'
        return f' paint-order="stroke" {border}'

    def picture(
        self,
        body: str,
        *,
        size: tuple[float, float],
        title: str,
        description: str = "",
        shown: tuple[float, float] | None = None,
        extra: str = "",
    ) -> str:
        """The whole SVG: size of the view box and, if given, the size shown [mm]."""
        room = f' width="{number(shown[0])}mm" height="{number(shown[1])}mm"' if shown else ""
        desc = f'<desc id="{self.key}-d">{clean(description)}</desc>' if description else ""
        named = f"{self.key}-t {self.key}-d" if description else f"{self.key}-t"
        defs = self.definitions() if f"url(#{self.key}-hatch)" in body else ""
        return (
            f'<svg xmlns="http://www.w3.org/2000/svg"{room} viewBox="0 0 {numbers(size)}" role="img" '
            f'aria-labelledby="{named}" font-family="{FONTS}" stroke-linejoin="round"{self.group("tw-sheet")}{extra}>'
            f'<title id="{self.key}-t">{clean(title)}</title>{desc}{defs}{body}</svg>'
        )


def picture_key(*parts: object) -> str:
    """A short id from what the picture is, the same on every run."""
    return f"p{zlib.crc32(repr(parts).encode()):08x}"
