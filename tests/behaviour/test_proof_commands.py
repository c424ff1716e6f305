"""`tunwright calibrate` and `tunwright deliveries` as a person meets them, with good files and with bad ones."""

from __future__ import annotations

import csv
import json
import math
import re
import shutil
import subprocess
from functools import cache
from pathlib import Path

import numpy as np
import pytest
from click.testing import CliRunner, Result

from tunwright.build.edit import with_value
from tunwright.build.reading import read_text
from tunwright.cli import program
from tunwright.demos import demo_text
from tunwright.proof.log import COLUMNS as LOG
from tunwright.proof.rows import RowProblems, rows_of
from tunwright.sheets.proof.delivery_figures import lasts
from tunwright.truck.truck import Truck

RUNS = """# three flows, weighed
run,pulses,mass_kg,temperature_c,flow_l_min,note_who
A1,24010,199.8,14,300,nobody
A2,23950,199.1,14,310,nobody
B1,48120,399.9,14.2,600,
B2,48100,400.2,14.2,610,
C1,60040,500.1,14.5,900,
C2,59990,499.7,14.5,905,
"""


def run(*words: object) -> Result:
    return CliRunner().invoke(program, [str(word) for word in words])


def saved(folder: Path, text: str | bytes, name: str = "file.csv") -> Path:
    path = folder / name
    path.write_bytes(text if isinstance(text, bytes) else text.encode())
    return path


def said(text: str) -> str:
    return " ".join(text.split())


def printed(pdf: Path) -> str:
    if shutil.which("pdftotext") is None:
        pytest.skip("pdftotext is not on this machine")
    done = subprocess.run(["pdftotext", "-layout", str(pdf), "-"], capture_output=True, check=True, text=True)
    return said(re.sub("[\u202f\u00a0]", " ", done.stdout).replace("\u200b", ""))


@cache
def levels() -> tuple[np.ndarray, np.ndarray]:
    """Water in the quarry demo's tank [m3] and its level [mm]."""
    level = np.linspace(0.0, 1.3, 300)
    return Truck(read_text(demo_text("quarry-carrier")).build).volumes.dip(level), 1000 * level


def a_log(*, places: bool = True, gap: bool = True, loss: float = 0.0) -> str:
    """Half an hour of spraying around a field, a stop, a gap, levels; from 800 to 1000 s some water is lost [m3]."""
    head = ["time", "flow_l_min", "pump", "level_mm", *(["lat", "lon"] if places else [])]
    lines, way = [",".join(head)], 0.0
    for t in range(0, 1801, 5):
        way += 0.0 if 600 <= t < 700 else 20.0
        if gap and 1200 < t < 1300:
            continue
        flow = 300.0 if 60 <= t < 1700 else 0.0
        water = 10.0 - 0.005 * min(max(t - 60, 0), 1640) - loss * min(max(t - 800, 0), 200) / 200
        level = np.interp(water, *levels())
        cells = [f"2026-05-04T07:{30 + t // 60 % 30 if t < 1800 else 59}:{t % 60:02d}" if t < 1800 else
                 "2026-05-04T08:00:00", f"{flow:g}", str(int(flow > 0)), f"{level:.1f}"]  # fmt: skip
        if places:
            turn = way / 400
            cells += [f"{47.38 + 0.004 * math.sin(turn):.6f}", f"{8.54 + 0.006 * math.cos(turn):.6f}"]
        lines.append(",".join(cells))
    return "\n".join(lines)


@pytest.fixture
def quarry_file(tmp_path: Path) -> Path:
    return saved(tmp_path, demo_text("quarry-carrier"), "build.toml")


# calibrate


def test_runs_give_the_setting_and_every_deviation(tmp_path: Path) -> None:
    result = run("calibrate", saved(tmp_path, RUNS), "--k", "118 pulses/L")
    assert result.exit_code == 0, result.output
    text = said(result.stdout)
    for words in ("Set in the display: 120.0", "standard error", "buoyancy", "As it is set now (118.00 pulses/L)", "A1",
                  "No trend", "never an approval"):  # fmt: skip
        assert words in text, words
    assert "nan" not in text


def test_a_meter_far_off_fails_and_is_told_what_to_do(tmp_path: Path) -> None:
    result = run("calibrate", saved(tmp_path, RUNS), "--k", "100 pulses/L")
    assert result.exit_code == 1
    assert "✗ fails Does the meter show what flows, as it is set now? 20." in said(result.stdout)
    assert run("calibrate", saved(tmp_path, RUNS)).exit_code == 0


