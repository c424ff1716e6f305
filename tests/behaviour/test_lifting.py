"""The lift of a build file: what is refused, what stays open, what remedies promise, and the plan on paper."""

from __future__ import annotations

import re
import shutil
import subprocess
from itertools import combinations
from pathlib import Path

import pytest

from tunwright.build.problems import BuildProblems
from tunwright.build.reading import Document, read_text
from tunwright.checks.assess import Assessment
from tunwright.checks.finding import Finding
from tunwright.checks.remedy import Remedies
from tunwright.demos import demo_text
from tunwright.sheets.annotate import flatten
from tunwright.sheets.dossier import dossier_pdf, lifting_pdf
from tunwright.sheets.drawing import Line, Text
from tunwright.sheets.lettering import text_corners
from tunwright.sheets.output import lifting_view, write_drawings
from tunwright.sheets.views.lifting import lifting_drawing

VILLAGE = demo_text("village-carrier")
START, END = VILLAGE.index("[lifting]"), VILLAGE.index("[states]")
LUG = VILLAGE[VILLAGE.index("[lifting.lug]") : VILLAGE.index("[[lifting.crane]]")]
FOUR = ((0.65, -0.48), (0.65, 0.48), (3.25, -0.48), (3.25, 0.48))
Places = tuple[tuple[float, float], ...]


def eyes(places: Places = FOUR, up: float = 1.24) -> str:
    return "".join(f'[[lifting.eye]]\nat = "{x} m"\ny = "{y} m"\nheight = "{up} m"\n\n' for x, y in places)


def village(head: str = 'leg_length = "2.6 m"', more: str = "", *, where: str = "") -> str:
    return f"{VILLAGE[:START]}[lifting]\n{head}\n\n{where or eyes()}{more}\n{VILLAGE[END:]}"


def changed(*pairs: tuple[str, str]) -> str:
    text = VILLAGE
    for old, new in pairs:
        assert old in text[START:], old
        text = text[:START] + text[START:].replace(old, new, 1)
    return text


def assessed(text: str) -> Assessment:
    return Assessment(read_text(text).build, frame=False)


def found(text: str) -> dict[str, Finding]:
    return {f.key: f for f in Remedies(assessed(text)).findings() if f.key.startswith("hoist")}


# ------------------------------------------------------------------------------------------------ what is asked at all


def test_a_build_without_a_lift_asks_nothing() -> None:
    assert found(VILLAGE[:START] + VILLAGE[END:]) == {}


def test_the_demo_holds() -> None:
    answers = found(VILLAGE)
    assert len(answers) == 10
    assert {one.verdict for one in answers.values()} == {"holds"}
    assert all(one.working and one.rule.document for one in answers.values())
    assert answers["hoist-pull"].assumed == ("item[5].mass",), "the ladder stands on the tank, the lockers do not"


@pytest.mark.parametrize(
    ("head", "more", "missing"),
    [
        ("", "", {"lifting.leg_length", "lifting.lug", "lifting.crane", "lifting.radius"}),
        ('leg_length = "2.6 m"', "", {"lifting.leg_rating", "lifting.lug", "lifting.crane", "lifting.radius"}),
        (
            'hook_height = "2 m"\nleg_rating = "2 t"',
            LUG.replace('throat = "5 mm"\nweld_length = "120 mm"\n', "")
            + '[[lifting.crane]]\nradius = "6 m"\ncapacity = "3 t"\n',
            {"lifting.lug.throat", "lifting.lug.weld_length", "lifting.radius"},
        ),
        (
            'leg_length = "2.6 m"\nleg_rating = "2 t"',
            LUG + '[lifting.forklift]\ncapacity = "5 t"\nload_centre = "600 mm"\n',
            {"lifting.forklift.at"},
        ),
    ],
)
def test_what_is_not_said_is_named(head: str, more: str, missing: set[str]) -> None:
    answers = found(village(head, more)).values()
    assert {path for one in answers for path in one.missing} == missing
    assert all(one.verdict == "open" for one in answers if one.missing)
    assert all(one.verdict == "holds" for one in answers if not one.missing)


def test_an_open_pull_says_what_would_do() -> None:
    assert "is 844 kg" in found(village())["hoist-pull"].note


