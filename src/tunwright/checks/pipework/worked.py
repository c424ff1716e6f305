"""A duty as it was worked out, and what its figures are in the words of a finding."""

from __future__ import annotations

from dataclasses import dataclass

from tunwright.build.fields import slug
from tunwright.build.pipework import Duty
from tunwright.checks.finding import Rule
from tunwright.truck.pipework.duties import INWARD, DutyState, OverTime

MEANT = {"spray": ("spray head", "spray bar"), "monitor": ("monitor",), "reel": ("hose reel",)}
"""Outlets a duty is about; what else is open beside them, a drain cock say, does not count."""

STILL = 1e-6
"""Flow that counts as none [m3/s]."""

WANTED = Rule("as wanted by the order", mark="the order's")


@dataclass(frozen=True, eq=False)
class Worked:
    """A duty over its time.

    duty: the duty
    over: what came out, None where no flow was found
    trouble: why not, in a sentence
    """

    duty: Duty
    over: OverTime | None
    trouble: str = ""

    @property
    def slug(self) -> str:
        """Its name as a key."""
        return slug(self.duty.name)

    @property
    def states(self) -> tuple[DutyState, ...]:
        """The duty at its fillings, first to last."""
        return () if self.over is None else self.over.states

    @property
    def inward(self) -> bool:
        """Whether it fills the tank."""
        return self.duty.kind in INWARD

    def delivered(self, state: DutyState) -> float:
        """What it is about: water into the tank, through the pump, out of its sprays, else out of compartments [m3/s].

        state: the duty at a filling
        """
        if self.inward:
            return -state.from_tank
        if self.duty.kind == "recirculate":
            return 0.0 if state.pump is None else state.pump.flow
        sprays, kinds = state.plumbing.sprays, MEANT.get(self.duty.kind, ())
        meant = [flow for name, flow in state.to_sprays.items() if sprays[name].kind in kinds]
        given = sum(max(0.0, state.of_part(i)) for i in range(len(state.plumbing.truck.solid.compartments)))
        return sum(meant) or sum(state.to_sprays.values()) or given


Row = tuple[float, DutyState, Worked]
"""A value of a duty, with the filling and the duty it is of."""


def at(worked: Worked, state: DutyState) -> str:
    """A duty at one of its fillings, in words.

    worked: the duty
    state: the filling
    """
    return f"{worked.duty.name}, {100 * state.fill:.0f} % full"
