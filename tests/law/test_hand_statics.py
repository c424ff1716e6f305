"""Builds small enough to be worked out by hand: axle loads to the kilogram, with crew, fuel, grades, braking, lifts."""

from __future__ import annotations

import math
from dataclasses import replace

import numpy as np
import pytest

from tunwright.truck.states import LoadState

HAND = "statics by hand, sum of m x / a"

TWO = """
format = 1
[order]
title = "worked by hand"
[chassis]
gross_rating = "20 t"
cg_height = "1.0 m"
persons_weighed = 1
[[chassis.axle]]
name = "front"
at = "0 m"
kerb_load = "4000 kg"
rating = "8 t"
steered = true
[[chassis.axle]]
name = "rear"
at = "4 m"
kerb_load = "3000 kg"
rating = "13 t"
driven = true
[chassis.fuel]
capacity = "200 L"
level = "25 %"
at = "1.5 m"
height = "0.8 m"
[tank]
middle = "3 m"
length = "4 m"
bottom = "1.2 m"
shell = "4 mm"
dry_mass = "1000 kg"
dry_centre = "2 m"
[tank.section]
shape = "rectangle"
width = "2 m"
height = "1 m"
[[crew]]
name = "driver"
at = "-0.5 m"
height = "1.7 m"
[[crew]]
name = "mate"
mass = "80 kg"
at = "-0.5 m"
height = "1.7 m"
[[item]]
name = "pump"
mass = "200 kg"
at = "1.0 m"
height = "0.9 m"
on = "frame"
[[item]]
name = "walkway"
mass = "60 kg"
at = "3.5 m"
height = "1.1 m"
on = "tank"
"""
# Net is 8 m3 less 4 % ullage, 7680 kg. Added and carried on both axles by hand, persons and fuel included:
# rear 3000 + (1000 x 3 + 200 x 1 + 60 x 4.5 + 126 x 1.5 - 80 x 0.5) / 4 + water x 3 / 4
#   = 3904.75 kg empty with the crew, and 3924.125 kg with nobody (75 kg at -0.5 m taken off instead of 80 kg put on);
# together 8466 kg with the crew, 8311 kg with nobody.
EVEN = [(0.0, 4561.25, 3904.75), (0.25, 5041.25, 5344.75), (0.5, 5521.25, 6784.75), (0.75, 6001.25, 8224.75),
        (1.0, 6481.25, 9664.75)]  # fmt: skip


def even(fill: float, **more) -> LoadState:
    return LoadState("even", fill, (fill,), **more)


@pytest.mark.parametrize(("fill", "front", "rear"), EVEN)
def test_standing_level(check, truck_of, fill: float, front: float, rear: float) -> None:
    table = truck_of(TWO).loading.table([even(fill)])
    for name, hand, ours in zip(("front", "rear"), (front, rear), table.axles[0], strict=True):
        check(f"two axles, {100 * fill:g} % full, {name}", source=HAND, expected=hand, ours=ours, tol=0.5, unit="kg")
    assert table.gross[0] == pytest.approx(front + rear, abs=1e-6)
    assert table.litres[0] == pytest.approx(7680 * fill, abs=1e-6)


def test_crew_and_fuel(check, truck_of) -> None:
    """Who was on the scale is not added again, and is taken off where nobody is aboard; fuel is filled up."""
    truck = truck_of(TWO)
    empty, full = truck.loading.table([even(0.0, crew=False), even(1.0, crew=False)]).axles
    check("nobody aboard, empty, rear", source=HAND, expected=3924.125, ours=empty[1], tol=0.5, unit="kg")
    check("nobody aboard, empty, front", source=HAND, expected=4386.875, ours=empty[0], tol=0.5, unit="kg")
    check("nobody aboard, full, rear", source=HAND, expected=9684.125, ours=full[1], tol=0.5, unit="kg")
    assert truck.weights.crew_aboard.mass == 80.0
    assert truck.weights.crew_away.mass == -75.0
    fuel = next(lump.mass for lump in truck.weights.lumps if lump.key == "fuel")
    check("fuel to full, 150 L", source="0.15 m3 of 840 kg/m3", expected=126.0, ours=fuel.mass, tol=1e-9, unit="kg")
    assert fuel.centre == pytest.approx([1.5, 0.0, 0.8])


