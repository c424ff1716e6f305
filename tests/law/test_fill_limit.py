"""The fill limit: a little less water and the named limit holds, a little more and it is passed."""

from __future__ import annotations

from importlib.resources import files

import pytest

from tunwright.build.reading import read_text
from tunwright.checks.assess import Assessment

HAND = "statics by hand on two axles"

MADE = """
format = 1
[order]
title = "fill limit"
[chassis]
gross_rating = "{gross}"
cg_height = "1.0 m"
front_share = "{share}"
[[chassis.axle]]
name = "front"
at = "0 m"
kerb_load = "4000 kg"
rating = "{front}"
steered = true
[[chassis.axle]]
name = "rear"
at = "4 m"
kerb_load = "3000 kg"
rating = "{rear}"
driven = true
[tank]
middle = "{middle}"
length = "4 m"
bottom = "1.2 m"
shell = "4 mm"
dry_mass = "1000 kg"
dry_centre = "2 m"
[tank.section]
shape = "rectangle"
width = "2 m"
height = "1 m"
[states]
grade = "{grade}"
"""


def made(*, gross="40 t", front="30 t", rear="30 t", share="10 %", middle="3 m", grade="0.0001 %") -> str:
    return MADE.format(gross=gross, front=front, rear=rear, share=share, middle=middle, grade=grade)


def assessed(text: str, cap: float | None = None) -> Assessment:
    return Assessment(read_text(text).build, cap=cap)


@pytest.mark.parametrize(("name", "keys", "litres", "binds"), [
    # rear 3000 + (1000 + w) 3/4 = 7950; front 4000 + (1000 + w) / 4 = 5500; gross 8000 + w = 13 t
    ("rear axle", {"rear": "7950 kg"}, 5600, "axle-rear"),
    ("front axle", {"front": "5500 kg"}, 5000, "axle-front"),
    ("gross rating", {"gross": "13 t"}, 5000, "gross"),
    # (4250 + w/4) / (8000 + w) = 0.40
    ("front share", {"share": "40 %"}, 7000, "front-share"),
])  # fmt: skip
def test_by_hand(check, name: str, keys: dict[str, str], litres: float, binds: str) -> None:
    found = assessed(made(**keys)).fill_limit
    check(f"fill limit by the {name}", source=HAND, expected=litres, ours=1000 * found.water, tol=0.5, unit="L")
    assert found.binds.removesuffix("-grade") == binds
    assert found.fails_dry == ()


def test_where_nothing_binds_it_is_the_gross_volume(check) -> None:
    found = assessed(made()).fill_limit
    check(
        "fill limit where no limit is reached",
        source="gross volume",
        expected=8.0,
        ours=found.water,
        tol=1e-9,
        unit="m3",
    )
    assert found.binds is None


LANE = (files("tunwright") / "demos" / "lane-carrier.toml").read_text(encoding="utf-8")
BUILDS = {
    "rear on a grade": made(rear="8 t", grade="8 %"),
    "front on a grade": made(front="5600 kg", grade="12 %", middle="2.6 m"),
    "brim beyond net": made(rear="9640 kg"),
    "a demo": LANE,
}


@pytest.mark.parametrize("name", BUILDS)
def test_just_below_it_holds_and_just_above_it_fails(name: str) -> None:
    """Filled up to a ten-thousandth less than the limit nothing that filling can mend fails; a ten-thousandth more and
    the named limit does.
    """
    text = BUILDS[name]
    here = assessed(text)
    limit = here.fill_limit
    assert limit.binds is not None
    assert 0 < limit.water < float(here.truck.volumes.gross.sum())
    keys = {one.key for one in here.limits}
    below, above = (assessed(text, limit.water * (1 + step)) for step in (-1e-4, 1e-4))
    if limit.water < float(here.truck.volumes.net.sum()):
        assert [f.key for f in below.findings if f.key in keys and f.verdict == "fails"] == []
        assert above.finding(limit.binds).verdict == "fails"
    else:  # between net and brim only the limit itself can be tried, by its states
        assert here.finding(limit.binds).verdict == "fails"
        assert assessed(text, float(here.truck.volumes.net.sum())).finding(limit.binds).verdict != "fails"


def test_between_net_and_brim(check) -> None:
    """3000 + (1000 + w) 3/4 = 9640 at w = 7853.3 L, between net 7680 and gross 8000."""
    found = assessed(BUILDS["brim beyond net"]).fill_limit
    check(
        "fill limit between net and brim",
        source=HAND,
        expected=6640 / 0.75 - 1000,
        ours=1000 * found.water,
        tol=0.5,
        unit="L",
    )


def test_a_limit_passed_empty_is_named_and_leaves_the_rest_to_be_found(check) -> None:
    """Too little on the front axle even when empty is no matter of filling; too much on it is, at no water at all."""
    found = assessed(made(share="60 %", rear="7950 kg")).fill_limit
    assert found.fails_dry == ("front-share",)
    check(
        "fill limit beside a share that fails dry",
        source=HAND,
        expected=5600,
        ours=1000 * found.water,
        tol=0.5,
        unit="L",
    )
    found = assessed(made(front="4200 kg")).fill_limit
    assert set(found.fails_dry) == {"axle-front", "axle-front-grade"}
    assert found.water == 0.0
