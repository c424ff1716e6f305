"""The sheets of the pipework: on paper, in a workbook, as CSV."""

from __future__ import annotations

import csv
import io
import re
import shutil
import subprocess
import xml.etree.ElementTree as ET
import zipfile
from functools import cache
from pathlib import Path

import pytest

from tunwright.build.edit import with_value, without
from tunwright.build.pipework import Pipework
from tunwright.build.reading import Document, read_text
from tunwright.checks.assess import Assessment
from tunwright.demos import demo_text
from tunwright.sheets.pipework.all_lists import pipework_lists
from tunwright.sheets.pipework.files import pipework_pdf, pipework_xlsx, write_csv
from tunwright.sheets.pipework.flows import plumbed
from tunwright.sheets.pipework.listing import Listing
from tunwright.tables.read import SHOP_VARIABLE, shop_value

QUARRY = demo_text("quarry-carrier")
US = with_value(QUARRY, ("order", "units"), "us")


@cache
def assessed(text: str) -> tuple[Assessment, Document]:
    document = read_text(text)
    return Assessment(document.build), document


def work_of(text: str = QUARRY) -> Pipework:
    return plumbed(assessed(text)[0]).work


def lists(text: str = QUARRY) -> dict[str, Listing]:
    assessment, _ = assessed(text)
    return {one.key: one for one in pipework_lists(assessment, assessment.build.order.units)}


def printed(text: str, folder: Path) -> str:
    if shutil.which("pdftotext") is None:
        pytest.skip("pdftotext is not on this machine")
    assessment, document = assessed(text)
    made = folder / "pipework.pdf"
    made.write_bytes(pipework_pdf(assessment, document=document))
    done = subprocess.run(["pdftotext", "-layout", str(made), "-"], capture_output=True, check=True, text=True)
    return re.sub("[\u202f\u00a0]", " ", done.stdout).replace("\u200b", "")


def column(listing: Listing, key: str) -> list[object]:
    at = [one.key for one in listing.columns].index(key)
    return [row[at] for row in listing.rows]


def test_on_paper_stand_all_lists_the_cautions_and_room_to_sign(tmp_path: Path) -> None:
    words = printed(QUARRY, tmp_path)
    plain, work = " ".join(words.split()), work_of()
    for title in ("Pipework lists", "Line list", "Valve list", "How the valves stand", "Pipe to cut",
                  "Operating plate", "Pump test", "Water on the road"):  # fmt: skip
        assert title in words, title
    for name in (one.name for table in (work.run, work.valve, work.duty) for one in table):
        assert name in plain, name
    for said in ("licensed practice", "never an approval", "Isolate the drive", "key out", "tested by", "checked by",
                 "calibrated until", "measured", "Never shut the suction"):  # fmt: skip
        assert said in plain, said
    assert plain.count("measured") >= sum(one.engine is not None for one in work.duty)
    assert not re.search(r"\bnan\b|\bNone\b", plain)


def test_a_truck_that_sprays_nothing_has_no_sheet_for_the_road(tmp_path: Path) -> None:
    text = demo_text("village-carrier")
    kinds = {one.kind for one in work_of(text).duty}
    words = printed(text, tmp_path)
    assert ("Water on the road" in words) == ("spray" in kinds)
    assert ("Pump test" in words) == (work_of(text).pump is not None)


def test_the_driver_reads_depth_engine_speed_and_the_width(tmp_path: Path) -> None:
    pages = [" ".join(page.split()) for page in printed(QUARRY, tmp_path).split("\f")]
    mine = [page for page in pages if "What is given stands bold" in page]
    assert len(mine) == sum(one.kind == "spray" for one in work_of().duty)
    for page in mine:
        for said in ("a load lasts", "The engine speed that holds the water", "rpm for 0.30", "over 1", "% even",
                     "most it can lay", "to the right of the middle of the truck", "all together"):  # fmt: skip
            assert said in page, said
    assert "the axles allow all of it" in " ".join(pages)


