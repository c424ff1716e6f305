"""The printed dossier: what stands in it, that any text prints as typed, and that nothing runs off the page."""

from __future__ import annotations

import itertools
import re
import shutil
import subprocess
from collections.abc import Callable
from dataclasses import replace
from functools import cache, partial
from importlib.resources import files
from pathlib import Path

import pytest

from tunwright.build.model import Build
from tunwright.build.reading import Document, read_text
from tunwright.build.shown import show_number
from tunwright.build.starter import starter_text
from tunwright.checks.assess import Assessment
from tunwright.checks.finding import Finding, Rule
from tunwright.demos import NAMES, demo_text
from tunwright.sheets import dossier
from tunwright.sheets import words as said
from tunwright.sheets.dossier import dossier_pdf, write_dossier
from tunwright.sheets.dossier.amounts import NOT_KNOWN, Amounts
from tunwright.sheets.dossier.blocks import LONG, row
from tunwright.sheets.dossier.cover import _worst
from tunwright.sheets.dossier.findings import _Book
from tunwright.sheets.input_words import label, labels
from tunwright.tables.read import tables_hash

DEMO = files("tunwright.demos").joinpath("quarry-carrier.toml").read_text("utf-8")
HOSTILE = r'#panic("x") *a*_b_$ `c` <d> @e \ [f] // ~ -- ${x} {{y}} </svg>'
TITLE = "Site water carrier, Marrow Hollow quarry"
MARGIN = 9.0  # nearest to the edge of the paper that anything may stand [mm]


def quoted(text: str) -> str:
    return text.replace("\\", "\\\\").replace('"', '\\"')


def without_groups(text: str) -> str:
    """Three axles on springs of unknown rate: how they share the load is not known."""
    text = re.sub(r"(?s)\[\[chassis\.group\]\].*?(?=\[chassis\.frame\])", "", text)
    text = re.sub(r"(?m)^spring_rate = .*\n", "", text)
    for place in ("3.90", "5.27"):
        at = f'at = {{ value = "{place} m", from = "measured" }}'
        text = text.replace(at, f'{at}\nkerb_load = "2050 kg"')
    return text


def fittings(count: int) -> str:
    one = '[[item]]\nname = "fitting no {i}"\nmass = {{ value = "5 kg", from = "assumed" }}\nat = "{x:.2f} m"\n'
    one += 'height = "1.1 m"\non = "frame"\nlength = "90 mm"\nwidth = "90 mm"\ntall = "90 mm"\n\n'
    return "\n" + "".join(one.format(i=i, x=1.2 + 0.08 * i) for i in range(count))


def compartments(text: str, count: int) -> str:
    text = re.sub(r"(?s)\[\[tank\.baffle\]\].*?(?=\[\[tank\.manhole\]\])", "", text)
    ends = [4.9 * i / count for i in range(count + 1)]
    parts = [
        f'[[tank.compartment]]\nname = "cell {i + 1}"\nfrom = "{a:.4f} m"\nto = "{b:.4f} m"\n\n'
        for i, (a, b) in enumerate(itertools.pairwise(ends))
    ]
    return text.replace("[[tank.manhole]]", "".join(parts) + "[[tank.manhole]]", 1)


def named(text: str, old: str, new: str) -> str:
    assert old in text
    return text.replace(f'"{old}"', f'"{quoted(new)}"')


BUILDS: dict[str, Callable[[], str]] = {
    "demo": lambda: DEMO,
    "hostile": lambda: named(named(named(DEMO, TITLE, HOSTILE), "hose reel", HOSTILE[:60]), "front", "#let x = *f*"),
    "long names": lambda: named(named(named(DEMO, TITLE, "W" * 200), "Ostrel 26 6x4", "x" * 200), "front", "Q" * 60),
    "centre unknown": lambda: re.sub(r"cg_height.*\n", "", DEMO),
    "sharing unknown": lambda: without_groups(DEMO),
    "sixty items": lambda: DEMO + fittings(53),
    "eight compartments": lambda: compartments(DEMO, 8),
    "us": lambda: DEMO.replace('rules = ["eu-96-53"]', 'rules = ["us-federal"]\nunits = "us"'),
    "too far forward": lambda: DEMO.replace('middle = "3.75 m"', 'middle = "3.10 m"'),
    "other scripts": lambda: named(DEMO, "Marrow Hollow Stone", "\u6f22\u5b57 \u041a\u0430\u043c\u0435\u043d\u044c"),
}


