"""What the pipework has to catch, with the size that would do, tried: overflow, vent, lift; and laws in a truck."""

from __future__ import annotations

import re
from functools import lru_cache

import numpy as np
import pytest
from scipy.integrate import solve_ivp

from plumbed import changed
from tunwright.build.reading import read_text
from tunwright.checks.assess import Assessment
from tunwright.checks.pipework.pipes import Pipes
from tunwright.demos import demo_text
from tunwright.truck.pipework.duties import DutyState
from tunwright.truck.truck import Truck

QUARRY = demo_text("quarry-carrier")
OVERFLOW = 'series = "sch 40"\nsize = "DN200"\nlength = "1.7 m"'
MODEL = "the network's own flows, put together a second way"


def assessed(*changes: tuple[str, str]) -> Assessment:
    return Assessment(read_text(changed(QUARRY, *changes)).build)


@lru_cache(maxsize=1)
def quarry() -> Pipes:
    return Pipes(Truck(read_text(QUARRY).build))


def test_an_overflow_too_small_for_the_hydrant_is_caught_with_the_size_that_would_do() -> None:
    found = assessed((OVERFLOW, OVERFLOW.replace("DN200", "DN100"))).finding("overflow")
    assert found.verdict == "fails"
    assert found.value < found.limit
    size = re.search(r"make the overflow (DN\d+)", found.remedy.words)[1]
    smaller = {"DN200": "DN150", "DN250": "DN200"}[size]
    assert assessed((OVERFLOW, OVERFLOW.replace("DN200", size))).finding("overflow").verdict in ("holds", "close")
    assert assessed((OVERFLOW, OVERFLOW.replace("DN200", smaller))).finding("overflow").verdict == "fails"


def test_a_vent_too_small_for_the_pump_is_caught_with_the_bore_that_would_do() -> None:
    vents = 'bore = "80 mm"\ncount = 2'
    found = assessed((vents, 'bore = "15 mm"\ncount = 1')).finding("vent-in")
    assert found.verdict == "fails"
    bore = int(re.search(r"make the vent (\d+) mm in bore", found.remedy.words)[1])
    assert assessed((vents, f'bore = "{bore} mm"\ncount = 1')).finding("vent-in").verdict in ("holds", "close")
    assert assessed((vents, f'bore = "{bore - 5} mm"\ncount = 1')).finding("vent-in").verdict == "fails"


def test_a_suction_lift_that_does_not_prime_is_caught_with_the_level_that_would_do() -> None:
    pond = 'name = "pond"\nheight = "-2.2 m"'
    found = assessed((pond, pond.replace("-2.2", "-5.4"))).finding("prime-fill-from-a-pond")
    assert found.verdict == "fails"
    higher = float(re.search(r"water ([\d.]+) m higher", found.remedy.words)[1])
    better = pond.replace("-2.2", f"{-5.4 + higher + 0.006:.3f}")
    assert assessed((pond, better)).finding("prime-fill-from-a-pond").verdict in ("holds", "close")


def test_a_flooded_pump_does_not_draw_from_a_pond() -> None:
    found = assessed(('primes = "self-priming"\nlift = "5 m"\n', 'primes = "flooded"\n')).finding(
        "prime-fill-from-a-pond"
    )
    assert found.verdict == "fails"
    assert "draws no air out" in found.note


def test_a_pump_run_off_its_curve_fails_with_the_flow_that_is_left() -> None:
    found = assessed(('throttled = [{ valve = "V6", open = "50 %" }]', ""), ('open = ["V2"]', 'open = ["V2", "V6"]'))
    curve = found.finding("pump-curve")
    assert curve.verdict == "fails"
    assert "throttle to 1\u2009440 L/min at 1\u2009200 rpm" in curve.remedy.words


def test_a_valve_forgotten_says_that_nothing_flows() -> None:
    found = assessed(('open = ["V1", "V5"]', "open = []")).finding("duty-use-the-monitor")
    assert found.verdict == "fails"
    assert "Nothing flows" in found.note


