"""Which states a build is tried in: every fill, every pattern of compartments, both ways of every road."""

from __future__ import annotations

from itertools import pairwise, product

import numpy as np
import pytest

from tunwright.truck.states import FILLS, emptyings, patterns
from tunwright.truck.truck import Truck

BOX = '[tank.section]\nshape = "rectangle"\nwidth = "2 m"\nheight = "1 m"\n'


def compartments(ends: list[float]) -> str:
    return "".join(
        f'[[tank.compartment]]\nname = "c{i}"\nfrom = "{a} m"\nto = "{b} m"\n'
        for i, (a, b) in enumerate(pairwise(ends))
    )


@pytest.mark.parametrize("count", [1, 2, 3, 5, 8])
def test_patterns_and_the_even_ends_are_all_there_are(check, count: int) -> None:
    """All full and all empty are in the even sweep; the patterns are the others, each once."""
    found = {state.parts for state in patterns(np.ones(count))}
    all_of_them = found | {(0.0,) * count, (1.0,) * count}
    check(
        f"full and empty patterns of {count} compartments",
        source="2^n",
        expected=2**count,
        ours=len(all_of_them),
        tol=0,
    )
    assert all_of_them == set(product((0.0, 1.0), repeat=count))
    assert len(patterns(np.ones(count))) == len(found)


def test_every_state_is_tried(tank_of) -> None:
    """Level, up, down, left, right and braking, with and without the crew, dry to brim, and every pattern on grades."""
    truck = tank_of(BOX, compartments([0, 1, 2.5, 4]) + '[states]\nemptying = [["c2", "c0", "c1"]]\n')
    states = truck.table.states
    assert len(set(states)) == len(states)
    assert len({state.id for state in states}) == len(states)
    for crew, grade in product((True, False), (0.0, 0.12, -0.12)):
        here = [s for s in states if s.crew == crew and s.grade == grade and not s.slope and not s.braking]
        fills = sorted(s.fill for s in here if s.sort == "even" and not s.brim)
        assert fills == pytest.approx(np.linspace(0, 1, FILLS))
        assert sum(s.brim for s in here) == 1
        assert sum(s.sort == "pattern" for s in here) == 6
        assert sum(s.sort == "emptying" for s in here) == 12
    for surface, slope in product(("braked", "frozen", "levelled"), (0.0,)):
        assert sum(s.surface == surface and s.slope == slope for s in states) == 2 * (FILLS + 1)
    assert {s.slope for s in states} == {0.0, 0.05, -0.05}


def test_brim_holds_gross_and_full_holds_net(check, tank_of) -> None:
    truck = tank_of(BOX, compartments([0, 1, 2.5, 4]))
    table = truck.table
    brim = next(i for i, s in enumerate(table.states) if s.brim)
    full = next(i for i, s in enumerate(table.states) if s.sort == "even" and s.fill == 1.0 and not s.brim)
    assert table.volumes[brim] == pytest.approx(truck.volumes.gross, rel=1e-12)
    assert table.volumes[full] == pytest.approx(0.96 * truck.volumes.gross, rel=1e-12)
    for i, state in enumerate(table.states):
        if not state.brim:
            assert table.volumes[i] == pytest.approx(np.multiply(state.parts, truck.volumes.net), rel=1e-12)
    check(
        "water of every state over its litres",
        source="1000 kg/m3",
        expected=1.0,
        tol=1e-8,
        ours=float(table.water_mass.sum() / table.litres.sum()),
    )


def test_an_emptying_order_goes_step_by_step(tank_of) -> None:
    truck = tank_of(BOX, compartments([0, 1, 2.5, 4]) + '[states]\nemptying = [["c2", "c0", "c1"]]\n')
    steps = [s.parts for s in emptyings(truck.build, truck.volumes.net)]
    assert steps[:5] == [(1, 1, 0.75), (1, 1, 0.5), (1, 1, 0.25), (1, 1, 0), (0.75, 1, 0)]
    assert steps[-1] == (0, 0, 0)
    assert len(steps) == 12


def test_a_cap_is_never_passed(tank_of) -> None:
    free = tank_of(BOX, compartments([0, 1, 2.5, 4]))
    truck = Truck(free.build, cap=0.6 * float(free.volumes.net.sum()))
    assert truck.table.litres.max() <= 600 * free.volumes.net.sum() * (1 + 1e-9)
    assert not any(s.brim for s in truck.table.states)
    assert max(max(s.parts) for s in truck.table.states) <= 0.6 + 1e-12
