"""The road behind the truck: is enough water laid, and is it laid evenly."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence

from tunwright.build.factors import LITRES_A_MINUTE, TURNS_A_MINUTE
from tunwright.build.shown import show_number as n
from tunwright.checks.finding import Finding, Remedy, Step, not_known, shop_rule, verdict
from tunwright.checks.pipework.road.across import Sprayed, evenness, nozzles, spacing_remedy, tapers
from tunwright.checks.pipework.road.laid import Laid, depth, laid, pools
from tunwright.checks.pipework.road.running import running
from tunwright.checks.pipework.worked import WANTED, Worked, at
from tunwright.handbook.pipe_network import NoFlow
from tunwright.handbook.spreading import flow_for, speed_for
from tunwright.tables.read import shop_value, shop_values
from tunwright.truck.pipework.holding import EngineRange, on_the_road, road_flow
from tunwright.truck.pipework.plumbing import Plumbing

_TURNS = 10.0  # steps an engine speed is told in [rpm]
_KMH = 3.6


def road_findings(plumbing: Plumbing, worked: Sequence[Worked], assumed: tuple[str, ...]) -> Iterator[Finding]:
    """Findings on the depth of water on the road, and on its evenness.

    plumbing: the pipework
    worked: the duties that were worked out
    assumed: paths of the assumed inputs
    """
    for one in worked:
        yield from _lays(plumbing, one, assumed)
        yield from _even(one, assumed)


# enough water


def _lays(plumbing: Plumbing, one: Worked, assumed: tuple[str, ...]) -> Iterator[Finding]:
    """The least depth over all fillings against what is wanted."""
    if one.duty.lays is None or not one.states:
        return
    key, question = f"lays-{one.slug}", f"Is enough water laid on the road when it is asked to {one.duty.name}?"
    wanted, found, missing = float(one.duty.lays), laid(one), _missing(plumbing, one)
    limit = 1000.0 * wanted
    if missing:
        yield not_known(key, question, WANTED, "L/m²", missing, sense="at_least", limit=limit)
        return
    if found is None:
        note = "Nothing is sprayed: look at the valves and at the heights."
        yield Finding(
            key, question, at(one, one.states[0]), 0.0, limit, "L/m²", "at_least", "fails", WANTED, note=note,
            assumed=assumed,
        )  # fmt: skip
        return
    judged = verdict(1000.0 * found.least, limit, "at_least")
    remedy = _remedy(plumbing, one, found, wanted) if judged == "fails" else None
    yield Finding(
        key, question, at(one, found.driest), 1000.0 * found.least, limit, "L/m²", "at_least", judged, WANTED,
        working=_depths(found), assumed=assumed, note=pools(found), remedy=remedy,
    )  # fmt: skip


def _missing(plumbing: Plumbing, one: Worked) -> tuple[str, ...]:
    """Inputs without which no depth can be told."""
    work, sprayed = plumbing.work, {name for state in one.states for name in state.to_sprays}
    missing = []
    if one.duty.road_speed is None:
        missing.append(f"pipework.duty[{work.duty.index(one.duty) + 1}].road_speed")
    named = [(i, spray) for i, spray in enumerate(work.spray, start=1) if spray.name in sprayed]
    if named and all(spray.width is None for _, spray in named):
        missing += [f"pipework.spray[{i}].width" for i, _ in named]
    return tuple(missing)


def _depths(found: Laid) -> tuple[Step, ...]:
    """Least and greatest depth, and what a road takes."""
    shop = shop_values()["lays_most"]
    on = f"L/min on {n(found.width, 1)} m at {n(_KMH * found.speed, 1)} km/h"
    rows = (("least depth", found.driest, found.least), ("greatest depth", found.wettest, found.most))
    steps = [
        Step(what, "Q / (v w)", f"{n(LITRES_A_MINUTE * road_flow(state))} {on}", f"{n(1000 * each, 2)} L/m²")
        for what, state, each in rows
    ]
    return (*steps, Step("more may stand in pools", "", "", f"{n(1000 * shop.value, 1)} L/m²", shop.source))


def _remedy(plumbing: Plumbing, one: Worked, found: Laid, wanted: float) -> Remedy | None:
    """The engine speed, and the speed on the road, that would do."""
    least, ways = road_flow(found.driest), []
    if plumbing.work.pump is not None and one.duty.engine is not None:
        flow = float(flow_for(depth=wanted, speed=found.speed, width=found.width))
        ways.append(_engine_words(EngineRange(plumbing, one.duty, found.driest.fill), one, flow, found))
    if least > 0.0:
        slow = math.floor(10.0 * _KMH * float(speed_for(flow=least, depth=wanted, width=found.width))) / 10.0
        ways.append(f"drive at {n(slow, 1)} km/h at most" if slow > 0.0 else "")
    words = [way for way in ways if way]
    return Remedy("; or ".join(words)) if words else None


def _engine_words(turning: EngineRange, one: Worked, flow: float, found: Laid) -> str:
    """The engine speed that gives a flow at every filling, in words; or why none does."""
    free = running(turning)
    if free is None:
        return ""
    try:
        held = turning.engine_for(flow, low=free.low, high=free.high)
        turns = math.inf if held.engine is None else _TURNS * math.ceil(TURNS_A_MINUTE * held.engine / _TURNS - 1e-6)
        while turns <= TURNS_A_MINUTE * free.high and not _everywhere(turning, one, turns / TURNS_A_MINUTE, flow):
            turns += _TURNS
        if turns <= TURNS_A_MINUTE * free.high + 1e-6:
            return f"run the engine at {n(turns)} rpm"
        most = depth(turning.flow(free.high), speed=found.speed, width=found.width)
    except NoFlow:
        return ""
    fast = n(_TURNS * math.floor(TURNS_A_MINUTE * free.high / _TURNS + 1e-6))
    return f"take a larger pump or larger sprays: at {fast} rpm ({free.above}) it lays {n(1000 * most, 2)} L/m²"


def _everywhere(turning: EngineRange, one: Worked, engine: float, flow: float) -> bool:
    """Whether an engine speed gives a flow at every filling."""
    return all(EngineRange(turning.plumbing, one.duty, state.fill).flow(engine) >= flow for state in one.states)


# evenly


def _even(one: Worked, assumed: tuple[str, ...]) -> Iterator[Finding]:
    """How evenly the sprays of a duty wet the road; nothing is asked of one whose pattern is even."""
    rows = [sprayed for state in one.states if _may_be_uneven(sprayed := on_the_road(state))]
    whole = laid(one)
    if not rows or whole is None:
        return
    (value, driest), sprayed = min(((evenness(each), each) for each in rows), key=lambda row: row[0][0])
    limit, question = shop_value("evenness"), f"Is the water spread evenly when it is asked to {one.duty.name}?"
    judged = verdict(value, limit, "at_least")
    words = spacing_remedy(sprayed, limit) if judged == "fails" else ""
    yield Finding(
        f"evenness-{one.slug}", question, "", value, limit, "share", "at_least", judged,
        shop_rule("evenness"), working=(*_depths(whole), *_evenly(sprayed, value, driest)),
        assumed=assumed, remedy=Remedy(words) if words else None,
    )  # fmt: skip


def _may_be_uneven(sprayed: Sprayed) -> bool:
    return len(sprayed) > 1 or any(spray.pattern != "even" for spray, _ in sprayed)


def _evenly(sprayed: Sprayed, value: float, driest: float) -> Iterator[Step]:
    across = "between the outermost middles" if tapers(nozzles(sprayed)) else "across all that is wetted"
    what = "Christiansen's coefficient"
    yield Step("evenness", "1 - mean deviation / mean", across, f"{n(100 * value, 1)} %", what)
    yield Step("driest quarter of it", "its mean / mean", "", f"{n(100 * driest, 1)} %", "Keller and Bliesner")
