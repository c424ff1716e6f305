"""The emergency chain: carried out step by step in every duty, does it stop the water, and do the pipes bear it?"""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence

from tunwright.build.factors import BAR, LITRES_A_MINUTE
from tunwright.build.shown import show_number as n
from tunwright.build.typed import listed
from tunwright.checks.finding import Finding, Remedy, Rule, Step, not_known, shop_rule, verdict
from tunwright.checks.pipework.bears import bears, limit_of, pressed
from tunwright.checks.pipework.changed_duty import valves_open
from tunwright.checks.pipework.emergency_chain import ENGINE, Chain, chains, left, resting, worked_by, worst
from tunwright.checks.pipework.worked import Worked, at
from tunwright.tables.read import shop_value
from tunwright.truck.pipework.plumbing import ONE_WAY, Plumbing

STOPS = "Does the emergency chain stop all water?"
BEARS = "Does the pipework bear the pressure after every step of the emergency chain?"
TURNS = Rule("the pump stands still at the end of the chain", mark="derived")
_MOST = 12  # valves a remedy adds to the chain at most


def emergency_findings(plumbing: Plumbing, worked: Sequence[Worked], assumed: tuple[str, ...]) -> Iterator[Finding]:
    """Findings about what is shut in an emergency.

    plumbing: the pipework
    worked: the duties that were worked out
    assumed: paths of the assumed inputs
    """
    rule, limit = shop_rule("emergency_left"), shop_value("emergency_left")
    if not plumbing.work.emergency:
        if _wants_one(plumbing):
            yield not_known("emergency", STOPS, rule, "L/min", ("pipework.emergency",), limit=limit)
        return
    plumbing = resting(plumbing)
    found = chains(plumbing, worked, plumbing.work.emergency)
    if not found:
        return
    yield _stops(plumbing, worked, found, rule, limit, assumed)
    yield _bears(plumbing, worked, found, assumed)
    if any(one.stages[0].turns for one in found):
        yield _rests(plumbing, worked, found, assumed)


def _wants_one(plumbing: Plumbing) -> bool:
    """Whether there is something to shut: a pump, a hydrant, an outlet of the tank or of the pipes."""
    work = plumbing.work
    gives = any(one.hydrant is not None or one.outlet is not None for one in work.point)
    return work.pump is not None or gives or bool(work.spray)


def _stops(
    plumbing: Plumbing, worked: Sequence[Worked], found: Sequence[Chain], rule: Rule, limit: float,
    assumed: tuple[str, ...],
) -> Finding:  # fmt: skip
    """Water that still runs after the last step."""
    one = worst(found)
    value = LITRES_A_MINUTE * one.left
    judged = verdict(value, limit, "at_most")
    afar = [name for name in plumbing.work.emergency if worked_by(plumbing, name) != "hand"]
    if judged == "holds" and LITRES_A_MINUTE * left(plumbing, worked, afar)[0] > limit:
        judged = "close"  # only somebody who walks there stops it
    runs = f": {one.runs}" if judged == "fails" and one.runs else ""
    return Finding(
        "emergency", STOPS, f"{at(one.worked, one.begin)}{runs}", None if math.isnan(value) else value, limit, "L/min",
        "at_most", judged, rule, working=(*_told(one), *_by_hand(plumbing)), assumed=assumed,
        note=_note(plumbing, one), remedy=_shut_too(plumbing, worked, limit) if judged == "fails" else None,
    )  # fmt: skip


def _told(one: Chain) -> Iterator[Step]:
    """What is left after each step of the worst duty."""
    for i, stage in enumerate(one.stages):
        what = f"{i}. {stage.step}" if i else "before"
        flow = f"{n(LITRES_A_MINUTE * stage.flow, 1)} L/min" if math.isfinite(stage.flow) else "not found"
        where = f" at {stage.where}" if stage.where else ""
        pressure = f", {n(stage.pressure / BAR, 2)} bar{where}" if math.isfinite(stage.pressure) else ""
        dry = "the pump turns, and nothing goes through it" if stage.turns and not stage.pumps else stage.runs
        yield Step(what, "network solved again" if i else "network solved", dry, f"{flow}{pressure}")
    yield Step("pump at rest", "lets water pass: h = k Q², k of its curve where nothing else is stated", "", "")
    yield Step("not in it", "water that stands in the pipes runs out all the same", "", "")


def _by_hand(plumbing: Plumbing) -> Iterator[Step]:
    """Valves of the chain that somebody has to walk to, and those nobody can shut."""
    alone = {one.name for one in plumbing.work.valve if one.kind in ONE_WAY}
    for name in dict.fromkeys(plumbing.work.emergency):
        if name in alone:
            yield Step(name, "opens and shuts by itself", "", "nobody can shut it")
        elif worked_by(plumbing, name) == "hand":
            yield Step(name, "worked by hand", "", "not reached while standing off")