def test_without_a_speed_or_an_engine_the_road_page_says_so(tmp_path: Path) -> None:
    text, work = QUARRY, work_of()
    at = next(i for i, one in enumerate(work.duty) if one.kind == "spray")
    for key in ("road_speed", "engine"):
        text = without(text, ("pipework", "duty", at, key))
    text = text.replace('lift = "5 m"\n', 'lift = "5 m"\nrest = { loses = "0.1 bar", flow = "500 L/min" }\n')
    plain = " ".join(printed(text, tmp_path).split())
    assert "The water runs by gravity: no engine speed holds it" in plain
    assert "No chart of the water across the width" in plain


def test_the_schematic_is_the_first_page(tmp_path: Path) -> None:
    first, second, *_ = printed(QUARRY, tmp_path).split("\f")
    assert "Schematic" in first
    assert all(one.name in " ".join(first.split()) for one in work_of().valve)
    assert "Line list" in second


def test_the_same_build_gives_the_same_bytes() -> None:
    assessment, document = assessed(QUARRY)
    assert pipework_pdf(assessment, document=document) == pipework_pdf(assessment, document=document)
    assert pipework_xlsx(assessment, document=document) == pipework_xlsx(assessment, document=document)


def test_in_the_units_of_the_order(tmp_path: Path) -> None:
    words = printed(US, tmp_path)
    for unit in ("US gpm", "psi", "US gal/yd²", "mph", "lbf ft", "4 in"):
        assert unit in words, unit
    mine = re.sub(r"EN\s+1092-1\s+PN\s+16\s+DN\d+", "", words)  # what a flange is ordered by
    assert not re.search(r"\d (bar|L/min|kW|km/h)\b|DN\d", mine)
    assert {0.07, 0.11, 0.22} <= {
        round(one.columns[5].number(row[5], "us"), 3)
        for one in [lists(US)["spreading"]]
        for row in one.rows  # type: ignore[arg-type,call-overload]
    }


def test_valves_stand_as_the_duties_say() -> None:
    plumbing, found = plumbed(assessed(QUARRY)[0]), lists()["valves"]
    for duty in plumbing.work.duty:
        for name, stands in zip(column(found, "valve"), column(found, duty.name), strict=True):
            part = plumbing.opening(str(name), duty)
            assert stands in ("by itself", "open" if part == 1 else "shut" if part == 0 else f"{100 * part:.0f} %")
    throttled = {part.valve for duty in plumbing.work.duty for part in duty.throttled}
    assert throttled
    assert all(any("%" in str(cell) for cell in row) for row in found.rows if row[0] in throttled)


def test_the_plate_names_every_valve_once_a_duty() -> None:
    plate, work = lists()["plate"], work_of()
    hand = [one.name for one in work.valve if one.works != "itself"]
    for duty in work.duty:
        steps = [str(row[2]) for row in plate.rows if row[0] == duty.name]
        valves = " ".join(
            one for one in steps if one.startswith(("Open ", "Shut ", "Set ")) and "hydrant slow" not in one
        )
        assert all(len(re.findall(rf"\b{name}\b", valves)) == 1 for name in hand), (duty.name, valves)
        assert any(step.startswith(("From full to empty", "From empty to full")) for step in steps)
        assert (duty.engine is not None) == any("Bring the engine to" in step for step in steps)


def test_the_plate_does_not_release_a_duty_that_fails() -> None:
    at = next(i for i, one in enumerate(work_of().duty) if one.kind == "spray")
    text = with_value(QUARRY, ("pipework", "duty", at, "wants"), "3000 L/min")
    rows = [row for row in lists(text)["plate"].rows if "Not released" in str(row[2])]
    assert {row[0] for row in rows} == {work_of().duty[at].name}
    released = {row[0] for row in lists()["plate"].rows if "Not released" not in str(row[2])}
    assert {one.name for one in work_of().duty} <= released


def test_where_no_water_flows_the_plate_says_so() -> None:
    at = next(i for i, one in enumerate(work_of().duty) if one.kind == "spray")
    text = with_value(QUARRY, ("pipework", "duty", at, "open"), [])
    assert any("Not released" in str(row[2]) for row in lists(text)["plate"].rows if row[0] == work_of().duty[at].name)
    assessment, document = assessed(text)
    assert pipework_pdf(assessment, document=document).startswith(b"%PDF")


