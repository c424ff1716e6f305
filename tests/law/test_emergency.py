"""The emergency chain: what it leaves running is found, what is offered really stops it, and no step bursts a pipe."""

from __future__ import annotations

import re

import pytest

from plumbed import asked, changed, pipes
from quarry import bare
from tunwright.checks.finding import Finding
from tunwright.checks.pipework.emergency import emergency_findings
from tunwright.checks.pipework.emergency_chain import chains, worst
from tunwright.checks.pipework.pressure import shut_off
from tunwright.demos import demo_text
from tunwright.handbook.pipe_network import flowing
from tunwright.sheets.pipework.emergency import emergency_list

QUARRY, VILLAGE = bare(), demo_text("village-carrier")
CHAIN = re.compile(r"emergency = \[.*\]")
VENT = "[[pipework.vent]]"
LEAK = """[[pipework.spray]]
name = "leak"
on = "hydrant coupling"
kind = "open end"
flow = "{flow} L/min"
pressure = "3 bar"

"""
REGULATOR = '[[pipework.regulator]]\nname = "R"\non = "monitor line"\nsets = "3 bar"\n\n'
ALL = '["engine", "V1", "V2", "V3", "V4", "V5", "V6", "V7"]'


def chained(text: str, chain: str) -> str:
    found, count = CHAIN.subn(f"emergency = {chain}", text)
    assert count == 1
    return found


def findings(text: str) -> dict[str, Finding]:
    return asked(text, emergency_findings)


def offered(found: Finding) -> str:
    return CHAIN.search(found.remedy.words)[0].removeprefix("emergency = ")


def test_a_hydrant_that_goes_on_filling_is_found_and_the_valve_that_stops_it_does() -> None:
    text = chained(QUARRY, '["engine", "V1", "V3", "V4", "V5"]')
    found = findings(text)["emergency"]
    assert found.verdict == "fails"
    assert "hydrant coupling" in found.state
    assert found.value == pytest.approx(60e3 * pipes(text).worked[4].states[0].flow("hydrant filling"), rel=1e-9)
    assert "shut V7 as well" in found.remedy.words
    after = findings(chained(QUARRY, offered(found)))["emergency"]
    assert after.verdict == "close"
    assert after.value < 1e-3


def test_a_gravity_outlet_nobody_shuts_is_found() -> None:
    """Village: only V4 and V3 stand between the rear compartment and the ground."""
    found = findings(chained(VILLAGE, '["engine", "V6", "V7"]'))["emergency"]
    assert found.verdict == "fails"
    assert "gravity end" in found.state
    assert findings(chained(VILLAGE, offered(found)))["emergency"].verdict == "close"


def test_a_siphon_back_to_the_pond_is_found() -> None:
    """The mouth hangs in the water, the foot valve is gone and the pump at rest lets water through."""
    text = changed(
        chained(QUARRY, '["engine", "V1", "V3", "V4", "V5", "V7"]'),
        ('name = "tank mouth"\nheight = "2.80 m"', 'name = "tank mouth"\nheight = "1.60 m"'),
        ('on = "draw hose"\nkind = "foot valve with strainer"', 'on = "draw hose"\nkind = "ball valve"'),
        ('open = ["V2"]\nthrottled', 'open = ["V2", "V2F"]\nthrottled'),
        ('lift = "5 m"\n', 'lift = "5 m"\nrest = { loses = "0.3 bar", flow = "800 L/min" }\n'),
    )  # fmt: skip
    found = findings(text)["emergency"]
    assert found.verdict == "fails"
    assert "out by pond" in found.state
    assert findings(CHAIN.sub(f"emergency = {offered(found)}", text))["emergency"].verdict == "close"


def test_what_no_valve_stops_is_told_so() -> None:
    text = changed(
        chained(QUARRY, ALL),
        (VENT, LEAK.format(flow=50) + VENT),
    )  # fmt: skip
    found = findings(text)["emergency"]
    assert found.verdict == "fails"
    assert "fit a valve" in found.remedy.words
    assert "leak" in found.remedy.words


