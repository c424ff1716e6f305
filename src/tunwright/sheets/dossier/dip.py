"""The dip chart and table: how much water is in the tank for a level read at the dip point."""

from __future__ import annotations

from collections.abc import Iterator
from functools import partial

from tunwright.checks.assess import Assessment
from tunwright.sheets.dossier.amounts import Amounts
from tunwright.sheets.dossier.blocks import Block, Part, column, row, table, words
from tunwright.sheets.dossier.charts import chart_block
from tunwright.sheets.figures import DipColumn, DipTable, dip_chart, dip_rows

_NARROW = 4  # columns of a table that stands in two strips


def dip_part(assessment: Assessment, amounts: Amounts) -> Part:
    """The part on dipping.

    assessment: the assessment
    amounts: how quantities are printed
    """
    one = len(assessment.truck.solid.compartments) == 1
    found = dip_rows(assessment, grades=(assessment.truck.tried.grade,) if one else ())
    blocks = [words(_where(assessment, amounts, found)), chart_block(partial(dip_chart, assessment))]
    return Part("Dip table", [*blocks, *_table(found, amounts)])


def _where(assessment: Assessment, amounts: Amounts, found: DipTable) -> str:
    y = float(assessment.build.tank.dip_y)
    side = "in the middle" if abs(y) < 1e-6 else f"{amounts.length(abs(y))} to the {'right' if y > 0 else 'left'}"
    at = dict.fromkeys(f"{amounts.length(one.place)}{_of(one)}" for one in found.columns)
    return (
        f"Levels are heights above the floor where the tank is dipped, {', '.join(at)} behind the front tangent line, "
        f"{side}. Calculated from the drawing: until the tank has been filled through a meter or over a scale, this is "
        "no measure for trade."
    )


def _of(one: DipColumn) -> str:
    return f" (compartment “{one.compartment}”)" if one.compartment else ""


def _table(found: DipTable, amounts: Amounts) -> Iterator[Block]:
    """Level and volumes, a long table in strips to be read downwards."""
    names = [f"level, {amounts.unit('length')}", *(_heading(one, amounts) for one in found.columns)]
    cells = [
        [amounts.bare(level, "length"), *(amounts.bare(volume, "volume") for volume in volumes)]
        for level, volumes in zip(found.levels, found.volumes, strict=True)
    ]
    strips = 2 if len(names) <= _NARROW else 1
    high = -(-len(cells) // strips)
    empty = [""] * len(names)
    rows = [
        row([text for k in range(strips) for text in (cells[k * high + i] if k * high + i < len(cells) else empty)])
        for i in range(high)
    ]
    yield table([column(name, "1fr", right=True) for _ in range(strips) for name in names], rows, size=7.5)


def _heading(one: DipColumn, amounts: Amounts) -> str:
    """Compartment, road and unit of a column."""
    road = "level road"
    if one.grade:
        road = f"nose {'up' if one.grade > 0 else 'down'} {amounts.full(abs(one.grade), 'ratio')}"
    return f"{one.compartment or road}, {amounts.unit('volume')}"
