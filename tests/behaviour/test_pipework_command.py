"""`tunwright pipework` as a person meets it."""

from __future__ import annotations

import csv
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

QUARRY = demo_text("quarry-carrier")
WORK = read_text(QUARRY).build.pipework
assert WORK is not None
DUTIES = [one.name for one in WORK.duty]
SPRAY = next(one for one in WORK.duty if one.kind == "spray")


@pytest.fixture
def quarry_file(tmp_path: Path) -> Path:
    return saved(tmp_path, QUARRY)


def saved(folder: Path, text: str) -> Path:
    path = folder / "build.toml"
    path.write_text(text, encoding="utf-8")
    return path


def run(*words: object) -> Result:
    return CliRunner().invoke(program, ["pipework", *(str(word) for word in words)])


def said(text: str) -> str:
    return " ".join(text.split())


def test_every_duty_with_its_runs_its_pump_and_its_time(quarry_file: Path) -> None:
    result = run(quarry_file)
    assert result.exit_code == 0, result.output
    for name in DUTIES:
        assert name in result.stdout
    for words in (
        "pressure behind",
        "suction head there is",
        "The pump stands still.",
        "From full to empty:",
        "From empty to full:",
        "Lays 0.25 to 0.26 L/m² on 13.8 m at 15 km/h.",
        "L/min",
    ):
        assert words in said(result.stdout), words
    assert "nan" not in result.stdout
    assert "never an approval" in said(result.stdout)


def test_one_duty_by_its_name_or_its_key(quarry_file: Path) -> None:
    for name in (SPRAY.name, SPRAY.name.upper(), SPRAY.name.replace(" ", "-")):
        result = run(quarry_file, "--duty", name)
        assert result.exit_code == 0, result.output
        assert SPRAY.name in result.stdout
        assert not any(other in result.stdout for other in DUTIES if other != SPRAY.name)


def test_a_wrong_duty_is_answered_with_the_nearest(quarry_file: Path) -> None:
    result = run(quarry_file, "--duty", SPRAY.name.replace("road", "raod"))
    assert result.exit_code == 2
    assert f'Did you mean "{SPRAY.name}"?' in result.stderr
    far = run(quarry_file, "--duty", "xyzzy")
    assert far.exit_code == 2
    assert all(name in far.stderr for name in DUTIES)


@pytest.mark.parametrize("option", [(), ("--json",), ("--duty", "spray")])
def test_without_pipework_it_says_what_to_give(tmp_path: Path, option: tuple[str, ...]) -> None:
    result = run(saved(tmp_path, demo_text("ridge-carrier")), *option)
    assert result.exit_code == 2
    assert "has no pipework: give it a table [pipework]" in result.stderr
    assert not result.stdout


def test_pipework_without_duties_is_told_so(tmp_path: Path) -> None:
    path = saved(tmp_path, QUARRY[: QUARRY.index("[[pipework.duty]]")])
    result = run(path)
    assert "asked to do nothing" in result.stdout
    assert "The build names none." in run(path, "--duty", "spray").stderr
    assert run(path, "--pdf", tmp_path / "none.pdf").exit_code in (0, 1, 3)
    assert (tmp_path / "none.pdf").read_bytes().startswith(b"%PDF")


def test_all_of_it_as_json(quarry_file: Path) -> None:
    data = json.loads(run(quarry_file, "--json").stdout, parse_constant=pytest.fail)
    assert [one["name"] for one in data["duties"]] == DUTIES
    keys = {one["key"] for one in data["findings"]}
    for one in data["duties"]:
        assert set(one["findings"]) <= keys
        assert one["time_min"] > 0
        assert one["trouble"] == ""
        fills = [state["fill"] for state in one["states"]]
        assert fills == sorted(fills, reverse=one["kind"] not in ("fill", "draw"))
    spray = next(one for one in data["duties"] if one["name"] == SPRAY.name)
    for state in spray["states"]:
        assert sum(each["flow_l_min"] for each in state["outlets"]) == pytest.approx(state["delivered_l_min"], abs=0.1)
        assert state["pump"]["outlet_bar"] > state["pump"]["inlet_bar"]
    only = json.loads(run(quarry_file, "--json", "--duty", SPRAY.name).stdout)
    assert only["duties"] == [spray]


def test_the_json_holds_what_the_findings_say(quarry_file: Path) -> None:
    data = json.loads(run(quarry_file, "--json").stdout)
    assessment = Assessment(read_text(QUARRY).build)
    for duty in (one for one in data["duties"] if f"duty-time-{one['name'].replace(' ', '-')}" in one["findings"]):
        finding = assessment.finding(f"duty-time-{duty['name'].replace(' ', '-')}")
        assert duty["time_min"] == pytest.approx(finding.value, abs=1e-3)