@cache
def made(name: str) -> tuple[Assessment, Document, bytes]:
    document = read_text(BUILDS[name]())
    assessment = Assessment(document.build)
    return assessment, document, dossier_pdf(assessment, document=document)


def poppler(tool: str, pdf: bytes, *options: str) -> str:
    if shutil.which(tool) is None:
        pytest.skip(f"{tool} is not on this machine, so the PDF cannot be read back")
    target = ["-"] if tool == "pdftotext" else []
    done = subprocess.run([tool, *options, "-", *target], input=pdf, capture_output=True, check=True)
    return done.stdout.decode()


def plain(text: str) -> str:
    """One kind of space, no places to break, one line."""
    return " ".join(re.sub(r"[\u200b\u2060]", "", re.sub(r"[\u2009\u202f\u00a0]", " ", text)).split())


def printed(name: str, *options: str) -> str:
    return plain(poppler("pdftotext", made(name)[2], *options))


def pages(pdf: bytes) -> int:
    return int(re.search(r"Pages:\s+(\d+)", poppler("pdfinfo", pdf)).group(1))  # type: ignore[union-attr]


@pytest.mark.parametrize("name", BUILDS)
def test_every_build_prints_on_a_sane_number_of_pages(name: str) -> None:
    pdf = made(name)[2]
    assert pdf.startswith(b"%PDF-")
    assert 10 <= pages(pdf) <= (60 if name == "sixty items" else 53)


@pytest.mark.parametrize("name", BUILDS)
def test_nothing_stands_beyond_the_margin(name: str) -> None:
    boxes = poppler("pdftotext", made(name)[2], "-bbox")
    seen = 0
    for page in re.findall(r'<page width="([\d.]+)"[^>]*>(.*?)</page>', boxes, re.DOTALL):
        width = float(page[0])
        for left, right, word in re.findall(r'xMin="([\d.]+)"[^>]*xMax="([\d.]+)"[^>]*>([^<]*)<', page[1]):
            seen += 1
            assert float(left) > MARGIN * 72 / 25.4, word
            assert float(right) < width - MARGIN * 72 / 25.4, word
    assert seen > 2000


@pytest.mark.parametrize("name", BUILDS)
def test_no_word_of_a_computer_is_printed(name: str) -> None:
    text = printed(name)
    if name != "hostile":
        assert not re.search(r"[{}]", text)
    assert not re.search(r"\b(nan|NaN|None|inf|True|False)\b", text)
    assert not re.search(r"chassis\.\w+|tank\.\w+|item\[", text)


def test_the_same_build_gives_the_same_bytes() -> None:
    _, document, pdf = made("demo")
    assert dossier_pdf(Assessment(document.build), document=document) == pdf


def test_it_says_what_it_was_made_with() -> None:
    document = made("demo")[1]
    text = printed("demo")
    assert document.sha256 in text
    assert tables_hash() in text
    assert f"page 1 of {pages(made('demo')[2])}" in text


def test_the_cover_gives_the_answer_and_the_volumes() -> None:
    assessment = made("demo")[0]
    cover = printed("demo", "-l", "1", "-layout")
    volumes = assessment.truck.volumes
    for volume in (volumes.gross, volumes.net, volumes.usable):
        assert plain(f"{show_number(1000 * float(volume.sum()))} L") in cover
    head = re.split(r"[:,.] ?", said.answer(assessment))[0]
    assert f"{head}." in cover
    assert plain(said.window_words(assessment)) in cover
    for verdict in ("fails", "open", "close", "holds"):
        assert f"{assessment.counts[verdict]} {verdict}" in cover
    for order in (TITLE, "J-0217", "Marrow Hollow Stone", "2026-03-09", "dust suppression", "unpaved", "96/53/EC"):
        assert order in cover
    assert "never an approval" in cover


def test_a_build_that_fails_says_so_with_the_litres_that_would_do() -> None:
    assessment = made("too far forward")[0]
    assert assessment.worst == "fails"
    cover = printed("too far forward", "-l", "1")
    assert plain(show_number(1000 * assessment.fill_limit.water)) in cover
    worst = assessment.findings[0]
    assert plain(f"{worst.question} No: {show_number(worst.value or 0.0)} kg, allowed at most") in cover
    assert "Remedy: move the tank back" in cover


def test_the_loads_of_every_level_are_printed() -> None:
    assessment = made("demo")[0]
    text = printed("demo", "-layout")
    table = assessment.truck.table
    level = table.only(table.mask(sort="even", crew=True, grade=0.0, slope=0.0, braking=0.0))
    assert len(level.states) == 22
    for loads, gross in zip(level.axles, level.gross, strict=True):
        figures = [*loads, loads[1] + loads[2], gross]
        assert plain(" ".join(show_number(float(figure)) for figure in figures)) in text


