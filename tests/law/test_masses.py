"""Masses of the tank's parts against closed forms; what a measured mass changes and what it leaves."""

from __future__ import annotations

import math

import numpy as np
import pytest
from fluids.geometry import TANK

CLOSED = "area of the mid-surface times thickness times 7850 kg/m3"
STEEL = 7850.0
ROUND = '[tank.section]\nshape = "circle"\ndiameter = "1.8 m"\n'
BOX = '[tank.section]\nshape = "rectangle"\nwidth = "2 m"\nheight = "1 m"\n'
TANK_ = '[tank]\nmiddle = "3 m"\nlength = "4 m"\nbottom = "1.2 m"\nshell = "4 mm"\n'


def parts(truck) -> dict[str, object]:
    return {part.key: part for part in truck.weights.parts}


def test_round_shell_and_flat_heads(check, tank_of) -> None:
    made = parts(tank_of(ROUND, tank=TANK_))
    shell = made["tank.shell"]
    check(
        "round shell, 4 m of 1.8 m, 4 mm",
        source=CLOSED,
        expected=math.pi * 1.804 * 4 * 0.004 * STEEL,
        ours=shell.mass.mass,
        tol=0.01,
        unit="kg",
    )
    assert shell.mass.centre == pytest.approx([2.0, 0.0, 0.9], abs=1e-4)
    for key, x in (("tank.head.front", 0.0), ("tank.head.rear", 4.0)):
        check(
            f"{key}, flat, as wide as the shell outside",
            source=CLOSED,
            expected=math.pi * 0.904**2 * 0.004 * STEEL,
            ours=made[key].mass.mass,
            tol=0.01,
            unit="kg",
        )
        assert made[key].mass.centre == pytest.approx([x, 0.0, 0.9], abs=1e-4)


def test_square_cornered_shell(check, tank_of) -> None:
    made = parts(tank_of(BOX, tank=TANK_))
    check(
        "box shell, 4 m of 2 x 1 m, 4 mm",
        source=CLOSED,
        expected=2 * (2.004 + 1.004) * 4 * 0.004 * STEEL,
        ours=made["tank.shell"].mass.mass,
        tol=1e-6,
        unit="kg",
    )
    check(
        "box head",
        source=CLOSED,
        expected=2.008 * 1.008 * 0.004 * STEEL,
        ours=made["tank.head.front"].mass.mass,
        tol=1e-6,
        unit="kg",
    )


@pytest.mark.parametrize(
    ("keys", "sides"),
    [
        ('shape = "ellipsoidal"', {"sideA": "ellipsoidal", "sideA_a": 0.45}),
        ('shape = "conical"\ndepth = "400 mm"', {"sideA": "conical", "sideA_a": 0.4}),
        (
            'shape = "torispherical"\ncrown_radius = "1.8 m"\nknuckle_radius = "180 mm"',
            {"sideA": "torispherical", "sideA_f": 1.0, "sideA_k": 0.1},
        ),
        ('shape = "dish"\ndepth = "200 mm"', {"sideA": "spherical", "sideA_a": 0.2}),
    ],
)
def test_area_of_dished_heads(check, tank_of, keys: str, sides: dict[str, object]) -> None:
    """The part's mesh has a few dozen rings: its area is right to a thousandth. The plate is thin, so that the area of
    its middle is that of its inside."""
    thin = TANK_.replace('"4 mm"', '"0.5 mm"')
    made = parts(tank_of(ROUND, f"[tank.head]\n{keys}\n", tank=thin))["tank.head.front"]
    theirs = TANK(D=1.8, L=4, horizontal=True, **sides).A_sideA
    name = keys.split('"')[1]
    check(
        f"area of a {name} head as a part",
        source="fluids 1.3, fluids.geometry.TANK",
        expected=theirs,
        ours=made.area,
        tol=1.5e-3 * theirs,
        unit="m2",
    )
    assert made.mass.mass == pytest.approx(made.area * 0.0005 * STEEL, rel=1e-9)
    assert made.mass.centre[0] < 0


def test_baffles_rings_and_bulkheads(check, tank_of) -> None:
    more = """
[[tank.baffle]]
at = "1 m"
thickness = "5 mm"
opening = [{ diameter = "400 mm", height = "500 mm" }]
[[tank.baffle]]
at = "2 m"
open = "25 %"
[[tank.ring]]
at = "3 m"
height = "60 mm"
thickness = "6 mm"
[[tank.compartment]]
name = "front"
from = "0 m"
to = "1.5 m"
[[tank.compartment]]
name = "rear"
from = "1.5 m"
to = "4 m"
"""
    made = parts(tank_of(BOX, more, tank=TANK_))
    hole = math.pi * 0.04
    for key, closed in (
        ("tank.baffle.1", (2.0 - hole) * 0.005), ("tank.baffle.2", 1.5 * 0.004), ("tank.bulkhead.1", 2.0 * 0.004),
        ("tank.ring.1", ((2.008 + 0.12) * (1.008 + 0.12) - 2.008 * 1.008) * 0.006),
    ):  # fmt: skip
        check(key, source=CLOSED, expected=closed * STEEL, ours=made[key].mass.mass, tol=1e-6, unit="kg")
    assert "tank.bulkhead.2" not in made
    assert made["tank.bulkhead.1"].mass.centre == pytest.approx([1.5, 0.0, 0.5])


