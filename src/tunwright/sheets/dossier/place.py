"""The permitted window and the fill limit, in words, and the chart of how the loads follow the tank's place."""

from __future__ import annotations

import math
from functools import partial

from tunwright.checks.assess import Assessment
from tunwright.sheets import words as said
from tunwright.sheets.dossier.amounts import Amounts
from tunwright.sheets.dossier.blocks import Block, Part, note, unknown, words
from tunwright.sheets.dossier.charts import chart_block
from tunwright.sheets.dossier.loads import what_is_missing
from tunwright.sheets.figures import position_sensitivity
from tunwright.sheets.input_words import labels


def place_part(assessment: Assessment, amounts: Amounts) -> Part:
    """The part on where the tank may stand.

    assessment: the assessment
    amounts: how quantities are printed
    """
    title = "Where the tank may stand"
    sentences = window_lines(assessment, amounts)
    if assessment.unknown:
        return Part(title, [unknown(sentence) for sentence in sentences], fresh=False)
    blocks: list[Block] = [words(sentence) for sentence in sentences]
    blocks.append(words(fill_line(assessment)))
    blocks.append(chart_block(partial(position_sensitivity, assessment)))
    blocks.append(note("Places are those of the middle of the tank between its tangent lines, behind the first axle."))
    return Part(title, blocks, fresh=False)


def window_lines(assessment: Assessment, amounts: Amounts) -> list[str]:
    """The permitted window in sentences: where it is, which limit binds at each end, where the tank stands.

    assessment: the assessment
    amounts: how quantities are printed
    """
    if assessment.unknown:
        return [f"Where the tank may stand is not known; measure first: {_first(assessment)}."]
    missing = what_is_missing(assessment)
    lines = [said.window_words(assessment)]
    if not assessment.window.empty:
        lines.append(_stands(assessment, amounts))
    if missing:
        lines.append(f"States whose loads are not known are left out of this; measure: {missing}.")
    return lines


def _first(assessment: Assessment) -> str:
    """What has to be measured before anything is known of the loads."""
    return "; ".join(labels(assessment.build, assessment.unknown))


def _stands(assessment: Assessment, amounts: Amounts) -> str:
    """Where the tank stands now, against the window."""
    window, middle = assessment.window, float(assessment.build.tank.middle)
    here = f"It stands at {amounts.length(middle)}"
    if middle < window.low - 1e-6:
        return f"{here}, {amounts.length(window.low - middle)} too far forward for that."
    if middle > window.high + 1e-6:
        return f"{here}, {amounts.length(middle - window.high)} too far back for that."
    rooms = ((middle - window.low, "forward"), (window.high - middle, "back"))
    near = [f"{amounts.length(room)} {way}" for room, way in rooms if math.isfinite(room)]
    return f"{here}, inside that" + (f", with room to move {' and '.join(near)}." if near else ".")


def fill_line(assessment: Assessment) -> str:
    """The fill limit by mass in words.

    assessment: the assessment
    """
    if assessment.unknown:
        return f"The fill limit by mass is not known; measure first: {_first(assessment)}."
    missing = what_is_missing(assessment)
    tail = "" if not missing else " States whose loads are not known are left out of this."
    found = said.fill_words(assessment)
    return f"Filled evenly where the tank stands: {found[0].lower()}{found[1:]}{tail}"
