"""Isometric sketches of the runs whose way is known: marks, cut lengths, corners and ends; not to scale.

The vehicle is seen from the rear left and from above: back runs down to the right, right runs up to the right. Legs
keep their directions; their lengths on paper are drawn together, so that short and long ones can both be read.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from itertools import product

from tunwright.build.kind import System
from tunwright.sheets.dossier.blocks import Block
from tunwright.sheets.dossier.drawings import Sheet
from tunwright.sheets.drawing import Bounds, Drawing, Entity, Group, Line
from tunwright.sheets.geometry import moved_group
from tunwright.sheets.layout import extents
from tunwright.sheets.pipework.cutting.beside_lines import BesideLines
from tunwright.sheets.pipework.cutting.run_sketch import RunSketch, metres, seen
from tunwright.sheets.pipework.words_beside import Words
from tunwright.sheets.svg import write_svg
from tunwright.shop.pipe_cuts import RunCuts, pipe_cuts
from tunwright.truck.pipework.plumbing import Plumbing

WIDE, HIGH = 265.0, 156.0
"""What a sketch may take, and a sheet holds [mm]."""
_PAPER = (297.0, 210.0)  # A4, lying [mm]
_PARTS = (1.0, 1.2, 1.4, 1.7, 2.0, 0.85, 0.7, 0.55, 0.4, 0.3)  # sizes that are tried
_GAP, _EDGE = 6.0, 1.0  # between sketches, and around them all [mm]
_FOOT = 17.0  # lower edge of a sheet, for the axes and the key [mm]
_KEY = "Bold: mark and length to cut. Below it: middle to middle. One stroke: plain end; two: flange. Not to scale."


def isometric_part(plumbing: Plumbing, system: System) -> Block | None:
    """The sketches as a part of the sheets, None where no way is known.

    plumbing: the pipework
    system: "metric" or "us"
    """
    drawings = isometric_drawings(plumbing, system)
    sheets = [Sheet(one.title, write_svg(one, theme="paper"), _PAPER, (WIDE, HIGH)) for one in drawings]
    return {"title": "Pipes to cut, sketches", "sheets": [one.data() for one in sheets]} if sheets else None


def isometric_drawings(plumbing: Plumbing, system: System) -> tuple[Drawing, ...]:
    """Sheets with the sketches of all runs whose way is known, several on each; none where there is no such run.

    plumbing: the pipework
    system: "metric" or "us"
    """
    sketches = [sketch(one, system) for one in pipe_cuts(plumbing) if len(one.run.points) > 1]
    pages = _paged(sketches)
    return tuple(_page(one, number, len(pages)) for number, one in enumerate(pages, start=1))


def _page(groups: Sequence[Group], number: int, count: int) -> Drawing:
    title = "Pipes to cut, not to scale" + (f", sheet {number} of {count}" if count > 1 else "")
    words = "Isometric sketches of pipe runs with the marks and lengths of their pieces, their corners and their ends."
    return Drawing(title, (*groups, _compass()), Bounds(0.0, -HIGH / 1000.0, WIDE / 1000.0, 0.0), 1.0, words)


def _paged(sketches: Sequence[Group]) -> list[list[Group]]:
    """Sketches in rows from the upper left corner of each sheet, a new sheet where one is full."""
    pages: list[list[Group]] = []
    left = top = low = math.inf
    for one in sketches:
        room = extents([one], 1.0)
        wide, high = 1000.0 * room.width, 1000.0 * room.height
        if left + wide > WIDE - _EDGE:
            left, top = _EDGE, low + _GAP
        if not pages or top + high > HIGH - _FOOT:
            pages.append([])
            left, top, low = _EDGE, _EDGE, _EDGE
        pages[-1].append(moved_group(one, left / 1000.0 - room.left, -top / 1000.0 - room.top))
        left, low = left + wide + _GAP, max(low, top + high)
    return pages


def sketch(one: RunCuts, system: System) -> Group:
    """A run, of a size that has room for its words and fits a sheet; its upper left corner stands anywhere.

    one: the run in pieces
    system: "metric" or "us"
    """
    tried: list[tuple[tuple[float, int], Group]] = []
    for part, legs_first in product(_PARTS, (False, True)):
        made = RunSketch(one, system, part)
        found = made.drawn(legs_first=legs_first)
        room = extents([found], 1.0)
        over = max(1000.0 * room.width - WIDE + 2.0 * _EDGE, 1000.0 * room.height - HIGH + _FOOT + _EDGE, 0.0)
        tried.append(((over, made.beside.crammed), found))
        if tried[-1][0] == (0.0, 0):
            break
    return min(tried, key=lambda each: each[0])[1]


def _compass() -> Group:
    """The three axes of the vehicle and how the words are to be read, in the lower left corner of a sheet."""
    at = (8.0, -HIGH + 8.0)
    beside, entities = BesideLines([]), list[Entity]()
    for way, name in (((1.0, 0.0, 0.0), "back"), ((0.0, 1.0, 0.0), "right"), ((0.0, 0.0, 1.0), "up")):
        u, v = seen(way)
        tip = (at[0] + 5.0 * u, at[1] + 5.0 * v)
        entities.append(Line(metres(at), metres(tip), "thin"))
        entities += beside.put([Words(name, quiet=True)], [tip], math.atan2(v, u))
    entities.append(Words(_KEY, quiet=True).at(metres((30.0, -HIGH + 6.0)), "start"))
    return Group("compass", tuple(entities))
