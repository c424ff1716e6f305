"""Where water stays or never comes: pockets that do not drain, legs no duty flows through."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from tunwright.build.shown import show_number as n
from tunwright.checks.finding import Finding, Remedy, Rule, Step
from tunwright.checks.pipework.road import road_findings
from tunwright.checks.pipework.worked import Worked
from tunwright.tables.read import shop_value, shop_values
from tunwright.truck.pipework.plumbing import ONE_WAY, Plumbing

DRAINS = Rule("every low point has an open end or runs on downhill", mark="derived")
_STILL = 1e-6


def way_findings(plumbing: Plumbing, worked: Sequence[Worked], assumed: tuple[str, ...]) -> Iterator[Finding]:
    """Findings on pockets and dead legs, and on the road behind the truck.

    plumbing: the pipework
    worked: the duties that were worked out
    assumed: paths of the assumed inputs
    """
    yield _pockets(plumbing, assumed)
    if plumbing.truck.build.order.use == "potable":
        yield _dead_legs(plumbing, worked, assumed)
    yield from road_findings(plumbing, worked, assumed)


def pockets(plumbing: Plumbing) -> list[str]:
    """Points from which no water can leave by its own weight: none of their runs leads lower and nothing is open there.

    plumbing: the pipework
    """
    work, found = plumbing.work, []
    open_ends = {spray.on for spray in work.spray}
    for point in work.point:
        if point.outlet is not None or point.mouth or point.open_water or point.hydrant is not None:
            continue
        beside = [end for start, end in _ways(plumbing) if start == point.name]
        here = plumbing.height(point.name)
        if point.name not in open_ends and all(plumbing.height(other) >= here for other in beside):
            found.append(point.name)
    return found


def _ways(plumbing: Plumbing) -> list[tuple[str, str]]:
    """Ways water can run by its own weight, from a point to a point; a one-way valve lets none back."""
    work = plumbing.work
    checked = {one.on for one in work.valve if one.kind in ONE_WAY}
    found = [(run.start, run.end) for run in work.run]
    found += [(run.end, run.start) for run in work.run if run.name not in checked]
    if work.pump is not None:
        found += [(work.pump.start, work.pump.end), (work.pump.end, work.pump.start)]
    return found


def _pockets(plumbing: Plumbing, assumed: tuple[str, ...]) -> Finding:
    low = pockets(plumbing)
    value = float(len(low))
    remedy = Remedy(f"fit a drain cock (an open end with a valve) at {', '.join(low)}") if low else None
    steps = tuple(Step(name, "lower than all it is joined to", "", f"{n(plumbing.height(name), 2)} m") for name in low)
    return Finding(
        "pockets", "Does every part of the pipework drain?", ", ".join(low), value, 0.0, "pockets", "at_most",
        "fails" if low else "holds", DRAINS, remedy=remedy, working=steps, assumed=assumed,
    )  # fmt: skip


def _dead_legs(plumbing: Plumbing, worked: Sequence[Worked], assumed: tuple[str, ...]) -> Finding:
    """Runs no duty sends water through: it goes stale there."""
    states = [state for one in worked for state in one.states]
    dead = [run.name for run in plumbing.work.run if all(abs(state.flow(run.name)) < _STILL for state in states)]
    shop, limit = shop_values()["dead_leg"], shop_value("dead_leg")
    remedy = Remedy(f"take away {', '.join(dead)}, or add a duty that flushes it") if dead else None
    return Finding(
        "dead-legs", "Does every run of the drinking-water pipework get fresh water?", ", ".join(dead),
        float(len(dead)), limit, "runs", "at_most", "holds" if len(dead) <= limit else "fails",
        Rule(shop.source, mark=shop.mark), remedy=remedy, assumed=assumed,
    )  # fmt: skip
