"""The web of a rail with its holes, seen from outside on the left: u from the first axle, v down from the upper flange.

    entities = web(vehicle, start, end, scale=10.0)

A strip of it for the sheet, or the whole rail for the DXF: true to size, millimetre for millimetre.
"""

from __future__ import annotations

from collections.abc import Sequence

from tunwright.build.frame import Frame
from tunwright.sheets.drawing import Circle, Entity, Group, Line, Polyline, Text
from tunwright.sheets.frame.holes import Hole, Zone, gathered, holes, zones
from tunwright.sheets.frame.ordinates import Ordinate, along, upright
from tunwright.sheets.frame.quantities import fine
from tunwright.sheets.ticks import THIN
from tunwright.sheets.views.shapes import box
from tunwright.sheets.views.vehicle import Vehicle
from tunwright.sheets.views.wording import Wording

_SAME = 5e-4  # places this near are one [m]
_OVER_MM, _LEFT_MM, _UNDER_MM = 6.0, 7.0, 5.0
_CROSS_MM = 1.2  # centre lines past a hole
_BREAK_MM = 2.0
_NUMBER_MM = 1.8


def web(vehicle: Vehicle, start: float, end: float, *, scale: float = 10.0) -> list[Entity]:
    """The web between two places with zones, holes, numbers and ordinates.

    vehicle: the vehicle; height, thickness and ends of its rails must be known
    start, end: what is shown [m]
    scale: 1:scale, for which it is lettered
    """
    frame = vehicle.chassis.frame
    mine = [one for one in holes(vehicle.build) if start - _SAME <= one.x <= end + _SAME]
    barred = [zone for one in zones(vehicle.build) if (zone := _clipped(one, start, end)) is not None]
    return [
        *(box(z.left, -z.lower, z.right, -z.upper, "hatch", "hatch") for z in barred),
        *_steel(frame, start, end, scale),
        *_cross_members(frame, start, end),
        *(part for one in mine for part in _hole(one, scale / 1000.0)),
        *_numbers(mine),
        *_ordinates(vehicle.wording, frame, mine, start, scale),
        *_names(vehicle, mine, start, end),
    ]


def _clipped(zone: Zone, start: float, end: float) -> Zone | None:
    left, right = max(zone.left, start), min(zone.right, end)
    return Zone(left, right, zone.upper, zone.lower, zone.words) if right - left > _SAME else None


def _steel(frame: Frame, start: float, end: float, scale: float) -> list[Entity]:
    """Edges of the rail and the inside of its flanges; broken off where it goes on."""
    high, thick = float(frame.rail_height or 0.0), float(frame.rail_thickness or 0.0)
    found: list[Entity] = [Line((start, v), (end, v), "outline") for v in (0.0, -high)]
    found += [Line((start, v), (end, v), "hidden") for v in (-thick, thick - high)]
    for x, rail_end, out in ((start, float(frame.front or 0.0), -1.0), (end, float(frame.rear or 0.0), 1.0)):
        if abs(x - rail_end) < _SAME:
            found.append(Line((x, 0.0), (x, -high), "outline"))
        else:
            found.append(_broken(x, high, out * _BREAK_MM * scale / 1000.0))
    for one in frame.liner:
        left, right = max(float(one.start), start), min(float(one.end), end)
        if right > left:
            found.append(box(left, -high + 0.02, right, -0.02, "hidden"))
    return [Group("web", tuple(found))]


def _broken(x: float, high: float, reach: float) -> Polyline:
    """The line where the drawing breaks off."""
    parts = (0.0, 0.42, 0.46, 0.54, 0.58, 1.0)
    sway = (0.0, 0.0, 1.0, -1.0, 0.0, 0.0)
    return Polyline(tuple((x + s * reach, -part * high) for part, s in zip(parts, sway, strict=True)), "thin")


def _cross_members(frame: Frame, start: float, end: float) -> list[Entity]:
    high = float(frame.rail_height or 0.0)
    found: list[Entity] = []
    for one in frame.cross_member:
        x, half, deep = float(one.at), 0.5 * float(one.flange or one.height), 0.5 * min(float(one.height), high)
        if start < x - half and x + half < end:
            found.append(box(x - half, -0.5 * high - deep, x + half, -0.5 * high + deep, "hidden"))
            found.append(Line((x, 0.0), (x, -high), "centre"))
    return found


def _hole(one: Hole, mm: float) -> list[Entity]:
    at, r = (one.x, -one.down), 0.5 * one.diameter
    reach = r + _CROSS_MM * mm
    found: list[Entity] = [
        Circle(at, r, "hole", "sheet"),
        Line((at[0] - reach, at[1]), (at[0] + reach, at[1]), "thin"),
        Line((at[0], at[1] - reach), (at[0], at[1] + reach), "thin"),
    ]
    if one.barred:
        found.append(Circle(at, r + 1.6 * mm, "alarm"))
    return [Group("hole", tuple(found), {"number": str(one.number), "mount": one.mount})]


def _numbers(found: Sequence[Hole]) -> list[Entity]:
    """Numbers beside the holes, up to the right."""
    return [
        Text(
            (one.x + 0.5 * one.diameter, -one.down + 0.5 * one.diameter),
            str(one.number),
            "text",
            _NUMBER_MM,
            shift_mm=(1.6, 0.9) if one.barred else (0.5, 0.3),
            bold=True,
            halo=True,
        )
        for one in found
    ]


def _once(values: Sequence[float]) -> list[float]:
    kept: list[float] = []
    for value in sorted(values):
        if not kept or value - kept[-1] > _SAME:
            kept.append(value)
    return kept


def _ordinates(wording: Wording, frame: Frame, found: Sequence[Hole], start: float, scale: float) -> list[Entity]:
    """Columns over the web from the first axle, rows on its left from the upper flange."""
    if not found:
        return []
    columns = [Ordinate(x, fine(wording, x), 0.0) for x in _once([one.x for one in found])]
    rows = [Ordinate(-down, fine(wording, down), start) for down in _once([0.0, *(one.down for one in found)])]
    rows.append(Ordinate(-float(frame.rail_height or 0.0), fine(wording, float(frame.rail_height or 0.0)), start))
    return [
        *along(columns, base=0.0, offset_mm=_OVER_MM, scale=scale),
        *upright(rows, base=start, offset_mm=_LEFT_MM, scale=scale),
    ]


def _names(vehicle: Vehicle, found: Sequence[Hole], start: float, end: float) -> list[Entity]:
    """Under the web: each mount with its holes, and the cross-members."""
    low = -float(vehicle.chassis.frame.rail_height or 0.0)
    parts: list[Entity] = []
    for name, mine in gathered(found).items():
        x = 0.5 * (min(one.x for one in mine) + max(one.x for one in mine))
        words = f"{len(mine)} × Ø{THIN}{fine(vehicle.wording, mine[0].diameter)} for {mine[0].size}"
        parts.append(Text((x, low), name, "text", 2.5, "middle", bold=True, shift_mm=(0.0, -_UNDER_MM)))
        parts.append(Text((x, low), words, "dimension", 2.2, "middle", shift_mm=(0.0, -_UNDER_MM - 3.8)))
    for i, one in enumerate(vehicle.chassis.frame.cross_member, start=1):
        if start < float(one.at) < end:
            words = f"cross-member {i} at {vehicle.wording.length(float(one.at))}"
            parts.append(Text((float(one.at), low), words, "note", 2.0, "middle", shift_mm=(0.0, -_UNDER_MM - 8.2)))
    return parts
