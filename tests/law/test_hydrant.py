"""A hydrant drawn too hard: beyond its reading nothing is known, and the main keeps its pressure once throttled."""

from __future__ import annotations

import re

import pytest

from plumbed import asked, pipes
from tunwright.checks.finding import Finding
from tunwright.checks.pipework.hydrant import hydrant_findings
from tunwright.demos import demo_text
from tunwright.tables.read import shop_value
from tunwright.truck.pipework.hydrants import flow_leaving, pressure_left

QUARRY = demo_text("quarry-carrier")
READING = re.compile(r'hydrant = \{ static = "[\d.]+ bar", residual = "[\d.]+ bar", flow = "[\d.]+ L/min" \}')
OPENED = re.compile(r'\{ valve = "V7", open = "[\d.]+ %" \}\]\nwithin = "[\d.]+ min"')
READ, MAIN, TIME = "hydrant-reading-hydrant-coupling", "main-hydrant-coupling", "duty-time-fill-from-a-hydrant"


def build(static: float, residual: float, flow: float, opened: float = 60.0) -> str:
    words = f'hydrant = {{ static = "{static} bar", residual = "{residual} bar", flow = "{flow} L/min" }}'
    text, count = READING.subn(words, QUARRY)
    text, valves = OPENED.subn(f'{{ valve = "V7", open = "{opened} %" }}]\nwithin = "10 min"', text)
    assert (count, valves) == (1, 1)
    return text


def findings(text: str) -> dict[str, Finding]:
    return asked(text, hydrant_findings)


def number(text: str) -> float:
    return float(text.replace("\u2009", ""))


def test_the_pressure_that_has_to_stay_is_20_psi(check) -> None:
    source = "10 NYCRR 5-1.27 and 35 Ill. Adm. Code 653.106: 20 psi; 1 psi = 6.894757 kPa"
    check(
        "pressure left in a main",
        source=source,
        expected=20 * 6.894757,
        ours=shop_value("main_least") / 1e3,
        tol=3.5,
        unit="kPa",
    )


def test_the_pressure_left_is_what_the_network_says(check) -> None:
    """The parabola of the finding against the solved network: coupling, at every filling of the duty."""
    for text in (build(3.0, 1.5, 1100.0), build(6.0, 4.5, 1800.0, 35.0)):
        one = pipes(text)
        hydrant = one.plumbing.points["hydrant coupling"].hydrant
        for state in one.worked[4].states[::8]:
            ours = pressure_left(hydrant, state.flow("hydrant at hydrant coupling"))
            check(
                "quarry: pressure at the coupling",
                source="network solved",
                expected=state.pressure("hydrant coupling"),
                ours=ours,
                tol=20.0,
                unit="Pa",
            )


@pytest.mark.parametrize("pressure", [0.5e5, 1.4e5, 2.6e5])
def test_flow_and_pressure_left_are_each_others_inverse(pressure: float) -> None:
    hydrant = pipes(QUARRY).plumbing.points["hydrant coupling"].hydrant
    assert pressure_left(hydrant, flow_leaving(hydrant, pressure)) == pytest.approx(pressure, rel=1e-12)
    assert pressure_left(hydrant, float(hydrant.flow)) == pytest.approx(float(hydrant.residual))
    assert flow_leaving(hydrant, 9e5) == 0.0


def test_beyond_its_reading_a_hydrant_is_open_and_the_note_says_what_to_do() -> None:
    found = findings(build(3.0, 1.5, 1100.0))[READ]
    assert found.verdict == "open"
    assert found.value > found.limit == pytest.approx(1100.0)
    assert "read it again at" in found.note
    opened = re.search(r"V7 (\d+) % open", found.note)[1]
    after = findings(build(3.0, 1.5, 1100.0, float(opened)))[READ]
    assert after.verdict in ("holds", "close")
    assert findings(build(3.0, 1.5, 1100.0, float(opened) + 1))[READ].verdict == "open"
    again = number(re.search(r"at ([\d\u2009]+) L/min or more", found.note)[1]) + 1.0
    read_again = 3.0 - 1.5 * (again / 1100.0) ** 2  # the same main, read harder
    assert findings(build(3.0, read_again, again))[READ].verdict == "close"


def test_a_reading_that_covers_it_holds_and_one_that_only_just_does_is_close() -> None:
    found = findings(build(6.0, 4.0, 2600.0, 35.0))
    assert found[READ].verdict == "holds"
    assert found[MAIN].verdict == "close", "its valve left wide open leaves too little"
    assert "wide open" in found[MAIN].note
    assert not found[READ].note


def test_a_main_drawn_down_fails_and_the_flow_that_is_told_leaves_enough(check) -> None:
    found = findings(build(3.0, 1.5, 1100.0))[MAIN]
    assert found.verdict == "fails"
    assert "beyond the flow" in found.note
    by_hand = 1100.0 * ((3.0 - 1.4) / (3.0 - 1.5)) ** 0.5
    told = number(re.search(r"throttle to ([\d\u2009]+) L/min", found.remedy.words)[1])
    check(
        "quarry: flow that leaves 1.4 bar",
        source="parabola by hand",
        expected=by_hand,
        ours=told,
        tol=0.5,
        unit="L/min",
    )
    opened = float(re.search(r"V7 (\d+) % open", found.remedy.words)[1])
    after = findings(build(3.0, 1.5, 1100.0, opened))[MAIN]
    assert after.verdict in ("holds", "close")
    assert findings(build(3.0, 1.5, 1100.0, opened + 1))[MAIN].verdict == "fails"
    minutes = float(re.search(r"then takes ([\d.]+) min", found.remedy.words)[1])
    assert pipes(build(3.0, 1.5, 1100.0, opened)).worked[4].over.time / 60 == pytest.approx(minutes, abs=0.05)
    assert found.remedy.breaks == (TIME,)  # it has to be full in 10 min


def test_pressure_only_just_left_is_close() -> None:
    """The reading with which 1.42 bar are left, found by bisection."""
    low, high = 0.5, 3.9
    for _ in range(12):
        residual = 0.5 * (low + high)
        left = findings(build(4.0, residual, 1100.0))[MAIN].value
        low, high = (low, residual) if left > 1.42 else (residual, high)
    found = findings(build(4.0, residual, 1100.0))[MAIN]
    assert found.value == pytest.approx(1.42, abs=0.01)
    assert found.verdict == "close"


def test_a_main_that_is_weak_at_rest_is_left_alone() -> None:
    found = findings(build(1.3, 0.9, 700.0))[MAIN]
    assert found.verdict == "fails"
    assert found.remedy.words.startswith("fill elsewhere")


def test_the_second_way_goes_with_the_power_of_the_hazen_williams_formula(check) -> None:
    """NFPA 291's formula solved for the pressure: Q = Q read (drop / drop read)^0.54."""
    found = findings(build(6.0, 4.0, 2600.0, 35.0))[MAIN]
    told = next(step for step in found.working if step.what == "a second way")
    flow = 60e3 * max(state.flow("hydrant filling") for state in pipes(build(6.0, 4.0, 2600.0, 35.0)).worked[4].states)
    drop = 2.0 * (flow / 2600.0) ** (1 / 0.54)
    check(
        "hydrant: pressure left by NFPA 291",
        source="NFPA 291, Q = Qf (hr / hf)^0.54, read in copies",
        expected=6.0 - drop,
        ours=float(told.result.split()[0]),
        tol=0.005,
        unit="bar",
    )