@pytest.mark.parametrize("name", ["demo", "centre unknown", "eight compartments"])
def test_every_question_stands_in_the_dossier(name: str) -> None:
    assessment, text = made(name)[0], printed(name)
    for finding in assessment.findings:
        assert plain(finding.question) in text


def test_every_typed_value_and_note_is_printed() -> None:
    text = printed("demo")
    assert "weighbridge ticket 5512" in text
    for typed in re.findall(r'value = "([^"]+)"', DEMO):
        assert plain(typed) in text, typed


def test_assumed_values_are_listed_with_what_rests_on_them() -> None:
    assessment = made("demo")[0]
    text = printed("demo", "-layout")
    path = "item[2].mass"
    count = sum(path in finding.assumed for finding in assessment.findings)
    assert count
    assert f"item “suction and delivery pipes, valves”: its mass 190 kg 190 kg {count}" in text


def test_any_text_prints_as_it_was_typed() -> None:
    text = printed("hostile", "-layout")
    assert HOSTILE in text
    assert HOSTILE[:60] in printed("hostile")
    assert "Load on the #let x = *f* axle within its rating?" in text


def test_a_missing_fact_reads_as_words() -> None:
    what = "height of the centre of gravity of the weighed chassis"
    text = printed("centre unknown")
    assert f"Measure or give: {what}." in text
    assert f"Not known: measure the {what}." in text
    assert f"measure or give: {what}" in text
    assert "of the springs of one side" in printed("sharing unknown", "-l", "1")
    assert "No axle load is given" in printed("sharing unknown")


def test_all_of_many_items_and_compartments_are_there() -> None:
    items = printed("sixty items", "-layout")
    for i in range(53):
        assert len(re.findall(rf"fitting no {i}\b", items)) >= 3  # in the data, among the weights, in the workings
    cells = printed("eight compartments")
    assert all(f"cell {i}" in cells for i in range(1, 9))


def test_the_order_chooses_the_units() -> None:
    cover = printed("us", "-l", "1")
    assert "US gal" in cover
    assert not re.search(r"\d (kg|mm|L)\b", cover)
    assert "Workings are in SI units" in printed("us")


def test_given_drawings_get_a_page_of_their_size() -> None:
    assessment, document, _ = made("demo")
    svg = '<svg xmlns="http://www.w3.org/2000/svg" width="{0}mm" height="{1}mm" viewBox="0 0 {0} {1}"></svg>'
    sizes = {"small": (100, 100), "wide": (300, 120), "sheet": (420, 297), "huge": (900, 300)}
    drawings = {name: svg.format(*size) for name, size in sizes.items()}
    pdf = dossier_pdf(assessment, document=document, drawings=drawings)
    found = re.findall(r"Page +\d+ size: +([\d.]+) x ([\d.]+)", poppler("pdfinfo", pdf, "-f", "1", "-l", "40"))
    wide = [round(float(x) / 72 * 25.4) for x, y in found if float(x) > float(y)]
    assert wide == [420, 297, 420, 420, 420], "the schematic of the pipework, then what was given"
    text = plain(poppler("pdftotext", pdf))
    assert text.count("Made smaller to fit the page") == 1


def test_writing_leaves_one_whole_file(tmp_path: Path) -> None:
    assessment, document, pdf = made("demo")
    target = tmp_path / "dossier.pdf"
    assert write_dossier(assessment, document, target) == target
    assert target.read_bytes() == pdf
    assert [one.name for one in tmp_path.iterdir()] == ["dossier.pdf"]


