"""The sheets of the holes to be drilled.

hole_sheets(assessment)      # the web at 1:10 in strips, and the table of holes
hole_drawing(assessment)     # the whole web true to size, for the DXF
"""

from __future__ import annotations

from collections.abc import Sequence
from contextlib import suppress
from functools import partial

from tunwright.checks.assess import Assessment
from tunwright.sheets.drawing import Drawing, Entity, Group
from tunwright.sheets.frame.chosen import FrameNotKnown
from tunwright.sheets.frame.framed import Content, Table, framed
from tunwright.sheets.frame.holes import Hole, gathered, gathered_by_reason, holes
from tunwright.sheets.frame.mounting import SHOP_NOTES, vehicle_of
from tunwright.sheets.frame.quantities import fine, unit_words
from tunwright.sheets.frame.web import web
from tunwright.sheets.geometry import moved_group
from tunwright.sheets.layout import arrange, compose
from tunwright.sheets.views.vehicle import Vehicle
from tunwright.tables.read import shop_value

SCALE = 10.0
"""Scale of the drawing of the holes."""

_LONGEST = (3.4, 2.2)  # of a strip over the whole sheet, and beside a column [m]
_BESIDE = 0.22  # web shown past the outer holes [m]
_ROWS = 46  # of a table of holes on a sheet of its own
_HOLES = (9.0, 16.0, 14.0, 13.0, 40.0, 14.0)  # clear of the frame's centring mark
_STRIPS = 3  # on a sheet


def hole_drawing(assessment: Assessment) -> Drawing:
    """The whole web of the left rail with its holes, u from the first axle, v from the upper flange, true to size.

    assessment: the assessment
    Raises FrameNotKnown where frame or mounts are not known, or no mount has bolts in the web.
    """
    vehicle = _drilled(assessment)
    frame = vehicle.chassis.frame
    entities = web(vehicle, float(frame.front or 0.0), float(frame.rear or 0.0), scale=SCALE)
    title = f"{assessment.build.order.title}, drilled holes"
    words = f"{title} at 1:{SCALE:g}: the web of the left rail from outside; the right rail is its mirror image."
    return compose(title, entities, scale=SCALE, margin_mm=5.0, description=words)


def _drilled(assessment: Assessment) -> Vehicle:
    vehicle = vehicle_of(assessment)
    if not holes(vehicle.build):
        raise FrameNotKnown("No mount has bolts in the rails' web; give mount.bolts to have their holes drawn.")
    return vehicle


def hole_sheets(assessment: Assessment, *, build_hash: str | None = None) -> list[Drawing]:
    """The web at 1:10 in strips with the table of holes, on one sheet where that has room, else on several.

    assessment: the assessment
    build_hash: SHA-256 of the build file, for the title block
    Raises FrameNotKnown as `hole_drawing` does.
    """
    vehicle = _drilled(assessment)
    found = holes(vehicle.build)
    notes = _hole_notes(vehicle, found)
    for longest in _LONGEST:
        strips = _strips(vehicle, found, longest)
        for blocks, told in ((1, notes), (2, ())):
            with suppress(ValueError):
                return [_strip_sheet(vehicle, strips, _tables(vehicle, found, blocks), told, build_hash)]
    strips = _strips(vehicle, found, _LONGEST[0])
    sheets = [
        _strip_sheet(vehicle, strips[i : i + _STRIPS], [], notes, build_hash) for i in range(0, len(strips), _STRIPS)
    ]
    return [*sheets, *_table_sheets(vehicle, found, build_hash)]


def _strip_sheet(
    vehicle: Vehicle,
    strips: Sequence[tuple[float, float]],
    tables: Sequence[Table],
    notes: Sequence[str],
    build_hash: str | None,
) -> Drawing:
    def view(scale: float) -> list[Entity]:
        views = [
            moved_group(Group("strip", tuple(web(vehicle, start, end, scale=scale))), strips[0][0] - start, 0.0)
            for start, end in strips
        ]
        return list(arrange(views, scale=scale, gap_mm=8.0, direction="down"))

    words = "The web of the left rail from outside, with the holes to be drilled."
    content = Content("Holes in the rails", view, tables, notes, words)
    return framed(vehicle, content, build_hash=build_hash, scales=(SCALE,))


def _strips(vehicle: Vehicle, found: Sequence[Hole], longest: float) -> list[tuple[float, float]]:
    """Parts of the rail that show all holes, none longer than the paper is wide, no mount cut."""
    frame = vehicle.chassis.frame
    front, rear = float(frame.front or 0.0), float(frame.rear or 0.0)
    spans = sorted((min(h.x for h in mine), max(h.x for h in mine)) for mine in gathered(found).values())
    parts: list[tuple[float, float]] = []
    for low, high in spans:
        if parts and high - parts[-1][0] + 2.0 * _BESIDE <= longest:
            parts[-1] = (parts[-1][0], max(high, parts[-1][1]))
        else:
            parts.append((low, high))
    return [(max(low - _BESIDE, front), min(high + _BESIDE, rear)) for low, high in parts]


def _tables(vehicle: Vehicle, found: Sequence[Hole], blocks: int) -> list[Table]:
    """The table of holes in so many blocks side by side."""
    deep = -(-len(found) // blocks)
    return [
        _table(vehicle, found[i : i + deep], last=i + deep >= len(found), total=len(found))
        for i in range(0, len(found), deep)
    ]


def _table(vehicle: Vehicle, found: Sequence[Hole], *, last: bool, total: int) -> Table:
    rows = [["no", "x", "down", "Ø", "mount", "side"]]
    for one in found:
        places = (fine(vehicle.wording, value) for value in (one.x, one.down, one.diameter))
        rows.append([str(one.number), *places, one.mount, "both"])
    foot = f"{total} in each rail" if last else "continued"
    rows.append(["", "", "", "", foot, ""])
    return Table(f"Holes, {unit_words(vehicle.wording)}: x behind the first axle, down from the flange", _HOLES, rows)


def _table_sheets(vehicle: Vehicle, found: Sequence[Hole], build_hash: str | None) -> list[Drawing]:
    """The table of holes on sheets of its own, beside a strip with the first of them."""
    sheets = []
    for i in range(0, len(found), _ROWS):
        part = found[i : i + _ROWS]
        first = _strips(vehicle, part, _LONGEST[1])[0]
        table = _table(vehicle, part, last=i + _ROWS >= len(found), total=len(found))
        content = Content("Table of holes", partial(_strip, vehicle, first), [table], ())
        sheets.append(framed(vehicle, content, build_hash=build_hash))
    return sheets


def _strip(vehicle: Vehicle, ends: tuple[float, float], scale: float) -> list[Entity]:
    return web(vehicle, *ends, scale=scale)


def _hole_notes(vehicle: Vehicle, found: Sequence[Hole]) -> list[str]:
    edge, aside = (vehicle.wording.words(shop_value(n), "length") for n in ("hole_to_flange", "mount_to_cross_member"))
    hatched = (
        f"Hatched: no hole within {edge} of a flange, no middle of a bracket or plate within {aside} of "
        "a cross-member (common practice; the chassis maker's rules come first)."
    )
    notes = [
        "Left rail seen from outside; the right rail is its mirror image. The datum is the first axle.",
        hatched,
        "Diameters: clearance holes, medium series of ISO 273.",
        *SHOP_NOTES[1:3],
    ]
    for reason, barred in gathered_by_reason(found).items():
        numbers = ", ".join(str(one.number) for one in barred)
        notes.append(f"Ringed, {reason}: {numbers}. Move them, or the mount, before drilling.")
    return notes