def _note(plumbing: Plumbing, one: Chain) -> str:
    """A word on what was not found, and a caution about valves that are worked by hand."""
    words = []
    if math.isnan(one.left):
        words.append("No flow was found after a step of the chain: look at heights and valves.")
    hand = [name for name in dict.fromkeys(plumbing.work.emergency) if worked_by(plumbing, name) == "hand"]
    if hand:
        stand = "stands" if len(hand) == 1 else "stand"
        words.append(
            f"{listed(hand, 'and')} {stand} to be shut by hand: nobody reaches that while standing off. Have it worked "
            "by air or electrically, shut without either, from where the driver is safe; else only whoever is not in "
            "danger shuts it."
        )
    return " ".join(words)


def _shut_too(plumbing: Plumbing, worked: Sequence[Worked], limit: float) -> Remedy:
    """What the chain needs as well, tried in every duty."""
    steps = _begun(plumbing, plumbing.work.emergency)
    added = [ENGINE] if len(steps) > len(plumbing.work.emergency) else []
    most, sums = left(plumbing, worked, steps)
    while most * LITRES_A_MINUTE > limit and len(added) < _MOST:
        tried = [(*left(plumbing, worked, [*steps, name]), name) for name in _more(plumbing, worked, steps)]
        better = [row for row in tried if row[1] < sums * (1.0 - 1e-6)]
        if not better:
            break
        most, sums, name = min(better, key=lambda row: (row[1], worked_by(plumbing, row[2]) == "hand"))
        added, steps = [*added, name], [*steps, name]
    if most * LITRES_A_MINUTE > limit or math.isnan(most):
        still = worst(chains(plumbing, worked, steps)).runs
        return Remedy(f"fit a valve that shuts what is left, and name it in the chain: no valve there is stops {still}")
    return Remedy(f"{_do(added)}: emergency = {_written(steps)}")


def _do(added: Sequence[str]) -> str:
    valves = [name for name in added if name != ENGINE]
    shut = f"shut {listed(valves, 'and')} as well" if valves else ""
    return ", and ".join([*(["stop the engine first"] if ENGINE in added else []), *([shut] if shut else [])])


def _begun(plumbing: Plumbing, steps: Sequence[str]) -> list[str]:
    """A chain with the engine in it, first of all where it was left out."""
    return list(steps) if ENGINE in steps or plumbing.work.pump is None else [ENGINE, *steps]


def _written(steps: Sequence[str]) -> str:
    return "[" + ", ".join(f'"{one}"' for one in steps) + "]"


def _more(plumbing: Plumbing, worked: Sequence[Worked], steps: Sequence[str]) -> list[str]:
    """Valves that are open in some duty and not in the chain; those worked from afar first."""
    alone = {one.name for one in plumbing.work.valve if one.kind in ONE_WAY}
    opened = [name for one in worked for name in valves_open(one.duty)]
    names = [name for name in dict.fromkeys(opened) if name not in alone and name not in steps]
    return sorted(names, key=lambda name: worked_by(plumbing, name) == "hand")


def _bears(plumbing: Plumbing, worked: Sequence[Worked], found: Sequence[Chain], assumed: tuple[str, ...]) -> Finding:
    """The greatest pressure that stands after any step of the chain."""
    rows = [(stage.pressure, stage, one) for one in found for stage in one.stages[1:] if math.isfinite(stage.pressure)]
    if not rows:
        return not_known("emergency-pressure", BEARS, limit_of(plumbing)[1], "bar", (), note="No flow was found.")
    limits = {where: bears(plumbing, pressed(plumbing, where)) for where in {row[1].where for row in rows}}
    value, stage, one = max(rows, key=lambda row: row[0] / limits[row[1].where][0])
    limit, rule = limits[stage.where]
    judged = verdict(value / BAR, limit / BAR, "at_most")
    return Finding(
        "emergency-pressure", BEARS, f"{stage.where}: {at(one.worked, one.begin)}, after {stage.step}", value / BAR,
        limit / BAR, "bar", "at_most", judged, rule, working=tuple(_told(one)), assumed=assumed,
        remedy=_engine_first(plumbing, worked, limit) if judged == "fails" else None,
    )  # fmt: skip


def _engine_first(plumbing: Plumbing, worked: Sequence[Worked], limit: float) -> Remedy | None:
    """The chain with the engine stopped first, where the pipework bears that in every duty."""
    steps = [ENGINE, *(name for name in plumbing.work.emergency if name != ENGINE)]
    stages = [stage for one in chains(plumbing, worked, steps) for stage in one.stages[1:]]
    if all(stage.pressure <= limit for stage in stages):
        return Remedy(f"stop the engine first: emergency = {_written(steps)}")
    return None


def _rests(plumbing: Plumbing, worked: Sequence[Worked], found: Sequence[Chain], assumed: tuple[str, ...]) -> Finding:
    """Duties in which the pump still turns after the last step."""
    turning = list(dict.fromkeys(one.worked.duty.name for one in found if one.stages[-1].turns))
    steps = _begun(plumbing, plumbing.work.emergency)
    stopped = not any(one.stages[-1].turns for one in chains(plumbing, worked, steps)) if turning else False
    return Finding(
        "emergency-pump", "Does the emergency chain stop the pump?", ", ".join(turning), float(len(turning)), 0.0,
        "duties", "at_most", "fails" if turning else "holds", TURNS, assumed=assumed,
        remedy=Remedy(f"stop the engine first: emergency = {_written(steps)}") if stopped else None,
    )  # fmt: skip