def test_a_failed_dossier_leaves_the_old_one(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    assessment, document, _ = made("demo")
    target = tmp_path / "dossier.pdf"
    target.write_bytes(b"old")

    def fail(*_: object, **__: object) -> bytes:
        raise RuntimeError("no paper")

    monkeypatch.setattr(dossier, "pressed", fail)
    with pytest.raises(RuntimeError, match="no paper"):
        write_dossier(assessment, document, target)
    assert [(one.name, one.read_bytes()) for one in tmp_path.iterdir()] == [("dossier.pdf", b"old")]


def build() -> Build:
    return read_text(DEMO).build


@pytest.mark.parametrize(
    ("path", "words"),
    [
        ("chassis.cg_height", "height of the centre of gravity of the weighed chassis"),
        ("chassis.axle[2].spring_rate", "axle “rear 1”: vertical rate of the springs of one side"),
        ("chassis.fuel.level", "fuel: how full it was when the chassis was weighed"),
        ("tank.baffle[1].opening[2].diameter", "tank, baffle 1, opening 2: diameter"),
        ("subframe.from", "subframe: front end, behind the first axle"),
        ("a gross limit for 5 axles", "a gross limit for 5 axles"),
    ],
)
def test_inputs_are_named_in_words(path: str, words: str) -> None:
    assert label(build(), path) == words


def test_inputs_of_several_tables_are_named_together() -> None:
    paths = [f"chassis.axle[{i}].spring_rate" for i in (1, 2, 3)]
    assert labels(build(), paths) == ["axle “front”, “rear 1”, “rear 2”: vertical rate of the springs of one side"]


def finding(value: float | None, limit: float | None, unit: str) -> Finding:
    return Finding("key", "question?", "", value, limit, unit, "at_most", "fails", Rule("rule"))


@pytest.mark.parametrize(
    ("one", "system", "pair"),
    [
        (finding(8000.3, 8000.0, "kg"), "metric", ("8 000.3 kg", "8 000.0 kg")),
        (finding(9403.07, 8000.0, "kg"), "metric", ("9 403 kg", "8 000 kg")),
        (finding(9403.07, 8000.0, "kg"), "us", ("20 730 lb", "17 637 lb")),
        (finding(0.3306, 0.2, "share"), "metric", ("33.1 %", "20 %")),
        (finding(2.5, 2.55, "m"), "metric", ("2 500 mm", "2 550 mm")),
        (finding(13113.1, 12000.0, "L"), "us", ("3 464 US gal", "3 170 US gal")),
        (finding(0.41, 0.4, "g"), "us", ("0.41 g", "0.4 g")),
        (finding(2.81, 3.0, "m/s"), "metric", ("2.81 m/s", "3.00 m/s")),
        (finding(2.81, 3.0, "m/s"), "us", ("9.2 ft/s", "9.8 ft/s")),
        (finding(3.0, 5.0, "turns"), "metric", ("3.00 turns", "5.00 turns")),
        (replace(finding(None, float("nan"), "kg"), verdict="open"), "metric", (NOT_KNOWN, NOT_KNOWN)),
        (finding(None, None, "kg"), "metric", ("", "")),
    ],
)
def test_values_and_limits_in_print(one: Finding, system: str, pair: tuple[str, str]) -> None:
    assert tuple(map(plain, Amounts(system).of_finding(one))) == pair  # type: ignore[arg-type]


@pytest.mark.parametrize("name", ["demo", "eight compartments"])
def test_a_working_can_be_put_together_again(name: str) -> None:
    findings = made(name)[0].findings
    book = _Book(made(name)[1].build, Amounts("metric"), findings)
    short = 0
    for i, one in enumerate(findings):
        data = book.finding(i)
        shared = len(one.working) - len(data["steps"])
        short += bool(shared)
        if shared:
            before = int(re.search(r"Steps 1 to \d+ are those of finding (\d+)", data["same"]).group(1))  # type: ignore[union-attr]
            assert before <= i
            assert findings[before - 1].working[:shared] == one.working[:shared]
        assert [step[1] for step in data["steps"]] == [step.what for step in one.working[shared:]]
        assert [step[0] for step in data["steps"]] == [str(k + 1) for k in range(shared, len(one.working))]
    assert short > 5


def test_a_very_long_cell_may_be_parted() -> None:
    assert row(["x" * (LONG + 1)])["long"]
    assert not row(["x" * LONG, "y"])["long"]


def test_the_template_asks_for_nothing_from_outside() -> None:
    folder = files("tunwright.sheets.dossier")
    templates = [one.read_text("utf-8") for one in folder.iterdir() if one.name.endswith(".typ")]
    assert len(templates) == 3
    assert not any(re.search(r"@preview|#import|#include|https?:", text) for text in templates)


def starter(layout: str, units: str) -> str:
    return starter_text(layout=layout, units=units, title="A first try")  # type: ignore[arg-type]


FIRST: dict[str, Callable[[], str]] = {
    **{f"{one} {units}": partial(starter, one, units) for one in ("4x2", "6x4", "8x4") for units in ("metric", "us")},
    **{name: partial(demo_text, name) for name in NAMES},
}
HEAD = re.compile(r"^\s*(\d+)[\s\u2002]+([A-Z][a-z ]+?)\s*$", re.MULTILINE)
LISTED = re.compile(r"(\d)[\s\u2002]+([A-Z][a-z ]+?)(?: \.){4,}\s*(\d+)\b")


def sheets_of(text: str) -> list[str]:
    document = read_text(text)
    pdf = dossier_pdf(Assessment(document.build), document=document)
    read = re.sub(r"[\u200b\u2060]", "", poppler("pdftotext", pdf, "-layout"))
    return read.replace("\u00a0", " ").split("\f")[:-1]


@pytest.mark.parametrize("name", FIRST)
def test_pages_count_up_and_the_contents_name_the_pages_of_the_headings(name: str) -> None:
    text = FIRST[name]()
    sheets = sheets_of(text)
    count = len(sheets)
    assert [re.findall(r"page +(\d+) +of +(\d+)", sheet) for sheet in sheets] == [
        [(str(i), str(count))] for i in range(1, count + 1)
    ]
    stands = {title: i for i, sheet in enumerate(sheets, start=1) for _, title in HEAD.findall(sheet)}
    listed = {title: int(page) for _, title, page in LISTED.findall("\n".join(sheets[:2]))}
    assert set(listed) >= {"The order and the data", "Weights", "Axle loads", "Dip table", "Findings"}
    assert {title: page for title, page in stands.items() if title in listed} == {
        title: page for title, page in listed.items() if title != "Drawings"
    }
    title = read_text(text).build.order.title
    assert all(title in sheet for sheet in sheets[1:] if "Drawn by the program" not in sheet)


LIFT = """
[[chassis.axle]]
name = "tag"
at = "6.60 m"
rating = "7500 kg"
kerb_load = "0 kg"
lift = true
raised_when_weighed = true
"""


def with_lift(rate: str) -> str:
    """The demo with a third rear axle that was up when it was weighed; without its springs no load is known."""
    return DEMO.replace("[[chassis.group]]", f"{LIFT}{rate}\n[[chassis.group]]", 1)


def test_without_known_sharing_there_is_neither_window_nor_fill_limit() -> None:
    document = read_text(with_lift(""))
    assessment = Assessment(document.build)
    assert assessment.unknown
    text = plain(poppler("pdftotext", dossier_pdf(assessment, document=document)))
    assert "Where the tank may stand is not known" in text
    assert "The fill limit by mass is not known" in text
    assert "It stands at" not in text
    assert "permitted" not in text
    assert "over the fill limit" not in text
    assert "tag axle lifted" in text
    assert not re.search(r"lift choice|axles lifted(?! taken)", text)


def test_where_all_holds_the_nearest_to_their_limits_come_first() -> None:
    assessment = made("demo")[0]
    far = tuple(
        Finding(f"f{i}", f"Q{i}?", "", value, 100.0, "kg", "at_most", "holds", Rule("r"))
        for i, value in enumerate((10.0, 80.0, 60.0, 85.0, None))
    )
    rows = _worst(assessment.build, far, Amounts("metric"))["rows"]
    assert [one["cells"][0] if isinstance(one, dict) else one[0] for one in rows] == ["4", "2", "3"]


def test_emptying_orders_are_printed_in_full() -> None:
    text = demo_text("village-carrier")
    orders = read_text(text).build.states.emptying
    assert orders
    document = read_text(text)
    read = plain(poppler("pdftotext", dossier_pdf(Assessment(document.build), document=document)))
    assert all(" then ".join(order) in read for order in orders)


def test_a_folder_that_cannot_be_made_is_named_as_it_was_given(tmp_path: Path) -> None:
    assessment, document, _ = made("demo")
    assert write_dossier(assessment, document, tmp_path / "new" / "deep.pdf").exists()
    (tmp_path / "file").write_text("")
    with pytest.raises(OSError, match=r"/file/x\.pdf'$"):
        write_dossier(assessment, document, tmp_path / "file" / "x.pdf")


def test_the_pipework_has_its_flows_pressures_and_schematic() -> None:
    assessment, _, pdf = made("demo")
    text = plain(poppler("pdftotext", pdf, "-layout"))
    for one in assessment.pipes.worked:
        assert f"{one.duty.name[:1].upper()}{one.duty.name[1:]}, tank half full" in text
    state = min(assessment.pipes.worked[0].states, key=lambda each: abs(each.fill - 0.5))
    figures = (60_000 * state.flow("rear line"), state.velocity("rear line"), state.pressure("rear header") / 1e5)
    assert "rear line sch 40, DN80 {:.0f} {:.2f} {:.2f} rear header".format(*figures) in text
    assert "Pipework, valves in their normal position" in text
