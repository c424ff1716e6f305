"""Frame and mounting: stresses in every case, forces on the mounts, moment and shear drawn, the frame in its twist."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from contextlib import suppress
from functools import partial

from tunwright.build.shown import show, show_number
from tunwright.checks.assess import Assessment
from tunwright.checks.finding import Finding
from tunwright.checks.frame.mounts import extremes
from tunwright.sheets.dossier.amounts import NO_SIGN, Amounts
from tunwright.sheets.dossier.blocks import Block, Cell, Part, cell, column, head, note, picture, row, table, unknown
from tunwright.sheets.dossier.blocks import words as paragraph
from tunwright.sheets.drawing import Drawing, Entity
from tunwright.sheets.frame.cases import CaseRow, case_rows
from tunwright.sheets.frame.chosen import FrameNotKnown, Shown, known, to_measure, worst
from tunwright.sheets.frame.diagrams import frame_diagrams, frame_envelope
from tunwright.sheets.frame.mount_marks import WORDS
from tunwright.sheets.frame.mounting import not_known
from tunwright.sheets.frame.sheets import MODEL, NOT_IN, envelope_words
from tunwright.sheets.frame.twisted import twisted_frame, worst_twist
from tunwright.sheets.input_words import labels
from tunwright.sheets.layout import SCALES, compose
from tunwright.sheets.svg import write_svg

TITLE = "Frame and mounting"
_WIDE, _HIGH = 176.0, 236.0  # room on a page [mm]
_SHRUNK = 0.8  # least part of its size a drawing is printed at
_ON_THEM = ("chassis.frame", "chassis.axle", "chassis.group", "subframe", "mount")
_KEYS = ("frame-rail-rest", "frame-rail", "frame-subframe")


def frame_part(assessment: Assessment, amounts: Amounts) -> Part:
    """The part on frame and mounting; where the frame is not known, what has to be measured.

    assessment: the assessment
    amounts: how quantities are printed
    """
    framework = assessment.framework
    if framework.missing:
        return Part(TITLE, list(_missing(assessment)), fresh=False)
    if framework.trouble:
        return Part(TITLE, [unknown(f"The frame cannot be loaded: {framework.trouble}")])
    rows = case_rows(framework)
    blocks = [
        paragraph(MODEL),
        *(paragraph(line) for line in _said(assessment, amounts)),
        *_cases(rows, amounts),
        head("Forces on the mounts, of one side"),
        _mounts(assessment, amounts),
        *_rests_on(assessment),
        *_pictures(assessment),
    ]
    return Part(TITLE, blocks)


def _missing(assessment: Assessment) -> Iterator[Block]:
    yield unknown("Whether frame and mounts bear the tank is not known: the frame has not been measured far enough.")
    rows = [row([str(i), words]) for i, words in enumerate(to_measure(assessment), start=1)]
    yield table([column("", "8mm", right=True), column("to be measured or given", "1fr")], rows)
    if not_known(assessment):
        yield note("There is no mounting sheet and no drawing of holes before this is known.")


def _said(assessment: Assessment, amounts: Amounts) -> Iterator[str]:
    """The worst places in sentences."""
    for one in assessment.findings:
        if one.key in _KEYS and one.value is not None:
            yield _sentence(one, amounts)
    for one in assessment.findings:
        if one.key == "frame-stands" and one.verdict == "fails":
            yield f"Without equilibrium: {one.state}."


def _sentence(one: Finding, amounts: Amounts) -> str:
    value, limit = amounts.of_finding(one)
    against = f"allowed at most {limit}" if one.limit is not None else "the limit is not known"
    return f"{one.question} {value}, {against}: {one.state}. {one.note}".strip()


def _cases(rows: Sequence[CaseRow], amounts: Amounts) -> Iterator[Block]:
    """Every case with the greatest stresses under both bounds of the warping."""
    unit = _stress_unit(amounts)
    sub = any(one.subframe for one in rows)
    columns = [column("case", "1fr"), column("worst at", "18mm", right=True)]
    columns += [column(f"rails, {bound}, {unit}", "20mm", right=True) for bound in ("free", "held")]
    columns += [column(f"subframe, {bound}, {unit}", "25mm", right=True) for bound in ("free", "held") if sub]
    yield head("Greatest stress in each case, warping of the rails free and held at the cross-members")
    foot = f"Von Mises stress in the worst fibre, over all fills; “worst at” is the fill. {NOT_IN}"
    yield table(columns, [_case(one, amounts, sub=sub) for one in rows], foot=foot)


def _case(one: CaseRow, amounts: Amounts, *, sub: bool) -> Block:
    pairs = [one.rail, *([one.subframe] if sub else [])]
    if one.lost:
        said: Cell = {"text": one.words, "below": f"no equilibrium: {one.lost}"}
        return row([said, cell("not held", tone="bad"), *[NO_SIGN] * (2 * len(pairs))])
    cells: list[Cell] = [one.words, f"{100 * one.fill:.0f} %"]
    for pair in pairs:
        cells += [NO_SIGN, NO_SIGN] if pair is None else [_stress(value, amounts) for value in pair]
    return row(cells)


def _stress_unit(amounts: Amounts) -> str:
    return "ksi" if amounts.system == "us" else "MPa"


def _stress(value: float, amounts: Amounts) -> str:
    unit = _stress_unit(amounts)
    return show(value, "stress", unit=unit, digits=1 if unit == "ksi" else 0).removesuffix(unit).strip()


def _mounts(assessment: Assessment, amounts: Amounts) -> Block:
    """Greatest press and pull on one side of each mount."""
    ladder = known(assessment).ladder
    rows = []
    for mount in assessment.build.mount:
        (least, pressed), (most, pulled) = extremes(ladder, mount)
        cells: list[Cell] = [mount.name, WORDS[mount.kind], amounts.length(float(mount.at))]
        cells += [amounts.full(-least, "force"), pressed] if least < 0.0 else [NO_SIGN, "never pressed"]
        cells += [amounts.full(most, "force"), pulled] if most > 0.0 else [NO_SIGN, "never pulled"]
        rows.append(row(cells))
    columns = [
        column("mount", "1fr"),
        column("kind", "1fr"),
        column("at", right=True),
        column("press", "15mm", right=True),
        column("in", "1.7fr"),
        column("pull up", "15mm", right=True),
        column("in", "1.7fr"),
    ]
    foot = "Upright forces of the frame model with warping free. Forces on bolts and welds stand with the findings."
    return table(columns, rows, size=7.5, foot=foot)


def _pictures(assessment: Assessment) -> Iterator[Block]:
    """The drawings, each on the paper's width, as true to a standard scale as the page lets them be."""
    framework = known(assessment)
    yield head("The frame in its worst twist")
    yield _twist(assessment)
    for static, title in ((False, "Worst case otherwise than at rest"), (True, "Worst case at rest")):
        shown = worst(framework, static=static)
        if shown is not None:
            yield head(title)
            yield _picture(assessment, title, partial(_case_drawn, assessment, shown))
    yield head("All cases and fills")
    yield _picture(assessment, "Envelopes", lambda scale: frame_envelope(assessment, scale=scale))
    yield note(" ".join(envelope_words(assessment)))


