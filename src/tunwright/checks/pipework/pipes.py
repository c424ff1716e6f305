"""The pipework asked: does it deliver, does the pump bear it, does the tank fill, breathe and overflow as it should.

A build without a table [pipework] asks none of this.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from functools import cached_property

from tunwright.build.pipework import Duty
from tunwright.checks.finding import Finding, Rule, in_us_words
from tunwright.checks.pipework.backflow import backflow_findings
from tunwright.checks.pipework.delivery import delivery_findings
from tunwright.checks.pipework.drinking import drinking_findings
from tunwright.checks.pipework.emergency import emergency_findings
from tunwright.checks.pipework.frost import frost_findings
from tunwright.checks.pipework.hydrant import hydrant_findings
from tunwright.checks.pipework.jets import jet_findings
from tunwright.checks.pipework.meters import meter_findings
from tunwright.checks.pipework.pressure import pressure_findings
from tunwright.checks.pipework.pump import pump_findings
from tunwright.checks.pipework.road.road import road_findings
from tunwright.checks.pipework.siphon import siphon_findings
from tunwright.checks.pipework.tank.tank import tank_findings
from tunwright.checks.pipework.ways import way_findings
from tunwright.checks.pipework.worked import Worked
from tunwright.handbook.pipe_network import NoFlow
from tunwright.truck.pipework.duties import at_filling, over_time
from tunwright.truck.pipework.plumbing import Plumbing
from tunwright.truck.truck import Truck

FLOWS = Rule("continuity and energy in every pipe", mark="derived")


class Pipes:
    """The pipework of a truck, every duty worked out when it is asked for.

    truck: the truck
    fill: the one filling the duties are looked at [-]; None for all from the first to the last
    """

    def __init__(self, truck: Truck, *, fill: float | None = None) -> None:
        self.truck, self.fill = truck, fill

    @cached_property
    def plumbing(self) -> Plumbing | None:
        """The pipework, None where the build has none."""
        work = self.truck.build.pipework
        return None if work is None else Plumbing(self.truck, work)

    @cached_property
    def worked(self) -> tuple[Worked, ...]:
        """Every duty over its time."""
        if self.plumbing is None:
            return ()
        return tuple(self._worked(duty) for duty in self.plumbing.work.duty)

    def _worked(self, duty: Duty) -> Worked:
        if self.plumbing is None:
            raise ValueError("There is no pipework.")
        try:
            if self.fill is not None:
                return Worked(duty, at_filling(self.plumbing, duty, self.fill))
            return Worked(duty, over_time(self.plumbing, duty))
        except NoFlow as error:
            return Worked(duty, None, str(error))


def pipe_findings(pipes: Pipes, assumed: Sequence[str]) -> Iterator[Finding]:
    """Findings about the pipework, in the words of the order's units; none where the build has none.

    pipes: the pipework
    assumed: paths of the assumed inputs
    """
    us = pipes.truck.build.order.units == "us"
    yield from map(in_us_words, _asked(pipes, assumed)) if us else _asked(pipes, assumed)


def _asked(pipes: Pipes, assumed: Sequence[str]) -> Iterator[Finding]:
    plumbing = pipes.plumbing
    if plumbing is None:
        return
    mine = tuple(path for path in assumed if path.startswith(("pipework", "tank")))
    for one in pipes.worked:
        if one.trouble:
            question = f"Does water flow when it is asked to {one.duty.name}?"
            yield Finding(
                f"duty-{one.slug}", question, "", None, None, "L/min", "at_least", "fails", FLOWS, note=one.trouble
            )
    done = tuple(one for one in pipes.worked if one.over is not None)
    yield from delivery_findings(plumbing, done, mine)
    yield from pump_findings(plumbing, done, mine)
    yield from meter_findings(plumbing, done, mine)
    yield from jet_findings(plumbing, done, tuple(assumed))
    yield from tank_findings(plumbing, done, mine)
    yield from hydrant_findings(plumbing, done, mine)
    yield from backflow_findings(plumbing, done, mine)
    yield from siphon_findings(plumbing, done, mine)
    yield from pressure_findings(plumbing, done, mine)
    yield from emergency_findings(plumbing, done, mine)
    yield from frost_findings(plumbing, mine)
    yield from way_findings(plumbing, done, mine)
    yield from road_findings(plumbing, done, mine)
    yield from drinking_findings(plumbing, done, mine)
