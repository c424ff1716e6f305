"""Bolt groups: forces add up to the load about any point, do not depend on axes, and agree with other solutions."""

from __future__ import annotations

import numpy as np
import pytest
from scipy.optimize import nnls

from tunwright.handbook.bolt_group import bolt_force_sizes, bolt_forces, bolt_group
from tunwright.handbook.plate_pivot import pivot_pulls

BALANCE = "sum of forces and moments about a point away from the group"
TURNED = "the same group and loads turned about z"
LEAST = "least sum of F^2 / w among all balanced forces, numpy.linalg.lstsq"
ENERGY = "least sum of T^2 / w among balanced pulls and pressures of 0 or more, scipy.optimize.nnls"
GROUPS = 60
AWAY = np.array([0.7, -0.4, 0.3])


def layout(rng: np.random.Generator) -> tuple[np.ndarray, np.ndarray, np.ndarray]:
    """Places, weights, and a convex outline around them."""
    at = rng.uniform(-0.2, 0.2, (int(rng.integers(3, 9)), 2)) + rng.uniform(-1, 1, 2)
    corners = int(rng.integers(3, 8))
    turn = 2 * np.pi * (np.arange(corners) + rng.uniform(-0.2, 0.2, corners)) / corners
    ring = np.column_stack([np.cos(turn), np.sin(turn)]) * 1.4 + at.mean(axis=0)
    return at, rng.uniform(0.3, 2.0, len(at)), ring[:: int(rng.choice([-1, 1]))]


def random_loads(rng: np.random.Generator, cases: int) -> np.ndarray:
    loads = rng.normal(size=(cases, 6)) * np.array([1e4, 1e4, 1e4, 3e3, 3e3, 3e3])
    return loads


def wrench(at: np.ndarray, forces: np.ndarray, about: np.ndarray) -> np.ndarray:
    """Force and moment about a point of forces (cases, places, 3)."""
    arm = np.column_stack([at, np.zeros(len(at))]) - about
    return np.concatenate([forces.sum(axis=1), np.cross(arm, forces).sum(axis=1)], axis=1)


def moved(loads: np.ndarray, about: np.ndarray) -> np.ndarray:
    return np.concatenate([loads[:, :3], loads[:, 3:] - np.cross(about, loads[:, :3])], axis=1)


def test_the_elastic_group_balances(check) -> None:
    worst = 0.0
    for seed in range(GROUPS):
        rng = np.random.default_rng(seed)
        at, weight, _ = layout(rng)
        loads = random_loads(rng, 20)
        forces = bolt_forces(bolt_group(at, shear_weight=weight, tension_weight=weight[::-1]), loads)
        worst = max(worst, np.abs(wrench(at, forces, AWAY) - moved(loads, AWAY)).max())
    check("elastic group, load against sum of bolts", source=BALANCE, expected=0, ours=worst, tol=1e-6, unit="N or N m")


def test_the_pivoting_group_balances_with_its_pressures(check) -> None:
    worst, least = 0.0, np.inf
    for seed in range(GROUPS):
        rng = np.random.default_rng(seed)
        at, weight, outline = layout(rng)
        loads = random_loads(rng, 40)
        loads[:10, 2] = -np.abs(loads[:10, 2]) * 20  # pressed down hard: the plate stays flat
        pulls, presses = pivot_pulls(at=at, weight=weight, loads=loads[:, 2:5], outline=outline)
        least = min(least, pulls.min(), presses.min())
        ours = sum(
            wrench(places, np.stack([0 * size, 0 * size, size], axis=2), AWAY)
            for places, size in ((at, pulls), (outline, -presses))
        )
        theirs = moved(loads * np.array([0, 0, 1, 1, 1, 0]), AWAY)
        worst = max(worst, np.abs(ours - theirs)[:, 2:].max())
    check("pivoting plate, load against bolts and corners", source=BALANCE, expected=0, ours=worst, tol=1e-5,
          unit="N or N m")
    check("least pull or pressure", source="no bolt pushes, no corner pulls", expected=0, ours=min(least, 0.0),
          tol=1e-5, unit="N")


def test_the_elastic_group_against_least_squares(check) -> None:
    worst = 0.0
    for seed in range(GROUPS):
        rng = np.random.default_rng(seed)
        at, weight, _ = layout(rng)
        loads = random_loads(rng, 5)
        ours = bolt_forces(bolt_group(at, shear_weight=weight, tension_weight=weight), loads)
        unit = np.eye(3 * len(at)).reshape(-1, len(at), 3)
        balance = wrench(at, unit, np.zeros(3)).T
        soft = np.sqrt(np.repeat(weight, 3))
        other = np.array([np.linalg.lstsq(balance * soft, load, rcond=None)[0] * soft for load in loads])
        worst = max(worst, np.abs(ours.reshape(len(loads), -1) - other).max())
    check("elastic group, bolt forces", source=LEAST, expected=0, ours=worst, tol=1e-5, unit="N")