def _case_drawn(assessment: Assessment, shown: Shown, scale: float) -> list[Entity]:
    return frame_diagrams(assessment, shown=shown, scale=scale)


def _twist(assessment: Assessment) -> Block:
    try:
        twist = worst_twist(assessment)
    except FrameNotKnown as error:
        return unknown(str(error))
    return _picture(assessment, "Twist", lambda scale: twisted_frame(assessment, shown=twist, scale=scale))


def _picture(assessment: Assessment, title: str, draw: Callable[[float], list[Entity]]) -> Block:
    drawing = _fitting(f"{assessment.build.order.title}, {title}", draw)
    mm = 1000.0 / drawing.scale
    wide, high = drawing.bounds.width * mm, drawing.bounds.height * mm
    part = min(1.0, _WIDE / wide, _HIGH / high)
    return picture(write_svg(drawing), drawing.description or title, width_mm=part * wide)


def _fitting(title: str, draw: Callable[[float], list[Entity]]) -> Drawing:
    """The drawing at the largest scale at which its letters stay readable on the page."""
    drawing = None
    for scale in SCALES[3:]:
        with suppress(ValueError):
            drawing = compose(title, draw(scale), scale=scale, margin_mm=1.0)
            mm = 1000.0 / scale
            if min(_WIDE / (drawing.bounds.width * mm), _HIGH / (drawing.bounds.height * mm)) >= _SHRUNK:
                return drawing
    if drawing is None:
        raise ValueError(f"{title} cannot be drawn at any scale")
    return drawing


def _rests_on(assessment: Assessment) -> Iterator[Block]:
    """What is assumed, and what was not tried."""
    paths = [path for path in assessment.assumed if path.startswith(_ON_THEM)]
    if paths:
        several = "s" if len(paths) > 1 else ""
        named = "; ".join(labels(assessment.build, paths))
        yield note(f"This rests on {show_number(len(paths))} assumed input{several}: {named}.")
    missing = known(assessment).ladder.missing_for_twist
    if missing:
        needed = "; ".join(labels(assessment.build, missing))
        yield unknown(f"Curves and raised wheels are not tried; measure or give: {needed}.")
