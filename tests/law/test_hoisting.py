"""The tank on the hook: legs that meet, weights that balance, figures of a plain tank worked out by hand."""

from __future__ import annotations

import math
from collections.abc import Callable

import numpy as np
import pytest

from tunwright.build.reading import read_text
from tunwright.checks.assess import Assessment
from tunwright.checks.finding import Finding
from tunwright.demos import NAMES, demo_text
from tunwright.handbook.gravity import GRAVITY
from tunwright.handbook.sling import hang
from tunwright.handbook.sling_hook import meeting_point, room_inside, shortest_leg
from tunwright.truck.hoist_lug import HoistLug
from tunwright.truck.hoisting import Hoisting
from tunwright.truck.truck import Truck

Build = Callable[..., Truck]
FOUR = ((1.0, -0.6), (1.0, 0.6), (3.0, -0.6), (3.0, 0.6))
LUG = """
[lifting.lug]
thickness = "20 mm"
hole = "26 mm"
pin = "25 mm"
end = "30 mm"
side = "30 mm"
width = "120 mm"
height = "60 mm"
steel = "S355"
throat = "5 mm"
weld_length = "120 mm"
"""


def lift(head: str, places: tuple[tuple[float, float], ...] = FOUR, *, up: float = 1.1, lug: str = "") -> str:
    eyes = "".join(f'[[lifting.eye]]\nat = "{x} m"\ny = "{y} m"\nheight = "{up} m"\n' for x, y in places)
    return f"\n[lifting]\n{head}\n{eyes}{lug}"


def hoisting(truck: Truck) -> Hoisting:
    assert truck.build.lifting is not None
    return Hoisting(truck, truck.build.lifting)


def items(*given: tuple[float, float, float, str]) -> str:
    return "".join(
        f'[[item]]\nname = "thing"\nmass = "{m} kg"\nat = "{x} m"\nheight = "{z} m"\non = "{on}"\n'
        for m, x, z, on in given
    )


# ----------------------------------------------------------------------------------------------------- the geometry


@pytest.mark.parametrize("legs", [2, 3, 4])
def test_legs_of_one_length_meet_in_one_point(check, legs: int) -> None:
    rng, worst = np.random.default_rng(legs), 0.0
    for _ in range(200):
        turn = rng.uniform(0, 2 * np.pi, legs)
        tilted = np.array([0.98 * np.cos(turn), np.sin(turn), math.sqrt(1 - 0.98**2) * np.cos(turn)]).T
        length = shortest_leg(tilted) * rng.uniform(1.05, 3)
        hook = meeting_point(eyes=tilted, length=length)
        worst = max(worst, np.abs(np.linalg.norm(hook - tilted, axis=1) - length).max())
        assert hook[2] > tilted[:, 2].mean()
    check(f"distance of {legs} eyes from the hook, less the legs", source="legs of one length", expected=0, ours=worst,
          tol=1e-9, unit="m")


def test_the_hook_over_a_rectangle(check) -> None:
    eyes = [(0, -0.5, 1.2), (0, 0.5, 1.2), (2.4, -0.5, 1.2), (2.4, 0.5, 1.2)]
    hook = meeting_point(eyes=eyes, length=2.6)
    for name, ours, expected in zip("xyz", hook, (1.2, 0, 1.2 + math.sqrt(2.6**2 - 1.3**2)), strict=True):
        check(f"hook over a rectangle, {name}", source="Pythagoras", expected=expected, ours=ours, tol=1e-12, unit="m")


def test_the_weight_lies_inside_where_and_only_where_the_legs_balance(check) -> None:
    rng, wrong, inside = np.random.default_rng(7), 0, 0
    for _ in range(4000):
        legs = int(rng.integers(2, 5))
        eyes = np.column_stack([rng.uniform(-2, 2, legs), rng.uniform(-1, 1, legs), rng.uniform(0.8, 1.3, legs)])
        hook = np.array([*rng.uniform(-1, 1, 2), rng.uniform(2, 4)])
        centre = np.array([*rng.uniform(-1, 1, 2), rng.uniform(0, 1.4)])
        room = room_inside(eyes=eyes, hook=hook, centre=centre)
        try:
            hang(eyes=eyes, hook=hook, centre=centre, weight=1.0)
            balanced = True
        except ValueError:
            balanced = False
        inside += balanced
        wrong += balanced != (room > 0) and abs(room) > 1e-6
    assert 500 < inside < 3500
    check("loads that balance though the weight acts outside, or the other way round", expected=0, ours=wrong, tol=0,
          source="statics against geometry")