def heights(water: float, depth: float) -> float:
    """Sum of m z by hand: chassis, dry tank, items, fuel, mate, water with its centre at a depth above the floor."""
    masses = [(7000, 1.0), (1000, 1.7), (200, 0.9), (60, 2.3), (126, 0.8), (80, 1.7)]
    return sum(m * z for m, z in masses) + water * (1.2 + depth)


@pytest.mark.parametrize("grade", [0.1, -0.1])
def test_half_full_on_a_grade(check, truck_of, grade: float) -> None:
    """Water 0.48 m deep: shifted by L^2 t / (12 h), lifted by L^2 t^2 / (24 h)."""
    front, rear = truck_of(TWO).loading.table([even(0.5, grade=grade)]).axles[0]
    shift, lift = 16 * grade / (12 * 0.48), 16 * grade**2 / (24 * 0.48)
    angle = math.atan(grade)
    moved = 3840 * shift / 4
    couple = heights(3840, 0.24 + lift) * math.sin(angle) / 4
    for name, hand, ours in (
        ("rear", (6784.75 + moved) * math.cos(angle) + couple, rear),
        ("front", (5521.25 - moved) * math.cos(angle) - couple, front),
    ):
        check(
            f"half full on a grade of {100 * grade:g} %, {name}",
            source=HAND,
            expected=hand,
            ours=ours,
            tol=0.5,
            unit="kg",
        )


def test_braked_with_the_water_frozen(check, truck_of) -> None:
    """Full and braked at 0.5 g: m h a / (g L) from the rear to the front."""
    front, rear = truck_of(TWO).loading.table([even(1.0, braking=0.5, surface="frozen")]).axles[0]
    moved = 0.5 * heights(7680, 0.48) / 4
    check("full, braked at 0.5 g, front", source=HAND, expected=6481.25 + moved, ours=front, tol=0.5, unit="kg")
    check("full, braked at 0.5 g, rear", source=HAND, expected=9664.75 - moved, ours=rear, tol=0.5, unit="kg")


def test_side_slope_presses_less(check, truck_of) -> None:
    """Across a slope of 5 % every axle carries cos(t) of its load and the water stands lower on the low side."""
    truck = truck_of(TWO)
    table = truck.loading.table([even(0.5, slope=0.05), even(0.5)])
    share = table.axles[0] / table.axles[1]
    for name, ours in zip(("front", "rear"), share, strict=True):
        check(
            f"side slope of 5 %, {name} axle over level",
            source="cos(t)",
            expected=math.cos(math.atan(0.05)),
            ours=ours,
            tol=1e-9,
        )
    check(
        "side slope of 5 %, right side high: water to the right",
        source="dy = -W^2 t / (12 h)",
        expected=-4 * 0.05 / (12 * 0.48),
        ours=table.water_at[0, 1],
        tol=1e-8,
        unit="m",
    )


def test_moving_the_tank(check, truck_of) -> None:
    """The change for each metre is what the loads change by: tank, walkway and water over the wheelbase."""
    states = [even(0.5), even(1.0, grade=-0.1), even(0.3, braking=0.4, surface="braked")]
    here = truck_of(TWO).loading.table(states)
    there = truck_of(TWO.replace('middle = "3 m"', 'middle = "3.25 m"')).loading.table(states)
    off = np.abs(there.axles - here.axles - 0.25 * here.per_metre).max()
    check(
        "tank moved by 0.25 m: worst change of an axle load",
        source="change for each metre",
        expected=0.0,
        ours=off,
        tol=1e-6,
        unit="kg",
    )
    check(
        "half full, rear axle for each metre",
        source=HAND,
        expected=(1000 + 60 + 3840) / 4,
        ours=here.per_metre[0, 1],
        tol=1e-6,
        unit="kg/m",
    )


