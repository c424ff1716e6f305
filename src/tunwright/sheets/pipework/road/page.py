"""The driver's sheet for the road: depth at each speed, the engine speed that holds it, water across the width."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from tunwright.build.kind import System
from tunwright.build.shown import show
from tunwright.build.typed import capital
from tunwright.checks.pipework.worked import Worked
from tunwright.handbook.spreading import time_per_load
from tunwright.sheets.chart import chart_svg
from tunwright.sheets.dossier.blocks import Block, cell, column, head, note, picture, row, table, together, words
from tunwright.sheets.pipework.listing import MEASURES, Listing, Value, said
from tunwright.sheets.pipework.road.chart import across_chart
from tunwright.sheets.pipework.road.engines import bounds_words, cell_words, differs
from tunwright.sheets.pipework.road.spreading import width_words

_SHOWN = (4, 5, 8, 9, 6, 7)  # columns of the list that are printed, in order
_WIDE, _HIGH = 176.0, 62.0  # of the chart on paper [mm]
_TENS = 10.0  # steps an engine speed is told in [rpm]


def road_blocks(road: Listing, engines: Listing, duties: Sequence[Worked], system: System) -> list[Block]:
    """What a driver reads of every spray duty, a page each.

    road: the list of depths and speeds
    engines: the list of engine speeds
    duties: all duties
    system: "metric" or "us"
    """
    blocks: list[Block] = []
    for one in duties:
        mine = [values for values in road.rows if values[0] == one.duty.name]
        if mine:
            title = head(capital(one.duty.name))
            parts = [*_depths(road, mine, system), *_engines(engines, one, system), *_across(one, system)]
            blocks.append(together([title, *parts]))
    return [*blocks, note(road.foot)]


def _depths(road: Listing, mine: Sequence[Sequence[Value]], system: System) -> Iterator[Block]:
    columns = [column(_kept(road.columns[i].head(system)), "1fr", right=True) for i in _SHOWN]
    yield words(_load(mine[0], system))
    yield table(columns, [row(_given(road, values, system)) for values in mine], size=9.0)


def _kept(heading: str) -> str:
    """A heading whose unit is not parted at the end of a line."""
    return heading.replace("US gal/yd²", "US\u00a0gal/\u2060yd²").replace("L/m²", "L/\u2060m²")


def _load(first: Sequence[Value], system: System) -> str:
    """Flow, width and time of a load, of a row of the list."""
    _, flow, width, _, speed, depth, area, _, least, most = first
    ends = [float(each or 0.0) * float(speed or 0.0) * float(width or 0.0) for each in (least, most)]
    shown = [said(each, "flow", system) for each in (float(flow or 0.0), *ends)]
    ranged = f" ({shown[1].split(' ')[0]} to {shown[2]} over all levels of the tank)" if shown[1] != shown[2] else ""
    text = f"{shown[0]}{ranged} on {width_words(float(width or 0.0), system)}."
    if area is not None:
        time = float(time_per_load(volume=float(area) * float(depth or 0.0), flow=float(flow or 0.0)))
        text += f" At that flow a load lasts {show(time, 'time')}."
    return f"{text} What is given stands bold."


def _given(road: Listing, values: Sequence[Value], system: System) -> list[Block | str]:
    at = 4 if values[3] == "speed" else 5
    return [cell(road.columns[i].shown(values[i], system), bold=i == at) for i in _SHOWN]


def _engines(engines: Listing, one: Worked, system: System) -> Iterator[Block]:
    """The table of engine speeds: speeds on the road down, water wanted across."""
    mine = [values for values in engines.rows if values[0] == one.duty.name]
    if not mine:
        yield words("The water runs by gravity: no engine speed holds it, only the speed on the road.")
        return
    if mine[0][10] is None:
        yield words("No table of engine speeds: at none of them do pump, drive and sprays work as they should.")
        return
    speeds, depths = (list(dict.fromkeys(values[i] for values in mine)) for i in (1, 2))
    at = {(values[1], values[2]): cell_words(values[4], values[7]) for values in mine}
    ends = {values[1]: [engines.columns[i].shown(values[i], system) for i in (8, 9)] for values in mine}
    lines = [[*(at[speed, depth] for depth in depths), *ends[speed]] for speed in speeds]
    shown = [cell(engines.columns[1].shown(speed, system), bold=True) for speed in speeds]
    rows = [row([first, *line]) for first, line in zip(shown, lines, strict=True)]
    yield words("The engine speed that holds the water wanted, at each speed on the road:")
    yield table(_engine_columns(engines, depths, system), rows, size=9.0, foot=_engine_foot(engines, one))


def _engine_columns(engines: Listing, depths: Sequence[Value], system: System) -> list[Block]:
    unit = MEASURES["depth"][system].symbol
    names = [f"rpm for {engines.columns[2].shown(depth, system)} {unit}" for depth in depths]
    heads = [engines.columns[1].head(system), *names, *(engines.columns[i].head(system) for i in (8, 9))]
    return [column(_kept(name), "1fr", right=True) for name in heads]


def _engine_foot(engines: Listing, one: Worked) -> str:
    apart = differs(engines, one.duty.name) / MEASURES["rotation"]["metric"].size
    tens = _TENS * max(1, round(apart / _TENS))
    more = f" Nearly empty it takes up to {tens:.0f} rpm more than full." if apart > 0.0 else ""
    pump = one.states[0].plumbing.work.pump
    gear = " Take a gear that suits both speeds." if pump is not None and pump.drive.kind == "pto" else ""
    return f"With the tank half full.{more} {bounds_words(engines, one.duty.name)}{gear}"


def _across(one: Worked, system: System) -> Iterator[Block]:
    chart = across_chart(one, system)
    if chart is None:
        yield words("No chart of the water across the width: the duty has no speed on the road.")
        return
    yield picture(chart_svg(chart, width_mm=_WIDE, height_mm=_HIGH), chart.description, width_mm=_WIDE)
    yield note(chart.description)