def test_the_engine_is_asked_to_stop_first_where_shut_valves_would_burst_a_pipe(check) -> None:
    """No bypass, pipes for 6.2 bar: V5 shut before the engine stops lets more stand behind the pump."""
    text = changed(
        chained(QUARRY, '["V5", "V3", "V4", "V7", "V2", "V6", "engine", "V1"]'),
        ('opens = "7 bar"\nfull = "8 bar"', 'opens = "30 bar"\nfull = "31 bar"'),
        ('altitude = "420 m"', 'altitude = "420 m"\npressure = "6.2 bar"'),
    )
    found = findings(text)
    bears = found["emergency-pressure"]
    assert bears.verdict == "fails"
    assert "use the monitor" in bears.state
    one = pipes(text)
    monitor = one.worked[2].duty
    duty = monitor.model_copy(update={"open": ["V1"]})
    head = flowing(one.plumbing.links(duty, 1.0), one.plumbing.given(1.0)).head["pump outlet"]
    alone = (head - one.plumbing.height("pump outlet")) * one.plumbing.liquid.density * 9.80665 / 1e5
    check(
        "quarry: V5 shut while the pump turns",
        source="network with the valve shut, solved alone",
        expected=alone,
        ours=bears.value,
        tol=1e-4,
        unit="bar",
    )
    assert bears.value * 1e5 < shut_off(one.plumbing, monitor)  # that one is at the drive's greatest speed
    assert bears.remedy.words.startswith("stop the engine first")
    assert (found["emergency"].verdict, found["emergency-pump"].verdict) == ("close", "holds")
    after = findings(CHAIN.sub(f"emergency = {offered(bears)}", text))
    assert after["emergency-pressure"].verdict == "holds"


def test_a_chain_without_the_engine_leaves_the_pump_turning() -> None:
    found = findings(chained(QUARRY, '["V1", "V3", "V4", "V5", "V7", "V2"]'))["emergency-pump"]
    assert found.verdict == "fails"
    assert found.value == 4
    assert findings(chained(QUARRY, offered(found)))["emergency-pump"].verdict == "holds"


def test_valves_worked_by_hand_are_told_with_a_caution() -> None:
    found = findings(chained(QUARRY, ALL))["emergency"]
    assert found.verdict == "close"
    assert "V1, V2, V5, V6 and V7 stand to be shut by hand" in found.note
    assert {step.what for step in found.working if step.formula == "worked by hand"} == {"V1", "V2", "V5", "V6", "V7"}
    air = QUARRY
    for name in ("V1", "V5", "V7"):
        air = re.sub(rf'(name = "{name}"\non = .*\nkind = .*\n)', r'\1works = "air"\n', air)
    assert "by hand" not in findings(chained(air, '["engine", "V1", "V3", "V4", "V5", "V7"]'))["emergency"].note


def test_a_trickle_left_over_is_close_at_most() -> None:
    """A 0.99 L/min leak: within a litre a minute, but near to it."""
    text = changed(
        chained(QUARRY, ALL),
        (VENT, LEAK.format(flow=0.99) + VENT),
    )  # fmt: skip
    assert findings(text)["emergency"].verdict == "close"


def test_no_chain_is_open() -> None:
    found = findings(chained(QUARRY, "[]"))
    assert list(found) == ["emergency"]
    assert found["emergency"].verdict == "open"
    assert found["emergency"].missing == ("pipework.emergency",)


def test_a_step_that_changes_nothing_leaves_all_as_it_was() -> None:
    one = pipes(QUARRY)
    done = tuple(each for each in one.worked if each.over is not None)
    for chain in chains(one.plumbing, done, ["V8x", "V3", "engine"]):
        first = chain.stages[0]
        assert (chain.stages[1].flow, chain.stages[1].pressure) == (first.flow, first.pressure)
        if "V3" not in chain.worked.duty.open:
            assert chain.stages[2].flow == first.flow


def test_a_regulator_with_all_shut_behind_it_is_still() -> None:
    text = changed(
        chained(QUARRY, ALL),
        ("[[pipework.relief]]", REGULATOR + "[[pipework.relief]]"),
        ('on = "monitor base"\nkind = "monitor"', 'on = "monitor base"\nvalve = "V5"\nkind = "monitor"'),
    )  # fmt: skip
    found = findings(text)["emergency"]
    assert found.verdict == "close"


@pytest.mark.parametrize("text", [QUARRY, VILLAGE])
def test_the_list_says_what_the_finding_says(text: str) -> None:
    one = pipes(text)
    listing = emergency_list(one.plumbing, one.worked, "metric")
    chain = one.plumbing.work.emergency
    assert [row[0] for row in listing.rows] == list(range(1, len(chain) + 1))
    assert [str(row[1]).split()[1] for row in listing.rows] == ["the", *chain[1:]]
    found = findings(text)["emergency"]
    assert 60e3 * float(listing.rows[-1][3]) == pytest.approx(found.value, abs=1e-9)
    last = worst(chains(one.plumbing, one.worked, chain)).stages[-1]
    assert listing.rows[-1][4] == last.pressure
    assert all(len(row) == len(listing.columns) for row in listing.rows)
    empty = emergency_list(pipes(chained(text, "[]")).plumbing, one.worked, "us")
    assert not empty.rows
    assert "pipework.emergency" in empty.foot
