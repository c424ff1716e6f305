"""Equilibrium: whatever the axles, groups, springs, lifts, grades and braking, forces and moments add up to nothing."""

from __future__ import annotations

from dataclasses import replace
from functools import cache

import numpy as np
import shapely
from scipy.optimize import brentq

from tunwright.handbook.axle_statics import Support, sharing
from tunwright.truck.states import LoadState

BALANCE = "sum of forces and sum of moments of every mass, added up by hand"
SHARED = "parts of the group as given"
SPRINGS = "R = k (u + v x): spring travel on a straight line"
LAYOUTS = 1000


def random_supports(rng: np.random.Generator) -> tuple[list[Support], int, np.ndarray]:
    """Two to six axles in one to three a group; at least two supports; some axles lifted."""
    count = int(rng.integers(2, 7))
    at = np.concatenate([[0.0], np.cumsum(rng.uniform(1.0, 4.0, count - 1))])
    supports: list[Support] = []
    first = 0
    while first < count:
        size = min(int(rng.integers(1, 4)), count - first)
        size = 1 if first == 0 and size == count else size
        axles = tuple(range(first, first + size))
        share = rng.dirichlet(np.full(size, 5.0))
        if size > 1 and rng.random() < 0.2:
            axles, share = axles[:-1], share[:-1] / share[:-1].sum()  # the last one is lifted
        places = tuple(float(at[i]) for i in axles)
        supports.append(Support(axles, tuple(float(s) for s in share), places, float(rng.uniform(2e5, 3e6))))
        first += size
    return supports, count, at


def test_random_layouts_of_supports(check) -> None:
    rng, worst = np.random.default_rng(1), np.zeros(4)
    many = 0
    for _ in range(LAYOUTS):
        supports, count, at = random_supports(rng)
        axles = sharing(supports, count)
        force, x, couple = rng.uniform(1e3, 3e5), rng.uniform(-2.0, 12.0), rng.uniform(-2e5, 2e5)
        loads = axles.of_force(force, x) + axles.of_couple(couple)
        size = force * (1 + abs(x)) + abs(couple)
        worst[0] = max(worst[0], abs(loads.sum() - force) / size)
        worst[1] = max(worst[1], abs(loads @ at - force * x - couple) / size)
        reaction = np.array([loads[list(s.axles)].sum() for s in supports])
        for support, whole in zip(supports, reaction, strict=True):
            worst[2] = max(worst[2], np.abs(loads[list(support.axles)] - whole * np.array(support.shares)).max() / size)
        if len(supports) > 2:
            many += 1
            travel = reaction / [s.rate for s in supports]
            centre = np.array([s.centre for s in supports])
            line = np.polyfit(centre, travel, 1)
            worst[3] = max(worst[3], np.abs(np.polyval(line, centre) - travel).max() / np.abs(travel).max())
        standing = {i for s in supports for i in s.axles}
        assert all(loads[i] == 0.0 for i in range(count) if i not in standing)
    assert many > LAYOUTS / 3
    for name, source, off in zip(
        ("sum of forces", "sum of moments", "sharing inside groups", "springs of three or more supports"),
        (BALANCE, BALANCE, SHARED, SPRINGS),
        worst,
        strict=True,
    ):
        check(f"1000 random layouts: {name}, worst, of the load", source=source, expected=0.0, ours=off, tol=1e-9)


STATES = [
    LoadState("even", fill, (fill,), grade=grade, braking=braking, surface=surface)
    for fill in (0.0, 0.35, 1.0)
    for grade, braking, surface in (
        (0.0, 0.0, "settled"),
        (0.12, 0.0, "settled"),
        (-0.12, 0.0, "settled"),
        (0.0, 0.4, "braked"),
        (0.0, 0.4, "frozen"),
    )
]


@cache
def water_in_a_box(fill: float, slope: float) -> tuple[float, float, float]:
    """Mass and centre (from the front and the floor) of water in a box of 4 x 2 x 1 m, 96 % of it at fill 1."""
    if fill == 0.0:
        return 0.0, 0.0, 0.0

    def below(c: float) -> shapely.Polygon:
        return shapely.box(0, 0, 4, 1).intersection(
            shapely.Polygon([(-1, -9), (5, -9), (5, c + 5 * slope), (-1, c - slope)])
        )

    level = brentq(lambda c: below(c).area - fill * 0.96 * 4.0, -3.0, 4.0, xtol=1e-13)
    centre = below(level).centroid
    return fill * 7680.0, centre.x, centre.y


