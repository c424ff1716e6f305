"""The pump turning while all that it feeds is shut, relief valves as they are."""

from __future__ import annotations

from tunwright.build.pipework import Duty
from tunwright.handbook.pipe_network import Flowing, flowing
from tunwright.truck.pipework.plumbing import Plumbing


def all_shut(plumbing: Plumbing, duty: Duty) -> Flowing:
    """The network of a duty, tank full, without what the pump delivers to but relief valves. Raises NoFlow.

    plumbing: the pipework, with a pump
    duty: what is open before the pump, and how fast it turns
    """
    work = plumbing.work
    end = "" if work.pump is None else work.pump.end
    behind = {run.name for run in work.run if end in (run.start, run.end)}
    behind |= {spray.name for spray in work.spray if spray.on == end}
    links = [one for one in plumbing.links(duty, 1.0) if one.name not in behind]
    return flowing(links, plumbing.given(1.0))
