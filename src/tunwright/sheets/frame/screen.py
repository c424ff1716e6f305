"""The loaded frame for a page: the drawing of its worst case, what it says in words, and the cases as data."""

from __future__ import annotations

from typing import Any

from tunwright.checks.assess import Assessment
from tunwright.sheets import words as said
from tunwright.sheets.frame.cases import CaseRow, case_rows
from tunwright.sheets.frame.chosen import known, peak, why_not, worst
from tunwright.sheets.frame.diagrams import frame_diagrams
from tunwright.sheets.layout import compose
from tunwright.sheets.svg import write_svg

_MPA = 1e6


def frame_data(assessment: Assessment, *, scale: float = 50.0) -> dict[str, Any]:
    """Drawing, words and cases; where the frame is not known, words that say what to measure, and no drawing.

    assessment: the assessment
    scale: 1:scale, for which the drawing is lettered
    """
    reason = why_not(assessment)
    if reason:
        return {"svg": None, "words": reason, "cases": []}
    rows = case_rows(known(assessment))
    shown = worst(known(assessment), static=False) or worst(known(assessment))
    cases = [_row(one) for one in rows]
    if shown is None:
        return {"svg": None, "words": "The vehicle stands in no case; see the findings.", "cases": cases}
    title = f"{assessment.build.order.title}, frame"
    entities = frame_diagrams(assessment, shown=shown, scale=scale)
    drawing = compose(title, entities, scale=scale, description=shown.words)
    found = peak(shown, "rail")
    words = f"Worst for the rails: {shown.words}."
    if found is not None:
        stress = said.figure(found.value / _MPA, "MPa", assessment)
        words += f" {stress} in the {found.member} at {said.length(found.x, assessment)}, {shown.bound}."
    return {"svg": write_svg(drawing, theme="css"), "words": words, "cases": cases}


def _row(one: CaseRow) -> dict[str, Any]:
    return {
        "key": one.key,
        "words": one.words,
        "rail_mpa": _mpa(one.rail),
        "subframe_mpa": _mpa(one.subframe),
        "lost": one.lost,
    }


def _mpa(pair: tuple[float, float] | None) -> float | None:
    return None if pair is None else round(max(pair) / _MPA, 1)
