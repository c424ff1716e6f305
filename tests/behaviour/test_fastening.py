"""Fastenings: what the findings say, remedies that hold, what is missing, and sentences for what cannot be."""

from __future__ import annotations

import re
from typing import Any

import pytest

from fastened import (
    ALL,
    AWAY,
    BOLTS,
    BRACKETS,
    BRACKETS_BOLTED,
    PLATES,
    PLATES_BOLTED,
    REAR,
    REAR_BOLTED,
    SPRINGS,
    SPRINGS_BOLTED,
    WELD,
    build,
    text,
)
from tunwright.build.problems import BuildProblems
from tunwright.build.reading import read_text
from tunwright.checks.assess import Assessment
from tunwright.checks.fastening.bolts import FLAT
from tunwright.checks.fastening.fastening import Fastenings, fastening_findings
from tunwright.checks.fastening.remedy import fastening_remedy
from tunwright.checks.finding import Finding
from tunwright.checks.frame.frame import Framework
from tunwright.sheets.input_words import labels
from tunwright.truck.truck import Truck

CLAMPS = {**BOLTS, "size": "M20", "columns": 2, "rows": 1, "edge": "60 mm", "spacing": "400 mm"}
FIVE = ("slip", "bolts", "plate", "rail", "preload")


def findings(*mounts: dict[str, Any], **how: Any) -> dict[str, Finding]:
    truck = Truck(build(*mounts, **({"model": False} | how)))
    return {one.key: one for one in fastening_findings(Fastenings(Framework(truck)), ())}


def weak(**bolts: Any) -> dict[str, Any]:
    return PLATES | {"bolts": BOLTS | {"size": "M10", "columns": 2, "grade": "8.8"} | bolts}


def test_every_bolted_mount_is_asked_about_bolts_plate_rail_and_welds() -> None:
    found = findings(*ALL)
    for mount in ("front-springs", "middle-brackets", "rear-plates", "rearmost-plates"):
        for word in FIVE:
            one = found[f"fastening-{word}-{mount}"]
            assert one.value is not None
            assert one.limit == 1.0
            assert one.working[-1].result == f"{100 * one.value:.0f} %"
            assert one.rule.document
    assert "fastening-weld-front-springs" not in found
    weld = found["fastening-weld-rear-plates"]
    methods = [step.what for step in weld.working if step.what.endswith("method")]
    assert methods == ["directional method", "simplified method"]
    assert not any("lap" in step.what for step in weld.working)


def test_a_long_weld_says_what_its_length_costs() -> None:
    """700 mm of 4 mm throat are 175 throats: 1.2 - 0.2 x 175 / 150 of its strength is left."""
    plates = PLATES_BOLTED | {"weld": WELD | {"length": "700 mm", "way": "along"}}
    weld = findings(plates, REAR_BOLTED)["fastening-weld-rear-plates"]
    (lap,) = (step for step in weld.working if "lap" in step.what)
    assert (lap.values, lap.result) == ("1.2 − 0.2 × 700 / (150 × 4.0)", "0.967")
    assert all(step.formula.endswith("βLw") for step in weld.working if step.what.endswith("method"))


def test_the_hard_cases_name_their_source_and_their_force() -> None:
    one = findings(*ALL)["fastening-bolts-rear-plates"]
    assert "2 g forward" in one.state
    thrown = next(step for step in one.working if step.what.startswith("thrown"))
    assert thrown.result.endswith("kN forwards")
    assert "ADR 6.8.2.1.2" in thrown.source
    assert "from memory" in thrown.source


def test_without_a_frame_model_the_note_says_so() -> None:
    assert "stiff tank on its mounts alone" in findings(*ALL)["fastening-bolts-rear-plates"].note
    assert findings(*ALL, model=True)["fastening-bolts-rear-plates"].note == FLAT


def test_a_frame_model_that_fails_is_said_and_the_rest_is_judged() -> None:
    """A pivot that stands on no cross-member has no place in the frame model."""
    pivot = {"name": "front pivot", "at": "1.5 m", "kind": "pivot"}
    one = findings(pivot, PLATES_BOLTED, REAR_BOLTED, model=True)["fastening-bolts-rear-plates"]
    assert one.value is not None
    assert "stands on no cross-member" in one.note


