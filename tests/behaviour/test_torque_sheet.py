"""The torque sheet: one line a bolt, three sign-offs a connection, tightened again, on paper and as CSV."""

from __future__ import annotations

import csv
import io
import shutil
import subprocess
from collections import Counter
from pathlib import Path
from typing import Any

import pytest
from click.testing import CliRunner

from fastened import ALL, BOLTS, PLATES, REAR, SPRINGS, build, text
from tunwright.build.mounting import BoltSet
from tunwright.build.reading import read_text
from tunwright.checks.assess import Assessment
from tunwright.cli import program
from tunwright.sheets.dossier import torque_pdf
from tunwright.shop.torque import connections, crosswise
from tunwright.truck.fastening.tightening import stepped, tightening

FEW = PLATES | {"bolts": BOLTS | {"columns": 2, "finish": "zinc"}}
MANY = REAR | {"bolts": BOLTS | {"columns": 10, "rows": 3, "drop": "60 mm"}}


def printed(*mounts: dict[str, Any], tmp_path: Path, units: str = "metric") -> str:
    if shutil.which("pdftotext") is None:
        pytest.skip("pdftotext is not on this machine")
    read = read_text(text(*mounts, model=False).replace("[order]", f'[order]\nunits = "{units}"', 1))
    made = tmp_path / "torque.pdf"
    made.write_bytes(torque_pdf(Assessment(read.build), document=read))
    done = subprocess.run(["pdftotext", "-layout", str(made), "-"], capture_output=True, check=True, text=True)
    return done.stdout.replace("\u202f", " ").replace("\u00a0", " ")


def test_one_line_a_bolt_front_to_rear_left_before_right() -> None:
    found = connections(build(MANY, FEW, SPRINGS, model=False))
    assert [one.name for one in found] == [
        "rear plates, left",
        "rear plates, right",
        "rearmost plates, left",
        "rearmost plates, right",
    ]
    assert [len(one.lines) for one in found] == [4, 4, 30, 30]
    for one in found:
        assert [line.number for line in one.lines] == list(range(1, len(one.lines) + 1))
        assert len({line.place for line in one.lines}) == len(one.lines)


def test_bolts_are_tightened_from_the_middle_outwards() -> None:
    at = [(x, y) for y in (0.0, -0.06) for x in (0.0, 0.08, 0.16)]
    order = crosswise(at)
    assert sorted(order) == list(range(6))
    assert set(order[:2]) == {1, 4}
    assert {order[2] + order[3], order[4] + order[5]} == {5}, "corners opposite each other"


@pytest.mark.parametrize(("torque", "given"), [(226.4, 225.0), (225.0, 225.0), (92.9, 90.0), (49.9, 49.0), (8.2, 8.0)])
def test_torques_stand_on_the_wrench_and_never_above(torque: float, given: float) -> None:
    assert stepped(torque) == given


def test_torque_follows_the_state_of_the_threads() -> None:
    states = [BoltSet.model_validate(BOLTS | {"finish": state}) for state in ("dry", "oiled", "waxed")]
    dry, oiled, waxed = (tightening(bolts).torque for bolts in states)
    assert dry > oiled > waxed


def test_the_sheet_has_every_bolt_and_three_signatures_a_connection(tmp_path: Path) -> None:
    words = printed(FEW, MANY, tmp_path=tmp_path)
    lines = Counter(line.split()[0] for line in words.splitlines() if "M16, 10.9" in line)
    assert sum(lines.values()) == 2 * (4 + 30)
    for signed in ("fitted by", "torqued by", "checked by", "again after 500 to 1 000 km, by"):
        assert words.count(signed) == 4, signed
    plain = " ".join(words.split())
    for said in ("Never weld on", "never drill", "locally licensed practice", "wrench no.", "calibrated until"):
        assert said in plain, said
    torque = tightening(BoltSet.model_validate(MANY["bolts"])).torque
    assert f"{torque:.0f} N m" in words
    assert "zinc" in words
    assert "12.9" not in words


def test_the_sheet_in_the_units_of_the_order(tmp_path: Path) -> None:
    words = printed(PLATES | {"bolts": BOLTS | {"grade": "12.9"}}, REAR, tmp_path=tmp_path, units="us")
    assert "lbf ft" in words
    assert "N m" not in words
    assert "crack by hydrogen" in words


def test_without_bolts_there_is_no_sheet() -> None:
    read = read_text(text(PLATES, REAR, model=False))
    with pytest.raises(ValueError, match=r"\[mount.bolts\]"):
        torque_pdf(Assessment(read.build), document=read)


def test_the_dossier_holds_the_sheet_where_there_are_bolts(tmp_path: Path) -> None:
    from tunwright.sheets.dossier import dossier_pdf

    read = read_text(text(*ALL, model=False))
    with_bolts = dossier_pdf(Assessment(read.build), document=read)
    made = tmp_path / "dossier.pdf"
    made.write_bytes(with_bolts)
    if shutil.which("pdftotext") is None:
        pytest.skip("pdftotext is not on this machine")
    done = subprocess.run(["pdftotext", str(made), "-"], capture_output=True, check=True, text=True)
    assert "Torque sheet" in done.stdout


def test_the_command_prints_writes_and_says_what_is_missing(tmp_path: Path) -> None:
    made, bare, sheet = tmp_path / "made.toml", tmp_path / "bare.toml", tmp_path / "torque.pdf"
    made.write_text(text(FEW, REAR, model=False), encoding="utf-8")
    bare.write_text(text(PLATES, REAR, model=False), encoding="utf-8")
    run = CliRunner()
    shown = run.invoke(program, ["torque", str(made)])
    assert shown.exit_code == 0, shown.output
    assert "4 × M16, class 10.9" in shown.output
    rows = list(csv.DictReader(io.StringIO(run.invoke(program, ["torque", str(made), "--csv"]).output)))
    assert len(rows) == 8
    assert float(rows[0]["preload_least_kn"]) < float(rows[0]["preload_most_kn"])
    assert run.invoke(program, ["torque", str(made), "-o", str(sheet)]).exit_code == 0
    assert sheet.read_bytes().startswith(b"%PDF")
    told = run.invoke(program, ["torque", str(bare)])
    assert told.exit_code == 2
    assert "No mount of this build has bolts" in told.output
