"""The sheets of the pipework on paper: lists for the shop, plate and road table for the driver, the pump's test."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence

from tunwright.build.kind import System
from tunwright.checks.assess import Assessment
from tunwright.sheets.dossier.blocks import Block, Part, cell, column, head, note, row, table, together, unknown, words
from tunwright.sheets.pipework.cautions import FIRST, cautions
from tunwright.sheets.pipework.dosing import dosing_list
from tunwright.sheets.pipework.flows import asked, findings_of, plumbed
from tunwright.sheets.pipework.listing import Column, Listing, Value
from tunwright.sheets.pipework.lists import cut_list, fitting_list, line_list, valve_list
from tunwright.sheets.pipework.plate import operating_plate
from tunwright.sheets.pipework.pump_test import pump_test
from tunwright.sheets.pipework.sender import sender_list
from tunwright.sheets.pipework.spreading import spreading_list

_WIDTHS = {
    "lines": ("1fr", "1fr", "1fr", "13mm", "14mm", "12mm", "13mm", "2.2fr", "15mm", "13mm"),
    "valves": ("14mm", "1fr", "15mm", "1fr", "1.5fr", "18mm", "18mm"),
    "pipe": ("18mm", "18mm", "17mm", "14mm", "11mm", "20mm", "1fr"),
    "fittings": ("1fr", "30mm", "30mm", "25mm"),
    "sender": ("1fr", "30mm", "30mm"),
    "dosing": ("2fr", "15mm", "13mm", "15mm", "1.6fr", "15mm", "16mm", "20mm"),
    "spreading": ("1fr", "1fr", "1fr", "1fr", "1fr"),
}
_FIXED = 7  # columns of the valve list before those of the duties
_DUTIES = 6  # duties side by side in the table of positions
_TIMES = "\u00a0×\u00a0"  # a number stays with what it counts


def pipework_lists(assessment: Assessment, system: System) -> tuple[Listing, ...]:
    """All lists of the pipework. Raises ValueError where the build has none.

    assessment: the assessment
    system: "metric" or "us"
    """
    plumbing, duties, dosing = plumbed(assessment), asked(assessment, None), dosing_list(assessment)
    return (
        line_list(plumbing, system),
        valve_list(plumbing, system),
        cut_list(plumbing, system),
        fitting_list(plumbing, system),
        operating_plate(plumbing, duties, findings_of(assessment), system),
        pump_test(plumbing, duties),
        spreading_list(duties, system),
        sender_list(assessment),
        *([dosing] if dosing.rows else []),
    )


def pipework_parts(assessment: Assessment) -> list[Block]:
    """The sheets as plain data for the press. Raises ValueError where the build has no pipework.

    assessment: the assessment
    """
    system, plumbing = assessment.build.order.units, plumbed(assessment)
    lines, valves, pipe, fittings, plate, test, road, sender, *more = pipework_lists(assessment, system)
    lists = [words(FIRST), *_listed(lines, system)]
    lists += [*_valves(valves, system), *_listed(pipe, system), *_listed(fittings, system)]
    minded = [row([cell(name, bold=True), text]) for name, text in cautions(plumbing, system)]
    mind = table([column("", "26mm"), column("to be minded", "1fr")], minded)
    parts = [
        Part("Pipework lists", lists),
        Part("Operating plate", [together([mind]), *_plate(plate)]),
    ]
    if plumbing.work.pump is not None:
        parts.append(Part("Pump test", _test(test, system)))
    if any(duty.kind == "spray" for duty in plumbing.work.duty):
        parts.append(Part("Water on the road", _road(road, system)))
    parts.append(Part("Level sender", [*_listed(sender, system)][1:]))
    parts += [Part(one.title, [*_listed(one, system)][1:]) for one in more]
    return [part.data() for part in parts]


def _columns(listing: Listing, system: System, widths: Sequence[str]) -> list[Block]:
    shown = zip(listing.columns, widths, strict=False)
    return [column(one.head(system), width, right=_figures(one)) for one, width in shown]


def _figures(one: Column) -> bool:
    return bool(one.kind) or one.key in ("count", "runs", "step")


def _rows(listing: Listing, system: System, count: int) -> list[Block]:
    """Its rows, as many columns as are asked for, and what they add up to."""
    columns = listing.columns[:count]
    rows = [row(_cells(columns, one, system)) for one in listing.rows]
    if listing.total is not None and len(listing.rows) > 1:
        rows.append(row(_cells(columns, listing.total, system), total=True))
    return rows


def _cells(columns: Sequence[Column], values: Sequence[Value], system: System) -> list[str]:
    shown = (one.shown(value, system) for one, value in zip(columns, values, strict=False))
    return [text.replace(" × ", _TIMES) for text in shown]


def _listed(listing: Listing, system: System) -> Iterator[Block]:
    widths = _WIDTHS[listing.key]
    yield head(listing.title)
    yield table(_columns(listing, system, widths), _rows(listing, system, len(widths)), size=7.5, foot=listing.foot)


def _valves(listing: Listing, system: System) -> Iterator[Block]:
    """The valves, and then how each stands in every duty, some duties at a time."""
    if not listing.rows:
        return
    yield from _listed(listing, system)
    duties = range(_FIXED, len(listing.columns))
    for first in duties[::_DUTIES]:
        shown = [0, _FIXED - 1, *duties[first - _FIXED : first - _FIXED + _DUTIES]]
        columns = [column(listing.columns[i].name, "20mm" if i < _FIXED else "1fr") for i in shown]
        rows = [row([_position(values[i], bold=i == 0) for i in shown]) for values in listing.rows]
        yield head("How the valves stand")
        yield together([table(columns, rows)])


def _position(value: Value, *, bold: bool) -> Block | str:
    """A position; what is not shut stands bold, so that it is found at once."""
    text = str(value)
    return cell(text, bold=bold or text == "open" or text.endswith("%"))


def _plate(listing: Listing) -> Iterator[Block]:
    for name in dict.fromkeys(str(values[0]) for values in listing.rows):
        mine = [values for values in listing.rows if values[0] == name]
        steps = [row([str(step), _told(str(text))]) for _, step, text in mine]
        columns = [column("", "7mm", right=True), column(name, "1fr", title=True)]
        yield together([table(columns, steps, size=9.5)])


def _told(text: str) -> Block | str:
    return cell(text, bold=True, tone="bad") if text.startswith("Not released") else text


def _test(listing: Listing, system: System) -> list[Block]:
    """For every duty three lines: expected, allowed, measured."""
    if not listing.rows:
        return [unknown("There is nothing to test: the pump turns in no duty of this build.")]
    named = {one.key: one for one in listing.columns}
    keys = ("engine", "pump", "flow", "head", "outlet", "power", "torque")
    columns = [column("duty", "1fr"), column("", "17mm")]
    columns += [column(named[key].head(system), "19mm", right=True) for key in keys]
    rows = [line for values in listing.rows for line in _tested(named, dict(zip(named, values, strict=True)), system)]
    signed = [column(name, "1fr") for name in ("tested by", "checked by", "date", "place and weather")]
    gauges = [column(name, "1fr") for name in ("instrument", "number", "calibrated until", "where it was fitted")]
    blank = row([""] * 4)
    return [
        words(f"{FIRST} Isolate the drive before any work on the pump."),
        table(columns, rows, size=7.5, foot=listing.foot, tall=True),
        note(
            "Flow by meter, or by level and watch. Head: what the pump adds, outlet less inlet, as a height of water."
        ),
        table(gauges, [blank, blank, blank], tall=True),
        table(signed, [blank, blank], tall=True),
    ]


def _tested(named: dict[str, Column], one: dict[str, Value], system: System) -> Iterator[Block]:
    keys = ("engine", "pump", "flow", "head", "outlet", "power", "torque")
    shown = {key: named[key].shown(value, system) for key, value in one.items()}
    yield row([cell(str(one["duty"]), bold=True), "expected", *(shown[key] for key in keys)])
    bands = {key: f"{shown[f'{key}_least']} to {shown[f'{key}_most']}" for key in ("flow", "outlet")}
    known = [key for key in ("power", "torque") if math.isfinite(float(one[key] or 0.0))]
    bands |= {key: f"up to {shown[f'{key}_most']}" for key in known}
    yield row(["", "allowed", *(bands.get(key, "") for key in keys)])
    yield row(["", cell("measured", bold=True), *[""] * len(keys)])


def _road(listing: Listing, system: System) -> list[Block]:
    if not listing.rows:
        return [unknown("There is no table: no spray duty of this build has outlets with a width.")]
    blocks: list[Block] = []
    for name in dict.fromkeys(str(values[0]) for values in listing.rows):
        mine = [values for values in listing.rows if values[0] == name]
        flow, width = (listing.columns[i].shown(mine[0][i], system) for i in (1, 2))
        units = [listing.columns[i].head(system).rsplit(", ", 1)[1] for i in (1, 2)]
        columns = [column(one.head(system), "1fr", right=True) for one in listing.columns[4:]]
        rows = [row(_given(listing.columns, values, system)) for values in mine]
        said = f"{flow} {units[0]} on {width} {units[1]}. What is given stands bold."
        blocks += [head(f"{name[:1].upper()}{name[1:]}"), together([words(said), table(columns, rows, size=10.0)])]
    return [*blocks, note(listing.foot)]


def _given(columns: Sequence[Column], values: Sequence[Value], system: System) -> list[Block | str]:
    cells = _cells(columns, values, system)[4:]
    at = 0 if values[3] == "speed" else 1
    return [cell(text, bold=i == at) for i, text in enumerate(cells)]
