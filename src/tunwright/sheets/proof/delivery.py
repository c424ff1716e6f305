"""The delivery-log sheet: how much, when, where, what is missing, who signs."""

from __future__ import annotations

import math
from functools import partial

import numpy as np

from tunwright.build.kind import System
from tunwright.build.reading import Document
from tunwright.build.shown import show_number
from tunwright.proof.delivery_log import Deliveries
from tunwright.proof.log import Floats
from tunwright.proof.series import stretches
from tunwright.sheets.chart import Axis, Band, Chart, Series
from tunwright.sheets.dossier.blocks import (
    Block,
    Part,
    cell,
    column,
    head,
    note,
    picture,
    row,
    table,
    together,
    unknown,
    verdict_cell,
    words,
)
from tunwright.sheets.dossier.charts import chart_block
from tunwright.sheets.pipework.listing import MEASURES
from tunwright.sheets.proof import way_plot
from tunwright.sheets.proof.delivery_figures import clock, lasts, piece, volume
from tunwright.sheets.proof.delivery_words import headline, sentences, stood
from tunwright.sheets.proof.loss_words import losses
from tunwright.sheets.svg import write_svg

_HIGH = 58.0  # of a chart on paper [mm]
_POINTS = 300  # of a curve
_BINS = (60.0, 300.0, 600.0, 900.0, 1800.0, 3600.0, 7200.0, 14_400.0, 21_600.0, 43_200.0, 86_400.0)
_ROWS = 32  # of the table over time
_BANDS = 5


def delivery_parts(one: Deliveries, system: System, document: Document | None) -> list[Block]:
    """The sheets as plain data for the press.

    one: the log
    system: "metric" or "us"
    document: the build file, None without one
    """
    parts = [Part("Delivery log", _summary(one, system, document)), Part("Over time", _times(one, system))]
    if one.log.has_places and one.along.length > 0.0:
        parts.append(Part("Over the way", _way(one, system)))
    return [part.data() for part in parts]


def _summary(one: Deliveries, system: System, document: Document | None) -> list[Block]:
    blocks = [together([table([column("", "1fr")], [row([cell(headline(one, system), bold=True)])], size=12.0)])]
    if document is not None:
        blocks.append(words(f"Tank and sprays as in the build file of “{document.build.order.title}”."))
    blocks += [words(sentence) for sentence in sentences(one, system)]
    blocks.append(head("What is missing"))
    blocks += [words(sentence) for sentence in losses(one, system)]
    return [*blocks, _judged(one, system), *_signed()]


def _judged(one: Deliveries, system: System) -> Block:
    lines = []
    for each in one.findings:
        litres = each.unit == "L"
        value = "not known" if each.value is None else (
            volume(each.value / 1000, system) if litres else lasts(60.0 * each.value))  # fmt: skip
        limit = "" if each.limit is None else f"at most {volume(each.limit / 1000, system)}"
        told = each.remedy.words if each.remedy is not None else each.note
        lines.append(row([verdict_cell(each.verdict), each.question, value, limit, told]))
    heads = [column("", "17mm"), column("question", "1fr"), column("found", "20mm", right=True)]
    return table([*heads, column("allowed", "28mm", right=True), column("what to do", "1.2fr")], lines)


def _signed() -> list[Block]:
    blank = row([""] * 4)
    signed = [column(name, "1fr") for name in ("driver", "received by", "date", "place")]
    foot = "A record for the workshop and the site; for trade the law of the place asks for an approved meter."
    return [together([table(signed, [blank], tall=True, foot=foot)])]


def _times(one: Deliveries, system: System) -> list[Block]:
    made = [chart_block(partial(each, one, system), high=_HIGH) for each in (flow_chart, litres_chart)]
    return [*made, _binned(one, system)]


def _axis(one: Deliveries) -> tuple[Axis, float]:
    """The axis of time, and the size of its unit [s]."""
    end = float(one.log.time[-1])
    unit, size = ("h", 3600.0) if end > 3 * 3600 else ("min", 60.0) if end > 180 else ("s", 1.0)
    since = "the first row" if one.log.start is None else clock(one.log, 0.0)
    return Axis(f"time since {since}", unit, low=0.0, high=end / size), size


def flow_chart(one: Deliveries, system: System) -> Chart:
    """Flow over time; of a long log its mean over short times.

    one: the log
    system: "metric" or "us"
    """
    measure, (axis, size) = MEASURES["flow"][system], _axis(one)
    edges = np.linspace(0.0, float(one.log.time[-1]), _POINTS + 1)
    flow = np.diff(one.delivered.up_to(edges)) / np.diff(edges) / measure.size
    middles = 0.5 * (edges[:-1] + edges[1:])
    at = np.clip(np.searchsorted(one.log.time, middles, side="right") - 1, 0, len(one.log.gaps) - 1)
    flow = np.where(one.log.gaps[at], math.nan, flow)
    if not np.isfinite(flow).any():
        flow = np.zeros(_POINTS)
    lines = (Series("flow", tuple((middles / size).tolist()), tuple(flow.tolist()), "accent"),)
    said, up = "Flow through the meter over time; gaps of the log are left open", Axis("flow", measure.symbol, low=0.0)
    return Chart("Flow", axis, up, lines, bands=_bands(one, size), description=said)