def test_allowance_and_coating(check, tank_of) -> None:
    plain = tank_of(BOX, tank=TANK_ + 'allowance = "0 %"\n')
    with_welds = tank_of(BOX, tank=TANK_ + 'allowance = "8 %"\n')
    steel = plain.weights.tank_dry.mass
    assert steel == pytest.approx(plain.weights.tank_steel, rel=1e-12)
    check(
        "tank with 8 % of welds over its steel",
        source="as written",
        expected=1.08,
        ours=with_welds.weights.tank_dry.mass / steel,
        tol=1e-12,
    )
    assert with_welds.weights.tank_dry.centre == pytest.approx(plain.weights.tank_dry.centre, abs=1e-9)
    coated = tank_of(BOX, '[tank.coating]\ninside = "200 um"\n', tank=TANK_ + 'allowance = "0 %"\n')
    area = sum(parts(plain)[key].area for key in ("tank.shell", "tank.head.front", "tank.head.rear"))
    check(
        "inside coating, 200 um",
        source="area x 0.4 kg/m2 for each 100 um",
        expected=0.8 * area,
        ours=coated.weights.tank_dry.mass - steel,
        tol=1e-6,
        unit="kg",
    )


def test_a_measured_mass_keeps_the_centre_and_scales_the_inertia(check, tank_of) -> None:
    fall = 'fall = "3 %"\n[[tank.manhole]]\nat = "1 m"\ndiameter = "450 mm"\nmass = "40 kg"\n'
    ours = tank_of(BOX, tank=TANK_ + fall).weights.tank_dry
    given = tank_of(BOX, tank=TANK_ + 'dry_mass = "1700 kg"\n' + fall)
    weighed = given.weights.tank_dry
    assert weighed.mass == 1700.0
    assert weighed.centre == pytest.approx(ours.centre, abs=1e-12)
    ratio = weighed.inertia / ours.inertia
    for i, axis in enumerate("xyz"):
        check(
            f"inertia about {axis} with a measured mass over the calculated",
            source="ratio of the masses",
            expected=1700 / ours.mass,
            ours=ratio[i, i],
            tol=1e-9,
        )
    (swap,) = given.weights.replaced
    assert (swap.key, swap.given) == ("tank.dry_mass", 1700.0)
    assert swap.calculated == pytest.approx(ours.mass, rel=1e-12)


def test_a_measured_centre_moves_only_along(tank_of) -> None:
    ours = tank_of(BOX, tank=TANK_).weights.tank_dry
    given = tank_of(BOX, tank=TANK_ + 'dry_centre = "2.2 m"\n').weights.tank_dry
    assert given.centre == pytest.approx([1.0 + 2.2, ours.centre[1], ours.centre[2]], abs=1e-9)
    assert given.mass == pytest.approx(ours.mass, rel=1e-12)


def test_subframe(check, tank_of) -> None:
    """Two channel members, and what joins them as a part of their mass; a measured mass takes over."""
    sub = '[subframe]\nfrom = "1 m"\nto = "5 m"\nheight = "160 mm"\nflange = "70 mm"\nthickness = "6 mm"\n'
    sub += 'cross_members = "40 %"\n'
    lump = next(one for one in tank_of(BOX, sub).weights.lumps if one.key == "subframe")
    section = (0.160 + 2 * 0.070 - 2 * 0.006) * 0.006
    check(
        "subframe of two channels, 4 m",
        source="developed section times length",
        expected=2 * 4 * section * STEEL * 1.4,
        ours=lump.mass.mass,
        tol=1e-9,
        unit="kg",
    )
    assert lump.mass.centre[:2] == pytest.approx([3.0, 0.0], abs=1e-9)
    own = next(one for one in tank_of(BOX, sub + 'mass = "333 kg"\n').weights.lumps if one.key == "subframe")
    assert own.mass.mass == 333.0
    assert own.mass.inertia == pytest.approx(lump.mass.inertia * 333 / lump.mass.mass, rel=1e-9)


def test_tank_and_water_as_one_lump(check, tank_of) -> None:
    """Half full: the dry tank and a block of water, by the parallel-axis theorem."""
    truck = tank_of(BOX, tank=TANK_)
    dry, lump = truck.weights.tank_dry, truck.body(0.5)
    m, depth = 3840.0, 0.48
    block = m / 12 * np.array([4 + depth**2, 16 + depth**2, 16 + 4])
    at = np.array([3.0, 0.0, 1.2 + depth / 2])
    centre = (dry.mass * dry.centre + m * at) / (dry.mass + m)
    assert lump.mass == pytest.approx(dry.mass + m, abs=1e-5)
    assert lump.centre == pytest.approx(centre, abs=1e-8)
    for i, axis in enumerate("xyz"):
        steiner = sum(
            w * (np.sum((p - centre) ** 2) - (p - centre)[i] ** 2) for w, p in ((dry.mass, dry.centre), (m, at))
        )
        check(
            f"tank half full, inertia about {axis}",
            source="box of water and dry tank, parallel-axis theorem",
            expected=dry.inertia[i, i] + block[i] + steiner,
            ours=lump.inertia[i, i],
            tol=0.01,
            unit="kg m2",
        )