def test_an_aluminium_tank_has_no_rule_for_its_weld() -> None:
    text = changed(('steel = "1.4301"', 'steel = "S235"')).replace('material = "1.4301"', 'material = "5083"', 1)
    weld = found(text)["hoist-lug-weld"]
    assert weld.verdict == "open"
    assert "a tank of steel" in weld.missing[0]


def test_a_tank_that_does_not_hang_is_said_once() -> None:
    off = eyes(((0.2, -0.48), (0.2, 0.48), (1.6, -0.48), (1.6, 0.48)))
    answers = found(village('leg_length = "2.6 m"', LUG, where=off))
    assert answers["hoist-balance"].verdict == "fails"
    assert (answers["hoist-balance"].value or 0.0) < 0.0
    for key in ("hoist-angle", "hoist-pull", "hoist-tilt", "hoist-lug-net", "hoist-lug-weld"):
        assert answers[key].missing == ("eyes from which the tank hangs",)


def test_two_eyes_below_the_centre_turn_over() -> None:
    text = village('leg_length = "3 m"', where=eyes(((0.65, 0.0), (3.25, 0.0)), up=0.5))
    assert found(text)["hoist-balance"].verdict == "fails"


def test_eyes_are_called_by_where_they_stand() -> None:
    assert "rear left" in found(VILLAGE)["hoist-pull"].state
    named = VILLAGE[:START] + VILLAGE[START:].replace('at = "3.25 m"', 'name = "lug C"\nat = "3.25 m"', 1)
    assert "lug C" in found(named)["hoist-pull"].state


# ------------------------------------------------------------------------------------------------------- bad input


WRONG = [
    (village(where=eyes(FOUR[:1])), "lifting.eye", "too few"),
    (village(where=eyes((*FOUR, (2.0, 0.0)))), "lifting.eye", "too many"),
    (village('leg_length = "1.2 m"'), "lifting.leg_length", "too short to meet"),
    (village('leg_length = "2.6 m"\nhook_height = "2 m"'), "lifting.hook_height", "give one of them"),
    (village('leg_length = "2.6 m"\nlegs = 2'), "lifting.legs", "2 legs, and there are 4 eyes"),
    (village('leg_length = "2.6 m"', where=eyes((*FOUR[:3], (2.4, 0.48)))), "lifting.leg_length", "do not meet"),
    (village(where=eyes(((0.5, 0), (2.0, 0), (3.5, 0)))), "lifting.eye", "on one line"),
    (village(where=eyes(((0.5, 0), (0.5, 0)))), "lifting.eye[2].at", "an eye here already"),
    (village("", where=eyes(((0.5, 0), (6.5, 0)))), "lifting.eye[2].at", "does not stand on the tank"),
    (village(where=eyes(((0.5, 2.4), (2.5, 0)))), "lifting.eye[1].y", "does not stand on the tank"),
    (village("", where=eyes().replace("1.24", "4", 1)), "lifting.eye[1].height", "does not stand on the tank"),
    (village(where=eyes().replace("at", 'name = "a"\nat', 2)), "lifting.eye[2].name", "Two eyes have this name"),
    (changed(('pin = "19 mm"', 'pin = "25 mm"')), "lifting.lug.pin", "does not go through the hole"),
    (changed(('rounding = "40 mm"', 'rounding = "5 mm"')), "lifting.lug.rounding", "closer than half the pin"),
    (changed(('throat = "5 mm"\n', "")), "lifting.lug.throat", "needs both"),
    (changed(('throat = "5 mm"', 'throat = "2 mm"')), "lifting.lug.throat", "3 mm or more"),
    (changed(('weld_length = "120 mm"', 'weld_length = "130 mm"')), "lifting.lug.weld_length", "longer than the plate"),
    (changed(('weld_length = "120 mm"', 'weld_length = "35 mm"')), "lifting.lug.weld_length", "too short to carry"),
    (changed(('thickness = "15 mm"', 'thickness = "90 mm"')), "lifting.lug.thickness", "thicker than any"),
    (changed(('radius = "6 m"', 'radius = "9 m"')), "lifting.radius", "does not reach so far"),
    (changed(('radius = "5 m"', 'radius = "2 m"')), "lifting.crane[2].radius", "nearest radius outwards"),
    (changed(('value = "3600 kg"', 'value = "7000 kg"')), "lifting.crane[2].capacity", "lifts no more farther out"),
]


