"""The sheets of the pipework on paper: lists for the shop, plate and road table for the driver, the pump's test."""

from __future__ import annotations

import math
from collections.abc import Iterator, Mapping, Sequence

from tunwright.build.kind import System
from tunwright.checks.assess import Assessment
from tunwright.sheets.dossier.blocks import Block, Part, cell, column, head, note, row, table, together, unknown, words
from tunwright.sheets.pipework.all_lists import pipework_lists
from tunwright.sheets.pipework.cautions import FIRST, cautions
from tunwright.sheets.pipework.flows import asked, plumbed
from tunwright.sheets.pipework.listing import Column, Listing, Value
from tunwright.sheets.pipework.plate import BARRED
from tunwright.sheets.pipework.road.page import road_blocks

_MADE = ("lines", "valves", "fittings", "materials")
_CUT = ("pipe", "stock", "bends", "flanges", "bolting", "cutting")
_ALONE = ("jets", "frost", "dosing", "sender")
"""Lists of the parts for the shop, of the part on cutting, and those with a part of their own."""

_WIDTHS = {
    "lines": ("1fr", "1fr", "1fr", "13mm", "14mm", "12mm", "13mm", "2.2fr", "15mm", "13mm"),
    "valves": ("14mm", "1fr", "15mm", "1fr", "1.5fr", "18mm", "18mm"),
    "fittings": ("1fr", "30mm", "30mm", "25mm"),
    "materials": ("1fr", "1fr", "1.2fr", "1.2fr", "1.2fr", "22mm"),
    "pipe": ("13mm", "1fr", "14mm", "14mm", "17mm", "17mm", "1.2fr", "1.5fr"),
    "stock": ("16mm", "16mm", "12mm", "1fr", "14mm", "16mm"),
    "bends": ("15mm", "12mm", "1fr", "1fr", "1fr", "1fr", "1fr", "1fr", "1fr"),
    "flanges": ("16mm", "1fr", "1.3fr", "13mm", "14mm", "14mm", "18mm", "13mm", "25mm", "29mm"),
    "bolting": ("1fr", "1fr", "30mm"),
    "cutting": ("16mm", "30mm", "1fr"),
    "emergency": ("9mm", "1fr", "32mm", "19mm", "19mm", "1fr"),
    "jets": ("1fr", "1.3fr", "12mm", "17mm", "17mm", "15mm", "14mm", "14mm", "18mm", "1fr"),
    "frost": ("1.2fr", "13mm", "13mm", "15mm", "12mm", "14mm", "13mm", "15mm", "15mm", "15mm", "15mm", "1.6fr"),
    "sender": ("1fr", "30mm", "30mm"),
    "dosing": ("2fr", "15mm", "13mm", "15mm", "1.6fr", "15mm", "16mm", "20mm"),
}
_RIGHT = ("count", "runs", "step", "rotation", "angle", "stock", "bend")
_PLAIN = ("_h", "_w", "_w_m")  # endings of keys of plain figures with their unit in the heading
_FIXED = 7  # columns of the valve list before those of the duties
_DUTIES = 6  # duties side by side in the table of positions
_TIMES = "\u00a0×\u00a0"  # a number stays with what it counts


def pipework_parts(assessment: Assessment) -> list[Block]:
    """The sheets as plain data for the press. Raises ValueError where the build has no pipework.

    assessment: the assessment
    """
    system, plumbing = assessment.build.order.units, plumbed(assessment)
    lists = {one.key: one for one in pipework_lists(assessment, system)}
    minded = [row([cell(name, bold=True), text]) for name, text in cautions(plumbing, system)]
    mind = table([column("", "26mm"), column("to be minded", "1fr")], minded)
    made = [block for key in _MADE for block in _put(lists, key, system)]
    parts = [
        Part("Pipework lists", [words(FIRST), *made]),
        Part("Cutting, bending and bolting", [block for key in _CUT for block in _put(lists, key, system)]),
        Part("Operating plate", [together([mind]), *_plate(lists["plate"]), *_stops(lists, system)]),
    ]
    if any(duty.kind == "spray" for duty in plumbing.work.duty):
        parts.append(Part("Water on the road", _road(lists["spreading"], lists["engine"], assessment)))
    if plumbing.work.pump is not None:
        parts.append(Part("Pump test", _test(lists["pump-test"], system)))
    alone = [key for key in _ALONE if key in lists]
    for i, key in enumerate(alone):
        parts.append(Part(lists[key].title, [*_put(lists, key, system)][1:], fresh=i == 0))
    return [part.data() for part in parts]


def _put(lists: Mapping[str, Listing], key: str, system: System) -> Iterator[Block]:
    """A list with its heading, nothing where it was left out."""
    if key == "valves":
        yield from _valves(lists[key], system)
    elif key in lists:
        yield from _listed(lists[key], system)


def _columns(listing: Listing, system: System, widths: Sequence[str]) -> list[Block]:
    shown = zip(listing.columns, widths, strict=False)
    return [column(one.head(system), width, right=_figures(one)) for one, width in shown]


def _figures(one: Column) -> bool:
    return bool(one.kind) or one.key in _RIGHT or one.key.endswith(_PLAIN)


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


def _stops(lists: Mapping[str, Listing], system: System) -> Iterator[Block]:
    """The emergency chain with the worst duty, and then what is left of every duty, some at a time."""
    if "emergency" not in lists:
        return
    listing, first = lists["emergency"], len(_WIDTHS["emergency"])
    yield from _listed(listing, system)
    for at in range(first, len(listing.columns), _DUTIES):
        shown = [0, 1, *range(at, min(at + _DUTIES, len(listing.columns)))]
        named = [listing.columns[i] for i in shown]
        heads = [column(one.head(system), width, right=_figures(one)) for one, width in zip(
            named, ("9mm", "1.6fr", *["1fr"] * len(named)), strict=False)]  # fmt: skip
        rows = [row(_cells(named, [values[i] for i in shown], system)) for values in listing.rows]
        yield head("What is left of each duty")
        yield together([table(heads, rows, size=7.5)])


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
    return cell(text, bold=True, tone="bad") if text.startswith(BARRED) else text


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


def _road(listing: Listing, engines: Listing, assessment: Assessment) -> list[Block]:
    if not listing.rows:
        return [unknown("There is no table: no spray duty of this build has outlets with a width.")]
    return road_blocks(listing, engines, asked(assessment, None), assessment.build.order.units)