def litres_chart(one: Deliveries, system: System) -> Chart:
    """Water delivered so far, and water in the tank where that is known.

    one: the log
    system: "metric" or "us"
    """
    measure, (axis, size) = MEASURES["volume"][system], _axis(one)
    edges = np.linspace(0.0, float(one.log.time[-1]), _POINTS + 1)
    x, balance = tuple((edges / size).tolist()), one.balance
    lines = [Series("delivered", x, tuple((one.delivered.up_to(edges) / measure.size).tolist()), "accent", "solid")]
    if balance is not None:
        pick = np.unique(np.linspace(0, len(balance.rows) - 1, min(len(balance.rows), _POINTS)).astype(int))
        at, held = balance.time[pick] / size, balance.water[pick] / measure.size
        lines.append(Series("in the tank", tuple(at.tolist()), tuple(held.tolist()), "ink", "dashed"))
    said = "Water delivered so far" + (", and water in the tank by its level" if balance is not None else "")
    up, bands = Axis("water", measure.symbol, low=0.0), _bands(one, size)
    return Chart("Water", axis, up, tuple(lines), bands=bands, description=said)


def _bands(one: Deliveries, size: float) -> tuple[Band, ...]:
    """Gaps and fillings, the longest ones."""
    found = [(one.log.time[a], one.log.time[b], "gap") for a, b in stretches(one.log.gaps)]
    if one.balance is not None:
        found += [(filling.start, filling.end, "filling") for filling in one.balance.fillings]
    kept = sorted(found, key=lambda band: band[0] - band[1])[:_BANDS]
    return tuple(Band(float(a) / size, float(b) / size, name) for a, b, name in sorted(kept))


def _binned(one: Deliveries, system: System) -> Block:
    """Water over time, in whole minutes or hours of the clock, so many that they fit the page."""
    end = float(one.log.time[-1])
    width = next((w for w in _BINS if end / w <= _ROWS), _BINS[-1])
    starts, water = one.delivered.bins(width)
    measure, so_far = MEASURES["volume"][system], np.cumsum(water)
    half = -(-len(starts) // 2)
    cells = [_bin(one, starts, water, so_far, i, measure.size) for i in range(2 * half)]
    lines = [row([*cells[k], "", *cells[k + half]]) for k in range(half)]
    unit = measure.symbol
    named = [column(f"{lasts(width)} from", "1fr"), column(f"water, {unit}", "1fr", right=True),
             column(f"so far, {unit}", "1fr", right=True)]  # fmt: skip
    foot = "Gaps of the log are not in it." if one.gap_count else ""
    return table([*named, column("", "8mm"), *named], lines, size=8.0, foot=foot)


def _bin(one: Deliveries, starts: Floats, water: Floats, so_far: Floats, i: int, size: float) -> list[str]:
    if i >= len(starts):
        return ["", "", ""]
    start = clock(one.log, max(0.0, float(starts[i])) if one.log.start is None else float(starts[i]))
    return [start, show_number(float(water[i]) / size, 1), show_number(float(so_far[i]) / size, 1)]


def _way(one: Deliveries, system: System) -> list[Block]:
    blocks: list[Block] = []
    try:
        drawing = way_plot.way_drawing(one, system)
    except ValueError as error:
        return [unknown(f"The way cannot be drawn: {error}.")]
    wide = drawing.bounds.width * 1000.0 / drawing.scale
    blocks.append(picture(write_svg(drawing, theme="paper"), drawing.description, width_mm=wide))
    up = "x to the right and y up; y is taken for north" if one.log.degrees is None else "north up"
    first = one.along.segments()[0]
    each = piece(first.end - first.start, system)
    blocks.append(note(f"To scale, {up}. The line's thickness is the mean of every {each} driven. No map is under it."))
    return [*blocks, *_pools(one, system)]


def _pools(one: Deliveries, system: System) -> list[Block]:
    pools = one.along.pools
    if not pools:
        return []
    lines = [row([str(i), *stood(one, pool, system)]) for i, pool in enumerate(pools[: way_plot.POOLS], start=1)]
    heads = [column("no.", "9mm", right=True), column("from", "1fr"), column("for", "1fr")]
    heads += [column(name, "1fr", right=True) for name in ("water", "after")]
    more = len(pools) - way_plot.POOLS
    foot = f"{more} more, with less water, are in the CSV files." if more > 0 else ""
    return [head("Water while the vehicle stood"), table([*heads, column("place", "1.3fr")], lines, foot=foot)]
