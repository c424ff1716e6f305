"""How much room a text takes, estimated without any font.

Advance widths are those of the first face in `layers.FONTS`, gathered into classes and rounded up; a test compares
them with the installed face. The boxes that keep texts apart are wider by `SPARE`, because a machine without that face
falls back to a wider one.
"""

from __future__ import annotations

import math

from tunwright.sheets.drawing import Point, Text

CAP = 0.7  # height of capitals per font size
SPARE = 1.18  # how much wider the other faces run
_BELOW, _ABOVE = 0.22, 0.76  # room under and over the base line per font size
_BOLD = 1.1

_CLASSES = (
    ("ijl'|", 0.25),
    ("Ift.,:;!/\\ \u00a0\u202f\u2009·[]", 0.29),
    ('r()-{}"²³°*', 0.37),
    ("cksvxyzJ", 0.51),
    ("FLTZ", 0.62),
    ("+<>=~≤≥×≈−±", 0.71),
    ("ABCDEGHKNOPQRSUVXYØ&w", 0.74),
    ("mM%", 0.89),
    ("W@…—", 1.0),
)
_WIDTH = {sign: width for signs, width in _CLASSES for sign in signs}
_OTHER = 0.56


def font_size(height: float) -> float:
    """Font size for a height of capitals, in the same unit."""
    return height / CAP


def text_width(text: str, height: float, *, bold: bool = False) -> float:
    """Estimated width of a text with capitals of `height`, in the unit of the height."""
    ems = sum(_WIDTH.get(sign, _OTHER) for sign in text)
    return ems * font_size(height) * (_BOLD if bold else 1.0)


def text_height(entity: Text, scale: float) -> float:
    """Height of the capitals of a text on paper [mm] at 1:scale."""
    return entity.height_mm if entity.height_m is None else entity.height_m * 1000.0 / scale


def text_origin(entity: Text, scale: float) -> Point:
    """Where the base line is anchored [m], the shift on paper included."""
    mm = scale / 1000.0
    return (entity.at[0] + entity.shift_mm[0] * mm, entity.at[1] + entity.shift_mm[1] * mm)


def text_corners(entity: Text, scale: float) -> tuple[Point, Point, Point, Point]:
    """The four corners [m] of the estimated box around a text, counter-clockwise from its lower left."""
    height = text_height(entity, scale) * scale / 1000.0
    width = SPARE * text_width(entity.text, height, bold=entity.bold)
    left = {"start": 0.0, "middle": -0.5, "end": -1.0}[entity.anchor] * width
    low, high = -_BELOW * font_size(height), _ABOVE * font_size(height)
    u, v = text_origin(entity, scale)
    cos, sin = math.cos(entity.turn), math.sin(entity.turn)

    def corner(x: float, y: float) -> Point:
        return (u + x * cos - y * sin, v + x * sin + y * cos)

    right = left + width
    return (corner(left, low), corner(right, low), corner(right, high), corner(left, high))
