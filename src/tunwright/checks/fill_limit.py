"""The fill limit by mass: the litres at which the first limit is reached with the tank where it stands."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace

import numpy as np
from numpy.typing import NDArray

from tunwright.checks.load_findings import track_of
from tunwright.checks.load_limit import LoadLimit
from tunwright.truck.loads import LoadTable
from tunwright.truck.states import LoadState
from tunwright.truck.truck import Truck

Floats = NDArray[np.float64]
PASSED = 1e-9


@dataclass(frozen=True)
class FillLimit:
    """The first limit reached while filling evenly.

    water: volume at which it is reached [m3]; the gross volume where none is reached
    binds: key of the limit, None where none is reached
    fails_dry: keys of limits that already fail empty and are no matter of filling
    """

    water: float
    binds: str | None
    fails_dry: tuple[str, ...]


def fill_limit(truck: Truck, limits: Sequence[LoadLimit], sweep: LoadTable | None = None) -> FillLimit:
    """The fill limit in level and grade states.

    truck: the truck
    limits: the limits on its axle loads
    sweep: the states to go through, from dry to brim; those of the truck unless given
    """
    chosen = truck.sweep if sweep is None else sweep
    brackets = [bracket for limit in limits for bracket in _brackets(truck, limit, chosen)]
    dry = tuple(dict.fromkeys(b.limit.key for b in brackets if b.dry))
    first, binds = float(truck.volumes.gross.sum()), None
    for bracket in sorted(brackets, key=lambda b: b.low):
        if bracket.low >= first:
            break
        if bracket.dry and bracket.limit.sense == "at_least":
            continue
        water = 0.0 if bracket.dry else _crossing(truck, bracket, first)
        if water < first - 1e-12:
            first, binds = water, bracket.limit.key
    return FillLimit(first, binds, dry)


def limit_water(truck: Truck, limit: LoadLimit) -> float | None:
    """Volume at which one limit is first passed [m3], None where it never is.

    truck: the truck
    limit: the limit
    """
    found = [
        0.0 if bracket.dry else _crossing(truck, bracket, np.inf) for bracket in _brackets(truck, limit, truck.sweep)
    ]
    return min(found, default=None)


@dataclass(frozen=True)
class _Bracket:
    """Two steps of the sweep between which a limit is passed.

    state: the state at the lower step
    low, high: volumes [m3]
    at_low, at_high: how far the limit is passed there, as a share of it
    dry: it is passed already when empty
    """

    limit: LoadLimit
    state: LoadState
    low: float
    high: float
    at_low: float
    at_high: float
    dry: bool = False


def _brackets(truck: Truck, limit: LoadLimit, states: LoadTable) -> Iterator[_Bracket]:
    """Where a limit is first passed on each road, with each crew and each choice of lifted axles."""
    _, sweep = limit.part(states)
    over, water = _over(truck, limit, sweep), sweep.litres / 1000
    for rows in _families(sweep):
        passed = over[rows] > PASSED
        if not passed.any():
            continue
        step = int(np.argmax(passed))
        below, above = int(rows[max(0, step - 1)]), int(rows[step])
        yield _Bracket(
            limit,
            sweep.states[below],
            float(water[below]),
            float(water[above]),
            float(over[below]),
            float(over[above]),
            dry=step == 0,
        )


def _families(table: LoadTable) -> list[NDArray[np.intp]]:
    """Row numbers of the sweep, from dry to brim, of each road, crew and choice of lifted axles."""
    groups: dict[tuple[object, ...], list[int]] = {}
    for i, s in enumerate(table.states):
        groups.setdefault((s.grade, s.crew, s.stance), []).append(i)
    order = table.litres
    return [np.array(sorted(rows, key=order.__getitem__)) for rows in groups.values()]


def _over(truck: Truck, limit: LoadLimit, table: LoadTable) -> Floats:
    """How far the limit is passed in each state, as a share of it; below 0 where it holds or cannot be known."""
    bound = limit.limit(table, track_of(truck, limit))
    room = limit.value(table) - bound if limit.sense == "at_most" else bound - limit.value(table)
    over: Floats = np.nan_to_num(room / np.maximum(np.abs(bound), 1e-9), nan=-1.0)
    return over


def _crossing(truck: Truck, bracket: _Bracket, stop: float) -> float:
    """Volume at which the limit of a bracket is passed [m3] (secants, kept inside); `stop` where it lies beyond."""
    low, high, at_low, at_high = bracket.low, bracket.high, bracket.at_low, bracket.at_high
    for _ in range(40):
        guess = low - at_low * (high - low) / (at_high - at_low)
        guess = min(max(guess, low + 1e-4 * (high - low)), high - 1e-4 * (high - low))
        here = float(_over(truck, bracket.limit, truck.loading.table([_state_at(truck, bracket.state, guess)]))[0])
        if here > PASSED:
            high, at_high = guess, here
        else:
            low, at_low = guess, here
        if high - low < 1e-6 or abs(here) < 1e-9 or low >= stop:
            break
    return low


def _state_at(truck: Truck, like: LoadState, water: float) -> LoadState:
    """The even state that holds a volume, up to the brim."""
    net, gross = truck.volumes.net, truck.volumes.gross
    fill = water / float(net.sum())
    if fill <= 1.0:
        return replace(like, fill=fill, parts=(fill,) * len(net), brim=False)
    beyond = (water - net.sum()) / (gross.sum() - net.sum())
    return replace(like, fill=fill, parts=tuple(1.0 + beyond * (gross - net) / net), brim=False)
