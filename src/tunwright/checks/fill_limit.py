"""The fill limit by mass: the litres at which the first limit is reached with the tank where it stands."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace

import numpy as np
from numpy.typing import NDArray

from tunwright.checks.load_findings import track_of
from tunwright.checks.load_limit import LoadLimit
from tunwright.truck.loads import LoadTable
from tunwright.truck.states import LoadState
from tunwright.truck.truck import Truck

Floats = NDArray[np.float64]


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


def fill_limit(truck: Truck, limits: Sequence[LoadLimit]) -> FillLimit:
    """The fill limit in level and grade states.

    truck: the truck
    limits: the limits on its axle loads
    """
    gross = float(truck.volumes.gross.sum())
    first, binds, dry = gross, None, []
    for limit in limits:
        water, at_once = limit_water(truck, limit)
        if at_once and limit.sense == "at_least":
            dry.append(limit.key)
        elif water is not None and water < first - 1e-12:
            first, binds = water, limit.key
        if at_once and limit.sense == "at_most":
            dry.append(limit.key)
    return FillLimit(first, binds, tuple(dry))


def limit_water(truck: Truck, limit: LoadLimit) -> tuple[float | None, bool]:
    """Volume at which a limit is first passed [m3], None where it never is, and whether it already is when empty.

    truck: the truck
    limit: the limit
    """
    sweep = truck.sweep
    mine = sweep.only(limit.applies(sweep))
    over = _over(truck, limit, mine)
    if not np.isfinite(over).any():
        return None, False
    found: list[float] = []
    for states in _families(mine):
        values = over[states]
        if np.nanmax(values) <= 1e-9:
            continue
        step = int(np.argmax(values > 1e-9))
        if step == 0:
            return 0.0, True
        found.append(_crossing(truck, limit, mine, int(states[step - 1]), int(states[step])))
    return (min(found), False) if found else (None, False)


def _families(table: LoadTable) -> list[NDArray[np.intp]]:
    """Row numbers of the sweep, from dry to brim, of each road, crew and choice of lifted axles."""
    groups: dict[tuple[object, ...], list[int]] = {}
    for i, s in enumerate(table.states):
        groups.setdefault((s.grade, s.crew, s.stance), []).append(i)
    order = table.litres
    return [np.array(sorted(rows, key=lambda i: order[i])) for rows in groups.values()]


def _over(truck: Truck, limit: LoadLimit, table: LoadTable) -> Floats:
    """How far the limit is passed in each state, as a share of it."""
    bound = limit.limit(table, track_of(truck, limit))
    room = limit.value(table) - bound if limit.sense == "at_most" else bound - limit.value(table)
    over: Floats = room / np.maximum(np.abs(bound), 1e-9)
    return over


def _crossing(truck: Truck, limit: LoadLimit, table: LoadTable, below: int, above: int) -> float:
    """Volume between two steps of the sweep at which the limit is passed [m3]."""
    low, high = float(table.litres[below]) / 1000, float(table.litres[above]) / 1000
    at_low, at_high = (float(_over(truck, limit, table)[i]) for i in (below, above))
    for _ in range(40):
        guess = low - at_low * (high - low) / (at_high - at_low)
        guess = min(max(guess, low + 1e-3 * (high - low)), high - 1e-3 * (high - low))
        here = float(_over(truck, limit, truck.loading.table([_state_at(truck, table.states[below], guess)]))[0])
        if here > 0:
            high, at_high = guess, here
        else:
            low, at_low = guess, here
        if high - low < 1e-7 or abs(here) < 1e-12:
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
