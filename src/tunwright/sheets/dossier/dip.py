"""The dip chart and table: how much water is in the tank for a level read at the dip point."""

from __future__ import annotations

from collections.abc import Callable, Iterator

import numpy as np

from tunwright.checks.assess import Assessment
from tunwright.sheets.chart_model import Chart
from tunwright.sheets.dossier.amounts import Amounts
from tunwright.sheets.dossier.blocks import Block, Part, column, note, row, table, words
from tunwright.sheets.dossier.loads import chart_block

_STRIPS = 4  # columns of levels side by side
_STEP = {"metric": 0.010, "us": 0.0127}  # between levels [m]
_MOST = 240  # levels


def dip_part(assessment: Assessment, amounts: Amounts, chart_of: Callable[[Assessment], Chart]) -> Part:
    """The part on dipping.

    assessment: the assessment
    amounts: how quantities are printed
    chart_of: draws the volume over the level
    """
    blocks: list[Block] = [
        words(_where(assessment, amounts)),
        chart_block(chart_of(assessment)),
        *_table(assessment, amounts),
    ]
    return Part("Dip table", blocks)


def _where(assessment: Assessment, amounts: Amounts) -> str:
    x, y, _ = assessment.truck.volumes.dip_point()
    side = "in the middle" if abs(y) < 1e-6 else f"{amounts.length(abs(y))} to the {'right' if y > 0 else 'left'}"
    return (
        f"Levels are heights above the tank's floor at the dip point, {amounts.length(x)} behind the front tangent line, "
        f"{side}, the vehicle standing level. Calculated from the drawing: until the tank has been filled through a meter "
        "or over a scale, the marks are not a measure for trade."
    )


def _table(assessment: Assessment, amounts: Amounts) -> Iterator[Block]:
    """Level and volume, in strips to be read downwards."""
    volumes = assessment.truck.volumes
    levels = _levels(assessment, amounts)
    litres = volumes.dip(levels)
    cells = [
        (amounts.bare(float(level), "length"), amounts.bare(float(volume), "volume"))
        for level, volume in zip(levels, litres, strict=True)
    ]
    high = -(-len(cells) // _STRIPS)
    strips = [cells[i * high : (i + 1) * high] for i in range(_STRIPS)]
    rows = [row([text for strip in strips for text in (strip[i] if i < len(strip) else ("", ""))]) for i in range(high)]
    heads = (f"level, {amounts.unit('length')}", f"volume, {amounts.unit('volume')}")
    yield table([column(text, "1fr", right=True) for _ in range(_STRIPS) for text in heads], rows, size=7.5)
    if len(assessment.truck.solid.compartments) > 1:
        yield note("One level in every compartment; the volume is that of all of them.")


def _levels(assessment: Assessment, amounts: Amounts) -> np.ndarray[tuple[int], np.dtype[np.float64]]:
    """Levels in round steps from the floor to the roof."""
    height, step = assessment.truck.solid.height, _STEP[amounts.system]
    while height / step > _MOST:
        step *= 2
    return np.arange(0.0, height + step, step)
