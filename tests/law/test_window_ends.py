"""The permitted window: the formulas of the axle window, and builds with the tank moved to each end of it."""

from __future__ import annotations

import re
from dataclasses import dataclass
from importlib.resources import files

import pytest

from tunwright.build.reading import read_text
from tunwright.checks.assess import Assessment

WINDOW = "axle window, x_min = a - a (Fl - F0) / M, x_max = a (Rl - R0) / M, share p: a - a (p T - F0) / M"

MADE = """
format = 1
[order]
title = "window"
[chassis]
gross_rating = "40 t"
cg_height = "1.0 m"
front_share = "{share}"
driven_share = "1 %"
[[chassis.axle]]
name = "front"
at = "0 m"
kerb_load = "4000 kg"
rating = "{front}"
steered = true
[[chassis.axle]]
name = "rear 1"
at = "{rear_1}"
rating = "12 t"
driven = true
[[chassis.axle]]
name = "rear 2"
at = "{rear_2}"
rating = "12 t"
driven = true
[[chassis.group]]
name = "drive"
axles = ["rear 1", "rear 2"]
rating = "{rear}"
kerb_load = "3000 kg"
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
mass = "80 kg"
at = "-0.5 m"
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


def made(*, front="6.9 t", rear="10.5 t", share="20 %", rear_1="3.3 m", rear_2="4.7 m", states="") -> str:
    text = MADE.format(front=front, rear=rear, share=share, rear_1=rear_1, rear_2=rear_2)
    return text + (f"[states]\n{states}\n" if states else "")


def assessed(text: str) -> Assessment:
    return Assessment(read_text(text).build)


LEVEL = 'grade = "0.0001 %"'


@dataclass(frozen=True)
class ByHand:
    """The formulas of the window on one wheelbase, for water to the brim and dry, with and without the driver."""

    a: float
    front: float
    rear: float
    share: float

    def ends(self) -> tuple[float, float, str]:
        lows, highs = [], []
        for water in (0.0, 8000.0):
            for driver in (0.0, 80.0):
                moved = 1060 + water
                fixed = [(200, 1.0), (driver, -0.5)]
                f0 = 4000 + sum(m * (self.a - x) / self.a for m, x in fixed)
                r0 = 3000 + sum(m * x / self.a for m, x in fixed)
                total = 7000 + 200 + driver + moved
                ahead = 60 * 1.5 / moved  # the walkway stands 1.5 m behind the tank's middle
                lows.append(self.a - self.a * (self.front - f0) / moved - ahead)
                highs.append((self.a * (self.rear - r0) / moved - ahead, "group-drive"))
                highs.append((self.a - self.a * (self.share * total - f0) / moved - ahead, "front-share"))
        return max(lows), *min(highs)


CASES = [
    ("rear limit binds", {}, ByHand(4.0, 6900, 10500, 0.20)),
    ("front share binds", {"share": "36 %"}, ByHand(4.0, 6900, 10500, 0.36)),
    ("longer, other limits", {"front": "6.4 t", "rear": "11.6 t", "rear_1": "3.9 m", "rear_2": "5.3 m"},
     ByHand(4.6, 6400, 11600, 0.20)),
]  # fmt: skip


@pytest.mark.parametrize(("name", "keys", "hand"), CASES, ids=[case[0] for case in CASES])
def test_window_by_formula(check, name: str, keys: dict[str, str], hand: ByHand) -> None:
    """On the level: a grade of a millionth moves the ends by micrometres."""
    window = assessed(made(states=LEVEL, **keys)).window
    low, high, binds = hand.ends()
    assert low < high
    check(f"window, {name}: front end", source=WINDOW, expected=low, ours=window.low, tol=1e-4, unit="m")
    check(f"window, {name}: rear end", source=WINDOW, expected=high, ours=window.high, tol=1e-4, unit="m")
    assert window.filled == "brim"
    assert not window.empty
    assert window.binds_low.removesuffix("-grade") == "axle-front"
    assert window.binds_high.removesuffix("-grade") == binds


def at(text: str, middle: float) -> Assessment:
    """The build with its tank elsewhere."""
    return assessed(re.sub(r'(?m)^middle = "[^"]*"', f'middle = "{middle:.6f} m"', text, count=1))


def demo(name: str) -> str:
    return (files("tunwright") / "demos" / f"{name}.toml").read_text(encoding="utf-8")


BUILDS = {
    "level only": made(states=LEVEL),
    "on grades of 4 %": made(front="7.6 t", rear="11.6 t", states='grade = "4 %"'),
    "front share": made(share="36 %", states=LEVEL),
    **{name: demo(name) for name in ("quarry-carrier", "village-carrier", "brush-carrier")},
}


@pytest.mark.parametrize("name", BUILDS)
def test_a_millimetre_inside_holds_and_outside_fails(name: str) -> None:
    """At each end the named limit is the one that gives way, and inside nothing about loads fails."""
    text = BUILDS[name]
    here = assessed(text)
    window = here.placing.full()
    assert not window.empty
    assert window.high - window.low > 0.01
    loads = {limit.key for limit in here.limits}
    for end, binds, inwards in ((window.low, window.binds_low, 1), (window.high, window.binds_high, -1)):
        assert at(text, end - 0.001 * inwards).finding(binds).verdict == "fails", (name, binds)
        inside = at(text, end + 0.001 * inwards)
        assert inside.finding(binds).verdict in ("holds", "close"), (name, binds)
        # limits that no place can mend are no matter of the window
        assert [f.key for f in inside.findings if f.key in loads and f.verdict == "fails"] == []


def test_where_the_whole_tank_has_no_window_the_most_water_has_one() -> None:
    """Too heavy for its axles wherever it stands: for the water found there is one place, for a little more none."""
    text = made(front="6.0 t", rear="9.2 t", states='grade = "3 %"')
    here = assessed(text)
    assert here.placing.full().empty
    window = here.window
    assert not window.empty
    assert window.filled == "most"
    assert 0 < window.water < 8.0
    assert window.high - window.low < 0.01
    low, high = here.placing.up_to(window.water * 0.99)
    assert low < high
    low, high = here.placing.up_to(window.water * 1.01)
    assert low > high


def test_where_the_brim_has_no_window_the_net_fill_may_have_one() -> None:
    here = assessed(made(front="6.7 t", rear="9.6 t", states=LEVEL))
    assert here.placing.full().empty
    assert here.window.filled == "net"
    assert here.window.water == pytest.approx(7.68, rel=1e-12)
    assert here.window.low < here.window.high


def test_nothing_helps_a_chassis_that_is_too_heavy_dry() -> None:
    window = assessed(made(front="4.05 t", rear="3.2 t", states=LEVEL)).window
    assert window.empty


def test_a_build_tried_on_the_level_only() -> None:
    found = assessed(made(states='grade = "0 %"'))
    assert found.findings
