"""Bays and compartments, pitched tanks, the dip chart, and water under braking."""

from __future__ import annotations

import numpy as np
import pytest

from tunwright.handbook.liquid import wet_volume
from tunwright.truck.states import LoadState

SUM = "sum of the bays"
SAME = "the same tank on a grade"
HELD = "the bay standing level"

TANK = """
[tank]
middle = "3 m"
length = "4 m"
bottom = "1.2 m"
shell = "4 mm"
dry_mass = "1000 kg"
dry_centre = "2 m"
"""
BOX = '[tank.section]\nshape = "rectangle"\nwidth = "2 m"\nheight = "1 m"\n'
ROUND = '[tank.section]\nshape = "circle"\ndiameter = "2 m"\n'
ARCS = """
[tank.section]
shape = "rounded box"
width = "2300 mm"
height = "1300 mm"
top_radius = "4 m"
side_radius = "2.2 m"
bottom_radius = "4 m"
top_corner = "350 mm"
bottom_corner = "300 mm"
"""
FITTED = """
[tank.head]
shape = "dish"
depth = "140 mm"
[[tank.baffle]]
at = "1 m"
open = "15 %"
[[tank.baffle]]
at = "2.4 m"
opening = [{ diameter = "400 mm", height = "500 mm" }]
[[tank.sump]]
at = "3.5 m"
depth = "100 mm"
diameter = "250 mm"
[[tank.recess]]
from = "0.4 m"
to = "1.3 m"
top = "300 mm"
width = "600 mm"
[[tank.pipe]]
run = "along"
diameter = "100 mm"
from = "0.2 m"
to = "3.8 m"
height = "600 mm"
"""


@pytest.mark.parametrize("section", [BOX, ROUND, ARCS], ids=["box", "round", "arcs"])
@pytest.mark.parametrize("fall_by", ["pitch", "floor"])
def test_bays_make_the_compartment(check, tank_of, section: str, fall_by: str) -> None:
    """At any level and slope the bays, with half of each baffle, hold what the whole holds."""
    tank = TANK + f'fall = "2 %"\nfall_by = "{fall_by}"\n'
    part = tank_of(section, FITTED, tank=tank).solid.compartments[0]
    assert [bay.name for bay in part.bays] == ["tank bay 1", "tank bay 2", "tank bay 3"]
    levels, worst = np.tile(np.linspace(-0.3, 1.5, 13), 4), 0.0
    for slopes, across in ((np.repeat([0.0, 0.08, -0.15, 0.3], 13), 0.0), (np.zeros(52), 0.07)):
        whole = part.whole.moments(levels, slopes, across)
        bays = sum(bay.moments(levels, slopes, across) for bay in part.bays)
        worst = max(worst, np.abs(bays - whole)[:, :4].max() / part.whole.gross)
    name = {BOX: "box", ROUND: "round", ARCS: "box of arcs"}[section]
    check(
        f"{name}, fall by {fall_by}: worst volume and first moments, of the whole",
        source=SUM,
        expected=0.0,
        ours=worst,
        tol=1e-4 if fall_by == "floor" else 5e-6,
    )
    assert sum(bay.gross for bay in part.bays) == pytest.approx(part.whole.gross, rel=1e-9)


def test_bays_keep_their_water_under_braking(check, tank_of) -> None:
    """Braked, each bay holds what it held on the level, its surface leaning forward; the whole leans more."""
    truck = tank_of(ARCS, FITTED)
    part, slope = truck.solid.compartments[0], -0.5
    for fill in (0.1, 0.5, 0.9):
        volume = np.array([[fill * part.whole.gross]])
        total = truck.water.braked(volume, slope)[0]
        check(
            f"{100 * fill:g} % full, braked at 0.5 g: volume",
            source=HELD,
            expected=volume[0, 0],
            ours=total[0],
            tol=1e-6 * part.whole.gross,
            unit="m3",
        )
        level = part.whole.levels(volume[0], np.zeros(1), 0.0)
        held = [bay.moments(level, np.zeros(1), 0.0)[0] for bay in part.bays]
        forward = 0.0
        for bay, still in zip(part.bays, held, strict=True):
            c = bay.levels(still[:1], np.array([slope]), 0.0)
            tilted = bay.moments(c, np.array([slope]), 0.0)[0]
            assert tilted[0] == pytest.approx(still[0], abs=1e-6 * bay.gross)
            assert tilted[1] <= still[1] + 1e-9
            forward += tilted[1]
        assert total[1] == pytest.approx(forward, abs=1e-6)
        levelled = truck.water.settled(volume, np.array([slope]), 0.0)[0]
        assert levelled[1] < total[1] < sum(h[1] for h in held)