@pytest.mark.parametrize("i", range(5))
def test_what_flows_in_flows_out_at_every_point_of_every_duty(check, i: int) -> None:
    one = quarry().worked[i]
    loose = 0.0
    for state in one.states:
        for point in state.plumbing.work.point:
            if point.outlet is None and not point.mouth and not point.open_water and point.hydrant is None:
                loose = max(loose, abs(state.leaves(point.name)))
    check(f"quarry, {one.duty.name}: water lost at a joint", source="continuity", expected=0.0, ours=loose, tol=1e-8)


@pytest.mark.parametrize("i", range(5))
def test_the_time_is_that_of_the_volume_balance_integrated(check, i: int) -> None:
    """dV/dt = -Q(V) by solve_ivp from the first filling to the last, the network solved at every step."""
    one = quarry().worked[i]
    net, begin = one.states[0].plumbing.tank.net, one.states[0].fill
    near = one.states[0]

    def rate(_: float, y: np.ndarray) -> list[float]:
        return [-DutyState(near.plumbing, one.duty, float(y[0]), near).from_tank / net]

    def done(_: float, y: np.ndarray) -> float:
        return float(y[0]) - one.over.ends

    done.terminal = True  # type: ignore[attr-defined]
    found = solve_ivp(rate, (0.0, 3.0 * one.over.time), [begin], events=done, rtol=1e-7, atol=1e-9, max_step=120.0)
    time = float(found.t_events[0][0])
    words = f"quarry, {one.duty.name}: time over the tank"
    check(words, source="dV/dt = -Q by scipy solve_ivp", expected=time, ours=one.over.time, tol=1e-3 * time, unit="s")


def test_water_out_of_the_tank_is_what_the_sprays_throw_and_the_bypass_gives_back(check) -> None:
    for one in quarry().worked:
        for state in one.states[::5]:
            if not one.inward:
                thrown = sum(state.to_sprays.values())
                words = f"quarry, {one.duty.name}: out of the tank"
                check(words, source=MODEL, expected=thrown, ours=state.from_tank, tol=1e-8, unit="m3/s")


def test_a_faster_engine_never_gives_less() -> None:
    flows = []
    for rpm in (900, 1100, 1300, 1500, 1700):
        found = assessed(('engine = "1300 rpm"', f'engine = "{rpm} rpm"'))
        flows.append(found.finding("duty-spray-the-road-behind").value)
    assert flows == sorted(flows)
    assert len(set(flows)) == len(flows)


@pytest.mark.parametrize(
    ("key", "change"),
    [
        ("duty-spray-the-road-behind", ('wants = "800 L/min"', 'wants = "950 L/min"')),
        ("duty-time-spray-the-road-behind", ('within = "20 min"', 'within = "13 min"')),
    ],
)
def test_too_little_flow_comes_with_the_engine_speed_that_would_do(key: str, change) -> None:
    one = assessed(change).finding(key)
    assert one.verdict == "fails"
    rpm = int(re.search(r"engine at ([\d\u2009]+) rpm or more", one.remedy.words)[1].replace("\u2009", ""))
    engine = 'engine = "1300 rpm"'
    assert assessed(change, (engine, f'engine = "{rpm} rpm"')).finding(key).verdict in ("holds", "close")
    assert assessed(change, (engine, f'engine = "{rpm - 10} rpm"')).finding(key).verdict == "fails"


def test_a_pipe_too_narrow_comes_with_the_size_that_would_do() -> None:
    key, size = "duty-spray-the-road-behind", 'to = "rear header"\nseries = "sch 40"\nsize = "{}"'
    narrow = (size.format("DN80"), size.format("DN40"))
    one = assessed(narrow).finding(key)
    assert one.verdict == "fails"
    told = re.search(r"make rear line, which loses most, (DN\d+)", one.remedy.words)[1]
    assert assessed((size.format("DN80"), size.format(told))).finding(key).verdict in ("holds", "close")
    below = {"DN50": "DN40", "DN65": "DN50", "DN80": "DN65"}[told]
    assert assessed((size.format("DN80"), size.format(below))).finding(key).verdict == "fails"
