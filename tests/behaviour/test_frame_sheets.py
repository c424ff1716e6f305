"""Sheets of the loaded frame and of its mounting: readable, whole, and honest about what is missing."""

from __future__ import annotations

import re
import shutil
import subprocess
from pathlib import Path

import pytest
from click.testing import CliRunner
from ezdxf.filemanagement import readfile

from framed import KNOWN, assessed, groups, known, outside, overlapping, with_mounts
from tunwright.build.reading import read_text
from tunwright.checks.assess import Assessment
from tunwright.cli import program
from tunwright.demos import demo_text
from tunwright.sheets.annotate import flatten
from tunwright.sheets.dossier import dossier_pdf
from tunwright.sheets.drawing import Drawing, Text
from tunwright.sheets.frame.chosen import FrameNotKnown, why_not
from tunwright.sheets.frame.files import DRAWINGS, frame_pdf, mounting_pdf, write_frame_drawings
from tunwright.sheets.frame.hole_sheets import hole_drawing, hole_sheets
from tunwright.sheets.frame.mounting import mounting_sheet
from tunwright.sheets.frame.screen import frame_data
from tunwright.sheets.frame.sheets import frame_sheet
from tunwright.sheets.frame.twisted import twisted_frame
from tunwright.sheets.pdf import drawings_pdf
from tunwright.sheets.views.labels import Board, Label
from tunwright.sheets.views.paper import BINDING, EDGE, SIZES

KINDS = ("plate", "bracket", "clamp", "spring", "rubber", "pivot")


def mount(name: str, at: float, kind: str, more: str = "") -> str:
    rate = 'rate = "300 N/mm"\n' if kind in ("spring", "rubber") else ""
    return f'[[mount]]\nname = "{name}"\nat = "{at} m"\nkind = "{kind}"\n{rate}{more}\n'


def words_of(drawing: Drawing) -> str:
    return " ".join(part.text for part in flatten(drawing.entities, drawing.scale) if isinstance(part, Text))


def printed(pdf: bytes) -> str:
    if shutil.which("pdftotext") is None:
        pytest.skip("pdftotext is not on this machine, so the PDF cannot be read back")
    done = subprocess.run(["pdftotext", "-raw", "-", "-"], input=pdf, capture_output=True, check=True)
    return " ".join(re.sub(r"[\u2009\u202f\u00a0]", " ", done.stdout.decode()).split())


@pytest.mark.parametrize("name", KNOWN)
def test_the_whole_web_can_be_read(name: str) -> None:
    assert overlapping(hole_drawing(known(name))) == []


@pytest.mark.parametrize("sheet", [name for name in DRAWINGS if name != "holes"])
@pytest.mark.parametrize("name", KNOWN)
def test_a_sheet_can_be_read(name: str, sheet: str) -> None:
    drawing = DRAWINGS[sheet][1](known(name), "ab" * 32)
    assert overlapping(drawing) == []
    width, height = SIZES["A3"]
    assert outside(drawing, BINDING, EDGE, width - EDGE, height - EDGE) == []
    title = known(name).build.order.title.split()[0]
    for word in (title, "ababababab", "Tunwright", f"1:{drawing.scale:g}"):
        assert word in words_of(drawing)


@pytest.mark.parametrize("name", KNOWN)
def test_the_sheets_of_the_holes_can_be_read(name: str) -> None:
    sheets = hole_sheets(known(name))
    width, height = SIZES["A3"]
    for drawing in sheets:
        assert drawing.scale == 10.0
        assert overlapping(drawing) == []
        assert outside(drawing, BINDING, EDGE, width - EDGE, height - EDGE) == []


def test_the_worst_state_is_named_and_marked() -> None:
    assessment = known("quarry-carrier")
    drawing, finding = frame_sheet(assessment), assessment.finding("frame-rail")
    (mark,) = groups(drawing.entities, "worst")
    assert f"at {float(mark.data['x']):.2f} m" in finding.state
    assert f"{finding.value:.0f}\u00a0MPa" in words_of(drawing)
    assert finding.state.split(", ", 1)[1].split(",")[0].capitalize() in words_of(drawing)
    assert f"rails ≤ {finding.limit:.0f}\u00a0MPa" in words_of(drawing)


def test_us_orders_read_us_units() -> None:
    words = words_of(frame_sheet(known("brush-carrier")))
    assert "kip\u00a0ft" in words
    assert "ksi" in words
    assert "MPa" not in words
    assert "inches behind the first axle" in words_of(mounting_sheet(known("brush-carrier")))


# what is missing


@pytest.mark.parametrize("sheet", DRAWINGS)
def test_what_is_not_known_is_said_and_not_drawn(sheet: str) -> None:
    assessment = known("lane-carrier")
    assert assessment.framework.missing
    with pytest.raises(FrameNotKnown, match=r"measure or give: .*flange width of a rail"):
        DRAWINGS[sheet][1](assessment, None)


def test_the_dossier_lists_what_to_measure() -> None:
    document = read_text(demo_text("lane-carrier"))
    text = printed(dossier_pdf(Assessment(document.build), document=document))
    part = text[text.rindex("Frame and mounting") :]
    wanted = ("to be measured or given", "flange width of a rail", "the cross-members with their sections")
    for words in (*wanted, "no drawing of holes"):
        assert words in part


def test_the_command_says_what_is_left_out(tmp_path: Path) -> None:
    build = tmp_path / "build.toml"
    build.write_text(demo_text("lane-carrier"), encoding="utf-8")
    done = CliRunner().invoke(program, ["draw", str(build), "--into", str(tmp_path / "drawn")])
    assert done.exit_code == 0
    assert "flange width of a rail" in done.output
    assert "Traceback" not in done.output
    assert not list((tmp_path / "drawn").glob("frame*"))