def test_one_run_is_open(tmp_path: Path) -> None:
    path = saved(tmp_path, "pulses,volume_l\n24010,200.5\n")
    result = run("calibrate", path)
    assert result.exit_code == 3
    assert "One run says nothing about the next" in said(result.stdout)
    data = json.loads(run("calibrate", path, "--json").stdout, parse_constant=pytest.fail)
    assert data["standard_error_pulses_l"] is None
    assert run("calibrate", path, "--pdf", tmp_path / "one.pdf").exit_code == 3
    assert "One run says nothing" in printed(tmp_path / "one.pdf")


def test_semicolons_and_decimal_commas_say_the_same(tmp_path: Path) -> None:
    comma = RUNS.replace(",", ";").replace(".", ",")
    plain, other = (json.loads(run("calibrate", saved(tmp_path, text), "--json").stdout) for text in (
        RUNS, "\ufeff" + comma.replace("\n", "\r\n") + "\r\n\r\n"))  # fmt: skip
    for data in (plain, other):
        del data["sha256"]
    assert plain == other


def test_calibration_as_json_and_on_paper(tmp_path: Path) -> None:
    path, pdf = saved(tmp_path, RUNS), tmp_path / "new" / "sheet.pdf"
    result = run("calibrate", path, "--k", "118 pulses/L", "--json", "--pdf", pdf)
    data = json.loads(result.stdout, parse_constant=pytest.fail)
    assert str(pdf) in result.stderr
    assert data["multiply_k_factor_by"] == pytest.approx(data["k_factor_pulses_l"] / 118, abs=1e-6)
    assert [one["run"] for one in data["runs"]] == ["A1", "A2", "B1", "B2", "C1", "C2"]
    for one in data["runs"]:
        again = one["counted"] / (data["k_factor_pulses_l"] * one["volume_l"]) - 1
        assert one["deviation_as_set"] == pytest.approx(again, abs=2e-6)
    text = printed(pdf)
    for words in ("Calibration of a flow meter", "To be written in", "made by", "checked by", "allowed +2.00 %", "A1"):
        assert words in text, words
    first = pdf.read_bytes()
    run("calibrate", path, "--k", "118 pulses/L", "--pdf", pdf)
    assert pdf.read_bytes() == first


def test_a_run_that_strays_is_named_on_every_output(tmp_path: Path) -> None:
    off, flows = (3, -5, 2, 400, -4, 1), (200, 300, 400, 500, 600, 700)
    lines = [f"{24000 + d},200,{q}" for d, q in zip(off, flows, strict=True)]
    path = saved(tmp_path, "\n".join(["pulses,volume_l,flow_l_min", *lines]))
    text = said(run("calibrate", path).stdout)
    assert "Run 4 strays" in text
    assert "counted all the same" in text
    assert json.loads(run("calibrate", path, "--json").stdout)["strays"] == ["4"]


