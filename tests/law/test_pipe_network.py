"""Laws of a network that flows: nothing is lost at a point, links lose what their ends differ by, one answer only."""

from __future__ import annotations

import math

import numpy as np
import pytest
from scipy.optimize import brentq

from tunwright.handbook.gravity import GRAVITY
from tunwright.handbook.pipe_network import Link, NoFlow, flowing
from tunwright.handbook.pipe_parts import OneWay, PipeRun, PumpPart, Resistance, Row, fitting, nozzle
from tunwright.handbook.pump import PumpCurve

CONTINUITY, ENERGY = "continuity at every point", "energy along every link"
WATER = 1.1e-6


def pipe(length: float = 5.0, inside: float = 0.08, k: float = 1.0) -> PipeRun:
    return PipeRun(length, inside, 4.5e-5, k, WATER)


def curve() -> PumpCurve:
    flow = np.array([0.0, 0.01, 0.02, 0.03, 0.035])
    return PumpCurve(flow, np.array([60.0, 57.0, 48.0, 33.0, 24.0]), 200.0)


def random_network(seed: int) -> tuple[list[Link], dict[str, float]]:
    """A grid of pipes with two tanks, a pump, one-way valves and nozzles to the open air."""
    chance = np.random.default_rng(seed)
    side = int(chance.integers(2, 5))
    points = [f"{i}.{j}" for i in range(side) for j in range(side)]
    links = []
    for i in range(side):
        for j in range(side):
            for a, b in ((i + 1, j), (i, j + 1)):
                if a < side and b < side:
                    run = pipe(
                        float(chance.uniform(0.5, 20)), float(chance.uniform(0.02, 0.15)), float(chance.uniform(0, 20))
                    )
                    part = OneWay(run) if chance.random() < 0.2 else run
                    links.append(Link(f"{i}.{j}-{a}.{b}", f"{i}.{j}", f"{a}.{b}", part))
    given = {"tank": float(chance.uniform(1, 4)), "high": float(chance.uniform(1, 30))}
    links += [Link("pump", "tank", points[0], PumpPart(curve(), 200.0)), Link("main", "high", points[-1], pipe())]
    for n in chance.choice(len(points), size=3, replace=False):
        links.append(Link(f"nozzle {n}", points[n], f"air {n}", OneWay(Resistance(float(chance.uniform(1e4, 1e7))))))
        given[f"air {n}"] = float(chance.uniform(0, 3))
    return links, given


@pytest.mark.parametrize("seed", range(40))
def test_nothing_is_lost_and_every_link_loses_what_its_ends_differ_by(check, seed: int) -> None:
    links, given = random_network(seed)
    found = flowing(links, given)
    worst, off = 0.0, 0.0
    for name in found.head:
        if name not in given:
            into = sum(found.flow[one.name] for one in links if one.end == name)
            out = sum(found.flow[one.name] for one in links if one.start == name)
            worst = max(worst, abs(into - out))
    for one in links:
        lost = one.part.loss(found.flow[one.name])[0]
        off = max(off, abs(lost - (found.head[one.start] - found.head[one.end])))
    check("random networks: water lost at a point", source=CONTINUITY, expected=0.0, ours=worst, tol=1e-9, unit="m3/s")
    check("random networks: head lost against difference", source=ENERGY, expected=0.0, ours=off, tol=1e-5, unit="m")


@pytest.mark.parametrize("seed", range(12))
def test_the_answer_does_not_depend_on_where_the_search_begins(seed: int) -> None:
    links, given = random_network(seed)
    chance, first = np.random.default_rng(1000 + seed), flowing(links, given)
    for _ in range(4):
        other = flowing(links, given, {one.name: float(chance.uniform(-0.1, 0.1)) for one in links})
        for one in links:
            assert other.flow[one.name] == pytest.approx(first.flow[one.name], abs=2e-8)


def test_water_never_goes_backwards_through_a_one_way_valve(check) -> None:
    links = [Link("check", "low", "high", OneWay(pipe()))]
    back = flowing(links, {"low": 1.0, "high": 6.0}).flow["check"]
    check("5 m against a one-way valve", source="it is shut", expected=0.0, ours=back, tol=1e-6, unit="m3/s")
    assert flowing(links, {"low": 6.0, "high": 1.0}).flow["check"] > 0.01


def test_a_free_jet_has_torricellis_speed(check) -> None:
    """A hole of K = 1 in a wall: all head becomes speed."""
    found = flowing([Link("hole", "tank", "air", fitting(1.0, 0.05))], {"tank": 3.2, "air": 0.0})
    speed = found.flow["hole"] / (math.pi * 0.025**2)
    exact = math.sqrt(2 * GRAVITY * 3.2)
    check(
        "free jet under 3.2 m", source="Torricelli, v = sqrt(2 g h)", expected=exact, ours=speed, tol=1e-9, unit="m/s"
    )