def test_efficiency_not_known_leaves_power_open(tmp_path: Path) -> None:
    text = QUARRY
    for i in range(len(WORK.pump.curve)):  # type: ignore[union-attr]
        text = without(text, ("pipework", "pump", "curve", i, "efficiency"))
    result = run(saved(tmp_path, text), "--json")
    assert result.exit_code == 3
    data = json.loads(result.stdout, parse_constant=pytest.fail)
    spray = next(one for one in data["duties"] if one["name"] == SPRAY.name)
    assert spray["states"][0]["pump"]["power_kw"] is None
    assert "takes not known" in run(saved(tmp_path, text)).stdout


def test_in_the_units_of_the_order(tmp_path: Path) -> None:
    result = run(saved(tmp_path, with_value(QUARRY, ("order", "units"), "us")))
    assert all(unit in result.stdout for unit in ("US gpm", "psi", "ft/s", "hp", "lbf ft", "US gal"))
    assert not any(unit in result.stdout for unit in (" bar", " L/min", " kW", " N m"))
    metric, us = (json.loads(run(saved(tmp_path, text), "--json").stdout) for text in (QUARRY, with_value(
        QUARRY, ("order", "units"), "us")))  # fmt: skip
    assert metric == us


def test_the_permitted_load_is_told_where_the_axles_allow_less(tmp_path: Path) -> None:
    text = QUARRY
    for old, new in (("19000 kg", "15500 kg"), ("9500 kg", "7750 kg"), ("9500 kg", "7750 kg")):
        text = text.replace(f'rating = {{ value = "{old}"', f'rating = {{ value = "{new}"', 1)
    heavy, light = said(run(saved(tmp_path, text)).stdout), said(run(saved(tmp_path, QUARRY)).stdout)
    assert re.search(r"With the 9 \d{3} L the axles allow: [\d.]+ min\.", heavy)
    assert re.search(r"Fill no more than the 9 \d{3} L the axles allow: [\d.]+ min\.", heavy)
    assert "the axles allow" not in light


def test_water_that_pools_is_told_to_the_driver(tmp_path: Path) -> None:
    at = DUTIES.index(SPRAY.name)
    slow = said(run(saved(tmp_path, with_value(QUARRY, ("pipework", "duty", at, "road_speed"), "3 km/h"))).stdout)
    assert "More than 1.00 L/m² at one pass may stand in pools: drive faster." in slow
    assert "pools" not in said(run(saved(tmp_path, QUARRY)).stdout)


def test_what_fails_is_said_and_gives_exit_code_1(tmp_path: Path) -> None:
    at = [one.name for one in WORK.duty].index(SPRAY.name)  # type: ignore[union-attr]
    path = saved(tmp_path, with_value(QUARRY, ("pipework", "duty", at, "wants"), "3000 L/min"))
    result = run(path)
    assert result.exit_code == 1
    assert "✗ fails Does enough water flow" in said(result.stdout)
    assert run(path, "--duty", SPRAY.name).exit_code == 1
    assert run(path, "--duty", DUTIES[-1]).exit_code == 0


def test_the_files_are_written_and_named(quarry_file: Path, tmp_path: Path) -> None:
    pdf, book, folder = tmp_path / "new" / "p.pdf", tmp_path / "p.xlsx", tmp_path / "lists"
    result = run(quarry_file, "--pdf", pdf, "--xlsx", book, "--csv", folder)
    assert result.exit_code == 0, result.output
    assert pdf.read_bytes().startswith(b"%PDF")
    assert book.read_bytes().startswith(b"PK")
    names = {path.name for path in folder.iterdir()}
    assert names == {
        "lines.csv", "valves.csv", "fittings.csv", "materials.csv", "pipe.csv", "stock.csv", "bends.csv", "flanges.csv",
        "bolting.csv", "cutting.csv", "plate.csv", "emergency.csv", "jets.csv", "spreading.csv", "engine.csv",
        "frost.csv", "pump-test.csv", "sender.csv",
    }  # fmt: skip
    assert {str(pdf), str(book), *(str(folder / name) for name in names)} == set(result.stdout.split("\n")) - {""}
    with (folder / "lines.csv").open(encoding="utf-8", newline="") as file:
        rows = list(csv.DictReader(file))
    assert {"run", "inside_mm", "length_m", "water_l"} <= set(rows[0])
    both = run(quarry_file, "--json", "--pdf", pdf)
    assert json.loads(both.stdout)["duties"]
    assert str(pdf) in both.stderr