@pytest.mark.parametrize(
    ("text", "sentences"),
    [
        ("", ["The file has no rows", '"pulses,volume_l"']),
        ("# nothing\n\n", ["The file has no rows"]),
        ("pulses,volume_l\n", ["but no row", '"24010,200.5"']),
        ("pulse,volume_l\n1,2\n", ['column "pulse"', 'Did you mean "pulses"?']),
        ("pulses,pulses,volume_l\n1,1,2\n", ["The column is there twice"]),
        ("pulses,flow_l_min\n1,2\n", ["What was measured is missing"]),
        ("volume_l\n2\n", ["What the meter counted is missing"]),
        ("pulses,shown_l,volume_l\n1,2,2\n", ["one is enough"]),
        ("pulses,volume_l\nmany,200 L\n", [":2: column pulses: This is no number. Given many",
                                           ":2: column volume_l: This is more than a number"]),
        ("pulses,volume_l\n24010,200,5\n", ["3 cells under 2 names", "Decimal commas need semicolons"]),
        ("pulses,volume_l\n24010\n", ["1 cells under 2 names"]),
        ("pulses;volume_l\n24010;1.200,5\n", ["a point may part thousands"]),
        ("pulses,volume_l\n24.010,200\n", ["The number is not whole"]),
        ("pulses,volume_l\n0,200\n", ["too small", "above 0"]),
        ("pulses,volume_l\n24010,nan\n", ["This is no number. Given nan"]),
        ("pulses,volume_l\n24010,\n", ["Nothing was measured in this run"]),
        ("pulses,volume_l,mass_kg,temperature_c\n24010,200,199,14\n", ["a volume and a mass"]),
        ("pulses,mass_kg\n24010,200\n", ["needs the temperature"]),
        ("pulses,mass_kg,temperature_c\n24010,200,104\n", ["too large", "up to 99.9"]),
        ("pulses\tvolume_l\n1\t2\n", ["parted by tabs"]),
        ("pulses,volume_l\n1,2\n".encode("utf-16"), ["UTF-16"]),
        ("pulses,volume_l\n1,2\n# größer\n".encode("latin-1"), [":3: There is a letter here that is not UTF-8"]),
        (b"PK\x03\x04\x00\x00", ["This is no text"]),
    ],
)  # fmt: skip
def test_a_file_that_cannot_be_read_is_answered_in_sentences(
    tmp_path: Path, text: str | bytes, sentences: list[str]
) -> None:
    result = run("calibrate", saved(tmp_path, text))
    assert result.exit_code == 2, result.output
    assert not result.stdout
    for sentence in sentences:
        assert sentence in result.stderr, result.stderr


def test_everything_wrong_comes_at_once_and_what_is_alike_is_counted(tmp_path: Path) -> None:
    lines = [*(["many,200"] * 9), "24010,x"]
    result = run("calibrate", saved(tmp_path, "\n".join(["pulses,volume_l", *lines])))
    assert result.stderr.count("column pulses") == 3
    assert "11: column volume_l" in result.stderr
    assert "6 more of the same kind are told once these are mended" in result.stderr


def test_what_is_no_file_and_what_is_no_k_factor(tmp_path: Path) -> None:
    assert "There is no such file" in run("calibrate", tmp_path / "none.csv").stderr
    assert "This is a folder" in run("calibrate", tmp_path).stderr
    path = saved(tmp_path, RUNS)
    for given, words in (("120", "needs a unit"), ("0 pulses/L", "above zero"), ("120 L", "volume"), ("", "empty")):
        result = run("calibrate", path, "--k", given)
        assert result.exit_code == 2
        assert words in result.stderr, result.stderr