def test_parallel_and_series_resistances_add_up(check) -> None:
    """1/sqrt(r) add in parallel, r in series; flows follow from sqrt(h / r)."""
    a, b, c = 2e4, 5e4, 9e4
    links = [
        Link("a", "top", "middle", Resistance(a)),
        Link("b", "top", "middle", Resistance(b)),
        Link("c", "middle", "air", Resistance(c)),
    ]
    found = flowing(links, {"top": 8.0, "air": 0.0})
    both = 1.0 / (1.0 / math.sqrt(a) + 1.0 / math.sqrt(b)) ** 2
    exact = math.sqrt(8.0 / (both + c))
    check(
        "two in parallel, one behind",
        source="r of parallel and of series parts",
        expected=exact,
        ours=found.flow["c"],
        tol=1e-9,
    )
    assert Row((Resistance(a), Resistance(b))).loss(0.01) == pytest.approx(((a + b) * 1e-4, 2 * (a + b) * 0.01))


def test_a_pump_works_where_its_curve_meets_the_pipe(check) -> None:
    run = pipe(30.0, 0.08, 12.0)
    found = flowing(
        [Link("pump", "tank", "out", PumpPart(curve(), 200.0)), Link("run", "out", "air", run)],
        {"tank": 2.0, "air": 5.0},
    )
    exact = brentq(lambda q: curve().head_at(q) + 2.0 - 5.0 - run.loss(q)[0], 1e-4, 0.035, xtol=1e-14)
    check("pump on one pipe", source="scipy brentq on the two curves", expected=exact, ours=found.flow["run"], tol=1e-9)


@pytest.mark.parametrize(("before", "set_head", "behind"), [(40.0, 20.0, 20.0), (15.0, 20.0, None), (40.0, 60.0, None)])
def test_a_regulator_holds_its_pressure_where_it_can(before: float, set_head: float, behind: float | None) -> None:
    links = [
        Link("regulated", "main", "reel", pipe(2.0), sets=set_head),
        Link("nozzle", "reel", "air", nozzle(2e-5, 1000.0)),
    ]
    found = flowing(links, {"main": before, "air": 0.0})
    free = flowing([Link("regulated", "main", "reel", pipe(2.0)), links[1]], {"main": before, "air": 0.0})
    expected = free.head["reel"] if behind is None else behind
    assert found.head["reel"] == pytest.approx(expected, abs=1e-5)
    assert ("regulated" in found.working) == (behind is not None)
    assert found.flow["regulated"] == pytest.approx(found.flow["nozzle"], abs=1e-9)


def test_a_regulator_lets_nothing_back() -> None:
    links = [Link("regulated", "low", "node", pipe(), sets=5.0), Link("other", "high", "node", pipe())]
    found = flowing(links, {"low": 1.0, "high": 12.0})
    assert abs(found.flow["regulated"]) < 1e-8
    assert found.head["node"] == pytest.approx(12.0, abs=1e-6)


@pytest.mark.parametrize("head", [3.0, 7.9, 8.1, 30.0])
def test_a_relief_valve_opens_at_its_pressure(check, head: float) -> None:
    """Set to 8 m: shut below, above it passes what its own resistance lets."""
    found = flowing([Link("relief", "tank", "air", OneWay(Resistance(5e4), 8.0))], {"tank": head, "air": 0.0})
    exact = math.sqrt(max(0.0, head - 8.0) / 5e4)
    check(
        f"relief set to 8 m, {head:g} m before it",
        source="q = sqrt((h - 8) / r)",
        expected=exact,
        ours=found.flow["relief"],
        tol=1e-6,
    )


def test_what_is_cut_off_stands_still_and_its_head_is_not_known() -> None:
    links = [Link("run", "tank", "air", pipe()), Link("island", "a", "b", pipe())]
    found = flowing(links, {"tank": 2.0, "air": 0.0})
    assert found.flow["island"] == 0.0
    assert math.isnan(found.head["a"])
    assert math.isnan(found.head["b"])


def test_a_network_without_a_given_pressure_says_so() -> None:
    with pytest.raises(NoFlow, match="neither tank, hydrant nor open end"):
        flowing([Link("run", "a", "b", pipe())], {})


@pytest.mark.parametrize("flow", [1e-7, 3e-5, 1e-3, 0.02])
def test_the_rate_of_a_loss_is_its_derivative(check, flow: float) -> None:
    for part in (pipe(), pipe(12.0, 0.02, 3.0), OneWay(pipe(), 2.0), Resistance(3e4), PumpPart(curve(), 150.0)):
        step = max(1e-5 * flow, 1e-9)
        exact = (part.loss(flow + step)[0] - part.loss(flow - step)[0]) / (2 * step)
        rate = part.loss(flow)[1]
        check(
            f"{type(part).__name__}: rate of its loss",
            source="central difference",
            expected=1.0,
            ours=rate / exact if exact else 1.0,
            tol=0.01,
        )
