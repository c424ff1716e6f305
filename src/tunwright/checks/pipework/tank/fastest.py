"""The fastest a compartment is filled: valves as somebody may leave them, and each compartment as the last one open."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from tunwright.build.pipework import Duty
from tunwright.checks.pipework.changed_duty import with_all_wide, with_shut
from tunwright.checks.pipework.worked import Worked
from tunwright.handbook.pipe_network import NoFlow
from tunwright.truck.pipework.duties import DutyState
from tunwright.truck.pipework.plumbing import Plumbing

Filling = tuple[float, DutyState, Worked, int, str]
"""Water that comes in [m3/s], when, in which duty, into which compartment, and how the valves then stand, in words."""


def fillings(plumbing: Plumbing, worked: Sequence[Worked]) -> list[Filling]:
    """Every compartment filled, the tank full: by all open mouths at once, and by its own alone.

    plumbing: the pipework
    worked: the duties that were worked out
    """
    found = []
    for one in worked:
        for part, duty, words in _ways(plumbing, one):
            try:
                state = DutyState(plumbing, duty, 1.0)
            except NoFlow:
                continue
            flow = -state.of_part(part)
            if flow > 0.0:
                found.append((flow, state, one, part, words))
    return found


def _ways(plumbing: Plumbing, one: Worked) -> Iterator[tuple[int, Duty, str]]:
    """Compartment, duty and words: throttled valves wide open, and then the valves of the other compartments shut."""
    names = [part.name for part in plumbing.truck.solid.compartments]
    wide = with_all_wide(one.duty)
    said = ", its valves wide open" if wide is not one.duty else ""
    for part, name in enumerate(names):
        yield part, wide, said
        last = wide
        for valve in _of_others(plumbing, part):
            last = with_shut(last, valve)
        if last is not wide:
            yield part, last, f"{said}, {name} the last one open"


def _of_others(plumbing: Plumbing, part: int) -> list[str]:
    """Valves in the runs that fill other compartments."""
    work = plumbing.work
    mouths = {one.name for one in work.point if one.mouth and plumbing.tank.compartment(one) != part}
    runs = {run.name for run in work.run if mouths & {run.start, run.end}}
    return [valve.name for valve in work.valve if valve.on in runs]
