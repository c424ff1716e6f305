"""What the lines and symbols of the schematic mean, in rows under it: only what is on it."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from functools import partial

from tunwright.sheets.drawing import Entity, Group, Line
from tunwright.sheets.pipework.schematic.places import CARRIES, CUT_OFF
from tunwright.sheets.pipework.schematic.spot import STROKE, Entities, Spot
from tunwright.sheets.pipework.schematic.standing import Standing
from tunwright.sheets.pipework.schematic.symbols import arrow_symbol, dot_symbol, pump_symbol
from tunwright.sheets.pipework.schematic.valve_symbols import State, valve_symbol
from tunwright.sheets.pipework.words_beside import Words
from tunwright.truck.pipework.plumbing import ONE_WAY

_ROW, _HALF, _GAP = 12.5, 6.0, 6.0
Mark = tuple[Callable[[Spot], Entities], str]
_STATES: tuple[tuple[State, str], ...] = (("open", "open"), ("shut", "shut"), ("part", "part open, how far"))
_WORKS = (("hand", "worked by hand"), ("air", "worked by air"), ("electric", "worked by a motor"))


def legend(left: float, right: float, top: float, standing: Standing) -> Group:
    """The meaning of lines and symbols.

    left: left end of its rows [mm]
    right: right end of its rows [mm]
    top: upper edge [mm]
    standing: how the pipework stands
    """
    marks = [*_valves(standing), (_crossing, "joined, only crossing"), *_water(standing)]
    return Group("legend", tuple(_rows(marks, left, right, top - 0.5 * _ROW)))


def _valves(standing: Standing) -> Iterator[Mark]:
    """How valves stand, which kinds there are, and what works them."""
    valves = standing.plumbing.work.valve
    shown = [one for one in valves if one.kind not in ONE_WAY]
    for state, said in _STATES:
        if state != "part" or standing.duty is not None:
            yield partial(valve_symbol, kind="", state=state, works="itself"), said
    for kind in sorted({one.kind for one in shown}):
        yield partial(valve_symbol, kind=kind, state="open", works="itself"), kind
    if len(shown) < len(valves):
        yield partial(valve_symbol, kind="swing check", state="open"), "opens by itself, one way"
    for works, said in _WORKS:
        if any(one.works == works for one in shown):
            yield partial(valve_symbol, kind="", state="open", works=works), said


def _water(standing: Standing) -> Iterator[Mark]:
    """How what carries water and what does not is drawn."""
    if standing.duty is None:
        return
    if standing.plumbing.work.pump is not None:
        yield partial(pump_symbol, turns=True), "pump turns"
    for layer, said in (
        (CARRIES, "carries water"),
        (STROKE, "water stands"),
        (CUT_OFF, "cut off: no water reaches it"),
    ):
        yield partial(_line, layer=layer), said


def _line(spot: Spot, layer: str) -> Entities:
    line = Line(spot.to(-_HALF, 0.0), spot.to(_HALF, 0.0), layer)
    return (line, *arrow_symbol(spot)) if layer == CARRIES else (line,)


def _crossing(spot: Spot) -> Entities:
    joined = (spot.path((-5.6, 0.0), (-0.6, 0.0)), spot.path((-3.1, 2.2), (-3.1, -2.2)))
    crossing = (spot.path((0.6, 0.0), (5.6, 0.0)), spot.path((3.1, 2.2), (3.1, -2.2)))
    return (*joined, *dot_symbol(Spot(spot.to(-3.1, 0.0))), *crossing)


def _rows(marks: Sequence[Mark], left: float, right: float, y: float) -> Iterator[Entity]:
    x = left
    for draw, said in marks:
        words = Words(said, quiet=True)
        room = 2.0 * _HALF + 2.0 + words.width
        if x > left and x + room > right:
            x, y = left, y - _ROW
        yield from draw(Spot((x + _HALF, y)))
        yield words.at((x + 2.0 * _HALF + 2.0, y - 1.0), "start")
        x += room + _GAP
