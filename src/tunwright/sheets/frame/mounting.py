"""The mounting sheet for the shop: side and plan of the frame, what is fixed where, and what to mind."""

from __future__ import annotations

from tunwright.checks.assess import Assessment
from tunwright.sheets.drawing import Drawing
from tunwright.sheets.frame.chosen import FrameNotKnown
from tunwright.sheets.frame.framed import Content, Table, framed
from tunwright.sheets.frame.holes import holes
from tunwright.sheets.frame.mount_marks import WORDS
from tunwright.sheets.frame.mounting_view import mounting_view
from tunwright.sheets.frame.quantities import unit_words
from tunwright.sheets.input_words import labels
from tunwright.sheets.views.contents import AID, UNKNOWN
from tunwright.sheets.views.vehicle import Vehicle
from tunwright.truck.ladder.known import missing

_MOUNTS = (32.0, 23.0, 15.0, 36.0)  # clear of the frame's centring mark

SHOP_NOTES = (
    "The chassis maker's written rules come first, then local codes. Have both in hand before work begins.",
    "Holes in the web only, drilled, never burnt; deburr both sides. No hole and no weld in or on the flanges.",
    "Mark and drill both rails; measure each hole from the first axle, not from the hole before it.",
    "Before any welding on the vehicle: batteries and control units off; clamp the earth near the weld.",
    "Before drilling look behind the web for lines, cables and vessels.",
)


def not_known(assessment: Assessment) -> str:
    """Why there is no mounting sheet, in a sentence; empty where there is one.

    assessment: the assessment
    """
    found = labels(assessment.build, missing(assessment.build))
    return f"The mounting is not known; measure or give: {'; '.join(found)}." if found else ""


def mounting_sheet(assessment: Assessment, *, build_hash: str | None = None) -> Drawing:
    """Side and plan of the frame with its mounts. Raises FrameNotKnown where frame or mounts are not known.

    assessment: the assessment
    build_hash: SHA-256 of the build file, for the title block
    """
    vehicle = vehicle_of(assessment)
    content = Content(
        "Mounting",
        lambda scale: mounting_view(vehicle, scale=scale),
        [_mounts(vehicle)],
        _notes(vehicle),
        "The frame from the left and from above with the places of the mounts.",
    )
    return framed(vehicle, content, build_hash=build_hash)


def vehicle_of(assessment: Assessment) -> Vehicle:
    """The vehicle of an assessment. Raises FrameNotKnown where frame or mounts are not known.

    assessment: the assessment
    """
    reason = not_known(assessment)
    if reason:
        raise FrameNotKnown(reason)
    return Vehicle(assessment)


def _mounts(vehicle: Vehicle) -> Table:
    rows = [["mount", "kind", "from axle", "bolts of one side"]]
    for one in vehicle.build.mount:
        bolts = UNKNOWN
        if one.bolts is not None:
            bolts = f"{one.bolts.rows * one.bolts.columns} × {one.bolts.size} {one.bolts.grade}"
        rows.append([one.name, WORDS[one.kind], vehicle.wording.length(float(one.at)), bolts])
    drilled = len(holes(vehicle.build))
    rows.append([f"{len(vehicle.build.mount)} mounts", "", "", f"{drilled} holes in each rail"])
    return Table(f"Mounts, {unit_words(vehicle.wording)} behind the first axle", _MOUNTS, rows)


def _notes(vehicle: Vehicle) -> list[str]:
    bare = [m.name for m in vehicle.build.mount if m.bolts is None and m.kind not in ("clamp", "pivot")]
    found = [*SHOP_NOTES]
    if bare:
        found.append(f"Bolts not given yet, so no holes are drawn for: {', '.join(bare)}.")
    sub = vehicle.build.subframe
    if sub is not None and sub.taper is None:
        found.append("The taper of the subframe's front end is not given; it is drawn as usual.")
    return [*found, AID]
