"""Weld lines: stress on the throats adds up to the load, and does not depend on axes or on how a line is cut."""

from __future__ import annotations

import numpy as np
import pytest

from tunwright.handbook.weld_lines import WeldGroup, weld_group, weld_stress, weld_use

ADDED = "stress times throat along all welds, by Simpson's rule, about a point away from the group"
STEEL = {"tensile_strength": 470e6, "correlation": 0.9}
GROUPS = 60
AWAY = np.array([0.7, -0.4, 0.3])


def random_welds(rng: np.random.Generator) -> list[tuple[np.ndarray, float]]:
    count = int(rng.integers(2, 5))
    return [(rng.uniform(-0.2, 0.2, (int(rng.integers(2, 6)), 2)), rng.uniform(0.003, 0.008)) for _ in range(count)]


def random_loads(rng: np.random.Generator) -> np.ndarray:
    return rng.normal(size=(10, 6)) * np.array([1e4, 1e4, 1e4, 1e3, 1e3, 1e3])


def added(group: WeldGroup, loads: np.ndarray) -> np.ndarray:
    """Force and moment of the stresses."""
    stress = weld_stress(group, loads).vector
    pieces = len(group.throat)
    first, last = stress[:, :pieces], stress[:, pieces:]
    total = np.zeros((len(loads), 6))
    for part, weight in ((0.0, 1 / 6), (0.5, 4 / 6), (1.0, 1 / 6)):
        force = (first + part * (last - first)) * (group.area * weight)[:, None]
        place = group.start + part * (group.end - group.start)
        arm = np.column_stack([place, np.zeros(pieces)]) - AWAY
        total += np.concatenate([force.sum(axis=1), np.cross(arm, force).sum(axis=1)], axis=1)
    return total


def test_the_stresses_add_up_to_the_load(check) -> None:
    worst = 0.0
    for seed in range(GROUPS):
        rng = np.random.default_rng(seed)
        group, loads = weld_group(random_welds(rng)), random_loads(rng)
        wanted = np.concatenate([loads[:, :3], loads[:, 3:] - np.cross(AWAY, loads[:, :3])], axis=1)
        worst = max(worst, np.abs(added(group, loads) - wanted).max())
    check("weld lines, load against stress", source=ADDED, expected=0, ours=worst, tol=1e-6, unit="N or N m")


def test_cutting_a_line_changes_nothing(check) -> None:
    whole = weld_group([([(0, 0), (0.2, 0), (0.2, 0.1)], 0.004)])
    cut = weld_group([([(0, 0), (0.03, 0), (0.11, 0), (0.2, 0), (0.2, 0.07), (0.2, 0.1)], 0.004)])
    load = (3e3, -5e3, 2e3, 400, -300, 500)
    ours, other = (weld_use(weld_stress(group, load), **STEEL) for group in (cut, whole))
    check("worst directional utilisation, line in five pieces", source="the same line in two pieces",
          expected=other.directional[0], ours=ours.directional[0], tol=1e-9)
    check("worst simplified utilisation, line in five pieces", source="the same line in two pieces",
          expected=other.simplified[0], ours=ours.simplified[0], tol=1e-9)


def test_turning_the_axes_changes_nothing(check) -> None:
    worst = 0.0
    for seed in range(GROUPS):
        rng = np.random.default_rng(seed)
        welds, loads, angle = random_welds(rng), random_loads(rng), rng.uniform(0, 6)
        spin = np.array([[np.cos(angle), -np.sin(angle), 0], [np.sin(angle), np.cos(angle), 0], [0, 0, 1]])
        both = np.concatenate([loads[:, :3] @ spin.T, loads[:, 3:] @ spin.T], axis=1)
        plain = weld_use(weld_stress(weld_group(welds), loads), **STEEL)
        turned = weld_use(weld_stress(weld_group([(at @ spin[:2, :2].T, a) for at, a in welds]), both), **STEEL)
        worst = max(worst, np.abs(plain.directional / turned.directional - 1).max())
        worst = max(worst, np.abs(plain.simplified / turned.simplified - 1).max())
    check("utilisation of weld lines, change", source="the same welds and loads turned about z", expected=0,
          ours=worst, tol=1e-9)


def test_the_simplified_method_is_the_safer_one(check) -> None:
    """At least 1 along the weld, at most sqrt(3/2) purely across."""
    ratios = []
    for seed in range(GROUPS):
        rng = np.random.default_rng(seed)
        stress = weld_stress(weld_group(random_welds(rng)), random_loads(rng))
        use = weld_use(stress, **STEEL)
        ratios.append(use.simplified / use.directional)
    low, high = np.min(ratios), np.max(ratios)
    check("simplified over directional, at most", source="sqrt(3/2)", expected=0, tol=1e-9,
          ours=max(high - np.sqrt(1.5), 0))
    check("simplified over directional, at least", source="1: sqrt(s^2 + 3 t^2) is at most sqrt(3) times the force",
          expected=0, ours=min(low - 1, 0), tol=1e-9)


def test_the_side_of_the_fillet_is_taken_unfavourably() -> None:
    """Whatever the true side, normal stress and shear across never come out milder than taken."""
    group = weld_group([([(0, 0), (0.2, 0)], 0.004), ([(0, 0.1), (0.2, 0.1)], 0.004)])
    stress = weld_stress(group, (1e3, -9e3, 7e3, 350, -700, 0))
    normal, shear = stress.on_throat()
    for sign in (1, -1):
        s, t = (stress.across + sign * stress.up) / 2**0.5, (stress.across - sign * stress.up) / 2**0.5
        assert (s**2 + 3 * t**2 <= normal**2 + 3 * shear**2 + 1e-3).all()


def test_ends_that_are_not_full_are_cut_off() -> None:
    group = weld_group([([(0, 0), (0.1, 0), (0.1, 0.1)], 0.005)], full_ends=False)
    assert group.length.sum() == pytest.approx(0.19)
    assert group.start[0] == pytest.approx([0.005, 0])
    loop = [(0, 0), (0.1, 0), (0.1, 0.1), (0, 0)]
    assert weld_group([(loop, 0.005)], full_ends=False).length.sum() == pytest.approx(0.2 + 0.02**0.5)


@pytest.mark.parametrize(("welds", "words"), [([], "needs a weld"), ([([(0, 0)], 0.004)], "two or more points"),
                                              ([([(0, 0), (0, 0)], 0.004)], "must differ"),
                                              ([([(0, 0), (1, 0)], 0.0)], "above 0")])
def test_what_is_no_weld_is_refused(welds: list, words: str) -> None:
    with pytest.raises(ValueError, match=words):
        weld_group(welds)


def test_one_line_carries_no_moment_about_itself() -> None:
    with pytest.raises(ValueError, match="one line"):
        weld_stress(weld_group([([(0, 0), (0.1, 0)], 0.004)]), (0, 0, 0, 10, 0, 0))
