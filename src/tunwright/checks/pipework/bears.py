"""What pressure the pipework bears, run by run."""

from __future__ import annotations

from collections.abc import Iterable

from tunwright.build.pipework import PipeRun
from tunwright.checks.finding import Rule, shop_rule
from tunwright.tables.read import shop_value
from tunwright.truck.pipework.plumbing import Plumbing

_CAM = "cam coupling"
Limit = tuple[float, Rule]
"""Greatest pressure [Pa], and who says so."""


def limit_of(plumbing: Plumbing) -> Limit:
    """Greatest pressure of pipes and valves that say nothing of their own.

    plumbing: the pipework
    """
    own = plumbing.work.pressure
    if own is not None:
        return float(own), Rule("pipes, valves and hoses", mark="the build's")
    return shop_value("pipe_pressure"), shop_rule("pipe_pressure")


def bears(plumbing: Plumbing, runs: Iterable[str]) -> Limit:
    """Greatest pressure that the weakest of some runs bears.

    plumbing: the pipework
    runs: their names
    """
    found = [limit for name in runs for limit in _run(plumbing, plumbing.runs[name])]
    return min([limit_of(plumbing), *found], key=lambda one: one[0])


def _run(plumbing: Plumbing, run: PipeRun) -> list[Limit]:
    """What a run bears: as stated, else less than pipe where it is hose or is coupled by cams."""
    if run.bears is not None:
        return [(float(run.bears), Rule(run.name, mark="maker's"))]
    keys = (["hose_pressure"] if plumbing.size(run).soft else []) + (["cam_pressure"] if _CAM in run.fittings else [])
    return [(shop_value(key), shop_rule(key)) for key in keys] if plumbing.work.pressure is None else []


def pressed(plumbing: Plumbing, point: str) -> list[str]:
    """Runs that stand under the pressure of a point: all that hang on it, as far as tank, open water and pump.

    plumbing: the pipework
    point: its name
    """
    work = plumbing.work
    ends = {one.name for one in work.point if one.outlet is not None or one.mouth or one.open_water}
    ends |= {work.pump.start, work.pump.end} - {point} if work.pump is not None else set()
    found: dict[str, None] = {}
    waiting = [point]
    while waiting:
        here = waiting.pop()
        for run in (one for one in work.run if here in (one.start, one.end) and one.name not in found):
            found[run.name] = None
            waiting += [end for end in (run.start, run.end) if end != here and end not in ends]
    return list(found)

