"""Where water stays or never comes: pockets that do not drain, legs no duty flows through."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from tunwright.build.factors import LITRES_A_MINUTE
from tunwright.build.shown import show_number as n
from tunwright.checks.finding import Finding, Remedy, Rule, Step, shop_rule
from tunwright.checks.pipework.worked import STILL, Worked, at
from tunwright.tables.read import shop_value
from tunwright.truck.pipework.plumbing import ONE_WAY, Plumbing

NOT_BACK = Rule("common practice, no source: a suction keeps its water", mark="common practice")
_SAG = 0.03  # a way that hangs lower than its ends by less drains well enough [m]
DRAINS = Rule("every low point has an open end or runs on downhill", mark="derived")


def way_findings(plumbing: Plumbing, worked: Sequence[Worked], assumed: tuple[str, ...]) -> Iterator[Finding]:
    """Findings on pockets and dead legs.

    plumbing: the pipework
    worked: the duties that were worked out
    assumed: paths of the assumed inputs
    """
    yield _pockets(plumbing, assumed)
    yield from _runs_back(plumbing, worked, assumed)
    if plumbing.truck.build.order.use == "potable":
        yield _dead_legs(plumbing, worked, assumed)


def sags(plumbing: Plumbing) -> dict[str, float]:
    """Runs whose way hangs lower than both its ends, with how far below the lower one [m].

    plumbing: the pipework
    """
    found = {}
    for run in plumbing.work.run:
        heights = [float(corner.height) for corner in run.corner]
        depth = min(heights[0], heights[-1]) - min(heights) if heights else 0.0
        if depth > _SAG:
            found[run.name] = depth
    return found


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
    low, hang = pockets(plumbing), sags(plumbing)
    where = [*low, *hang]
    words = [f"fit a drain cock (an open end with a valve) at {', '.join(low)}"] if low else []
    words += [f"let {', '.join(hang)} fall all the way, or fit a drain cock at its lowest place"] if hang else []
    steps = [Step(name, "lower than all it is joined to", "", f"{n(plumbing.height(name), 2)} m") for name in low]
    steps += [Step(name, "hangs lower than its ends", "", f"{n(1000 * deep)} mm") for name, deep in hang.items()]
    return Finding(
        "pockets", "Does every part of the pipework drain?", ", ".join(where), float(len(where)), 0.0, "pockets",
        "at_most", "fails" if where else "holds", DRAINS, remedy=Remedy("; ".join(words)) if where else None,
        working=tuple(steps), assumed=assumed,
    )  # fmt: skip


def _runs_back(plumbing: Plumbing, worked: Sequence[Worked], assumed: tuple[str, ...]) -> Iterator[Finding]:
    """Water that runs out into open water the vehicle draws from, in the duty in which most of it does."""
    waters = [one.name for one in plumbing.work.point if one.open_water]
    rows = [(-state.leaves(name), name, state, one) for one in worked for state in one.states for name in waters]
    if not rows:
        return
    flow, name, state, one = max(rows, key=lambda row: row[0])
    back = LITRES_A_MINUTE * max(0.0, flow)
    words = f"fit a foot valve in the hose to {name}, or leave its valve shut when it is asked to {one.duty.name}"
    fails, remedy = flow > STILL, Remedy(words)
    yield Finding(
        "runs-back", "Does no water run back into the open water it is drawn from?", at(one, state) if fails else "",
        back, 0.0, "L/min", "at_most", "fails" if fails else "holds", NOT_BACK, assumed=assumed,
        remedy=remedy if fails else None,
    )  # fmt: skip


def _dead_legs(plumbing: Plumbing, worked: Sequence[Worked], assumed: tuple[str, ...]) -> Finding:
    """Runs no duty sends water through: it goes stale there."""
    states = [state for one in worked for state in one.states]
    dead = [run.name for run in plumbing.work.run if all(abs(state.flow(run.name)) < STILL for state in states)]
    limit = shop_value("dead_leg")
    remedy = Remedy(f"take away {', '.join(dead)}, or add a duty that flushes it") if dead else None
    return Finding(
        "dead-legs", "Does every run of the drinking-water pipework get fresh water?", ", ".join(dead),
        float(len(dead)), limit, "runs", "at_most", "holds" if len(dead) <= limit else "fails",
        shop_rule("dead_leg"), remedy=remedy, assumed=assumed,
    )  # fmt: skip