def test_the_room_in_a_rectangle(check) -> None:
    eyes = [(0, -0.5, 1), (0, 0.5, 1), (3, 0.5, 1), (3, -0.5, 1)]
    ours = room_inside(eyes=eyes, hook=(1.2, 0.1, 3), centre=(1.2, 0.1, 0.5))
    check("line of the weight inside a rectangle", source="nearest side, by eye", expected=0.4, ours=ours, tol=1e-12,
          unit="m")
    outside = room_inside(eyes=eyes, hook=(3.2, 0, 3), centre=(3.2, 0, 0.5))
    check("and outside of it", source="nearest side, by eye", expected=-0.2, ours=outside, tol=1e-12, unit="m")


# ------------------------------------------------------------------------------------------------------- the weights


def test_what_is_lifted(check, tank_of: Build) -> None:
    """The tank of 1 000 kg has its centre 2 m behind its front; 100 kg on it 3 m behind, 50 kg on the frame."""
    more = items((100, 3.0, 1.4, "tank"), (50, 2.0, 0.9, "frame")) + lift('leg_length = "2 m"')
    found = hoisting(tank_of(more=more))
    bare, fitted = found.lifts
    x = found.on_tank(fitted.load.centre)[0]
    check("bare tank", source="as weighed", expected=1000, ours=bare.load.mass, tol=1e-9, unit="kg")
    check("fitted tank", source="by hand: 1000 + 100", expected=1100, ours=fitted.load.mass, tol=1e-9, unit="kg")
    check("its centre", source="by hand: (1000 x 2 + 100 x 3) / 1100", expected=2300 / 1100, ours=x, tol=1e-9, unit="m")


def test_the_subframe_is_lifted_where_it_is_said(check, tank_of: Build) -> None:
    sub = '[subframe]\nfrom = "1 m"\nto = "5 m"\nheight = "120 mm"\nmass = "200 kg"\n'
    with_it = hoisting(tank_of(more=sub + lift('leg_length = "2 m"\nwith_subframe = true'))).lifts[-1]
    check("tank with its subframe", source="by hand: 1000 + 200", expected=1200, ours=with_it.load.mass, tol=1e-9,
          unit="kg")
    without = hoisting(tank_of(more=sub + lift('leg_length = "2 m"'))).lifts
    assert [one.name for one in without] == ["bare tank"]


def test_water_that_stays_in_is_told(check, tank_of: Build) -> None:
    """An outlet 10 mm over the flat floor of 4 m by 2 m leaves 80 L."""
    outlet = '[[tank.outlet]]\nat = "2 m"\nheight = "10 mm"\n'
    stays = hoisting(tank_of(more=outlet + lift('leg_length = "2 m"'))).stranded
    check("water below the outlet", source="by hand: 4 x 2 x 0.01 m3", expected=80, ours=stays, tol=1e-6, unit="kg")


# --------------------------------------------------------------------------------------------------------- the legs


def test_four_legs_are_taken_as_two(check, tank_of: Build) -> None:
    """Eyes 2 m by 1.2 m about the centre: half the diagonal is 1.1662 m, legs of 2 m stand 35.67 degrees off."""
    found = hoisting(tank_of(more=lift('leg_length = "2 m"')))
    (hung,) = found.hung
    angle = math.asin(math.hypot(1.0, 0.6) / 2.0)
    pull = 1000 * GRAVITY / (2 * math.cos(angle))
    check("angle of a leg", source="by hand: asin of half the diagonal over the leg", expected=angle,
          ours=hung.hanging.angle.max(), tol=1e-9, unit="rad")
    check("pull of a leg", source="by hand: two legs across from each other carry all", expected=pull,
          ours=hung.hanging.tension.max(), tol=1e-6, unit="N")
    check("pull while hoisting", source="by hand: times the dynamic factor of 1.2", expected=1.2 * pull,
          ours=found.pulls(hung).max(), tol=1e-6, unit="N")