def random_build(rng: np.random.Generator) -> tuple[str, np.ndarray]:
    """A build file, and its bare masses: rows of mass, x, z."""
    supports, count, at = random_supports(rng)
    kerb, masses, text = [], [], ['format = 1\n[order]\ntitle = "random"\n[chassis]\ngross_rating = "99 t"\n']
    cg = rng.uniform(0.7, 1.3)
    text.append(f'cg_height = "{cg:.4f} m"\n')
    groups = [s.axles for s in supports if len(s.axles) > 1]
    liftable = int(rng.choice([i for g in groups for i in g if i])) if any(g[-1] for g in groups) else -1
    raised = liftable > 0 and rng.random() < 0.3
    for i in range(count):
        load = 0.0 if raised and i == liftable else round(rng.uniform(800, 4000), 1)
        kerb.append(load)
        text.append(
            f'[[chassis.axle]]\nname = "a{i}"\nat = "{at[i]:.4f} m"\nrating = "30 t"\nkerb_load = "{load} kg"\n'
        )
        text.append(f'spring_rate = "{rng.uniform(200, 1500):.1f} N/mm"\n' + ("steered = true\n" if i == 0 else ""))
        text.append("driven = true\n" if i == count - 1 else "")
        text.append(f"lift = true\nraised_when_weighed = {str(raised).lower()}\n" if i == liftable else "")
    for g, support in enumerate(s for s in supports if len(s.axles) > 1):
        parts = [round(100 * share, 3) for share in support.shares[:-1]]
        parts.append(100 - sum(parts))
        names = ", ".join(f'"a{i}"' for i in support.axles)
        shares = ", ".join(f'"{p:.3f} %"' for p in parts)
        text.append(f'[[chassis.group]]\nname = "g{g}"\naxles = [{names}]\nsharing = [{shares}]\n')
    masses += [(load, round(float(x), 4), round(cg, 4)) for load, x in zip(kerb, at, strict=True)]
    middle, bottom = round(rng.uniform(2.0, 5.0), 3), round(rng.uniform(1.0, 1.5), 3)
    text.append(
        f'[tank]\nmiddle = "{middle} m"\nlength = "4 m"\nbottom = "{bottom} m"\nshell = "4 mm"\ndry_mass = "900 kg"\n'
    )
    text.append('dry_centre = "1.9 m"\n[tank.section]\nshape = "rectangle"\nwidth = "2 m"\nheight = "1 m"\n')
    masses.append((900.0, middle - 2 + 1.9, bottom + 0.5))
    for i in range(int(rng.integers(0, 4))):
        m, x, z = rng.uniform(20, 900), rng.uniform(-1, at[-1]), rng.uniform(0.5, 3)
        text.append(
            f'[[item]]\nname = "i{i}"\nmass = "{m:.1f} kg"\nat = "{x:.3f} m"\nheight = "{z:.3f} m"\non = "frame"\n'
        )
        masses.append((round(m, 1), round(x, 3), round(z, 3)))
    return "".join(text), np.array([*masses, (0.0, middle - 2, bottom)])


def test_random_trucks(check, truck_of) -> None:
    """A thousand trucks in fifteen states and every choice of lifted axles."""
    rng, worst, tried, lifted = np.random.default_rng(2), np.zeros(3), 0, 0
    for _ in range(LAYOUTS):
        text, masses = random_build(rng)
        truck = truck_of(text)
        at, (mass, x, z) = truck.axles.places, masses.T
        stances = range(len(truck.axles.stances))
        table = truck.loading.table([replace(s, stance=k) for k in stances for s in STATES])
        for state, loads in zip(table.states, table.axles, strict=True):
            stance = truck.axles.stances[state.stance]
            if stance.shares is None:
                assert np.isnan(loads).all()
                continue
            slope = 0.0 if state.surface == "frozen" else state.grade - state.braking
            water, wx, wz = water_in_a_box(state.fill, slope)
            m = np.append(mass, water)
            xs, zs = np.append(x, masses[-1, 1] + wx), np.append(z, masses[-1, 2] + wz)
            angle = np.arctan(state.grade)
            along = m @ zs * (np.sin(angle) - state.braking)
            size = m.sum() * 10.0
            worst[0] = max(worst[0], abs(loads.sum() - m.sum() * np.cos(angle)) / m.sum())
            worst[1] = max(worst[1], abs(loads @ at - m @ xs * np.cos(angle) - along) / size)
            worst[2] = max(worst[2], np.abs(loads[list(stance.lifted)]).max(initial=0.0))
            tried, lifted = tried + 1, lifted + bool(stance.lifted)
    assert tried > 15 * LAYOUTS
    assert lifted > LAYOUTS
    check(
        "1000 random trucks: sum of forces, worst, of the mass", source=BALANCE, expected=0.0, ours=worst[0], tol=1e-9
    )
    check(
        "1000 random trucks: sum of moments, worst, of the mass on 10 m",
        source=BALANCE,
        expected=0.0,
        ours=worst[1],
        tol=1e-7,
    )
    check("1000 random trucks: load on a lifted axle", source=BALANCE, expected=0.0, ours=worst[2], tol=1e-9, unit="kg")
