"""Marks on the views: centres of gravity, the way gravity acts, the window the tank may stand in."""

from __future__ import annotations

import math

from tunwright.checks.window import Window
from tunwright.sheets.drawing import Anchor, CentreMark, Entity, Group, Line, Point, Polyline, Text
from tunwright.sheets.views.labels import LABEL_MM, Label
from tunwright.sheets.views.shapes import box
from tunwright.sheets.views.vehicle import Vehicle
from tunwright.truck.loads import LoadTable
from tunwright.truck.states import LoadState

_BEFORE_MM = 12.0  # the note on the unit begins before the vehicle
EMPTY = "no place of the tank keeps every limit"
_THIN_BAND_MM = 0.6  # a window narrower than this on paper is drawn as a line


def centre_marks(table: LoadTable, axis: int) -> tuple[list[Entity], list[Label]]:
    """Marks of the centres of the water and of the whole vehicle, and their names.

    axis: 0 for the side view, 1 for the rear view
    """
    marks: list[Entity] = []
    labels: list[Label] = []
    for name, mass, place, radius in (
        ("water", table.water_mass[0], table.water_at[0], 1.3),
        ("vehicle", table.gross[0], table.centre[0], 1.8),
    ):
        at = (float(place[axis]), float(place[2]))
        if mass > 0.0 and math.isfinite(at[1]):
            marks.append(Group("centre", (CentreMark(at, radius),), {"of": name}))
            labels.append(Label(at, name))
    return marks, labels


def gravity_arrow(tail: Point, lean: float, words: str, scale: float) -> Group:
    """An arrow of 14 mm the way gravity acts, leaning by its slope to the right [-], with words over its tail."""
    mm = scale / 1000.0
    length = 14.0 * mm
    along = (lean / math.hypot(lean, 1.0), -1.0 / math.hypot(lean, 1.0))
    tip = (tail[0] + length * along[0], tail[1] + length * along[1])
    root = (tip[0] - 3.2 * mm * along[0], tip[1] - 3.2 * mm * along[1])
    wing = (-0.8 * mm * along[1], 0.8 * mm * along[0])
    head = (tip, (root[0] + wing[0], root[1] + wing[1]), (root[0] - wing[0], root[1] - wing[1]))
    return Group(
        "gravity",
        (
            Line(tail, root, "accent"),
            Polyline(head, "hatch", closed=True, fill="accent"),
            Text(tail, words, "text", LABEL_MM, "middle", shift_mm=(0.0, 1.4)),
        ),
    )


def lean_along(state: LoadState) -> float:
    """How far gravity, with the braking, leans to the rear [-]."""
    return state.grade - state.braking


def unit_note(vehicle: Vehicle, at: Point, up_mm: float, *, centred: bool = False) -> Text:
    """What the bare figures of a view are in, begun before the place `at` [m] or centred on it.

    up_mm: height over that place [mm of paper]
    """
    anchor: Anchor = "middle" if centred else "start"
    shift = (0.0 if centred else -_BEFORE_MM, up_mm)
    return Text(at, vehicle.wording.dimensions, "note", LABEL_MM, anchor, shift_mm=shift)


def window_marks(vehicle: Vehicle, window: Window, scale: float, row_mm: float) -> list[Entity]:
    """The permitted window of the tank's middle: a band on the frame, and its words beside a bar over the vehicle.

    row_mm: over the vehicle, the row of the dimension to the tank's middle [mm of paper]
    """
    mm, middle = scale / 1000.0, float(vehicle.tank.middle)
    row = vehicle.top + row_mm * mm
    if window.empty:
        words = Text((middle, row), EMPTY, "alarm", LABEL_MM, shift_mm=(3.0, 0.8))
        return [Group("window", (words,))]
    left, right = max(window.low, vehicle.front), min(window.high, vehicle.rear)
    parts: list[Entity] = []
    if left <= right:
        low, high = vehicle.frame["top"].value - vehicle.frame["rail height"].value, vehicle.bed
        parts += [_band(left, right, low, high, mm), _band(left, right, row - 0.9 * mm, row + 0.9 * mm, mm)]
    place, water = window_words(vehicle, window)
    at = (max(right, middle), row)
    parts.append(Text(at, f"{place} {water}", "hatch", LABEL_MM, shift_mm=(3.0, -0.5 * LABEL_MM)))
    return [Group("window", tuple(parts), {"low": f"{window.low:.4f}", "high": f"{window.high:.4f}"})]


def _band(left: float, right: float, low: float, high: float, mm: float) -> Entity:
    if right - left < _THIN_BAND_MM * mm:
        return Line((0.5 * (left + right), low), (0.5 * (left + right), high), "accent")
    return box(left, low, right, high, "hatch", "hatch")


def window_words(vehicle: Vehicle, window: Window) -> tuple[str, str]:
    """Where the middle of the tank may stand, and at how much water."""
    wording = vehicle.wording
    low, high = (wording.length(x) if math.isfinite(x) else "" for x in (window.low, window.high))
    if not low or not high:
        place = f"up to {high}" if high else f"from {low}" if low else "anywhere"
    else:
        place = low if low == high else f"{low} – {high}"
    return f"permitted {place}", f"at {wording.words(window.water, 'volume')}"


def middle_mark(vehicle: Vehicle, window: Window | None, scale: float) -> Group:
    """The pointer under the middle of the tank, in the alarm colour outside the window."""
    mm = scale / 1000.0
    x, low = float(vehicle.tank.middle), vehicle.bed
    outside = window is not None and (window.empty or not window.low - 1e-9 <= x <= window.high + 1e-9)
    tip = ((x, low - mm), (x + 1.1 * mm, low + 1.6 * mm), (x - 1.1 * mm, low + 1.6 * mm))
    pointer = Polyline(tip, "thin", closed=True, fill="bad" if outside else "accent")
    return Group("middle", (pointer,), {"drag": "u"})
