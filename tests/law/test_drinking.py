"""Drinking water: approvals open until stated, materials that are unfit fail, taps where samples are taken."""

from __future__ import annotations

import re

import pytest

from plumbed import asked, changed, pipes
from tunwright.checks.finding import Finding
from tunwright.checks.pipework.drinking import drinking_findings, places
from tunwright.checks.pipework.wetted_parts import parts
from tunwright.demos import demo_text
from tunwright.sheets.pipework.materials import material_list

QUARRY, VILLAGE = demo_text("quarry-carrier"), demo_text("village-carrier")
CERTIFICATE = 'approval = "NSF/ANSI/CAN 61, certificate 0"'
TABLES = ("run", "valve", "device", "regulator", "relief", "spray")
POINT = '[[pipework.point]]\nname = "{name}"'


def bare(text: str) -> str:
    """The demo without any approval, material or tap of its own."""
    return re.sub(r"^(?:approval|material|sample) = (?!\"(?:S355|1\.4301)\").*\n", "", text, flags=re.MULTILINE)


def stated(text: str) -> str:
    """Every part of the pipework with an approval."""
    found = bare(text)
    for table in TABLES:
        found = found.replace(f"[[pipework.{table}]]\n", f"[[pipework.{table}]]\n{CERTIFICATE}\n")
    return found.replace("[pipework.pump]\n", f"[pipework.pump]\n{CERTIFICATE}\n")


def tapped(text: str, *names: str) -> str:
    return changed(text, *((POINT.format(name=name), POINT.format(name=name) + "\nsample = true") for name in names))


def findings(text: str) -> dict[str, Finding]:
    return asked(text, drinking_findings)


def potable(text: str) -> str:
    return changed(text, ('use = "dust suppression"', 'use = "potable"'))


def test_only_drinking_water_is_asked_about() -> None:
    assert findings(QUARRY) == {}
    assert set(findings(bare(VILLAGE))) == {"wetted-materials", "approvals", "raw-water", "sample-points"}


def test_every_part_is_counted_once() -> None:
    work = pipes(VILLAGE).plumbing.work
    found = parts(pipes(VILLAGE).plumbing)
    assert len(found) == 2 + sum(len(getattr(work, table)) for table in TABLES)  # and tank and pump
    assert len({one.path for one in found}) == len(found)


def test_approvals_are_open_until_all_are_stated_and_never_fail() -> None:
    found = findings(bare(VILLAGE))["approvals"]
    assert found.verdict == "open"
    assert found.value == len(parts(pipes(VILLAGE).plumbing)) - 1  # the tank is of stainless steel
    assert found.missing[0] == "pipework.run[1].approval"
    assert f"{int(found.value) - len(found.missing)} more parts" in found.note
    assert findings(stated(VILLAGE))["approvals"].verdict == "holds"
    one = changed(stated(VILLAGE), (f"[pipework.pump]\n{CERTIFICATE}\n", "[pipework.pump]\n"))
    assert findings(one)["approvals"].missing == ("pipework.pump.approval",)


def test_a_tank_of_plain_steel_needs_an_approved_coating() -> None:
    steel = changed(stated(VILLAGE), ('material = "1.4301"', 'material = "S235"'))
    found = findings(steel)["approvals"]
    assert (found.verdict, found.missing) == ("open", ("tank.coating.approval",))
    coated = changed(steel, ("[tank.head]", f'[tank.coating]\ninside = "400 µm"\n{CERTIFICATE}\n\n[tank.head]'))
    assert findings(coated)["approvals"].verdict == "holds"


def test_bare_steel_pipe_fails_and_the_stainless_pipe_that_is_told_holds() -> None:
    text = potable(bare(QUARRY))
    found = findings(text)["wetted-materials"]
    assert found.verdict == "fails"
    runs = pipes(text).plumbing.work.run
    assert found.value == sum(run.series == "sch 40" for run in runs)
    told = re.findall(r"make ([\w ]+) of stainless pipe, (\w+) (DN\d+)", found.remedy.words)
    assert len(told) == found.value
    for name, series, size in told:
        text, count = re.subn(
            rf'(name = "{name}"\nfrom = .*\nto = .*\n)series = "sch 40"\nsize = "(DN\d+)"',
            lambda hit, series=series, size=size: (
                f'{hit[1]}series = "{series}"\nsize = "{size}"' if hit[2] == size else ""
            ),
            text,
        )
        assert count == 1
    assert findings(text)["wetted-materials"].verdict == "holds"


@pytest.mark.parametrize(
    ("material", "fails"),
    [
        ("carbon steel", True),
        ("black steel, threaded", True),
        ("steel, coal-tar lined", True),
        ("brass with lead seals", True),
        ("lead-free brass", False),
        ("carbon steel, epoxy lined", False),
        ("galvanised steel", False),
        ("stainless steel, EPDM seats", False),
    ],
)
def test_words_of_a_material_that_is_unfit(material: str, fails: bool) -> None:
    text = changed(bare(VILLAGE), ('name = "V1"\non', f'name = "V1"\nmaterial = "{material}"\non'))
    found = findings(text)["wetted-materials"]
    assert found.verdict == ("fails" if fails else "holds")
    if fails:
        assert "V1" in found.remedy.words
        approved = changed(text, ('name = "V1"\n', f'name = "V1"\n{CERTIFICATE}\n'))
        assert findings(approved)["wetted-materials"].verdict == "holds"


def test_fire_hose_is_not_for_drinking_water_and_rubber_hose_is_open() -> None:
    hose = 'series = "hose"\nsize = "76 mm"'
    fire = changed(bare(VILLAGE), (hose, 'series = "fire hose"\nsize = "76 mm"'))
    assert findings(fire)["wetted-materials"].state == "delivery hose"
    assert findings(bare(VILLAGE))["wetted-materials"].verdict == "holds"


def test_taps_are_missing_and_those_that_are_told_are_enough() -> None:
    found = findings(bare(VILLAGE))["sample-points"]
    assert found.verdict == "fails"
    assert found.value == len(places(pipes(VILLAGE).plumbing, pipes(VILLAGE).worked))
    told = re.search(r"at (.*): sample", found.remedy.words)[1].split(" and ")
    assert told == ["collector", "hose coupling"]
    assert findings(tapped(bare(VILLAGE), *told))["sample-points"].verdict == "holds"


def test_a_tap_at_the_hydrant_or_far_away_does_not_count() -> None:
    assert findings(tapped(bare(VILLAGE), "filling coupling", "pump outlet", "front mouth"))["sample-points"].value == 5
    assert findings(tapped(bare(VILLAGE), "collector"))["sample-points"].state == "hose end"
    assert findings(tapped(bare(VILLAGE), "hose coupling"))["sample-points"].value == 4


def test_an_outlet_no_duty_uses_needs_no_tap() -> None:
    one = pipes(VILLAGE)
    assert "coupling drain" not in {each.words for each in places(one.plumbing, one.worked)}


@pytest.mark.parametrize("text", [QUARRY, VILLAGE])
def test_the_list_names_every_part_and_leaves_room_to_sign(text: str) -> None:
    plumbing = pipes(stated(text)).plumbing
    listing = material_list(plumbing, "metric")
    assert [row[0] for row in listing.rows] == [one.name for one in parts(plumbing)]
    assert {row[5] for row in listing.rows} == {""}
    assert all(row[4] == "NSF/ANSI/CAN 61, certificate 0" for row in listing.rows[1:])
    assert ("drinking water" in listing.foot) == (text == VILLAGE)