def test_density_of_the_liquid(check, truck_of) -> None:
    sea = TWO + '[states]\nliquid_density = "1025 kg/m3"\n'
    rear = truck_of(sea).loading.table([even(1.0)]).axles[0, 1]
    check("full of sea water, rear", source=HAND, expected=3904.75 + 7680 * 1.025 * 0.75, ours=rear, tol=0.5, unit="kg")


def test_brim_is_the_whole_tank(check, truck_of) -> None:
    table = truck_of(TWO).loading.table([replace(even(1.0), brim=True)])
    check("to the brim, rear", source=HAND, expected=3904.75 + 8000 * 0.75, ours=table.axles[0, 1], tol=0.5, unit="kg")


TAG = """driven = true
[[chassis.axle]]
name = "tag"
at = "5.4 m"
kerb_load = "1500 kg"
rating = "8 t"
lift = true
[[chassis.group]]
name = "rear pair"
axles = ["rear", "tag"]
sharing = ["60 %", "40 %"]
"""
THREE = TWO.replace("driven = true\n", TAG)


def test_a_group_of_two(check, truck_of) -> None:
    """The pair acts at 4 x 0.6 + 5.4 x 0.4 = 4.56 m; only what is added is shared 60 to 40."""
    table = truck_of(THREE).loading.table([even(1.0)])
    pair = (3619 + 7680 * 3) / 4.56
    hand = (4000 + 9146 - pair, 3000 + 0.6 * pair, 1500 + 0.4 * pair)
    for name, expected, ours in zip(("front", "rear", "tag"), hand, table.axles[0], strict=True):
        check(f"three axles, full, {name}", source=HAND, expected=expected, ours=ours, tol=0.5, unit="kg")


def test_lifting_the_tag_axle(check, truck_of) -> None:
    """Weighed down, then lifted: its 1500 kg go to the other two about 4 m, and what is added is plain statics."""
    truck = truck_of(THREE)
    assert [stance.lifted for stance in truck.axles.stances] == [(), (2,)]
    loads = truck.loading.table([even(1.0, stance=1)]).axles[0]
    rear = 3000 + 1500 * 5.4 / 4 + (3619 + 7680 * 3) / 4
    for name, expected, ours in zip(("front", "rear", "tag"), (8500 + 9146 - rear, rear, 0.0), loads, strict=True):
        check(f"tag axle lifted, full, {name}", source=HAND, expected=expected, ours=ours, tol=0.5, unit="kg")


def test_lowering_an_axle_that_was_up_on_the_scale(check, truck_of) -> None:
    """Weighed up: lifted it is as weighed; lowered, the chassis itself settles on the pair at 4.56 m."""
    up = THREE.replace('kerb_load = "1500 kg"\nrating = "8 t"\nlift = true',
                       'kerb_load = "0 kg"\nrating = "8 t"\nlift = true\nraised_when_weighed = true')  # fmt: skip
    truck = truck_of(up)
    assert {stance.lifted for stance in truck.axles.stances} == {(), (2,)}
    number = {stance.lifted: i for i, stance in enumerate(truck.axles.stances)}
    lifted = truck.loading.table([even(1.0, stance=number[2,])]).axles[0]
    assert lifted == pytest.approx([6481.25, 9664.75, 0.0], abs=0.5)
    lowered = truck.loading.table([even(1.0, stance=number[()])]).axles[0]
    pair = (3000 * 4 + 3619 + 7680 * 3) / 4.56
    for name, expected, ours in zip(
        ("front", "rear", "tag"), (16146 - pair, 0.6 * pair, 0.4 * pair), lowered, strict=True
    ):
        check(
            f"tag axle lowered after the weighing, full, {name}",
            source=HAND,
            expected=expected,
            ours=ours,
            tol=0.5,
            unit="kg",
        )