def test_frozen_braked_and_levelled_in_a_box(check, tank_of) -> None:
    """Half a box with one baffle in its middle: two bays of 2 m, dx = l^2 tan(t) / (12 h) each; no baffle, l = 4 m."""
    split = '[[tank.baffle]]\nat = "2 m"\nopen = "99.9 %"\n'
    truck = tank_of(BOX, split, tank=TANK.replace('"4 mm"', '"1 mm"'))
    states = [
        LoadState("even", 0.5 / 0.96, (0.5 / 0.96,), braking=0.2, surface=surface)
        for surface in ("frozen", "braked", "levelled")
    ]
    at = truck.loading.table(states).water_at[:, 0] - 3.0
    for name, ours, long in zip(
        ("frozen", "braked, bay by bay", "levelled through all bays"), at, (0, 2, 4), strict=True
    ):
        check(
            f"half a box braked at 0.2 g, {name}: shift",
            source="dx = l^2 (a/g) / (12 h)",
            expected=-long * long * 0.2 / 6,
            ours=ours,
            tol=1e-5,
            unit="m",
        )


def test_two_decelerations_in_one_table(tank_of) -> None:
    tank = TANK.replace('"4 m"', '"4.321 m"')
    states = [LoadState("even", 0.5, (0.5,), braking=value, surface="braked") for value in (0.2, 0.4)]
    alone = [tank_of(BOX, tank=tank).loading.table([state]).water_at[0, 0] for state in states]
    fresh = tank_of(BOX, tank=TANK.replace('"4 m"', '"4.3211 m"')).loading.table(states).water_at[:, 0]
    assert fresh == pytest.approx(alone, abs=1e-3)


def test_pitched_tank_is_a_level_one_on_a_grade(check, tank_of) -> None:
    """A tank pitched by 4 % on a level road, and one not pitched on a grade of 4 %, nose up."""
    pitched = tank_of(ARCS, FITTED, tank=TANK + 'fall = "4 %"\n')
    level = tank_of(ARCS, FITTED)
    depths = np.linspace(0.05, 1.2, 24)
    worst = np.abs(pitched.volumes.dip(depths) - level.volumes.dip(depths, grade=0.04)).max()
    check("dip chart of a tank pitched by 4 %: worst", source=SAME, expected=0.0, ours=worst, tol=1e-9, unit="m3")
    volume = np.array([[3.0]])
    one = pitched.water.settled(volume, np.zeros(1), 0.0)[0]
    two = level.water.settled(volume, np.array([0.04]), 0.0)[0]
    for name, ours, theirs in zip("1xyz", one, two, strict=False):
        check(f"tank pitched by 4 %: moment {name} of 3000 L", source=SAME, expected=theirs, ours=ours, tol=1e-8)


@pytest.mark.parametrize("grade", [0.0, 0.12])
def test_dip_chart_integrates_to_the_gross_volume(check, tank_of, grade: float) -> None:
    """The surface summed over all depths makes the gross volume; the last depth reads it."""
    truck = tank_of(ARCS, FITTED, tank=TANK + 'fall = "1 %"\ndip_at = "2.6 m"\n')
    depths = np.linspace(-0.8, 2.2, 3001)
    read = truck.volumes.dip(depths, grade=grade)
    gross = float(truck.volumes.gross.sum())
    assert (np.diff(read) >= -1e-9).all()
    check(
        f"dip chart on a grade of {grade:g}: last reading",
        source="gross volume",
        expected=gross,
        ours=read[-1],
        tol=1e-9,
        unit="m3",
    )
    part, a = truck.solid.compartments[0].whole, float(truck.frame.surface(np.array(grade), 0.0)[0])
    x, _, floor = truck.volumes.dip_point()
    middles = (depths[1:] + depths[:-1]) / 2
    plan = wet_volume(part.bodies, c=floor + middles - a * x, a=np.full(3000, a))[1]
    check(
        f"surface over all depths on a grade of {grade:g}",
        source="gross volume",
        expected=gross,
        ours=float(plan.sum() * 0.001),
        tol=1e-4 * gross,
        unit="m3",
    )


def test_points_and_surfaces_of_a_pitched_tank(tank_of) -> None:
    """The tank's middle stands where the build says; a level surface leans in the tank by its pitch."""
    truck = tank_of(BOX, tank=TANK + 'fall = "5 %"\ny = "50 mm"\n')
    assert truck.frame.point(np.array([0.0, 0.0, 0.0])) == pytest.approx([truck.frame.origin[0], 0.05, 1.2])
    assert truck.frame.point(np.array([2.0, 0.0, 0.5]))[0] == pytest.approx(3.0, abs=1e-12)
    front, rear = truck.frame.point(np.array([[0.0, 0.0, 0.0], [4.0, 0.0, 0.0]]))
    assert (front[2] - rear[2]) / (rear[0] - front[0]) == pytest.approx(0.05, rel=1e-12)
    assert truck.volumes.level_slope == pytest.approx(0.05, rel=1e-12)
    for a, b in ((0.0, 0.0), (0.12, 0.0), (-0.3, 0.1)):
        along, across = truck.frame.surface(np.array([a]), b)
        at = np.array([[0.0, 0.0, 0.3], [2.0, 0.0, 0.3 + 2 * along[0]], [0.0, 1.0, 0.3 + float(np.ravel(across)[0])]])
        x, y, z = truck.frame.point(at).T
        assert z - a * x - b * y == pytest.approx(np.full(3, z[0] - a * x[0] - b * y[0]), abs=1e-12)