def test_it_tilts_until_the_centre_hangs_under_the_hook(check, tank_of: Build) -> None:
    places = tuple((x + 0.2, y) for x, y in FOUR)
    (hung,) = hoisting(tank_of(more=lift('leg_length = "2 m"', places))).hung
    height = 1.1 + math.sqrt(4.0 - 1.36) - float(hung.load.centre[2] - 1.2)
    check("tilt, eyes 200 mm too far back", source="by hand: atan(0.2 / height of the hook over the centre)",
          expected=math.atan(0.2 / height), ours=hung.hanging.tilt, tol=1e-9, unit="rad")


def test_with_a_height_of_the_hook_it_hangs_level(check, tank_of: Build) -> None:
    places = tuple((x + 0.2, y) for x, y in FOUR)
    (hung,) = hoisting(tank_of(more=lift('hook_height = "1.5 m"', places))).hung
    check("tilt, hook over the centre", source="the hook stands over it", expected=0, ours=hung.hanging.tilt, tol=1e-7,
          unit="rad")
    expected = [math.sqrt(0.8**2 + 0.36 + 2.25)] * 2 + [math.sqrt(1.2**2 + 0.36 + 2.25)] * 2
    worst = np.abs(hung.legs - expected).max()
    check("lengths of the legs", source="Pythagoras", expected=0, ours=worst, tol=1e-9, unit="m")


@pytest.mark.parametrize("name", NAMES)
@pytest.mark.parametrize("head", ['leg_length = "4 m"', 'hook_height = "2 m"'])
def test_every_demo_balances_on_its_hook(check, name: str, head: str) -> None:
    """A sling is put on each demo; in every balanced state forces and moments about the centre are zero."""
    text = demo_text(name)
    text = text[: text.index("[lifting]")] if "[lifting]" in text else text
    length = float(read_text(text).build.tank.length)
    places = tuple((part * length, y) for part in (0.2, 0.8) for y in (-0.4, 0.4))
    found = hoisting(Truck(read_text(text + lift(head, places)).build))
    assert found.hung
    worst = 0.0
    for hung in found.hung:
        for state in hung.hanging.states / (hung.load.mass * GRAVITY):
            pulls = state[:, None] * hung.hanging.pull
            arms = hung.eyes - hung.load.centre
            both = np.abs(pulls.sum(axis=0) - hung.hanging.up).max(), np.abs(np.cross(arms, pulls).sum(axis=0)).max()
            worst = max(worst, *both)
    check(f"forces and moments on {name}, {head}, unit weight", source="sums are zero", expected=0, ours=worst,
          tol=1e-7, unit="N or N m")


# ----------------------------------------------------------------------------------------------- lug, weld and crane


def finding_of(truck: Truck, key: str) -> Finding:
    return Assessment(truck.build, frame=False).finding(key)


def straight(tank_of: Build, lug: str = LUG) -> Truck:
    """Legs that stand almost upright in the plane of the lugs: two eyes on the middle, a hook 10 m up."""
    return tank_of(more=lift('leg_length = "10 m"', ((1.5, 0.0), (2.5, 0.0)), lug=lug))


def test_a_lug_by_hand(check, tank_of: Build) -> None:
    """Pull of a leg F = 1.2 x 1000 g / (2 cos b), sin b = 0.05; the formulas written out once more."""
    truck = straight(tank_of)
    pull = 1.2 * 1000 * GRAVITY / (2 * math.sqrt(1 - 0.05**2))
    fy, fu, loose = 345e6, 470e6, 1 - 0.275 * math.sqrt(1 - (25 / 26) ** 2)
    wide = min(0.03, 0.08, 0.6 * 0.03 * fu / fy * math.sqrt(26 / 30))
    turn = math.radians(55) * 25 / 26
    by_hand = {
        "hoist-lug-net": loose * fu / 3.6 * 2 * 0.02 * wide,
        "hoist-lug-tear": min(
            loose * fu / 3.6 * (1.13 * 0.03 + 0.92 * 0.03 / (1 + 30 / 26)) * 0.02,
            0.7 * fu / 3.6 * 2 * (0.03 + 0.0125 * (1 - math.cos(turn))) * 0.02,
        ),
        "hoist-lug-bearing": 1.25 * fy / 3 * 0.025 * 0.02,
    }
    for key, carries in by_hand.items():
        check(f"{key}, share used", source="by hand, ASME BTH-1 formulas written out", expected=pull / carries,
              ours=finding_of(truck, key).value, tol=1e-9)