def test_a_frame_that_nothing_holds_is_said(tmp_path: Path) -> None:
    assessment = assessed(with_mounts(mount("only", 3.0, "bracket")))
    assert assessment.framework.trouble
    assert why_not(assessment) == assessment.framework.trouble
    seen = frame_data(assessment)
    assert (seen["svg"], seen["cases"]) == (None, [])
    assert seen["words"] == assessment.framework.trouble
    written, left_out = write_frame_drawings(assessment, tmp_path)
    assert [path.name for path in written] == ["mounting.svg", "mounting.dxf", "mounting.pdf"]
    assert left_out == [assessment.framework.trouble, left_out[-1]]
    assert "mount.bolts" in left_out[-1]


def test_without_rates_no_twist_is_drawn_and_the_rest_is() -> None:
    text = re.sub(r"(?m)^tyre_rate.*\n", "", demo_text("quarry-carrier"))
    assessment = assessed(text)
    with pytest.raises(FrameNotKnown, match=r"measure or give: .*tyre"):
        twisted_frame(assessment)
    assert "Curves and raised wheels are not tried" in words_of(frame_sheet(assessment))
    assert frame_pdf(assessment).startswith(b"%PDF")


def test_without_the_yield_strength_no_limit_is_drawn() -> None:
    text = re.sub(r"(?m)^yield_strength.*\n", "", demo_text("quarry-carrier"))
    words = words_of(frame_sheet(assessed(text)))
    assert "rails ≤" not in words
    assert "yield strength is not known" in words


# every kind of mount, many holes


@pytest.mark.parametrize("kind", KINDS)
def test_every_kind_of_mount_has_its_mark(kind: str) -> None:
    at = 5.4 if kind == "pivot" else 3.0
    text = with_mounts(mount("one", 1.45, "plate") + mount("other", at, kind) + mount("third", 5.0, "plate"))
    drawing = mounting_sheet(assessed(text))
    marks = [one for one in groups(drawing.entities, "mount") if one.data["mount"] == "other"]
    assert [one.data["kind"] for one in marks] == [kind, kind]  # from the side and from above
    assert all(one.entities for one in marks)
    assert overlapping(drawing) == []


def test_many_holes_take_more_sheets() -> None:
    bolts = 'bolts = { size = "M12", columns = 6, rows = 3, spacing = "60 mm", row_spacing = "55 mm" }'
    mounts = "".join(mount(f"plates {i}", 1.2 + 0.85 * i, "plate", bolts) for i in range(7))
    sheets = hole_sheets(assessed(with_mounts(mounts)))
    assert len(sheets) > 2
    text = printed(drawings_pdf(sheets))
    assert "126 in each rail" in text
    for number in range(1, 127):
        assert re.search(rf"\b{number}\b", text)
    assert [overlapping(sheet) for sheet in sheets] == [[]] * len(sheets)


def test_clamps_are_no_holes() -> None:
    clamp = mount("clamps", 1.45, "clamp", 'bolts = { size = "M16", columns = 2, rows = 1, spacing = "120 mm" }')
    assessment = assessed(with_mounts(clamp + mount("plates", 5.0, "plate")))
    with pytest.raises(FrameNotKnown, match=r"mount\.bolts"):
        hole_sheets(assessment)


# files


def test_files_are_whole_and_the_same_each_time(tmp_path: Path) -> None:
    assessment = known("quarry-carrier")
    first, left_out = write_frame_drawings(assessment, tmp_path / "one", build_hash="ab" * 32)
    names = [f"{name}.{kind}" for name in DRAWINGS for kind in ("svg", "dxf")] + ["frame.pdf", "mounting.pdf"]
    assert [path.name for path in first] == names
    assert sorted(path.name for path in (tmp_path / "one").iterdir()) == sorted(names)
    assert left_out == []
    again, _ = write_frame_drawings(assessment, tmp_path / "two", build_hash="ab" * 32)
    assert [a.read_bytes() == b.read_bytes() for a, b in zip(first, again, strict=True)] == [True] * len(names)
    for path in first:
        if path.suffix == ".dxf":
            report = readfile(path).audit()
            assert (len(report.errors), len(report.fixes)) == (0, 0), path.name


def test_a_pdf_has_a_page_a_drawing_of_its_size() -> None:
    if shutil.which("pdfinfo") is None:
        pytest.skip("pdfinfo is not on this machine, so the PDF cannot be measured")
    pdf = frame_pdf(known("village-carrier"))
    done = subprocess.run(["pdfinfo", "-"], input=pdf, capture_output=True, check=True).stdout.decode()
    assert re.search(r"Pages:\s+4\b", done)
    size = re.search(r"Page size:\s+([\d.]+) x ([\d.]+)", done)
    assert size is not None
    assert [float(size.group(i)) * 25.4 / 72.0 for i in (1, 2)] == pytest.approx(SIZES["A3"], abs=0.5)
    with pytest.raises(ValueError, match="no drawing to print"):
        drawings_pdf([])


def test_the_shop_is_told_what_to_mind() -> None:
    text = printed(mounting_pdf(known("quarry-carrier")))
    for words in (
        "Holes in the web only", "deburr", "no weld in or on the flanges", "written rules come first", "local codes",
        "batteries and control units off", "both rails", "ISO 273", "Ø 17.5 for M16",
    ):  # fmt: skip
        assert words in text


def test_a_figure_stays_with_its_unit_in_a_broken_name() -> None:
    placed = Board([], 40.0).place([Label((0.0, 0.0), "right subframe sagging 2.2\u00a0kN\u00a0m")])
    lines = [part.text for part in placed if isinstance(part, Text)]
    assert len(lines) == 2
    assert sum("2.2\u00a0kN\u00a0m" in line for line in lines) == 1