def test_the_pump_is_tested_in_every_duty_it_turns_in(monkeypatch: pytest.MonkeyPatch, tmp_path: Path) -> None:
    found, work = lists()["pump-test"], work_of()
    assert column(found, "duty") == [one.name for one in work.duty if one.engine is not None]
    for key in ("measured_flow", "measured_outlet", "measured_engine", "signature"):
        assert set(column(found, key)) == {None}
    own = tmp_path / "shop.toml"
    own.write_text('[pump_test_flow]\nvalue = 0.02\nwhy = "our customers ask for it"\n', encoding="utf-8")
    monkeypatch.setenv(SHOP_VARIABLE, str(own))
    assert shop_value("pump_test_flow") == 0.02
    narrow = lists()["pump-test"]
    for flow, least, most in zip(*(column(narrow, key) for key in ("flow", "flow_least", "flow_most")), strict=True):
        assert least == pytest.approx(0.98 * flow)  # type: ignore[operator]
        assert most == pytest.approx(1.02 * flow)  # type: ignore[operator]


def test_an_efficiency_not_known_leaves_no_number_on_paper(tmp_path: Path) -> None:
    words = printed(re.sub(r', efficiency = "\d+ %"', "", QUARRY), tmp_path)
    assert "not known" in words
    assert "up to not" not in " ".join(words.split())


def sheets_of(made: bytes) -> dict[str, list[list[str]]]:
    """Every sheet of a workbook, row by row."""
    with zipfile.ZipFile(io.BytesIO(made)) as book:
        assert book.testzip() is None
        shared = [
            "".join(part.itertext())
            for part in ET.fromstring(book.read("xl/sharedStrings.xml"))  # noqa: S314  # our own
        ]
        names = [one.get("name") or "" for one in ET.fromstring(book.read("xl/workbook.xml")).findall(".//{*}sheet")]  # noqa: S314
        found = {}
        for i, name in enumerate(names, start=1):
            text = book.read(f"xl/worksheets/sheet{i}.xml")
            assert b"<f>" not in text
            found[name] = [_row(row, shared) for row in ET.fromstring(text).findall(".//{*}row")]  # noqa: S314
    return found


def _row(row: ET.Element, shared: list[str]) -> list[str]:
    cells = []
    for cell in row:
        value = cell.findtext("{*}v") or ""
        cells.append(shared[int(value)] if cell.get("t") == "s" else value)
    return cells


def test_the_workbook_holds_every_list_as_numbers() -> None:
    assessment, document = assessed(QUARRY.replace('title = "', 'title = "=1+1 '))
    book = sheets_of(pipework_xlsx(assessment, document=document))
    assert list(book) == ["about", *lists()]
    heads = book["lines"][0]
    assert heads[6] == "length, m"
    lengths = [float(row[6]) for row in book["lines"][1 : 1 + len(work_of().run)]]
    assert lengths == pytest.approx([float(one.length) for one in work_of().run])
    assert any("licensed practice" in cell for row in book["about"] for cell in row)
    assert any("Isolate" in cell for row in book["about"] for cell in row)


def test_the_workbook_in_us_units() -> None:
    assessment, document = assessed(US)
    assert sheets_of(pipework_xlsx(assessment, document=document))["lines"][0][6] == "length, ft"


@pytest.mark.parametrize("text", [QUARRY, US])
def test_csv_is_metric_and_even(text: str, tmp_path: Path) -> None:
    for path in write_csv(assessed(text)[0], tmp_path / "csv"):
        rows = list(csv.reader(io.StringIO(path.read_text(encoding="utf-8"))))
        assert len(rows) > 1
        assert len({len(row) for row in rows}) == 1
        assert not any(cell in ("nan", "None") for row in rows for cell in row)
    made = {path.name: path.read_text(encoding="utf-8") for path in (tmp_path / "csv").iterdir()}
    assert "DN100" in made["lines.csv"]
    assert "psi" not in made["plate.csv"]
