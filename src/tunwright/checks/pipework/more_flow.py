"""What lets a duty bring more: a faster engine, or a wider pipe where most is lost. Each is solved anew."""

from __future__ import annotations

from collections.abc import Callable, Iterator

from tunwright.build.pipework import Duty, PipeRun
from tunwright.build.shown import show_number as n
from tunwright.checks.finding import Remedy
from tunwright.checks.pipework.changed_duty import engine_speed
from tunwright.checks.pipework.worked import STILL, Worked
from tunwright.handbook.pipe_network import NoFlow
from tunwright.tables.pipes import sizes
from tunwright.truck.pipework.duties import DutyState
from tunwright.truck.pipework.plumbing import Plumbing

Good = Callable[[Plumbing, Duty], bool]
"""Whether a pipework does a duty well enough. May raise NoFlow."""



def more(plumbing: Plumbing, one: Worked, good: Good) -> Remedy | None:
    """A faster engine or a wider pipe that will do, None where neither does.

    plumbing: the pipework
    one: the duty
    good: whether it will do
    """
    speed = engine_speed(plumbing, one.duty, lambda duty: _will(good, plumbing, duty), faster=True)
    words = [] if speed is None else [f"run the engine at {n(speed)} rpm or more"]
    words += [_wider(plumbing, one, run, good) for run in _losing(one)[:1]]
    said = [word for word in words if word]
    return Remedy("; or ".join(said)) if said else None


def _will(good: Good, plumbing: Plumbing, duty: Duty) -> bool:
    try:
        return good(plumbing, duty)
    except NoFlow:
        return False


def _losing(one: Worked) -> list[PipeRun]:
    """Runs in which water flows, the one that loses most head first."""
    state = one.states[-1]
    wet = [run for run in state.plumbing.work.run if abs(state.flow(run.name)) > STILL]
    return sorted(wet, key=lambda run: -_lost(state, run))


def _lost(state: DutyState, run: PipeRun) -> float:
    head = state.flowing.head
    return abs(head.get(run.start, 0.0) - head.get(run.end, 0.0))


def _wider(plumbing: Plumbing, one: Worked, run: PipeRun, good: Good) -> str:
    """The next size of a run that will do, in words; nothing where none does."""
    for name, wide in widened(plumbing, run):
        if _will(good, wide, one.duty):
            return f"make {run.name}, which loses most, {name} with its valves and fittings"
    return ""


def widened(plumbing: Plumbing, run: PipeRun) -> Iterator[tuple[str, Plumbing]]:
    """The pipework with a run of each of the sizes above its own, smallest first.

    plumbing: the pipework
    run: the run
    """
    inside = plumbing.size(run).inside
    for name in (size.name for size in sizes(run.series) if size.inside > inside):
        runs = [each if each.name != run.name else run.model_copy(update={"size": name}) for each in plumbing.work.run]
        yield name, Plumbing(plumbing.truck, plumbing.work.model_copy(update={"run": runs}))
