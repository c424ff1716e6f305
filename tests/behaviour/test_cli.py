"""The commands as a person meets them."""

from __future__ import annotations

import csv
import io
import json
from pathlib import Path

import pytest
from click.testing import CliRunner, Result

from tunwright.cli import program
from tunwright.demos import NAMES, demo_text


@pytest.fixture
def demo(tmp_path: Path) -> Path:
    path = tmp_path / "quarry.toml"
    path.write_text(demo_text("quarry-carrier"), encoding="utf-8")
    return path


def run(*words: object) -> Result:
    return CliRunner().invoke(program, [str(word) for word in words])


@pytest.mark.parametrize(
    ("name", "code"), [*((name, 0) for name in NAMES[:3]), ("ridge-carrier", 1), ("lane-carrier", 1)]
)
def test_the_demos_do_what_they_are_there_for(name: str, code: int, tmp_path: Path) -> None:
    path = tmp_path / "build.toml"
    path.write_text(demo_text(name), encoding="utf-8")
    result = run("assess", path)
    assert result.exit_code == code
    assert ("Does not fit as specified" in result.stdout) == (name == "lane-carrier")


def test_assess_as_json_has_what_is_promised(demo: Path) -> None:
    result = run("assess", demo, "--json")
    data = json.loads(result.stdout, parse_constant=pytest.fail)
    assert set(data["window"]) >= {"from_m", "to_m", "binds_from", "binds_to", "water_l"}
    assert set(data["fill_limit"]) >= {"water_l", "binds"}
    assert set(data["volumes_l"]) == {"gross", "net", "usable"}
    wanted = {"key", "question", "state", "value", "limit", "unit", "sense", "verdict", "rule", "working", "remedy"}
    for finding in data["findings"]:
        assert set(finding) >= wanted | {"assumed"}
        assert (finding["value"] is None) == (finding["verdict"] == "open")
    assert data["window"]["from_m"] <= 3.75 <= data["window"]["to_m"]


def test_loads_as_json_are_the_even_level_sweep(demo: Path) -> None:
    data = json.loads(run("loads", demo, "--json").stdout)
    states = data["states"]
    assert len(states) == 22
    assert {state["grade"] for state in states} == {0.0}
    assert [state["fill"] for state in states[:3]] == [0.0, 0.05, 0.1]
    assert states[-1]["fill"] > 1.0, "the brim is above net"
    for state in states:
        assert set(state) >= {"id", "fill", "water_l", "grade", "slope", "braking", "crew", "compartments"}
        assert sum(state["axle_loads_kg"]) == pytest.approx(state["gross_kg"], abs=0.05)
        assert state["group_loads_kg"]["drive"] == pytest.approx(sum(state["axle_loads_kg"][1:]), abs=0.05)


def test_all_states_have_names_of_their_own(demo: Path) -> None:
    states = json.loads(run("loads", demo, "--json", "--states", "all").stdout)["states"]
    assert len({state["id"] for state in states}) == len(states) > 300


def test_csv_has_a_row_a_state(demo: Path) -> None:
    rows = list(csv.DictReader(io.StringIO(run("loads", demo, "--csv").stdout)))
    assert len(rows) == 22
    loads = [float(rows[20][f"{name} kg"]) for name in ("front", "drive")]
    assert float(rows[20]["gross_kg"]) == pytest.approx(sum(loads), abs=0.05)


def test_explain_shows_the_working_and_helps_with_a_misspelt_key(demo: Path) -> None:
    assert "bare chassis on front" in run("explain", demo, "axle-front").stdout
    wrong = run("explain", demo, "axel-front")
    assert wrong.exit_code == 2
    assert "Did you mean axle-front?" in wrong.stderr
    assert "axle-front" in run("explain", demo).stdout


def test_dip_chart_ends_at_the_gross_volume(demo: Path) -> None:
    rows = list(csv.DictReader(io.StringIO(run("dip", demo, "--csv").stdout)))
    gross = json.loads(run("assess", demo, "--json").stdout)["volumes_l"]["gross"]
    litres = [float(row["litres"]) for row in rows]
    assert litres == sorted(litres)
    assert litres[-1] == pytest.approx(gross, rel=2e-3)


def test_dip_chart_has_a_column_for_every_compartment(tmp_path: Path) -> None:
    village = tmp_path / "village.toml"
    village.write_text(demo_text("village-carrier"), encoding="utf-8")
    rows = list(csv.DictReader(io.StringIO(run("dip", village, "--csv").stdout)))
    assert list(rows[0]) == ["level_mm", "front litres", "middle litres", "rear litres"]
    said = run("dip", village).stdout
    assert "650 mm (front)" in said.replace("\u2009", " ")
    assert "behind the front tangent line, in the middle" in said


def test_a_dossier_makes_its_folders(demo: Path, tmp_path: Path) -> None:
    assert run("dossier", demo, "--into", tmp_path / "new" / "deep" / "x.pdf").exit_code == 0
    refused = run("dossier", demo, "--into", demo / "x.pdf")
    assert refused.exit_code == 2
    assert f"{demo / 'x.pdf'}: " in refused.stderr
    assert ".part" not in refused.stderr


def test_units_asked_for_on_the_line_are_read_with_care(demo: Path) -> None:
    wrong = run("dip", demo, "--grade", "3")
    assert wrong.exit_code == 2
    assert "3 %" in wrong.stderr or "12 %" in wrong.stderr
    assert run("dip", demo, "--grade", "3 %", "--step", "50 mm").exit_code == 0


def test_what_cannot_be_read_ends_in_a_sentence(tmp_path: Path) -> None:
    missing = run("assess", tmp_path / "nothing.toml")
    assert (missing.exit_code, "There is no such file." in missing.stderr) == (2, True)
    folder = run("assess", tmp_path)
    assert (folder.exit_code, "folder" in folder.stderr) == (2, True)


def test_new_starts_a_file_and_leaves_what_is_there(tmp_path: Path) -> None:
    path = tmp_path / "mine.toml"
    assert run("new", path, "--demo", "brush-carrier").exit_code == 0
    assert path.read_text(encoding="utf-8") == demo_text("brush-carrier")
    again = run("new", path)
    assert again.exit_code == 2
    assert "there already" in again.stderr


def test_the_schema_is_a_schema() -> None:
    schema = json.loads(run("schema").stdout)
    assert schema["properties"]["format"]["type"] == "integer"
    assert schema["additionalProperties"] is False
    assert "Axle" in schema["$defs"]


def test_loads_are_rounded_once(tmp_path: Path) -> None:
    """The drive group of this starter carries 17 244.504 kg at 90 %: rounded to 17 244.50 first it would lose one."""
    build = tmp_path / "first.toml"
    assert run("new", build, "--layout", "8x4").exit_code == 0
    row = next(line for line in run("loads", build).stdout.splitlines() if line.startswith("even-090-crew "))
    assert "17 245 kg" in row.replace("\u2009", " ")
