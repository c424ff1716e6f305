"""Why nothing flows in a duty: no source, no way, a valve that is shut on it, or not height enough."""

from __future__ import annotations

from tunwright.build.shown import show_number as n
from tunwright.build.typed import listed
from tunwright.checks.pipework.changed_duty import valves_open
from tunwright.checks.pipework.passing import Passage, passages, reached
from tunwright.checks.pipework.worked import MEANT, Worked
from tunwright.truck.pipework.duties import DutyState
from tunwright.truck.pipework.names import main
from tunwright.truck.pipework.plumbing import ONE_WAY, Plumbing


def why_still(one: Worked) -> str:
    """Why nothing flows in a duty, in a sentence.

    one: the duty, worked out
    """
    state = one.states[0]
    work = state.plumbing.work
    if work.pump is not None and one.duty.engine is None and one.duty.kind not in ("fill", "drain"):
        return "Nothing flows: the pump stands still. Give the duty the speed of its engine."
    sources, sinks = _sources(one), _sinks(one)
    if not sources:
        kinds = {"fill": "hydrant", "draw": "open_water = true"}
        return f"Nothing flows: there is no water to draw from. Give a point {kinds.get(one.duty.kind, 'outlet')}."
    if not sinks:
        return "Nothing flows: there is nothing it could flow to. Give a spray, or a mouth of the tank."
    named = [valve.name for valve in work.valve]
    wide = one.duty.model_copy(update={"open": named, "throttled": []})
    open_ways = passages(state.plumbing, wide)
    ways = [way for each in sources for name in sinks if (way := reached(open_ways, [each]).get(name))]
    if not ways:
        return f"Nothing flows: no run leads from {listed(sources)} to {listed(sinks)}. Look at their from and to."
    way = min(ways, key=lambda each: (len(_shut(one, each)), len(each)))
    shut = _shut(one, way)
    if shut:
        stand = "is" if len(shut) == 1 else "are"
        return f"Nothing flows: {listed(shut, 'and')} {stand} shut on the way from {way[0].start} to {way[-1].end}."
    return _too_high(state, way)


def _sources(one: Worked) -> list[str]:
    """Points water could come from."""
    points = one.states[0].plumbing.work.point
    hydrants = [each.name for each in points if each.hydrant is not None]
    waters = [each.name for each in points if each.open_water]
    if one.inward:
        return hydrants if one.duty.kind == "fill" else waters
    return [*(each.name for each in points if each.outlet is not None), *hydrants, *waters]


def _sinks(one: Worked) -> list[str]:
    """Points it is meant to get to."""
    work = one.states[0].plumbing.work
    mouths = [each.name for each in work.point if each.mouth]
    if one.inward:
        return mouths + [each.name for each in work.point if each.outlet is not None]
    if one.duty.kind == "recirculate":
        return mouths
    meant = [each.on for each in work.spray if each.kind in MEANT.get(one.duty.kind, ())]
    return list(dict.fromkeys(meant or [each.on for each in work.spray]))


def _shut(one: Worked, way: tuple[Passage, ...]) -> list[str]:
    """Valves on a way that are shut in the duty."""
    opened, runs = valves_open(one.duty), {each.name for each in way}
    valves = one.states[0].plumbing.work.valve
    return [v.name for v in valves if v.on in runs and v.kind not in ONE_WAY and v.name not in opened]


def _too_high(state: DutyState, way: tuple[Passage, ...]) -> str:
    """Heights along a way that is open: what the water could rise to, and the highest point of the way."""
    plumbing, start = state.plumbing, way[0].start
    given = plumbing.given(state.fill)
    lifts = given.get(start, given.get(main(start)))
    if lifts is None:
        return f"Nothing flows: {start} stands above the water."
    if state.pump is not None:
        lifts += _adds(plumbing, state)
    end = max((each.end for each in way), key=plumbing.height)
    high = plumbing.height(end)
    if high < lifts:
        return "Nothing flows: look at the valves of what it leaves by, and at the heights."
    return f"Nothing flows: the water rises to {n(lifts, 2)} m above the ground, and {end} stands at {n(high, 2)} m."


def _adds(plumbing: Plumbing, state: DutyState) -> float:
    return 0.0 if plumbing.curve is None else plumbing.curve.dead_head(plumbing.speed(state.duty))