def test_a_lug_askew_by_hand(check, tank_of: Build) -> None:
    pull = 1.2 * 1000 * GRAVITY / (2 * math.sqrt(1 - 0.05**2))
    up, across, aside = pull * math.sqrt(1 - 0.05**2), 0.05 * pull, 0.05 * pull
    area = 0.12 * 0.02
    bend = up / area + 6 * 0.06 * (aside / (area * 0.02) + across / (area * 0.12))
    shear = math.hypot(aside, across) / area
    by_hand = math.sqrt(bend**2 + 3 * shear**2) * 3 / 345e6
    check("foot of a lug pulled askew, share used", source="by hand: N/A, M/W and the mean shear", expected=by_hand,
          ours=finding_of(straight(tank_of), "hoist-lug-aside").value, tol=1e-9)


def test_the_weld_of_a_lug_by_hand(check, tank_of: Build) -> None:
    """S235 shell of 4 mm under S355; two welds of 120 mm less two throats, 20 mm apart, worst at their ends."""
    pull = 1.2 * 1000 * GRAVITY / (2 * math.sqrt(1 - 0.05**2))
    up, across, aside = pull * math.sqrt(1 - 0.05**2), 0.05 * pull, 0.05 * pull
    run = 0.12 - 2 * 0.005
    area, along, over = 2 * run * 0.005, 2 * 0.005 * run**3 / 12, 2 * 0.005 * run * 0.01**2
    lifted = up / area + across * 0.06 * (run / 2) / along + aside * 0.06 * 0.01 / over
    line = 0.005 * math.sqrt(lifted**2 + (across / area) ** 2 + (aside / area) ** 2)
    strength = 360e6 / (math.sqrt(3) * 0.8 * 3.6)
    truck = straight(tank_of)
    check("weld of a lug, simplified method", source="by hand: elastic line group", expected=line / (0.005 * strength),
          ours=finding_of(truck, "hoist-lug-weld").value, tol=1e-9)
    found = hoisting(truck)
    assert found.lifting.lug is not None
    lug = HoistLug(found, found.lifting.lug)
    for pulled in lug.pulls:
        directional, simplified = lug.weld(pulled)
        assert directional <= simplified + 1e-12


def test_the_crane_by_hand(check, tank_of: Build) -> None:
    chart = "".join(f'[[lifting.crane]]\nradius = "{r} m"\ncapacity = "{c} kg"\n' for r, c in ((4, 3000), (6, 2000)))
    found = finding_of(tank_of(more=lift('leg_length = "2 m"\nradius = "4.5 m"') + chart), "hoist-crane")
    check("on the hook", source="by hand: 1000 kg and 150 kg of rigging", expected=1150, ours=found.value, tol=1e-9,
          unit="kg")
    assert found.limit == 2000, "between two lines the farther one counts"


def test_the_forklift_by_hand(check, tank_of: Build) -> None:
    fork = '[lifting.forklift]\ncapacity = "3000 kg"\nload_centre = "500 mm"\nat = "1.2 m"\n'
    found = finding_of(tank_of(more=lift('leg_length = "2 m"') + fork), "hoist-forklift")
    check("forklift at 1.2 m", source="by hand: 3000 x 0.5 / 1.2", expected=1250, ours=found.limit, tol=1e-9, unit="kg")
    near = finding_of(tank_of(more=lift('leg_length = "2 m"') + fork.replace("1.2 m", "300 mm")), "hoist-forklift")
    assert near.limit == 3000