def test_the_frame_model_counts_where_it_asks_for_more() -> None:
    alone, both = findings(*ALL), findings(*ALL, model=True)
    for key, one in alone.items():
        assert (both[key].value or 0.0) >= (one.value or 0.0) - 1e-9
    grown = [key for key, one in alone.items() if (both[key].value or 0.0) > 1.05 * (one.value or 0.0)]
    assert grown, "the frame model asked for no more anywhere"
    assert any("% full" in both[key].state for key in grown)


# what fails, and what holds instead


def remedied(*mounts: dict[str, Any], key: str, **how: Any) -> tuple[str, str]:
    """What the remedy says, and the verdict it starts from."""
    base = Assessment(build(*mounts, **({"model": False} | how)))
    finding = base.finding(key)
    remedy = fastening_remedy(base, finding)
    return ("" if remedy is None else remedy.words), finding.verdict


@pytest.mark.parametrize("word", ["slip", "bolts"])
def test_bolts_too_weak_are_replaced_by_the_smallest_that_hold(word: str) -> None:
    others = (SPRINGS_BOLTED, BRACKETS_BOLTED, REAR_BOLTED)
    key = f"fastening-{word}-rear-plates"
    words, before = remedied(weak(), *others, key=key)
    assert before == "fails"
    said = re.search(r"(\d+) bolts (M\d+) of class ([\d.]+) a side, (\d+) beside each other in (\d+|one) rows?", words)
    assert said, words
    size, grade, columns, rows = said[2], said[3], int(said[4]), 1 if said[5] == "one" else int(said[5])
    gaps = re.search(r", ([\d.]+ mm) and ([\d.]+ mm) apart", words)
    assert gaps
    bolts = {"size": size, "grade": grade, "columns": columns, "rows": rows, "spacing": gaps[1], "row_spacing": gaps[2]}
    after = findings(weak(**bolts), *others)
    assert {after[f"fastening-{one}-rear-plates"].verdict for one in FIVE} <= {"holds", "close"}
    fewer = findings(weak(**bolts | {"columns": columns - 1}), *others)
    assert "fails" in {fewer[f"fastening-{one}-rear-plates"].verdict for one in FIVE}


def test_the_remedy_is_printed_with_the_findings() -> None:
    from tunwright.checks.remedy import Remedies

    found = Remedies(Assessment(build(SPRINGS_BOLTED, weak(), REAR_BOLTED, model=False)))
    one = next(f for f in found.findings() if f.key == "fastening-slip-rear-plates")
    assert one.remedy is not None
    assert "fastening-bolts-rear-plates" in one.remedy.cures
    assert one.remedy.breaks == ()


def test_a_plate_too_thin_is_made_thicker() -> None:
    thin = PLATES | {"bolts": BOLTS | {"plate": "2 mm", "plate_strength": "360 MPa", "reach": "4 mm"}}
    words, before = remedied(thin, REAR_BOLTED, key="fastening-plate-rear-plates")
    assert before == "fails"
    thick = re.fullmatch(r"make the plate of rear plates ([\d.]+) mm thick", words)
    assert thick, words
    after = findings(PLATES | {"bolts": thin["bolts"] | {"plate": f"{thick[1]} mm"}}, REAR_BOLTED)
    assert after["fastening-plate-rear-plates"].verdict != "fails"


def test_a_weld_too_thin_gets_the_next_throat_that_holds() -> None:
    thin = PLATES_BOLTED | {"weld": WELD | {"throat": "3 mm", "length": "60 mm"}}
    words, before = remedied(thin, REAR_BOLTED, key="fastening-weld-rear-plates")
    assert before == "fails"
    said = re.search(r"a throat of (\d+) mm, two welds of (\d+) mm", words)
    assert said, words
    stronger = WELD | {"throat": f"{said[1]} mm", "length": f"{said[2]} mm"}
    after = findings(PLATES_BOLTED | {"weld": stronger}, REAR_BOLTED)
    assert after["fastening-weld-rear-plates"].verdict != "fails"


