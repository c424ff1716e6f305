"""Room on the chassis, wheels on the ground, water that cannot reach its outlet: each against a hand figure."""

from __future__ import annotations

import pytest

from tunwright.build.reading import read_text
from tunwright.checks.assess import Assessment
from tunwright.checks.remedy import Remedies

HAND = "worked by hand from the measures of the build"
TEXT = """format = 1
[order]
title = "box on a plain chassis"
[chassis]
gross_rating = "18 t"
cg_height = "1 m"
axle = [
  { name = "front", at = "0 m", kerb_load = "4 t", rating = "9 t", steered = true, track = "2 m" },
  { name = "rear", at = "4 m", kerb_load = "2 t", rating = "12 t", driven = true, tyres = 4, track = "2 m" },
]
frame = { top = "1 m", front = "-1.2 m", rear = "6 m", width = "0.8 m" }
[tank]
middle = "3.4 m"
length = "4 m"
bottom = "1.2 m"
shell = "4 mm"
fall = "1 %"
fall_by = "floor"
dry_mass = "1000 kg"
section = { shape = "rectangle", width = "2 m", height = "1 m" }
sump = [{ at = "0.5 m", depth = "100 mm", length = "400 mm", width = "400 mm" }]
outlet = [{ at = "0.5 m", height = "-60 mm" }]
[subframe]
from = "1 m"
to = "5.8 m"
height = "120 mm"
"""


def finding(key: str, *changes: tuple[str, str]):
    text = TEXT
    for old, new in changes:
        assert old in text
        text = text.replace(old, new, 1)
    return Assessment(read_text(text).build).finding(key)


def test_tank_over_the_frame(check) -> None:
    """1.2 m less 40 mm of fall at the rear and 4 mm of shell, over 1.12 m of rail and subframe."""
    found = finding("tank-over-frame")
    check("clearance over the subframe", source=HAND, expected=0.036, ours=found.value, tol=1e-9, unit="m")
    low = finding("tank-over-frame", ('bottom = "1.2 m"', 'bottom = "1.15 m"'))
    assert low.verdict == "fails"


def test_what_carries_the_tank_beyond_the_rails(check) -> None:
    found = finding("on-the-rails", ('to = "5.8 m"', 'to = "6.3 m"'))
    assert found.verdict == "fails"
    check("subframe beyond the rails", source=HAND, expected=0.3, ours=found.value, tol=1e-9, unit="m")


@pytest.mark.parametrize(
    ("key", "change"),
    [("tank-over-frame", ('bottom = "1.2 m"', 'bottom = "1.1 m"')), ("on-the-rails", ('to = "5.8 m"', 'to = "6.3 m"'))],
)
def test_their_remedies_hold(key: str, change: tuple[str, str]) -> None:
    found = Assessment(read_text(TEXT.replace(*change)).build)
    assert next(f.remedy for f in Remedies(found).findings() if f.key == key) is not None


def test_water_that_cannot_climb_to_the_sump(check) -> None:
    """The floor falls 1 % from the sump to the rear: 2 x 3.5^2 x 1 % / 2 stays, and 105 - 60 mm in the sump."""
    assessment = Assessment(read_text(TEXT).build)
    volumes = assessment.truck.volumes
    stays = 2.0 * 3.5**2 * 0.01 / 2 + 0.045 * 0.4 * 0.4
    ours = float(volumes.net.sum() - volumes.usable.sum())
    check("water that stays behind", source=HAND, expected=stays, ours=ours, tol=1e-4, unit="m3")


def test_upper_side_on_a_slope(check) -> None:
    """Empty, nobody aboard: the upper side has 1/2 - h tan / T of the load, least when h is most."""
    found = Assessment(read_text(TEXT).build)
    slope = found.finding("side-slope")
    table = found.truck.table
    heights = [c[2] for s, c in zip(table.states, table.centre, strict=True) if s.slope]
    shift = max(heights) * 0.05 / 2.0
    assert slope.value is not None
    assert slope.value <= 0.5 - shift + 1e-9, "the water leans too: no more stays above"
    check(
        "water leaning with the slope takes a little more",
        source="0.5 - h tan / T for frozen water",
        expected=0.5 - shift,
        ours=slope.value,
        tol=0.02,
    )


def test_an_axle_that_lifts_is_named() -> None:
    """A tank behind the rear axle lifts the front one."""
    found = finding("axles-down", ('middle = "3.4 m"', 'middle = "7.5 m"'))
    assert found.verdict == "fails"
    assert "front axle" in found.state


@pytest.mark.parametrize(
    ("key", "change", "missing"),
    [
        ("tank-over-frame", ('top = "1 m", ', ""), "chassis.frame.top"),
        ("on-the-rails", (', rear = "6 m"', ""), "chassis.frame.rear"),
        ("rear-overhang", (', rear = "6 m"', ""), "chassis.frame.rear"),
        ("side-slope", ('cg_height = "1 m"\n', ""), "chassis.cg_height"),
        ("tyres", ("", ""), "chassis.axle[1].tyre_rating"),
    ],
)
def test_what_is_missing_is_open(key: str, change: tuple[str, str], missing: str) -> None:
    found = finding(key, change)
    assert found.verdict == "open"
    assert missing in found.missing