@pytest.mark.parametrize(("text", "path", "words"), WRONG)
def test_a_lift_that_cannot_be_meant_is_refused_in_a_sentence(text: str, path: str, words: str) -> None:
    with pytest.raises(BuildProblems) as broken:
        read_text(text)
    (problem,) = broken.value.problems
    assert problem.path == path
    assert problem.line is not None
    assert words in problem.sentence("draft")
    assert problem.allowed


def test_a_subframe_that_is_not_there_is_not_lifted() -> None:
    text = re.sub(r"(?s)\[subframe\].*?(?=\[\[crew\]\])", "", village('leg_length = "2.6 m"\nwith_subframe = true'))
    with pytest.raises(BuildProblems, match="no subframe to lift"):
        read_text(text)


# --------------------------------------------------------------------------------------------------------- remedies


@pytest.mark.parametrize(
    ("text", "key", "words"),
    [
        (changed(('leg_length = "2.6 m"', 'leg_length = "1.5 m"')), "hoist-angle", r"take legs of 1 650 mm"),
        (changed(('value = "2000 kg"', 'value = "800 kg"')), "hoist-pull", r"take legs of 3 100 mm"),
        (changed(('value = "2000 kg"', 'value = "500 kg"')), "hoist-pull", r"load limit of 850 kg for each leg"),
        (
            village(where=eyes(((0.9, -0.48), (0.9, 0.48), (3.5, -0.48), (3.5, 0.48)))),
            "hoist-tilt",
            r"over the centre of gravity: 2 490 mm front left, 2 490 mm front right",
        ),
        (changed(('pin = "19 mm"', 'pin = "6 mm"')), "hoist-lug-bearing", r"a shackle with a pin of 13 mm"),
        (changed(('thickness = "15 mm"', 'thickness = "1.2 mm"')), "hoist-lug-tear", r"make the lug of 6 mm plate"),
        (changed(("hook", "across"), ('"15 mm"', '"10 mm"')), "hoist-lug-aside", "towards the hook"),
        (changed(('weld_length = "120', 'weld_length = "45')), "hoist-lug-weld", r"along its whole foot .* 5 mm"),
        (changed(('radius = "6 m"', 'radius = "8 m"'), ("1900 kg", "1200 kg")), "hoist-crane", r"within 6 000 mm"),
    ],
)
def test_remedies_hold_what_they_promise(text: str, key: str, words: str) -> None:
    """Remedies are tried on a copy before they are offered; here it is that there is one, and which."""
    finding = found(text)[key]
    assert finding.verdict == "fails"
    assert finding.remedy is not None
    assert re.search(words, finding.remedy.words.replace("\u2009", " ")), finding.remedy.words


def test_a_forklift_is_brought_closer() -> None:
    fork = '[lifting.forklift]\ncapacity = "3 t"\nload_centre = "500 mm"\nat = "1.5 m"\n'
    finding = found(village(more=fork))["hoist-forklift"]
    assert finding.verdict == "fails"
    assert finding.remedy is not None
    assert finding.remedy.words == "bring the hook within 1\u2009100 mm of the fork face"


# -------------------------------------------------------------------------------------------------- drawing and page


SLINGS = {
    "four": VILLAGE,
    "two": village('leg_length = "3 m"', where=eyes(((0.65, 0.0), (3.4, 0.0)), up=1.3)),
    "three": village('leg_length = "1.9 m"', where=eyes(((0.65, 0.0), (3.25, -0.48), (3.25, 0.48)))),
    "over the centre": village('hook_height = "1 m"', where=eyes(((0.4, -0.5), (0.4, 0.5), (3, -0.7), (3, 0.4)))),
    "no sling yet": village(""),
    "does not hang": village(where=eyes(((0.2, -0.48), (0.2, 0.48), (1.6, -0.48), (1.6, 0.48)))),
    "us": village('leg_length = "8 ft"').replace('volume_means = "usable"', 'volume_means = "usable"\nunits = "us"'),
}  # fmt: skip


