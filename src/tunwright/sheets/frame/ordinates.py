"""Ordinate dimensions: every place by its distance from one datum, so that no errors add up.

A figure stands at the end of a line drawn out from its place, turned along it; close neighbours are led apart.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

from tunwright.sheets.annotate import FOOT_MM
from tunwright.sheets.drawing import Anchor, Circle, Entity, Line, Polyline, Text
from tunwright.sheets.placing import spread

HEIGHT_MM = 2.2
_APART_MM = 3.9  # of figures beside each other
_BEND_MM, _TAIL_MM, _GAP_MM = 3.0, 2.0, 0.8
_DATUM_MM = 0.9
_LAYER = "dimension"


@dataclass(frozen=True)
class Ordinate:
    """A place and what is written at it.

    at: distance along the datum's axis [m]
    text: its figure, with a name where there is one
    foot: where its line begins across the axis [m]
    """

    at: float
    text: str
    foot: float


def along(found: Sequence[Ordinate], *, base: float, offset_mm: float, scale: float) -> list[Entity]:
    """Ordinates along u; figures stand upright, read from the right.

    found: the places
    base: height the offset counts from [m]
    offset_mm: to where the lines are led apart on paper, upwards positive [mm]
    scale: 1:scale
    """
    mm, up = scale / 1000.0, 1.0 if offset_mm > 0.0 else -1.0
    ordered = sorted(found, key=lambda one: one.at)
    places = spread([one.at / mm for one in ordered], [_APART_MM] * (len(ordered) - 1), -1e6, 1e6)
    bend = base + offset_mm * mm
    parts: list[Entity] = []
    for one, place in zip(ordered, places, strict=True):
        u, top = place * mm, bend + up * _BEND_MM * mm
        end = (u, top + up * _TAIL_MM * mm)
        parts.append(Polyline(((one.at, one.foot + up * FOOT_MM * mm), (one.at, bend), (u, top), end), _LAYER))
        shift = (0.5 * HEIGHT_MM, up * _GAP_MM)
        anchor: Anchor = "start" if up > 0.0 else "end"
        parts.append(Text(end, one.text, _LAYER, HEIGHT_MM, anchor, shift_mm=shift, turn=0.5 * math.pi))
    return [*parts, *_datum([(one.at, one.foot) for one in ordered if one.at == 0.0], mm)]


def upright(found: Sequence[Ordinate], *, base: float, offset_mm: float, scale: float) -> list[Entity]:
    """Ordinates along v, to the left of what they measure; figures lie.

    found: the places; `foot` is where the line begins along u [m]
    base: place the offset counts from [m]
    offset_mm: to where the lines are led apart on paper, to the left positive [mm]
    scale: 1:scale
    """
    mm = scale / 1000.0
    ordered = sorted(found, key=lambda one: one.at)
    places = spread([one.at / mm for one in ordered], [_APART_MM] * (len(ordered) - 1), -1e6, 1e6)
    bend = base - offset_mm * mm
    parts: list[Entity] = []
    for one, place in zip(ordered, places, strict=True):
        v, out = place * mm, bend - _BEND_MM * mm
        end = (out - _TAIL_MM * mm, v)
        parts.append(Polyline(((one.foot - FOOT_MM * mm, one.at), (bend, one.at), (out, v), end), _LAYER))
        parts.append(Text(end, one.text, _LAYER, HEIGHT_MM, "end", shift_mm=(-_GAP_MM, -0.5 * HEIGHT_MM)))
    return parts


def _datum(places: Sequence[tuple[float, float]], mm: float) -> list[Entity]:
    """The mark of the datum."""
    return [
        part
        for at in places[:1]
        for part in (
            Circle(at, _DATUM_MM * mm, _LAYER, "sheet"),
            Line((at[0] - 1.8 * _DATUM_MM * mm, at[1]), (at[0] + 1.8 * _DATUM_MM * mm, at[1]), _LAYER),
            Line((at[0], at[1] - 1.8 * _DATUM_MM * mm), (at[0], at[1] + 1.8 * _DATUM_MM * mm), _LAYER),
        )
    ]
