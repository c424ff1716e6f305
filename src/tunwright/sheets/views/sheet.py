"""The general arrangement: side view, rear view and plan on one sheet, with loads, notes and title block.

The side and the rear view stand on one road, the plan stands under the side view with the axles in line; every view
says from where it is seen.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from tunwright.checks.assess import Assessment
from tunwright.sheets.drawing import Bounds, Drawing, Entity, Group
from tunwright.sheets.geometry import moved_group
from tunwright.sheets.layout import SCALES, extents
from tunwright.sheets.lifted import state_words
from tunwright.sheets.settle import settle
from tunwright.sheets.views.contents import BLOCK_WIDTH, load_rows, mass_rows, notes, title_rows
from tunwright.sheets.views.paper import BINDING, EDGE, SIZES, Paper, notes_height, table_height
from tunwright.sheets.views.plan import plan_view
from tunwright.sheets.views.rear import half_width, rear_view
from tunwright.sheets.views.side import side_view
from tunwright.sheets.views.surfaces import full_state
from tunwright.sheets.views.vehicle import Vehicle
from tunwright.truck.states import LoadState

_PAD = 5.0  # between what stands on the sheet [mm]
_NAME = 6.0  # room for the name of a view over it [mm]
_LEAST_BESIDE = 60.0  # of margins and dimensions beside the side and rear views [mm]
_NAMES = ("From the left", "From behind, tank cut at its middle", "From above")
_LOAD_WIDTHS = (30.0, 19.0, 19.0, 20.0, 24.0)
_MASS_WIDTHS = (52.0, 20.0, 20.0, 20.0)


@dataclass(frozen=True)
class _Views:
    """The three views at one scale and their extents in millimetres of paper."""

    groups: tuple[Group, ...]
    rooms: tuple[Bounds, ...]


def general_arrangement(
    assessment: Assessment, *, state: LoadState | None = None, paper: str = "A3", build_hash: str | None = None
) -> Drawing:
    """The three views on one sheet at the largest standard scale that fits; full, crew aboard and level if not said.

    paper: a key of `paper.SIZES`
    build_hash: SHA-256 of the build file, printed short
    Raises ValueError when the paper is not known, or too small even at the smallest scale.
    """
    if paper not in SIZES:
        raise ValueError(f"paper {paper!r} is not known; allowed are {', '.join(SIZES)}")
    vehicle, state = Vehicle(assessment), state or full_state(assessment.truck)
    column = _Column(vehicle, state, build_hash)
    for scale in SCALES:
        sheet = Paper(paper, scale)
        if (vehicle.rear - vehicle.front + 2.0 * half_width(vehicle)) / sheet.mm < sheet.width - _LEAST_BESIDE:
            views = _views(assessment, state, scale)
            places = _places(sheet, views.rooms, column.least)
            if places is not None:
                return _drawing(vehicle, state, sheet, views, places, column)
    raise ValueError(f"the vehicle does not fit on {paper} at 1:{SCALES[-1]:g}; use larger paper, for example A2")


def _views(assessment: Assessment, state: LoadState, scale: float) -> _Views:
    drawn = {
        "side": side_view(assessment, state=state, scale=scale),
        "rear": rear_view(assessment, state=state, scale=scale),
        "plan": plan_view(assessment, state=state, scale=scale),
    }
    groups = tuple(Group(name, settle(entities, scale)) for name, entities in drawn.items())
    rooms = tuple(extents([group], scale) for group in groups)
    mm = 1000.0 / scale
    return _Views(groups, tuple(Bounds(*(mm * x for x in (r.left, r.bottom, r.right, r.top))) for r in rooms))


def _places(sheet: Paper, rooms: Sequence[Bounds], column: float) -> list[tuple[float, float]] | None:
    """Where the origin of each view stands on the paper [mm]; None where they do not fit."""
    side, rear, plan = rooms
    right, high = sheet.width - EDGE, sheet.height - EDGE
    left = min(side.left, plan.left)
    width = max(side.right - left + rear.width + 3.0 * _PAD, plan.right - left + BLOCK_WIDTH + 2.0 * _PAD)
    top = max(side.top, rear.top) + _NAME
    height = top - side.bottom + plan.height + _NAME + 3.0 * _PAD
    spare_x, spare_y = right - BINDING - width, high - EDGE - height
    road = high - _PAD - spare_y / 3.0 - top
    if spare_x < 0.0 or spare_y < 0.0 or road + rear.bottom - _PAD - EDGE < column:
        return None
    at = BINDING + _PAD - left + min(spare_x / 3.0, right - BINDING - BLOCK_WIDTH - 2.0 * _PAD - (plan.right - left))
    behind = at + side.right
    rear_at = behind + (right - behind - rear.width) / 2.0 - rear.left
    below = road + side.bottom - _PAD - spare_y / 3.0 - _NAME - plan.top
    return [(at, road), (rear_at, road), (at, below)]


def _drawing(
    vehicle: Vehicle,
    state: LoadState,
    sheet: Paper,
    views: _Views,
    places: Sequence[tuple[float, float]],
    column: _Column,
) -> Drawing:
    entities: list[Entity] = list(sheet.frame())
    for group, room, (x, y), name in zip(views.groups, views.rooms, places, _NAMES, strict=True):
        entities.append(moved_group(group, x * sheet.mm, y * sheet.mm))
        entities.append(sheet.text(x + room.left, y + room.top + 2.5, name, bold=True))
    ceiling = places[1][1] + views.rooms[1].bottom - _PAD
    entities.append(Group("sheet", tuple(column.drawn(sheet, ceiling))))
    title = vehicle.build.order.title
    shown = state_words(vehicle.truck, state)
    words = f"General arrangement of {title} at 1:{sheet.scale:g}: side view, rear view and plan, shown {shown}."
    bounds = Bounds(0.0, 0.0, sheet.width * sheet.mm, sheet.height * sheet.mm)
    return Drawing(f"{title}, general arrangement", tuple(entities), bounds, sheet.scale, words)


class _Column:
    """What stands at the lower right: title block, axle loads, notes, and the masses where there is room."""

    def __init__(self, vehicle: Vehicle, state: LoadState, build_hash: str | None) -> None:
        self.vehicle, self.build_hash = vehicle, build_hash
        self.loads, self.masses = load_rows(vehicle, state), mass_rows(vehicle, state)
        self.notes = notes(vehicle, state)
        block = title_rows(vehicle, "", scale=1.0, paper="", build_hash=None)
        self.block = sum(height for height, _ in block)
        self.parts = table_height(len(self.loads)) + notes_height(self.notes, BLOCK_WIDTH - 3.0)

    @property
    def least(self) -> float:
        """Height without the masses [mm]."""
        return self.block + self.parts + 3.0 * _PAD

    def drawn(self, sheet: Paper, ceiling: float) -> list[Entity]:
        """The column under a ceiling [mm]."""
        rows = title_rows(
            self.vehicle, "General arrangement", scale=sheet.scale, paper=sheet.size, build_hash=self.build_hash
        )
        right = sheet.width - EDGE
        found = sheet.block(right, EDGE, rows)
        left, spare = right - BLOCK_WIDTH + 1.5, ceiling - EDGE - self.least
        masses = table_height(len(self.masses))
        with_masses = spare >= masses + _PAD
        gap = _PAD + (spare - (masses + _PAD if with_masses else 0.0)) / (4.0 if with_masses else 3.0)
        y = ceiling - gap + _PAD
        found += sheet.table(left, y, _LOAD_WIDTHS, f"Axle loads, {self._unit('mass')}", self.loads)
        y -= table_height(len(self.loads)) + gap
        if with_masses:
            heading = f"Masses, {self._unit('mass')}, and their centres, {self._unit('length')}"
            found += sheet.table(left, y, _MASS_WIDTHS, heading, self.masses)
            y -= masses + gap
        return [*found, *sheet.notes(left, y, BLOCK_WIDTH - 3.0, self.notes)]

    def _unit(self, kind: str) -> str:
        return self.vehicle.wording.unit(kind)