def test_springs_alone_do_not_hold_and_plates_at_the_rear_do() -> None:
    springs = {**SPRINGS, "name": "rear springs", "at": "4.9 m"}
    found = findings(SPRINGS, springs)
    held = found["fastening-held"]
    assert held.verdict == "fails"
    assert held.value == pytest.approx(1 / 3)
    assert "fore and aft and upwards" in held.note
    assert not [key for key in found if "slip" in key], "no forces without a hold"
    words, _ = remedied(SPRINGS, springs, key="fastening-held")
    assert words == "make rear springs plates, which hold every way"
    changed = {key: value for key, value in springs.items() if key not in ("rate", "preload")} | {"kind": "plate"}
    assert findings(SPRINGS, changed)["fastening-held"].verdict == "holds"


def test_brackets_alone_do_not_hold_fore_and_aft() -> None:
    held = findings(BRACKETS, {**BRACKETS, "name": "rear brackets", "at": "4.9 m"})["fastening-held"]
    assert held.verdict == "fails"
    assert held.value == pytest.approx(2 / 3)
    assert "fore and aft" in held.note
    assert "upwards" not in held.note.split(".")[0]


def test_one_pair_of_plates_lets_the_tank_turn() -> None:
    held = findings(PLATES)["fastening-held"]
    assert held.verdict == "fails"
    assert "can turn" in held.note or "can move" in held.note


def test_clamps_alone_hold_by_friction_and_shear_plates_take_it_over() -> None:
    front = {"name": "front clamps", "at": "1.6 m", "kind": "clamp", "bolts": CLAMPS}
    rear = front | {"name": "rear clamps", "at": "5.1 m"}
    alone = findings(front, rear)
    assert alone["fastening-held"].verdict == "holds"
    assert alone["fastening-slip-front-clamps"].verdict == "fails"
    assert "2 g forward" in alone["fastening-slip-front-clamps"].state
    plated = findings(front, rear, PLATES_BOLTED)
    assert (plated["fastening-slip-front-clamps"].value or 9.0) < (alone["fastening-slip-front-clamps"].value or 0.0)
    assert "forward" not in plated["fastening-slip-front-clamps"].state
    words, _ = remedied(front, rear, key="fastening-slip-front-clamps")
    assert words == "" or "legs" in words


# what is missing


def test_a_mount_without_bolts_asks_for_them() -> None:
    made = build(SPRINGS, PLATES_BOLTED, model=False)
    found = findings(SPRINGS, PLATES_BOLTED)
    one = found["fastening-front-springs"]
    assert one.verdict == "open"
    assert one.missing == ("mount[1].bolts",)
    assert "front springs" in labels(made, one.missing)[0]
    assert "bolts" in labels(made, one.missing)[0]


@pytest.mark.parametrize(
    ("mount", "frame", "key", "missing"),
    [
        (BRACKETS | {"bolts": BOLTS}, {}, "bolts", "mount[1].bolts.reach"),
        (PLATES | {"bolts": {k: v for k, v in BOLTS.items() if k != "drop"}}, {"rail_height": None}, "bolts",
         "chassis.frame.rail_height"),
        (PLATES | {"bolts": {k: v for k, v in BOLTS.items() if k != "plate_strength"}}, {}, "plate",
         "mount[1].bolts.plate_strength"),
        (PLATES_BOLTED, {"yield_strength": None}, "rail", "chassis.frame.yield_strength"),
        (PLATES_BOLTED, {"rail_thickness": None}, "preload", "chassis.frame.rail_thickness"),
        (PLATES_BOLTED, {"subframe": ""}, "weld", "mount[1].weld.rise"),
    ],
)  # fmt: skip
def test_what_is_missing_is_open(mount: dict[str, Any], frame: dict[str, Any], key: str, missing: str) -> None:
    found = findings(mount, REAR, **frame)
    one = found[f"fastening-{key}-{mount['name'].replace(' ', '-')}"]
    assert one.verdict == "open"
    assert one.value is None
    assert missing in one.missing


