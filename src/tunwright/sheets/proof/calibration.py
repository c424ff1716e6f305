"""The calibration sheet of a flow meter: runs, K-factor, deviations, what to set, who signs."""

from __future__ import annotations

import math
from functools import partial

from tunwright.build.factors import LITRES_A_MINUTE
from tunwright.proof.calibration import Calibration
from tunwright.proof.calibration_findings import calibration_findings
from tunwright.sheets.chart import Axis, Chart, Limit, Series
from tunwright.sheets.dossier.blocks import (
    Block,
    Part,
    cell,
    column,
    head,
    note,
    row,
    table,
    together,
    verdict_cell,
    words,
)
from tunwright.sheets.dossier.charts import chart_block
from tunwright.sheets.proof.calibration_words import answer, columns, percent, rows, sentences

_HIGH = 70.0  # of the chart on paper [mm]
_HOW = (
    "How a run is made: fill the pipes until no air is in them, let the flow settle, start and stop meter and vessel "
    "together, at least 1 000 pulses and two minutes a run, at slow, middle and fast flow. Weigh empty and full, and "
    "take the temperature. A sheet for the workshop; for trade the law of the place asks for an approved meter."
)


def calibration_part(one: Calibration) -> Block:
    """The sheet as plain data for the press.

    one: the meter
    """
    blocks: list[Block] = [
        together([table([column("", "1fr")], [row([cell(answer(one), bold=True)])], size=13.0)]),
        *(words(sentence) for sentence in sentences(one)),
        _judged(one),
        head("Runs"),
        _runs(one),
        head("Deviation of the runs"),
        chart_block(partial(chart, one), high=_HIGH),
        note(_HOW),
        *_signed(),
    ]
    return Part("Calibration of a flow meter", blocks).data()


def _judged(one: Calibration) -> Block:
    found = calibration_findings(one)
    lines = [
        row([
            verdict_cell(each.verdict), each.question,
            "not known" if each.value is None else percent(each.value).lstrip("+"),
            "" if each.limit is None else f"at most {percent(each.limit).lstrip('+')}",
            each.remedy.words if each.remedy is not None else each.note,
        ])
        for each in found
    ]  # fmt: skip
    heads = [column("", "17mm"), column("question", "1.2fr"), column("found", "17mm", right=True)]
    foot = f"Limit: {found[0].rule.words}. The shop may set it (meter_deviation)."
    return table([*heads, column("allowed", "25mm", right=True), column("what to do", "1fr")], lines, foot=foot)


def _runs(one: Calibration) -> Block:
    names = columns(one)
    kept = [column(name, "1fr" if i == 0 else "auto", right=0 < i < len(names) - 1) for i, name in enumerate(names)]
    lines = [row([*cells[:-1], cell(cells[-1], bold=True, tone="bad")]) for cells in rows(one)]
    return table(kept, lines, size=8.5)


def chart(one: Calibration) -> Chart:
    """Deviation of the runs over the flow, over their order where flows are not known.

    one: the meter
    """
    flows = [LITRES_A_MINUTE * run.flow for run in one.runs]
    known = all(map(math.isfinite, flows))
    at = flows if known else [float(i + 1) for i in range(len(flows))]
    order = sorted(range(len(at)), key=lambda i: at[i])
    x = tuple(at[i] for i in order)
    lines = []
    if one.found is not None:
        found = tuple(100 * one.found[i] for i in order)
        lines.append(Series("as set now", x, found, "soft", "dashed", "square"))
    lines.append(Series("new setting", x, tuple(100 * one.left[i] for i in order), "accent", "solid", "circle"))
    limit = 100 * one.limit
    upper, lower = (f"allowed {percent(sign * one.limit)}" for sign in (1, -1))
    limits = (Limit(limit, upper), Limit(-limit, lower, "at least"))
    wide = [abs(y) for line in lines for y in line.y]
    reach = 0.5 * math.ceil(2.5 * max(limit, *wide))
    up = Axis("deviation", "%", low=-reach, high=reach)
    axis = Axis("flow", "L/min", low=0.0, high=1.03 * max(at)) if known else Axis("run", "in the order of the file")
    said = "Deviation of each run, as the meter is set now and with the new setting, between the limits"
    return Chart("Deviation of the runs", axis, up, tuple(lines), limits, description=said)


def _signed() -> list[Block]:
    """What is written in by hand."""
    blank = row([""] * 4)
    meter = [column(name, "1fr") for name in ("meter, number", "vehicle or job", "bore", "K-factor set before")]
    gauge = [column(name, "1fr") for name in ("vessel or scale", "number", "calibrated until", "K-factor set now")]
    signed = [column(name, "1fr") for name in ("made by", "checked by", "date", "place and weather")]
    return [together([head("To be written in"), *(table(each, [blank], tall=True) for each in (meter, gauge, signed))])]
