"""`tunwright frame` as a person meets it."""

from __future__ import annotations

import json
import re
from pathlib import Path

import pytest
from click.testing import CliRunner, Result

from tunwright.build.edit import with_value, without
from tunwright.build.reading import read_text
from tunwright.checks.assess import Assessment
from tunwright.cli import program
from tunwright.demos import demo_text


@pytest.fixture
def ridge(tmp_path: Path) -> Path:
    path = tmp_path / "ridge.toml"
    path.write_text(demo_text("ridge-carrier"), encoding="utf-8")
    return path


def run(*words: object) -> Result:
    return CliRunner().invoke(program, ["frame", *(str(word) for word in words)])


def test_every_case_is_listed_with_its_stress(ridge: Path) -> None:
    result = run(ridge)
    assert result.exit_code == 1
    for words in ("standing level", "rough ground, 3 g", "jacked up under the rear end"):
        assert words in result.stdout
    assert "120 %" in result.stdout
    assert "Choice" not in result.stdout


def test_what_is_chosen_is_written_and_then_holds(ridge: Path, tmp_path: Path) -> None:
    into = tmp_path / "strong.toml"
    result = run(ridge, "--choose", "--into", into)
    assert result.exit_code == 1
    assert "Line both rails from" in result.stdout
    assert "chassis.frame.liner[1] = { from = " in result.stdout
    assert str(into) in result.stderr
    assert run(into).exit_code == 0
    assert demo_text("ridge-carrier").splitlines()[0] == into.read_text(encoding="utf-8").splitlines()[0]


def test_all_of_it_as_json(ridge: Path) -> None:
    data = json.loads(run(ridge, "--choose", "--schemes", "--json").stdout, parse_constant=pytest.fail)
    assert {row["member"] for row in data["cases"]} == {"rail", "subframe"}
    worst = max(row["stress_mpa"] / row["limit_mpa"] for row in data["cases"])
    assert worst == pytest.approx(data["choice"]["share_before"], abs=2e-3)
    assert data["choice"]["found"]["holds"]
    assert data["choice"]["changes"][0]["path"] == ["chassis", "frame", "liner", 0]
    keys = [row["key"] for row in data["schemes"]]
    assert keys == ["own", "spring-front", "three-point", "four-springs", "rubber", "stiff"]
    own = data["schemes"][0]
    assert own["rail_mpa"] == max(r["stress_mpa"] for r in data["cases"] if r["member"] == "rail")


def test_without_the_frame_it_says_what_to_measure(tmp_path: Path) -> None:
    path = tmp_path / "lane.toml"
    path.write_text(demo_text("lane-carrier"), encoding="utf-8")
    result = run(path, "--choose")
    assert result.exit_code == 3
    assert "cannot be tried before these are given or measured" in result.stderr
    assert "the cross-members with their sections" in result.stderr


def test_mounts_at_one_place_cannot_be_compared(ridge: Path) -> None:
    text = ridge.read_text(encoding="utf-8")
    ridge.write_text(text[: text.index("# Rigid")] + '[[mount]]\nname = "one"\nat = "3 m"\nkind = "plate"\n', "utf-8")
    result = run(ridge, "--schemes")
    assert result.exit_code == 2
    assert "at least two places" in result.stderr


def test_nothing_is_written_where_nothing_holds(ridge: Path, tmp_path: Path) -> None:
    text = ridge.read_text(encoding="utf-8").replace('"390 MPa"', '"200 MPa"')
    ridge.write_text(text, encoding="utf-8")
    result = run(ridge, "--choose", "-o", tmp_path / "none.toml")
    assert re.search(r"None of the \d+ ways tried makes all cases hold\.", result.stdout)
    assert "not written" in result.stderr
    assert not (tmp_path / "none.toml").exists()


CG = ("chassis", "cg_height")
PULLED = "Braking and curves are not tried; measure or give: height of the centre of gravity of the weighed chassis."


def said(result: Result) -> str:
    return " ".join(result.stdout.split())


@pytest.fixture
def quarry(tmp_path: Path) -> Path:
    path = tmp_path / "quarry.toml"
    path.write_text(demo_text("quarry-carrier"), encoding="utf-8")
    return path


def altered(path: Path, text: str) -> Path:
    path.write_text(text, encoding="utf-8")
    return path


def test_where_all_is_tried_and_holds_nothing_is_left_open(quarry: Path) -> None:
    result = run(quarry, "--choose")
    assert result.exit_code == 0
    assert "not tried" not in result.stdout
    assert "Nothing is over its limit" in said(result)


def test_cases_not_tried_are_named_and_leave_it_open(quarry: Path) -> None:
    path = altered(quarry, without(demo_text("quarry-carrier"), CG))
    result = run(path, "--choose")
    assert result.exit_code == 3
    assert said(result).count(PULLED) == 2
    assert "Among the cases tried nothing is over its limit" in said(result)
    data = json.loads(run(path, "--json").stdout)
    assert data["not_tried"] == [{"cases": case, "missing": ["chassis.cg_height"]} for case in ("braking", "curves")]
    assert not any(row["key"].startswith(("braking", "cornering")) for row in data["cases"])


def test_rates_of_tyres_not_known_are_asked_for(quarry: Path) -> None:
    text = demo_text("quarry-carrier")
    for i in range(3):
        text = without(text, ("chassis", "axle", i, "tyre_rate"))
    result = run(altered(quarry, text))
    assert result.exit_code == 3
    assert "Curves and raised wheels are not tried; measure or give: axle “front”, “rear 1”, “rear 2”:" in said(result)
    both = run(altered(quarry, without(text, CG)))
    assert "Braking, curves and raised wheels are not tried" in said(both)


