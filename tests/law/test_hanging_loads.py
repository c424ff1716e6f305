"""Slings: every state balances the weight in force and moment; closed forms of even legs, of tilt, and of pairs."""

from __future__ import annotations

import math

import numpy as np
import pytest

from tunwright.handbook.sling import Hanging, hang

BALANCE = "legs and weight: sum of forces, and of moments about the centre of gravity"
LOADS = 200


def random_load(rng: np.random.Generator, legs: int) -> dict[str, np.ndarray]:
    turn = 2 * np.pi * (np.arange(legs) + rng.uniform(-0.15, 0.15, legs)) / legs
    eyes = np.column_stack([2 * np.cos(turn), np.sin(turn), rng.uniform(0.9, 1.2, legs)])
    centre = np.array([*rng.uniform(-0.1, 0.1, 2), rng.uniform(0.2, 0.6)])
    if legs == 2:
        centre[:2] = 0.5 * (eyes[0] + eyes[1])[:2] + rng.uniform(-0.3, 0.3) * (eyes[0] - eyes[1])[:2]
    hook = np.array([*(centre[:2] + rng.uniform(-0.1, 0.1, 2)), rng.uniform(2.5, 4)])
    return {"eyes": eyes, "centre": centre, "hook": hook}


@pytest.mark.parametrize("legs", [3, 4])
def test_balance_in_space(check, legs: int) -> None:
    worst = 0.0
    for seed in range(LOADS):
        load = random_load(np.random.default_rng(seed), legs)
        hung = hang(weight=1.0, **load)
        for state in hung.states:
            pulls = state[:, None] * hung.pull
            moment = np.cross(load["eyes"] - load["centre"], pulls).sum(axis=0)
            worst = max(worst, np.abs(pulls.sum(axis=0) - hung.up).max(), np.abs(moment).max())
        assert hung.states.min() >= 0
    check(f"{legs} legs, unit weight", source=BALANCE, expected=0, ours=worst, tol=1e-8, unit="N or N m")


def test_two_legs_balance_once_the_load_has_rolled(check) -> None:
    worst = 0.0
    for seed in range(LOADS):
        rng = np.random.default_rng(seed)
        load = random_load(rng, 2)
        load["centre"] = load["centre"] + np.array([*rng.uniform(-0.1, 0.1, 2), 0])
        hung = hang(weight=1.0, **load)
        pulls = hung.states[0][:, None] * hung.pull
        moment = np.cross(load["eyes"] - load["centre"], pulls).sum(axis=0)
        worst = max(worst, np.abs(pulls.sum(axis=0) - hung.up).max(), np.abs(moment).max())
    check("2 legs, unit weight", source=BALANCE, expected=0, ours=worst, tol=1e-8, unit="N or N m")


def even(legs: int, degrees: float, weight: float = 40e3) -> Hanging:
    turn = 2 * math.pi * np.arange(legs) / legs + 0.3
    reach = 2 * math.tan(math.radians(degrees))
    eyes = np.column_stack([reach * np.cos(turn), reach * np.sin(turn), np.ones(legs)])
    return hang(eyes=eyes, hook=(0, 0, 3), centre=(0, 0, 0.4), weight=weight)


@pytest.mark.parametrize("degrees", [10, 30, 45, 60])
@pytest.mark.parametrize(("legs", "carrying"), [(2, 2), (3, 3), (4, 2)])
def test_even_legs(check, legs: int, carrying: int, degrees: float) -> None:
    """Four even legs: any two that face each other must carry all."""
    hung = even(legs, degrees)
    angle = math.radians(degrees)
    check(f"tension, {legs} even legs at {degrees} deg", source=f"W / ({carrying} cos b), closed form",
          expected=40e3 / (carrying * math.cos(angle)), ours=hung.tension.max(), tol=1e-6, unit="N")
    check(f"horizontal part, {legs} even legs at {degrees} deg", source=f"W tan b / {carrying}, closed form",
          expected=40e3 * math.tan(angle) / carrying, ours=hung.horizontal.max(), tol=1e-6, unit="N")
    assert np.ptp(hung.tension) < 1e-6
    assert hung.tilt == pytest.approx(0.0, abs=1e-7)
    assert hung.angle == pytest.approx(angle)
    assert hung.too_flat is False


def test_flatter_than_60_degrees_is_seen() -> None:
    assert even(3, 61).too_flat


def test_the_pairs_of_a_rectangle_off_centre(check) -> None:
    """Off centre no pair balances alone; each balanced state, such as four elastic legs, lies under the bound."""
    eyes = np.array([(-1.5, -0.5, 1), (1.5, -0.5, 1), (1.5, 0.5, 1), (-1.5, 0.5, 1)])
    for x, y in [(0.2, 0.0), (0.3, 0.05), (-0.6, -0.3)]:
        hung = hang(eyes=eyes, hook=(x, y, 3), centre=(x, y, 0.4), weight=1.0)
        elastic = np.linalg.lstsq(hung.pull.T, hung.up, rcond=None)[0]
        assert elastic.min() > 0
        check(f"elastic share over bound, centre {x}, {y}", source="any balanced state lies under the bound",
              expected=0, ours=max((elastic / hung.tension).max() - 1, 0), tol=1e-12)
        assert len(hung.states) == 2


@pytest.mark.parametrize(("hook", "tilt"), [((0.3, 0, 3), math.atan(0.3 / 2.5)), ((0, -0.2, 2), math.atan(0.2 / 1.5))])
def test_tilt(check, hook: tuple[float, float, float], tilt: float) -> None:
    eyes = [(-1, -0.6, 1), (1, -0.6, 1), (1, 0.6, 1), (-1, 0.6, 1)]
    hung = hang(eyes=eyes, hook=hook, centre=(0, 0, 0.5), weight=10e3)
    check(f"tilt, hook at {hook}", source="centre under the hook: atan(offset / height), closed form", expected=tilt,
          ours=hung.tilt, tol=1e-9, unit="rad")


def test_two_legs_roll_about_their_eyes(check) -> None:
    hung = hang(eyes=[(-1, 0, 1), (1, 0, 1)], hook=(0, 0, 2), centre=(0, 0.1, 0.6), weight=10e3)
    check("roll of a load on two legs", source="centre below the line of the eyes: atan(0.1/0.4), closed form",
          expected=math.atan(0.25), ours=hung.tilt, tol=1e-9, unit="rad")
    check("tension after rolling", source="W / (2 cos 45 deg), closed form", expected=10e3 / math.sqrt(2),
          ours=hung.tension.max(), tol=1e-6, unit="N")


@pytest.mark.parametrize(("given", "words"), [
    ({"eyes": [(-1, 0, 1), (1, 0, 1)], "centre": (0, 0, 1.2)}, "turn over"),
    ({"eyes": [(-1, -1, 1), (1, -1, 1), (0, -0.5, 1)]}, "between the eyes"),
    ({"hook": (0, 0, 0.9)}, "below the hook"), ({"eyes": [(0, 0, 1)]}, "two, three or four"),
    ({"hook": (0, 0, 0.5)}, "above it"), ({"weight": 0.0}, "above 0"),
])
def test_a_load_that_cannot_hang_so_is_refused(given: dict, words: str) -> None:
    load = {"eyes": [(-1, -1, 1), (1, -1, 1), (0, 1, 1)], "hook": (0, 0, 3), "centre": (0, 0, 0.5), "weight": 1e4}
    with pytest.raises(ValueError, match=words):
        hang(**{**load, **given})