def read(name: str) -> tuple[Assessment, Document]:
    document = read_text(SLINGS[name])
    return Assessment(document.build, frame=False), document


@pytest.mark.parametrize("name", SLINGS)
def test_no_two_texts_overlap_on_the_drawing(name: str) -> None:
    for drawing in (lifting_view(read(name)[0]), lifting_drawing(read(name)[0], width_mm=170.0, height_mm=104.0)):
        boxes = [
            (one.text, text_corners(one, drawing.scale))
            for one in flatten(drawing.entities, drawing.scale)
            if isinstance(one, Text) and one.text
        ]
        assert len(boxes) > 5
        for (a, one), (b, two) in combinations(boxes, 2):
            (left, low), (right, high) = (tuple(f(p[i] for p in one) for i in (0, 1)) for f in (min, max))
            (start, under), (end, over) = (tuple(f(p[i] for p in two) for i in (0, 1)) for f in (min, max))
            assert right <= start or end <= left or high <= under or over <= low, (a, b)


def test_the_drawing_is_true_to_scale() -> None:
    assessment, _ = read("four")
    drawing = lifting_drawing(assessment)
    legs = [one for one in flatten(drawing.entities, drawing.scale) if isinstance(one, Line) and one.layer == "accent"]
    side = max(legs, key=lambda leg: abs(leg.end[0] - leg.start[0]))
    assert abs(side.end[0] - side.start[0]) == pytest.approx(1.3)
    assert side.end[1] - side.start[1] == pytest.approx((2.6**2 - 1.3**2 - 0.48**2) ** 0.5)


def test_without_a_lift_there_is_neither_drawing_nor_plan() -> None:
    document = read_text(VILLAGE[:START] + VILLAGE[END:])
    assessment = Assessment(document.build, frame=False)
    with pytest.raises(ValueError, match=r"a table \[lifting\]"):
        lifting_view(assessment)
    with pytest.raises(ValueError, match=r"a table \[lifting\]"):
        lifting_pdf(assessment, document=document)


def test_it_is_drawn_with_the_other_views(tmp_path: Path) -> None:
    assessment, document = read("four")
    names = [path.name for path in write_drawings(assessment, tmp_path, build_hash=document.sha256)]
    assert names[-2:] == ["lifting.svg", "lifting.dxf"]


def printed(pdf: bytes) -> str:
    if shutil.which("pdftotext") is None:
        pytest.skip("pdftotext is not on this machine, so the PDF cannot be read back")
    done = subprocess.run(["pdftotext", "-layout", "-", "-"], input=pdf, capture_output=True, check=True)
    text = re.sub(r"[\u200b\u2060]", "", re.sub(r"[\u2009\u202f\u00a0]", " ", done.stdout.decode()))
    return " ".join(text.split())


@pytest.mark.parametrize("name", SLINGS)
def test_the_plan_prints(name: str) -> None:
    assessment, document = read(name)
    pdf = lifting_pdf(assessment, document=document)
    assert pdf == lifting_pdf(assessment, document=document)
    text = printed(pdf)
    assert "Lifting plan" in text
    assert "page 1 of" in text
    assert not re.search(r"\b(nan|NaN|None|inf|True|False)\b|lifting\.\w+", text)
    for words in ("never an approval", "Nobody stands under the load", "Trial lift", "Tag lines", "Wind", "licensed"):
        assert words in text


def test_the_plan_says_what_hangs_and_how_the_legs_pull() -> None:
    assessment, document = read("four")
    text = printed(lifting_pdf(assessment, document=document))
    leg = "rear left 3 250 −480 1 240 2 600 32.0° 703 844 42.2 %"
    for words in ("1 120", "fitted tank, with ladder", "1 340", leg, "6.0 m, this line counts 2 800 kg", "19 mm",
                  "41 kg of water stay in", "0.3°, rear down"):  # fmt: skip
        assert words in text, words


def test_the_dossier_has_the_plan_where_there_is_a_lift() -> None:
    assessment, document = read("four")
    assert "Lifting plan" in printed(dossier_pdf(assessment, document=document))
    bare = read_text(VILLAGE[:START] + VILLAGE[END:])
    assert "Lifting plan" not in printed(dossier_pdf(Assessment(bare.build, frame=False), document=bare))