def test_what_fails_goes_before_what_is_not_tried(ridge: Path) -> None:
    """The choice claims no more than was tried."""
    path = altered(ridge, without(demo_text("ridge-carrier"), CG))
    result = run(path, "--choose")
    assert result.exit_code == 1
    assert "Do the rails bear rough ground and twist?" in said(result)
    assert said(result).count(PULLED) == 2
    assert "braking, curves and twist?" in said(run(altered(ridge, demo_text("ridge-carrier")), "--choose"))


def test_what_is_missing_for_a_choice_is_said_in_words(quarry: Path) -> None:
    path = altered(quarry, without(demo_text("quarry-carrier"), ("chassis", "frame", "yield_strength")))
    result = run(path, "--choose")
    assert result.exit_code == 3
    assert "given: frame: yield strength of the rail steel" in said(result)
    assert "chassis.frame" not in result.stdout
    data = json.loads(run(path, "--choose", "--json").stdout)["choice"]
    assert data["missing"] == ["chassis.frame.yield_strength"]
    assert "chassis.frame" not in data["why"]


def test_why_no_liner_is_tried_is_said_and_figures_are_printed_well(quarry: Path) -> None:
    text = with_value(demo_text("quarry-carrier"), ("chassis", "frame", "rail_thickness"), "2 mm")
    result = run(altered(quarry, text), "--choose")
    assert "No liner is tried: it may be no thicker than the rail, which is 2 mm; the thinnest is" in said(result)
    assert " -" not in result.stdout
    assert "rails over it from −" in said(result)
    assert ".0 % of the limit" not in said(result)


def test_the_pivot_stands_on_the_foremost_cross_member_under_the_subframe(quarry: Path) -> None:
    """Cross-members at 0.75 m and 2.30 m, the subframe from 0.95 m: the reader takes no mount ahead of it."""
    data = json.loads(run(quarry, "--schemes", "--json").stdout)
    three = next(row for row in data["schemes"] if row["key"] == "three-point")
    assert three["mounts"].startswith("pivot at 2.30 m")
    assert three["rail_mpa"] > 0


def test_without_a_cross_member_for_the_pivot_that_is_said(quarry: Path) -> None:
    text = demo_text("quarry-carrier")
    at = [float(one.at) for one in read_text(text).build.chassis.frame.cross_member]
    for i in reversed([i for i, x in enumerate(at) if 0.95 < x < 4.30]):
        text = without(text, ("chassis", "frame", "cross_member", i))
    path = altered(quarry, text)
    data = json.loads(run(path, "--schemes", "--json").stdout)
    three = next(row for row in data["schemes"] if row["key"] == "three-point")
    assert three["trouble"] == "no cross-member under the subframe's front to carry a pivot"
    assert (three["mounts"], three["rail_mpa"], three["holds"]) == ("", None, False)
    assert run(path, "--schemes").exit_code in (0, 1)


@pytest.mark.parametrize(("rating", "over"), [("75 kN", False), ("50 kN", True)])
def test_schemes_hold_mounts_against_the_same_ratings_as_the_findings(quarry: Path, rating: str, over: bool) -> None:
    """Springs rated, plates not: 85 kN on a plate is held against no rating, 56 kN on a spring against its own."""
    text = without(demo_text("quarry-carrier"), ("subframe",))
    for i in range(2):
        text = with_value(text, ("mount", i, "rating"), rating)
    own = json.loads(run(altered(quarry, text), "--schemes", "--json").stdout)["schemes"][0]
    found = Assessment(read_text(text).build).finding("mount-front-springs")
    assert own["press_kn"] > 75
    assert found.value == pytest.approx(56.2, abs=0.5)
    assert (found.verdict == "fails") == over == ("mount" in own["over"])
    assert own["no_rating"] == ["rear plates", "rearmost plates"]
    assert "no rating: rear plates, rearmost plates" in said(run(quarry, "--schemes"))


@pytest.mark.parametrize(("travel", "over"), [("40 mm", False), ("2 mm", True)])
def test_schemes_hold_springs_against_their_travel_as_the_findings_do(quarry: Path, travel: str, over: bool) -> None:
    text = with_value(demo_text("quarry-carrier"), ("mount", 0, "travel"), travel)
    own = json.loads(run(altered(quarry, text), "--schemes", "--json").stdout)["schemes"][0]
    found = Assessment(read_text(text).build).finding("mount-lift-front-springs")
    assert own["lift_mm"] == pytest.approx(1000 * (found.value or 0.0), abs=0.05)
    assert (found.verdict == "fails") == over == ("travel" in own["over"])


def test_a_scheme_without_known_limits_is_not_said_to_hold(quarry: Path) -> None:
    rated = demo_text("quarry-carrier")
    for i in range(4):
        rated = with_value(rated, ("mount", i, "rating"), "400 kN")
    own = json.loads(run(altered(quarry, rated), "--schemes", "--json").stdout)["schemes"][0]
    assert (own["over"], own["not_known"], own["holds"]) == ([], [], True)
    path = altered(quarry, without(rated, ("chassis", "frame", "yield_strength")))
    own = json.loads(run(path, "--schemes", "--json").stdout)["schemes"][0]
    assert (own["over"], own["not_known"], own["holds"]) == ([], ["rail", "subframe"], None)
    assert "no limit known: rail, subframe" in said(run(path, "--schemes"))
    path = altered(quarry, without(rated, ("mount", 0, "travel")))
    own = json.loads(run(path, "--schemes", "--json").stdout)["schemes"][0]
    assert (own["no_travel"], own["not_known"], own["holds"]) == (["front springs"], ["travel"], None)