@pytest.mark.parametrize("name", ["top", "width"])
def test_without_the_rails_place_there_are_no_forces(name: str) -> None:
    found = findings(*ALL, **{name: None})
    assert found["fastening-held"].verdict == "open"
    assert found["fastening-held"].missing == (f"chassis.frame.{name}",)
    assert list(found) == ["fastening-held"]


def test_class_12_9_is_beyond_the_rule() -> None:
    found = findings(PLATES | {"bolts": BOLTS | {"grade": "12.9"}}, REAR_BOLTED)
    assert found["fastening-bolts-rear-plates"].verdict == "open"
    assert "12.9" in found["fastening-bolts-rear-plates"].missing[0]
    assert found["fastening-slip-rear-plates"].value is not None


def test_clamps_of_class_12_9_are_beyond_the_rule_too() -> None:
    front = {"name": "front clamps", "at": "1.6 m", "kind": "clamp", "bolts": CLAMPS | {"grade": "12.9"}}
    found = findings(front, front | {"name": "rear clamps", "at": "5.1 m"})
    assert found["fastening-bolts-front-clamps"].verdict == "open"
    assert "12.9" in found["fastening-bolts-front-clamps"].missing[0]
    assert found["fastening-slip-front-clamps"].value is not None


def test_a_plate_with_one_row_of_bolts_says_what_bounds_it() -> None:
    one_row = {**{k: v for k, v in BOLTS.items() if k not in ("drop", "row_spacing")}, "columns": 4, "rows": 1}
    for bolts, said in ((one_row, True), (BOLTS, False)):
        found = findings(PLATES | {"bolts": bolts | {"plate_strength": "360 MPa"}}, REAR_BOLTED)
        for part in ("plate", "rail"):
            steps = {step.what: step.formula for step in found[f"fastening-{part}-rear-plates"].working}
            assert ("one bolt row" in steps["bearing resistance"]) == said


def test_no_mounts_no_findings() -> None:
    assert findings() == {}


# sentences


@pytest.mark.parametrize(
    ("mount", "words"),
    [
        ({"name": "pivot", "at": "2 m", "kind": "pivot", "bolts": BOLTS}, "A pivot stands on a cross-member"),
        (PLATES | {"bolts": BOLTS | {"columns": 1, "rows": 1}}, "One bolt turns in its hole"),
        (PLATES | {"bolts": BOLTS | {"spacing": "35 mm"}}, "closer than 2.4 holes of 17.5 mm"),
        (PLATES | {"bolts": BOLTS | {"edge": "15 mm"}}, "nearer than 1.2 holes"),
        (PLATES | {"bolts": BOLTS | {"drop": "10 mm"}}, "lies in the rail's upper flange"),
        (PLATES | {"bolts": BOLTS | {"drop": "260 mm"}}, "320 mm down, does not lie in the rail's web"),
        (PLATES | {"bolts": {k: v for k, v in BOLTS.items() if k != "spacing"}}, "Several columns need the distance"),
        (PLATES | {"weld": WELD | {"throat": "2 mm"}}, "this thin must not carry load"),
        (PLATES | {"weld": WELD | {"length": "30 mm"}}, "this short must not carry load"),
        ({"name": "clamps", "at": "2 m", "kind": "clamp", "bolts": CLAMPS, "weld": WELD}, "A clamp is not welded"),
        (PLATES | {"rate": "100 N/mm"}, "A plate has no rate"),
    ],
)
def test_what_cannot_be_is_said(mount: dict[str, Any], words: str) -> None:
    with pytest.raises(BuildProblems) as caught:
        read_text(text(mount, model=False))
    told = " ".join(str(problem) for problem in caught.value.problems)
    assert words in told


def test_a_wider_reach_pulls_harder() -> None:
    near, far = (
        findings(BRACKETS | {"bolts": BOLTS | {"reach": reach}}, REAR_BOLTED, PLATES_BOLTED)
        for reach in ("10 mm", "120 mm")
    )
    key = "fastening-bolts-middle-brackets"
    assert (far[key].value or 0.0) > (near[key].value or 0.0)
    assert AWAY["reach"] == "60 mm"
