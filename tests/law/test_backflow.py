"""Water of the tank that could run the wrong way: each way found, each remedy applied and looked at again."""

from __future__ import annotations

import re

import pytest

from plumbed import asked, changed, pipes
from quarry import bare
from tunwright.checks.finding import Finding
from tunwright.checks.pipework.backflow import backflow_findings
from tunwright.checks.pipework.passing import Passage, passages, reached
from tunwright.checks.pipework.siphon import siphon_findings
from tunwright.checks.pipework.tank.air_gap import air_gap
from tunwright.demos import demo_text
from tunwright.truck.pipework.overflow import highest_water

QUARRY, VILLAGE = bare(), demo_text("village-carrier")
KEY, THEIRS = "backflow-hydrant-coupling", "backflow-filling-coupling"
MOUTH = 'name = "tank mouth"\nheight = "2.80 m"'
NEW = '[[pipework.point]]\nname = "new mouth"\nheight = "{height} m"\nmouth = true\n\n'
FILLING = '\n[[pipework.valve]]\nname = "C1"\non = "{run}"\nkind = "swing check"\n\n[[pipework.device]]'


def findings(text: str) -> dict[str, Finding]:
    return asked(text, backflow_findings, siphon_findings)


def lowered(height: float) -> str:
    return changed(QUARRY, (MOUTH, MOUTH.replace("2.80", f"{height:.4f}")))


def bottom_filled(text: str = QUARRY) -> str:
    """The hydrant fills into the sump, under water."""
    return changed(text, ('to = "tank mouth"\nseries = "sch 40"\nsize = "DN100"\nlength = "2.4 m"',
                          'to = "tank sump"\nseries = "sch 40"\nsize = "DN100"\nlength = "2.4 m"'))  # fmt: skip


def test_an_air_gap_keeps_the_main() -> None:
    for text, key in ((QUARRY, KEY), (VILLAGE, THEIRS)):
        found = findings(text)[key]
        assert (found.verdict, found.value) == ("holds", 5)
        assert "air gap" in found.working[0].result


def test_a_mouth_too_low_is_found_and_raised_as_far_as_is_told(check) -> None:
    found = findings(lowered(2.62))
    assert found[KEY].verdict == "fails"
    assert "tank mouth, hydrant filling, hydrant coupling" in found[KEY].working[0].values
    up = int(re.search(r"tank mouth by (\d+) mm", found[KEY].remedy.words)[1])
    plumbing = pipes(QUARRY).plumbing
    by_hand = 1000 * (highest_water(plumbing) + 2 * 0.10226 - 2.62)
    check(
        "quarry: mouth at 2.62 m raised to its air gap",
        source="lip + water over it + two bores, by hand",
        expected=by_hand,
        ours=up,
        tol=1.0,
        unit="mm",
    )
    assert findings(lowered(2.62 + up / 1000))[KEY].verdict == "holds"
    assert findings(lowered(2.62 + (up - 2) / 1000))[KEY].verdict == "fails"


def test_filling_under_water_is_found_and_a_mouth_over_it_would_do() -> None:
    found = findings(bottom_filled())[KEY]
    assert found.verdict == "fails"
    assert found.working[0].values == "tank sump, hydrant filling, hydrant coupling"
    height = re.search(r"end hydrant filling in a mouth ([\d.]+) m", found.remedy.words)[1]
    text = changed(
        bottom_filled(),
        ('to = "tank sump"', 'to = "new mouth"'),
        ("[[pipework.run]]", NEW.format(height=height) + "[[pipework.run]]"),
    )  # fmt: skip
    assert findings(text)[KEY].verdict == "holds"


def joined(text: str = QUARRY) -> str:
    """The hydrant joins the manifold; in the duty the tank's own valve is left open."""
    return changed(
        text,
        ('to = "tank mouth"\nseries = "sch 40"\nsize = "DN100"\nlength = "2.4 m"',
         'to = "manifold"\nseries = "sch 40"\nsize = "DN100"\nlength = "2.4 m"'),
        ('open = []\nthrottled = [{ valve = "V7"', 'open = ["V1", "V6"]\nthrottled = [{ valve = "V7"'),
    )  # fmt: skip


def test_a_way_back_through_the_pump_is_found_and_the_valve_to_leave_shut_does() -> None:
    found = findings(joined())[KEY]
    assert found.verdict == "fails"
    assert "pump" in found.working[0].values
    assert "leave V1 shut" in found.remedy.words
    assert findings(changed(joined(), ('open = ["V1", "V6"]', 'open = ["V6"]')))[KEY].verdict == "holds"


