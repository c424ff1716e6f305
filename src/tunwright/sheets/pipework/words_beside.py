"""Words that stand over and under something on the schematic, and the room they take [mm of paper]."""

from __future__ import annotations

import textwrap
from collections.abc import Sequence
from dataclasses import dataclass

from tunwright.build.shown import THIN_SPACE
from tunwright.sheets.drawing import TEXT_MM, Anchor, Point, Text
from tunwright.sheets.lettering import SPARE, text_width
from tunwright.sheets.ticks import THIN

PITCH = 3.8
"""From line to line [mm]."""
CLEAR = 1.4  # between words and what they belong to
_ASCENT, _DESCENT, _NOTE = 2.8, 0.9, 2.1
_SIGNS = 18


@dataclass(frozen=True)
class Words:
    """A line of words.

    text: what it says
    quiet: said in passing, in smaller letters
    bold: a name or the main figure
    """

    text: str
    quiet: bool = False
    bold: bool = False

    @property
    def height(self) -> float:
        """Height of its capitals [mm]."""
        return _NOTE if self.quiet else TEXT_MM

    @property
    def width(self) -> float:
        """Its width, a little to spare [mm]."""
        return SPARE * text_width(self.text, self.height, bold=self.bold)

    def at(self, place: Point, anchor: Anchor) -> Text:
        """The words on the paper.

        place: where their base line is anchored [mm]
        anchor: by which end
        """
        return Text(place, self.text, "note" if self.quiet else "text", self.height, anchor, self.bold)


def named(name: str, *, quiet: bool = False, bold: bool = False, signs: int = _SIGNS) -> tuple[Words, ...]:
    """A name in lines that are not too long.

    name: the name
    quiet: in smaller letters
    bold: in bold letters
    signs: most signs in a line
    """
    plain = name.replace(THIN_SPACE, THIN)
    return tuple(Words(line, quiet, bold) for line in textwrap.wrap(plain, signs) or [plain])


def widest(words: Sequence[Words]) -> float:
    """Width of the widest line [mm], 0 where there is none.

    words: the lines
    """
    return max((one.width for one in words), default=0.0)


def tall(words: Sequence[Words]) -> float:
    """Height of lines, with the room to what they belong to [mm]; 0 where there is none.

    words: the lines
    """
    return CLEAR + _ASCENT + _DESCENT + PITCH * (len(words) - 1) if words else 0.0


def over(words: Sequence[Words], foot: Point, anchor: Anchor = "middle") -> list[Text]:
    """Lines that stand over something.

    words: the lines, first at the top
    foot: the top of what they stand over [mm]
    anchor: by which end
    """
    low = foot[1] + CLEAR + _DESCENT
    return [one.at((foot[0], low + PITCH * i), anchor) for i, one in enumerate(reversed(words))]


def under(words: Sequence[Words], top: Point, anchor: Anchor = "middle") -> list[Text]:
    """Lines that hang under something.

    words: the lines, first at the top
    top: the lower edge of what they hang under [mm]
    anchor: by which end
    """
    high = top[1] - CLEAR - _ASCENT
    return [one.at((top[0], high - PITCH * i), anchor) for i, one in enumerate(words)]