def test_too_large_a_file_is_told_its_size(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr("tunwright.proof.rows.LARGEST", 100)
    assert "The file is too large" in run("calibrate", saved(tmp_path, RUNS)).stderr
    monkeypatch.setattr("tunwright.proof.rows.LARGEST", 50_000_000)
    monkeypatch.setattr("tunwright.proof.rows.MOST_ROWS", 3)
    assert "too many rows: 6" in run("calibrate", saved(tmp_path, RUNS)).stderr


# deliveries


def test_a_log_alone(tmp_path: Path) -> None:
    result = run("deliveries", saved(tmp_path, a_log()))
    assert result.exit_code == 3, result.output
    text = said(result.stdout)
    for words in ("passed the meter on 2026-05-04 from 07:30 to 08:00", "The log has one gap", "The vehicle drove",
                  "while the vehicle stood, once", "with the build file the levels become", "○ open"):  # fmt: skip
        assert words in text, words
    assert "nan" not in text


def test_a_log_against_its_build(tmp_path: Path, quarry_file: Path) -> None:
    result = run("deliveries", saved(tmp_path, a_log(gap=False, loss=1.0)), quarry_file)
    text = said(result.stdout)
    assert result.exit_code == 1, text
    assert "left without passing it" in text
    assert "L/m²" in text
    found = re.search(r"counted [\d ]+ L: ([\d ]+) L ± [\d ]+ L left without passing it", text)
    assert found is not None, text
    assert float(found[1].replace(" ", "")) == pytest.approx(1000, abs=20)
    assert "That is a short time" in text
    assert re.search(r"Most of it, about .* went from 07:4[3-6]", text), text
    assert "✗ fails Did all water that left the tank pass the meter?" in text


def test_a_log_as_json_adds_up(tmp_path: Path, quarry_file: Path) -> None:
    data = json.loads(run("deliveries", saved(tmp_path, a_log()), quarry_file, "--json").stdout,
                      parse_constant=pytest.fail)  # fmt: skip
    placed = data["on_the_way_l"] + data["standing_l"] + data["place_not_known_l"]
    assert placed == pytest.approx(data["delivered_l"], abs=0.03)
    assert sum(one["volume_l"] for one in data["segments"]) == pytest.approx(data["on_the_way_l"], abs=0.2)
    assert sum(one["volume_l"] for one in data["minutes"]) == pytest.approx(data["delivered_l"], abs=0.1)
    assert sum(one["volume_l"] for one in data["pools"]) == pytest.approx(data["standing_l"], abs=0.2)
    assert data["gaps"] == {"count": 1, "time_s": 100.0}
    for one in data["segments"]:
        assert one["l_m2"] == pytest.approx(one["l_m"] / data["width_m"], abs=1e-4)


def test_a_log_in_files(tmp_path: Path, quarry_file: Path) -> None:
    pdf, folder = tmp_path / "log.pdf", tmp_path / "tables"
    result = run("deliveries", saved(tmp_path, a_log()), quarry_file, "--pdf", pdf, "--csv", folder)
    names = ("minutes.csv", "hours.csv", "segments.csv", "pools.csv")
    assert result.stdout.split() == [str(pdf), *(str(folder / name) for name in names)]
    with (folder / "segments.csv").open(encoding="utf-8", newline="") as file:
        rows = list(csv.DictReader(file))
    assert {"from_m", "to_m", "volume_l", "l_m", "l_m2", "lat", "lon"} <= set(rows[0])
    text = printed(pdf)
    for words in ("Delivery log", "What is missing", "Over time", "Over the way", "scale 1:", "driven, no water",
                  "not logged: straight", "received by", "start", "up to"):  # fmt: skip
        assert words in text, words


def test_a_log_in_the_units_of_the_order(tmp_path: Path) -> None:
    us = saved(tmp_path, with_value(demo_text("quarry-carrier"), ("order", "units"), "us"), "us.toml")
    path, pdf = saved(tmp_path, a_log()), tmp_path / "us.pdf"
    text = said(run("deliveries", path, us).stdout)
    assert all(unit in text for unit in ("US gal", "US gal/ft", "mi", " in;"))
    assert not re.search(r"\d (L|km|m|mm|L/m)\b", text)
    run("deliveries", path, us, "--pdf", pdf)
    assert "US gal/ft" in printed(pdf)


def test_a_log_without_places_has_no_plot_and_says_so(tmp_path: Path) -> None:
    path, pdf = saved(tmp_path, a_log(places=False)), tmp_path / "log.pdf"
    assert "neither places nor speeds" in said(run("deliveries", path).stdout)
    run("deliveries", path, "--pdf", pdf)
    text = printed(pdf)
    assert "Over time" in text
    assert "Over the way" not in text


def test_the_plot_is_to_scale_and_told_apart_without_colour(tmp_path: Path) -> None:
    """Extents of the road on paper are its extents over the scale; four thicknesses, four rows of the legend."""
    from tunwright.proof.delivery_log import deliveries
    from tunwright.sheets.drawing import Circle, Polyline, Text
    from tunwright.sheets.proof.way_plot import way_drawing

    one = deliveries(saved(tmp_path, a_log()))
    drawing = way_drawing(one, "metric")
    texts = [part.text for part in drawing.entities if isinstance(part, Text)]
    assert "N" in texts
    assert f"scale 1:{drawing.scale:,.0f}".replace(",", "\u2009") in texts
    bar = [part for part in drawing.entities if isinstance(part, Polyline) and part.closed and len(part.points) == 4
           and part.layer == "thin" and part.fill in ("ink", "sheet")]  # fmt: skip
    long = max(p[0] for part in bar for p in part.points) - min(p[0] for part in bar for p in part.points)
    label = next(text for text in texts if text.endswith(" m") and "L" not in text)
    assert float(label.removesuffix(" m").replace("\u2009", "")) == pytest.approx(long, rel=1e-6)
    radii = {round(1000 * part.radius / drawing.scale, 3) for part in drawing.entities if isinstance(part, Circle)
             and part.fill == "accent"}  # fmt: skip
    assert radii == {0.25, 0.5, 0.8, 1.2}
    assert sum("L/m" in text for text in texts) == 4


@pytest.mark.parametrize(
    ("text", "option", "sentence"),
    [
        ("time\n0\n1\n", (), "What the meter read is missing"),
        ("time,flow_l_min,pulses\n0,1,1\n", ("--k", "1 pulses/L"), "one of them is enough"),
        ("time,pulses\n0,1\n1,1\n", (), "Pulses need the K-factor"),
        ("time,flow_l_min\n0,1\n1,1\n", ("--k", "1 pulses/L"), "has flows, no pulses"),
        ("time,flow_l_min\n0,1\n", (), "in 1 row of the log"),
        ("time,flow_l_min\n0,\n1,\n", (), "in 0 rows of the log"),
        ("time,flow_l_min\n5,1\n5,1\n", (), "All rows have the same time"),
        ("time,flow_l_min\n0,1\n10,1\n5,1\n", (), ":4: column time: The time goes back: the row before says 10"),
        ("time,flow_l_min\n0,1\n2026-05-04T07:30,1\n", (), "written in another way"),
        ("time,flow_l_min\n2026-05-04T07:30,1\n2026-05-04T07:31+02:00,1\n", (), "written in another way"),
        ("time,flow_l_min\n04.05.2026,1\n", (), "neither a number of seconds nor a date"),
        ("time,flow_l_min,lat\n0,1,47\n1,1,47\n", (), "says nothing without lon"),
        ("time,flow_l_min,lat,lon\n0,1,147,8\n1,1,47,8\n", (), "too large. Given 147"),
        ("time,flow_l_min,lat,lon,x_m,y_m\n0,1,4,8,0,0\n1,1,4,8,0,0\n", (), "in degrees and in metres"),
        ("time,flow_l_min\n0,-1\n1,1\n", (), "too small. Given -1"),
        ("flow_l_min\n0\n1\n", (), "column time: The column is missing"),
    ],
)
def test_a_log_that_cannot_be_read_is_answered(
    tmp_path: Path, text: str, option: tuple[str, ...], sentence: str
) -> None:
    result = run("deliveries", saved(tmp_path, text), *option)
    assert result.exit_code == 2, result.output
    assert sentence in result.stderr, result.stderr


def test_log_and_build_in_the_wrong_order_are_told(tmp_path: Path, quarry_file: Path) -> None:
    result = run("deliveries", quarry_file, saved(tmp_path, a_log()))
    assert result.exit_code == 2
    assert "column time: The column is missing" in result.stderr


def test_seconds_of_a_log_begin_where_they_like(tmp_path: Path) -> None:
    rows = rows_of(b"time;flow_l_min\n1000,5;60\n1010,5;60\n", LOG, file="log.csv")
    assert rows.cells["time"] == (1000.5, 1010.5)
    text = said(run("deliveries", saved(tmp_path, "time,flow_l_min\n1000,60\n1060,60\n")).stdout)
    assert "60.0 L passed the meter from 0 s to 1 min of the log" in text


def test_problems_come_by_line() -> None:
    with pytest.raises(RowProblems) as caught:
        rows_of(b"time,flow_l_min\n0,x\nnever,1\n", LOG, file="log.csv")
    assert [one.line for one in caught.value.problems] == [2, 3]


@pytest.mark.parametrize(
    ("seconds", "words"),
    [(0, "0 s"), (45, "45 s"), (60, "1 min"), (80, "1 min 20 s"), (3600, "1 h"), (7175, "2 h"), (5400, "1 h 30 min")],
)
def test_times_in_words(seconds: float, words: str) -> None:
    assert lasts(seconds) == words


def test_both_commands_stand_in_the_manual() -> None:
    page = (Path(__file__).parents[2] / "docs" / "commands.md").read_text("utf-8")
    for name in ("calibrate", "deliveries"):
        row = next(line for line in page.splitlines() if line.startswith(f"| `{name} "))
        for parameter in program.commands[name].params:
            assert parameter.opts[0] in row or parameter.name.upper() in row, (name, parameter.name)


def test_a_meter_that_reads_low_is_told_by_how_much(tmp_path: Path, quarry_file: Path) -> None:
    """The flow logged is four fifths of what the levels say."""
    text = a_log(gap=False).replace(",300,1", ",240,1")
    said_of_it = said(run("deliveries", saved(tmp_path, text), quarry_file).stdout)
    found = re.search(r"it would have to read ([\d.]+) % more", said_of_it)
    assert found is not None, said_of_it
    assert float(found[1]) == pytest.approx(25.0, abs=0.3)