def test_pond_water_is_kept_from_the_main_whatever_the_tank_is_for() -> None:
    text = changed(
        joined(), ('open = ["V1", "V6"]', 'open = ["V2", "V6"]'), ('use = "dust suppression"', 'use = "potable"')
    )
    text = changed(
        text,
        (
            'name = "V2F"\non = "draw hose"\nkind = "foot valve with strainer"\n',
            'name = "V2F"\non = "draw hose"\nkind = "ball valve"\n',
        ),
    )
    found = findings(changed(text, ('open = ["V2", "V6"]', 'open = ["V2", "V2F", "V6"]')))[KEY]
    assert (found.verdict, found.limit) == ("fails", 5)
    assert found.working[0].values.startswith("pond")


def test_a_check_valve_alone_will_do_for_drinking_water_only_and_is_called_close() -> None:
    checked = changed(bottom_filled(), ("\n[[pipework.device]]", FILLING.format(run="hydrant filling")))
    found = findings(checked)[KEY]
    assert (found.verdict, found.value, found.limit) == ("fails", 2, 5)
    clean = changed(checked, ('use = "dust suppression"', 'use = "potable"'))
    assert findings(clean)[KEY].limit == 5, "pond water can get into the tank"
    potable = findings(clean.replace("open_water = true\n", ""))[KEY]
    assert (potable.verdict, potable.value, potable.limit) == ("close", 2, 2)
    assert "C1 alone, weaker than an air gap" in potable.working[0].result
    assert "tested backflow preventer" in potable.note


def test_several_mouths_are_raised_together() -> None:
    text = VILLAGE.replace('height = "2.75 m"', 'height = "2.40 m"')
    found = findings(text)[THEIRS]
    assert found.verdict == "fails"
    ups = {name: int(up) for name, up in re.findall(r"(\w+) mouth by (\d+) mm", found.remedy.words)}
    assert set(ups) == {"front", "middle", "rear"}
    for up in ups.values():
        text = text.replace('height = "2.40 m"', f'height = "{2.40 + up / 1000:.4f} m"', 1)
    assert findings(text)[THEIRS].verdict == "holds"


def test_all_mouths_that_siphon_are_told_together() -> None:
    text = VILLAGE.replace('height = "2.75 m"', 'height = "2.30 m"')
    found = findings(text)["siphon"]
    assert found.verdict == "fails"
    ups = dict(re.findall(r"(\w+) mouth by (\d+) mm", found.remedy.words))
    assert list(ups) == ["front", "middle", "rear"]
    for up in ups.values():
        text = text.replace('height = "2.30 m"', f'height = "{2.30 + int(up) / 1000:.4f} m"', 1)
    assert findings(text)["siphon"].verdict == "holds"


def test_a_hydrant_behind_a_shut_valve_is_not_asked_about() -> None:
    text, count = re.subn(r'open = \[\]\nthrottled = \[\{ valve = "V7".*\n', "open = []\n", QUARRY)
    assert count == 1
    assert KEY not in findings(text)


def test_a_mouth_under_water_siphons_unless_a_valve_keeps_it(check) -> None:
    found = findings(lowered(1.60))["siphon"]
    assert found.verdict == "fails"
    check(
        "quarry: depth of the mouth",
        source="lip, water over it and mouth by hand",
        tol=1e-9,
        unit="m",
        expected=highest_water(pipes(QUARRY).plumbing) - 1.60,
        ours=found.value,
    )
    up = int(re.search(r"tank mouth by ([\d\u2009]+) mm", found.remedy.words)[1].replace("\u2009", ""))
    assert findings(lowered(1.60 + up / 1000))["siphon"].verdict == "holds"
    checked = changed(lowered(1.60), ("\n[[pipework.device]]", FILLING.format(run="hydrant filling")))
    kept = findings(checked)["siphon"]
    assert kept.verdict == "close"
    assert "C1" in kept.working[1].result or "V2F" in kept.working[1].result


def test_the_air_gap_is_that_of_its_own_finding() -> None:
    plumbing = pipes(QUARRY).plumbing
    gap, least = air_gap(plumbing, plumbing.points["tank mouth"])
    assert least == pytest.approx(2 * 0.10226, abs=1e-6)
    assert gap == pytest.approx(2.80 - highest_water(plumbing))


def test_one_way_valves_and_stops_end_a_way() -> None:
    plumbing = pipes(QUARRY).plumbing
    draw = plumbing.work.duty[5]
    honest, bare = passages(plumbing, draw), passages(plumbing, draw, past_checks=True)
    assert Passage("draw hose", "pump inlet", "pond") not in honest
    assert Passage("draw hose", "pump inlet", "pond") in bare
    assert "pond" not in reached(honest, ["pump inlet"])
    assert [one.name for one in reached(bare, ["manifold"])["pond"]] == ["delivery", "pump", "draw hose"]
    assert "pump outlet" not in reached(bare, ["pond"], ["pump inlet"])
    assert Passage("pump", "pump outlet", "pump inlet") not in passages(plumbing, draw, past_pump=False)
