"""`tunwright frame` as a person meets it."""

from __future__ import annotations

import json
from pathlib import Path

import pytest
from click.testing import CliRunner, Result

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
    assert "what joins the rails" in result.stderr


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
    assert "No reinforcement or subframe of the table makes all cases hold" in result.stdout
    assert "not written" in result.stderr
    assert not (tmp_path / "none.toml").exists()
