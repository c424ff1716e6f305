"""A drawing in its frame: the view at the largest standard scale that fits, tables, notes and the title block."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass, field

from tunwright.sheets.drawing import Bounds, Drawing, Entity, Group
from tunwright.sheets.geometry import moved_group
from tunwright.sheets.layout import SCALES, extents
from tunwright.sheets.settle import settle
from tunwright.sheets.views.contents import BLOCK_WIDTH, title_rows
from tunwright.sheets.views.paper import BINDING, EDGE, SIZES, Paper, notes_height, table_height
from tunwright.sheets.views.vehicle import Vehicle

_PAD = 5.0
_MARK = 6.0  # kept free over the frame's centring mark [mm]
_LEAST_NOTES = 70.0  # narrowest column of notes [mm]


@dataclass(frozen=True)
class Table:
    """A table beside a view.

    heading: its name
    widths: of its columns [mm]
    rows: the first names the columns, the last is set off
    """

    heading: str
    widths: tuple[float, ...]
    rows: Sequence[Sequence[str]]

    @property
    def width(self) -> float:
        """Width [mm]."""
        return sum(self.widths)

    @property
    def height(self) -> float:
        """Height [mm]."""
        return table_height(len(self.rows))


@dataclass(frozen=True)
class Content:
    """What stands on a sheet.

    name: of the sheet, for its title block
    view: draws the view at 1:scale
    tables: beside the view
    notes: what a reader has to know
    words: one sentence for those who cannot see the drawing
    """

    name: str
    view: Callable[[float], list[Entity]]
    tables: Sequence[Table] = field(default_factory=tuple)
    notes: Sequence[str] = field(default_factory=tuple)
    words: str = ""


def framed(
    vehicle: Vehicle,
    content: Content,
    *,
    paper: str = "A3",
    build_hash: str | None = None,
    scales: Sequence[float] = SCALES,
) -> Drawing:
    """The sheet. Raises ValueError where the view fits at no scale.

    vehicle: whose it is
    content: what stands on it
    paper: a key of `paper.SIZES`
    build_hash: SHA-256 of the build file, for the title block
    scales: that may be taken, the largest picture first
    """
    if paper not in SIZES:
        raise ValueError(f"paper {paper!r} is not known; allowed are {', '.join(SIZES)}")
    for scale in scales:
        sheet = Paper(paper, scale)
        view = Group("view", settle(content.view(scale), scale))
        room = extents([view], scale)
        for places in (_under, _beside):
            found = places(vehicle, content, sheet, room, build_hash)
            if found is not None:
                return _drawing(vehicle, content, sheet, view, found)
    raise ValueError(f"the {content.name.lower()} does not fit on {paper} even at 1:{scales[-1]:g}")


_Placed = tuple[tuple[float, float], list[Entity]]


def _rows(vehicle: Vehicle, content: Content, sheet: Paper, build_hash: str | None) -> list[Entity]:
    rows = title_rows(vehicle, content.name, scale=sheet.scale, paper=sheet.size, build_hash=build_hash)
    return sheet.block(sheet.width - EDGE, EDGE, rows)


def _block_height(vehicle: Vehicle) -> float:
    return sum(height for height, _ in title_rows(vehicle, "", scale=1.0, paper="", build_hash=None))


def _at(sheet: Paper, room: Bounds, left: float, low: float, right: float, high: float) -> tuple[float, float] | None:
    """Where the view's origin stands so that it is in the middle of a room [mm]; None where it does not fit."""
    mm = 1.0 / sheet.mm
    if room.width * mm > right - left or room.height * mm > high - low:
        return None
    x = 0.5 * (left + right) - 0.5 * (room.left + room.right) * mm
    return x, high - 0.35 * (high - low - room.height * mm) - room.top * mm


def _beside(vehicle: Vehicle, content: Content, sheet: Paper, room: Bounds, build_hash: str | None) -> _Placed | None:
    """The view on the left, tables and notes over the title block on the right."""
    left, right, high = BINDING + _PAD, sheet.width - EDGE, sheet.height - EDGE - _PAD
    column = right - BLOCK_WIDTH
    wide = BLOCK_WIDTH - 3.0
    need = sum(table.height + _PAD for table in content.tables) + notes_height(content.notes, wide) + 2.0 * _PAD
    place = _at(sheet, room, left, EDGE + _PAD, column - _PAD, high)
    if place is None or need > high - EDGE - _block_height(vehicle):
        return None
    found, y = _rows(vehicle, content, sheet, build_hash), high
    for table in content.tables:
        found += sheet.table(column + 1.5, y, table.widths, table.heading, table.rows)
        y -= table.height + _PAD
    return place, [*found, *_notes(sheet, content, column + 1.5, y, wide)]


def _under(vehicle: Vehicle, content: Content, sheet: Paper, room: Bounds, build_hash: str | None) -> _Placed | None:
    """The view over the whole width, tables, notes and title block under it."""
    left, right, high = BINDING + _PAD, sheet.width - EDGE, sheet.height - EDGE - _PAD
    x = left + sum(table.width + _PAD for table in content.tables)
    wide = right - BLOCK_WIDTH - _PAD - x
    if wide < (_LEAST_NOTES if content.notes else 0.0):
        return None
    heights = [table.height + _MARK for table in content.tables] + [_block_height(vehicle)]
    heights += [notes_height(content.notes, wide) + _MARK] if content.notes else []
    band = EDGE + max(heights) + _PAD
    place = _at(sheet, room, left, band + _PAD, right - _PAD, high)
    if place is None:
        return None
    found, at = _rows(vehicle, content, sheet, build_hash), left
    for table in content.tables:
        found += sheet.table(at, band - 1.0, table.widths, table.heading, table.rows)
        at += table.width + _PAD
    return place, [*found, *_notes(sheet, content, x, band - 1.0, wide)]


def _notes(sheet: Paper, content: Content, left: float, top: float, wide: float) -> list[Entity]:
    return sheet.notes(left, top, wide, content.notes) if content.notes else []


def _drawing(vehicle: Vehicle, content: Content, sheet: Paper, view: Group, placed: _Placed) -> Drawing:
    (x, y), beside = placed
    entities = [*sheet.frame(), moved_group(view, x * sheet.mm, y * sheet.mm), Group("sheet", tuple(beside))]
    title = f"{vehicle.build.order.title}, {content.name.lower()}"
    words = f"{title} at 1:{sheet.scale:g}. {content.words}".strip()
    bounds = Bounds(0.0, 0.0, sheet.width * sheet.mm, sheet.height * sheet.mm)
    return Drawing(title, tuple(entities), bounds, sheet.scale, words)
