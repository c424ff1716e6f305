"""The sheets of the loaded frame: worst case, worst at rest, envelope, twist."""

from __future__ import annotations

import re
from collections.abc import Callable, Sequence
from functools import partial

import numpy as np

from tunwright.build.typed import capital
from tunwright.checks.assess import Assessment
from tunwright.sheets.drawing import Drawing, Entity
from tunwright.sheets.frame.cases import CaseRow, case_rows
from tunwright.sheets.frame.chosen import Shown, known, worst
from tunwright.sheets.frame.diagrams import frame_diagrams, frame_envelope
from tunwright.sheets.frame.envelope import envelope
from tunwright.sheets.frame.framed import Content, Table, framed
from tunwright.sheets.frame.quantities import STRESS
from tunwright.sheets.frame.twisted import twisted_frame, worst_twist
from tunwright.sheets.ticks import THIN, figure
from tunwright.sheets.views.contents import AID, UNKNOWN
from tunwright.sheets.views.paper import note_lines
from tunwright.sheets.views.vehicle import Vehicle

_WIDTHS = (75.0, 15.5, 15.5)  # clear of the frame's centring mark
MODEL = (
    "Rails, cross-members, subframe and mounts as one elastic frame: bending, and torsion with warping. How far the "
    "joints hold warping is not known: the worse of both bounds is shown."
)
NOT_IN = "Not in it: what holes, welds and bolts add, and fatigue."
SIGNS = "Places count from the first axle rearwards. My sags where the lower flange is in tension."


def frame_sheet(assessment: Assessment, *, build_hash: str | None = None, static: bool = False) -> Drawing:
    """Moment, shear and stress in the worst case of the rails, at rest or otherwise.

    assessment: the assessment
    build_hash: SHA-256 of the build file, for the title block
    static: at rest
    Raises FrameNotKnown where the frame cannot be loaded.
    """
    framework = known(assessment)
    shown = worst(framework, static=static) or worst(framework)
    name = "Frame, worst at rest" if static else "Frame, worst case"
    view = partial(_diagrams, assessment, shown)
    return _framed(assessment, name, view, build_hash, shown.words if shown else "")


def _diagrams(assessment: Assessment, shown: Shown | None, scale: float) -> list[Entity]:
    return frame_diagrams(assessment, shown=shown, scale=scale)


def envelope_sheet(assessment: Assessment, *, build_hash: str | None = None) -> Drawing:
    """Greatest and least values over all cases and fills. Raises FrameNotKnown where the frame cannot be loaded.

    assessment: the assessment
    build_hash: SHA-256 of the build file, for the title block
    """
    return _framed(
        assessment, "Frame, all cases", lambda scale: frame_envelope(assessment, scale=scale), build_hash,
        "greatest and least values over all cases and fills", envelope_words(assessment),
    )  # fmt: skip


def envelope_words(assessment: Assessment) -> list[str]:
    """The extremes of the envelopes in sentences: how much, where, in which case.

    assessment: the assessment
    """
    wording = Vehicle(assessment).wording
    found = []
    for part in envelope(known(assessment)):
        i = int(np.abs(part.y).argmax())
        value = part.quantity.words(float(part.y[i]), wording.system)
        where = wording.words(float(part.x[i]), "length")
        found.append(f"{capital(part.name)} {value} at {where}: {part.words}.")
    return found


def twist_sheet(assessment: Assessment, *, build_hash: str | None = None) -> Drawing:
    """The frame in its worst twist. Raises FrameNotKnown where it cannot be loaded or twisted.

    assessment: the assessment
    build_hash: SHA-256 of the build file, for the title block
    """
    shown = worst_twist(assessment)
    return _framed(
        assessment, "Frame, worst twist", lambda scale: twisted_frame(assessment, shown=shown, scale=scale), build_hash,
        shown.words,
    )  # fmt: skip


def _framed(
    assessment: Assessment,
    name: str,
    view: Callable[[float], list[Entity]],
    build_hash: str | None,
    words: str,
    more: Sequence[str] = (),
) -> Drawing:
    vehicle = Vehicle(assessment)
    rows = case_rows(known(assessment))
    content = Content(name, view, [_table(vehicle, rows)], [*more, *_notes(assessment, rows)], f"Shown: {words}.")
    return framed(vehicle, content, build_hash=build_hash)


def _table(vehicle: Vehicle, rows: list[CaseRow]) -> Table:
    """Cases with the greatest stresses of rails and subframe."""
    system = vehicle.wording.system
    found = [["case", "rails", "subframe"]]
    for row in rows:
        cells = [_stress(vehicle, pair) for pair in (row.rail, row.subframe)]
        first, *rest = (line for _, line in note_lines([_joined(row.words)], _WIDTHS[0] - 1.5))
        found.append([first, *(["not held", UNKNOWN] if row.lost else cells)])
        found += [[f"   {line}", "", ""] for line in rest]
    most = [[pair for row in rows if (pair := getattr(row, name)) is not None] for name in ("rail", "subframe")]
    greatest = [_stress(vehicle, max(pairs, key=max)) if pairs else UNKNOWN for pairs in most]
    found.append(["greatest", *greatest])
    return Table(f"Greatest stress of each case, {STRESS.unit(system)}", _WIDTHS, found)


def _joined(words: str) -> str:
    """Words in which a figure stays with its unit."""
    return re.sub(r"(?<=\d) (?=[a-z])", THIN, words)


def _stress(vehicle: Vehicle, pair: tuple[float, float] | None) -> str:
    return UNKNOWN if pair is None else figure(STRESS.number(max(pair), vehicle.wording.system))


def _notes(assessment: Assessment, rows: list[CaseRow]) -> list[str]:
    found = [MODEL, SIGNS, NOT_IN]
    if assessment.build.chassis.frame.yield_strength is None:
        found.append("No limit of the rails is drawn: their yield strength is not known; ask the chassis maker.")
    lost = [row.words for row in rows if row.lost]
    if lost:
        found.append(f"No equilibrium, left out: {'; '.join(lost)}. See the findings.")
    twist = known(assessment).ladder.missing_for_twist
    if twist:
        found.append("Curves and raised wheels are not tried: rates of springs and tyres, or tracks, are not known.")
    count = len([path for path in assessment.assumed if path.startswith(("chassis", "mount", "subframe"))])
    if count:
        several = "s are" if count > 1 else " is"
        found.append(f"{count} input{several} assumed of chassis, subframe and mounts.")
    return [*found, AID]
