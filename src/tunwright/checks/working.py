"""The working of an axle load: every mass with its lever, summed, and held against the limit."""

from __future__ import annotations

from collections.abc import Iterator

import numpy as np

from tunwright.build.shown import show_number as n
from tunwright.checks.finding import Step
from tunwright.checks.load_limit import LoadLimit
from tunwright.truck.truck import Truck

STATICS = "statics of a stiff vehicle: sum of forces and of moments are zero"


def load_working(truck: Truck, limit: LoadLimit, row: int, bound: float) -> tuple[Step, ...]:
    """How the load of a limit comes about in one state.

    truck: the truck
    limit: the limit
    row: index of the state in the truck's table
    bound: the limit in that state [kg]
    """
    if limit.on_gross:
        return tuple(_gross_steps(truck, row, bound))
    return (*_load_steps(truck, limit, row), _against(truck, limit, row, bound))


def _masses(truck: Truck, row: int) -> list[tuple[str, float, float, float]]:
    """Name, mass [kg], place [m] and height [m] of everything added to the bare chassis in a state."""
    state, table = truck.table.states[row], truck.table
    found = [
        (lump.name, lump.mass.mass, float(lump.mass.centre[0]), float(lump.mass.centre[2]))
        for lump in truck.weights.lumps
    ]
    crew = truck.weights.crew_aboard if state.crew else truck.weights.crew_away
    if crew.mass:
        found.append(("persons", crew.mass, float(crew.centre[0]), float(crew.centre[2])))
    at = table.water_at[row]
    found.append((f"water, {n(table.litres[row])} L", float(table.water_mass[row]), float(at[0]), float(at[2])))
    return found


def _gross_steps(truck: Truck, row: int, bound: float) -> Iterator[Step]:
    parts = [("bare chassis as weighed", truck.axles.kerb_mass), *((m[0], m[1]) for m in _masses(truck, row))]
    for name, mass in parts:
        yield Step(name, "m", "", f"{n(mass, 1)} kg")
    total = float(truck.table.gross[row])
    yield Step("mass of the vehicle", "sum of m", " + ".join(n(mass, 1) for _, mass in parts), f"{n(total, 1)} kg")
    yield Step("against the limit", "m / limit", f"{n(total, 1)} / {n(bound, 1)}", f"{100 * total / bound:.1f} %")


def _load_steps(truck: Truck, limit: LoadLimit, row: int) -> Iterator[Step]:
    state, table = truck.table.states[row], truck.table
    stance = truck.axles.stances[state.stance]
    part = stance.shared.per_force[list(limit.axles)].sum(axis=0)
    names = " + ".join(truck.axles.axle[i].name for i in limit.axles)
    formula = f"m ({part[0]:.5f} {'+' if part[1] >= 0 else '−'} {abs(part[1]):.5f} x)"
    kerb = float(stance.kerb[list(limit.axles)].sum())
    yield Step(
        f"bare chassis on {names}",
        "as weighed" if not stance.lifted else "as weighed, lifted axles taken off",
        "",
        f"{n(kerb, 1)} kg",
    )
    total = kerb
    for name, mass, x, _ in _masses(truck, row):
        share = mass * float(part[0] + part[1] * x)
        total += share
        yield Step(name, formula, f"m = {n(mass, 1)} kg, x = {n(x, 3)} m", f"{n(share, 1)} kg", STATICS)
    yield from _tilt_steps(truck, limit, row, total)
    yield Step(f"load on {names}", "sum", "", f"{n(float(limit.value(table)[row]), 1)} kg")


def _tilt_steps(truck: Truck, limit: LoadLimit, row: int, total: float) -> Iterator[Step]:
    """What grade and braking take from one end and press on the other."""
    state, table = truck.table.states[row], truck.table
    if state.level:
        return
    stance = truck.axles.stances[state.stance]
    per = float(stance.shared.per_couple[list(limit.axles)].sum())
    angle, side = np.arctan(state.grade), np.arctan(state.slope)
    press = float(np.cos(angle) * np.cos(side))
    height, gross = float(table.centre[row, 2]), float(table.gross[row])
    pull = float(np.sin(angle) * np.cos(side)) - state.braking
    yield Step(
        "pressed square to the road",
        "load × cos(grade) cos(side slope)",
        f"{n(total, 1)} × {press:.5f}",
        f"{n(total * press, 1)} kg",
        STATICS,
    )
    yield Step(
        "height of the whole centre of gravity", "sum of m z / sum of m", f"over {n(gross, 1)} kg", f"{n(height, 3)} m"
    )
    yield Step(
        "moved by the height",
        "m h (sin(grade) − a/g) × (load for each metre of couple)",
        f"{n(gross, 1)} × {n(height, 3)} × {n(pull, 5)} × {n(per, 5)}",
        f"{n(gross * height * pull * per, 1)} kg",
        STATICS,
    )


def _against(truck: Truck, limit: LoadLimit, row: int, bound: float) -> Step:
    value = float(limit.value(truck.table)[row])
    if limit.share is not None:
        total = float(truck.table.axles[row].sum())
        return Step(
            "part of the whole",
            "load / sum of axle loads",
            f"{n(value, 1)} / {n(total, 1)}",
            f"{100 * value / total:.2f} %",
        )
    return Step("against the limit", "load / limit", f"{n(value, 1)} / {n(bound, 1)}", f"{100 * value / bound:.1f} %")