def test_the_pivoting_group_against_an_optimiser(check) -> None:
    worst = 0.0
    for seed in range(GROUPS):
        rng = np.random.default_rng(seed)
        at, weight, outline = layout(rng)
        loads = random_loads(rng, 10)[:, 2:5] / 1e4
        ours, _ = pivot_pulls(at=at, weight=weight, loads=loads, outline=outline)
        lever = np.vstack([_lever(at), -_lever(outline)])
        stiff, size = 1e-4, len(at)
        energy = np.zeros((size, len(lever)))
        energy[np.arange(size), np.arange(size)] = stiff / np.sqrt(weight)
        for load, pulls in zip(loads, ours, strict=True):
            other, _ = nnls(np.vstack([energy, lever.T]), np.concatenate([np.zeros(size), load]), maxiter=1000)
            worst = max(worst, np.abs(pulls - other[:size]).max())
    check("pivoting plate, pulls for a load of about 1 N", source=ENERGY, expected=0, ours=worst, tol=1e-5, unit="N")


def _lever(places: np.ndarray) -> np.ndarray:
    return np.column_stack([np.ones(len(places)), places[:, 1], -places[:, 0]])


@pytest.mark.parametrize("turning", ["centroid", "pivot"])
def test_turning_the_axes_turns_the_forces(check, turning: str) -> None:
    worst = 0.0
    for seed in range(GROUPS):
        rng = np.random.default_rng(seed)
        at, weight, outline = layout(rng)
        loads, angle = random_loads(rng, 10), rng.uniform(0, 6)
        spin = np.array([[np.cos(angle), -np.sin(angle), 0], [np.sin(angle), np.cos(angle), 0], [0, 0, 1]])
        shear = {"shear_weight": weight, "tension_weight": weight}
        plain = bolt_forces(bolt_group(at, **shear), loads, turning=turning, outline=outline)
        both = np.concatenate([loads[:, :3] @ spin.T, loads[:, 3:] @ spin.T], axis=1)
        turned = bolt_forces(bolt_group(at @ spin[:2, :2].T, **shear), both, turning=turning,
                             outline=outline @ spin[:2, :2].T)
        worst = max(worst, np.abs(plain @ spin.T - turned).max() / np.abs(plain).max())
    check(f"bolt forces over the greatest, {turning}", source=TURNED, expected=0, ours=worst, tol=1e-9)


def test_tipping_about_an_edge_closed_form(check) -> None:
    """Two rows at 0.05 and 0.25 m from the edge, 1 kN m: T = M d / sum d^2."""
    group = bolt_group([(x, y) for x in (-0.1, 0.1) for y in (0.05, 0.25)])
    outline = [(-0.2, 0), (0.2, 0), (0.2, 0.3), (-0.2, 0.3)]
    _, pull = bolt_force_sizes(bolt_forces(group, (0, 0, 0, 1000, 0, 0), turning="pivot", outline=outline))
    for row, far, ours in (("far", 0.25, pull.max()), ("near", 0.05, pull.min())):
        check(f"{row} row", source="T = M d / sum d^2, by hand", expected=1000 * far / 0.13, ours=ours, tol=1e-6,
              unit="N")


def test_bolts_in_one_line() -> None:
    """They hold a moment about their line only with a plate that presses."""
    group = bolt_group([(0, 0.1), (0, 0.2)])
    load = (0, 0, 0, 0, 500, 0)
    outline = [(-0.1, 0), (0.1, 0), (0.1, 0.3), (-0.1, 0.3)]
    with pytest.raises(ValueError, match="one line"):
        bolt_forces(group, load)
    pull = bolt_forces(group, load, turning="pivot", outline=outline)[0, :, 2]
    assert pull == pytest.approx([2500, 2500])


def test_a_bolt_in_a_slot_carries_no_shear() -> None:
    forces = bolt_forces(bolt_group([(0, 0), (0.1, 0), (0.2, 0)], shear_weight=[1, 0, 1]), (600, 300, 0, 0, 0, 60))
    assert forces[0, 1, :2] == pytest.approx([0, 0])
    assert forces[0, :, :2].sum(axis=0) == pytest.approx([600, 300])


@pytest.mark.parametrize(("given", "words"), [
    ({"outline": [(0, 0), (1, 0), (0.4, 0.1), (0, 1)]}, "convex"), ({"outline": [(0, 0), (1, 0)]}, "three or more"),
    ({"outline": [(2, 2), (3, 2), (2, 3)]}, "inside"), ({"outline": None}, "needs its outline"),
    ({"turning": "edge"}, "'pivot'"),
])
def test_what_cannot_be_is_refused(given: dict, words: str) -> None:
    group = bolt_group([(0.2, 0.2), (0.3, 0.2)])
    with pytest.raises(ValueError, match=words):
        bolt_forces(group, (0, 0, 1, 0, 0, 0), **{"turning": "pivot", **given})
    with pytest.raises(ValueError, match="twist"):
        bolt_forces(bolt_group([(0, 0)]), (0, 0, 0, 0, 0, 5))
    with pytest.raises(ValueError, match="Weights"):
        bolt_group([(0, 0), (1, 0)], shear_weight=[1, -1])
