"""The load of the truck: how full it may drive, and how long that lasts."""

from __future__ import annotations

from dataclasses import dataclass

from tunwright.build.kind import System
from tunwright.build.shown import show
from tunwright.checks.assess import Assessment
from tunwright.checks.pipework.worked import Worked
from tunwright.truck.pipework.duties import OverTime, over_time
from tunwright.truck.pipework.plumbing import Plumbing

_FULL = 1.0 - 1e-6  # a filling this near to net is net


@dataclass(frozen=True)
class Permitted:
    """How full the truck may drive, all compartments alike.

    fill: water over net volume, 1 at most [-]
    water: all water in the tank then [m3]
    known: what the axles allow is known
    """

    fill: float
    water: float
    known: bool = True

    @property
    def less(self) -> bool:
        """Whether the axles allow less than net."""
        return self.fill < _FULL


def permitted(assessment: Assessment) -> Permitted:
    """How full the truck may drive: net, or the fill limit where that is less; net where the limit is not known.

    assessment: the assessment
    """
    net = float(assessment.truck.volumes.net.sum())
    if assessment.unknown:
        return Permitted(1.0, net, known=False)
    limit = assessment.fill_limit
    water = 0.0 if limit.fails_dry else min(limit.water, net)
    return Permitted(water / net, water)


def load(worked: Worked, allowed: Permitted) -> float:
    """Water a duty takes out of the permitted load until the first outlet would draw air [m3]; 0 where that is none.

    worked: the duty, one that empties the tank and was worked out
    allowed: how full the truck may drive
    """
    if worked.over is None:
        return 0.0
    begin, end = worked.states[0].fill, worked.over.ends
    share = (min(allowed.fill, begin) - end) / (begin - end) if begin > end else 0.0
    return worked.over.volume * max(0.0, share)


def permitted_time(worked: Worked, plumbing: Plumbing, allowed: Permitted) -> OverTime | None:
    """A duty from the permitted filling down, or up to it; None where the axles allow net, or no load for it.

    worked: the duty
    plumbing: the pipework
    allowed: how full the truck may drive
    """
    if worked.over is None or not allowed.less or not worked.over.parts:
        return None
    stays = worked.states[0].fill if worked.inward else worked.over.ends
    return over_time(plumbing, worked.duty, full=allowed.fill) if allowed.fill > stays + (1.0 - _FULL) else None


def load_words(allowed: Permitted, system: System) -> str:
    """Which water a load is, in a sentence.

    allowed: how full the truck may drive
    system: "metric" or "us"
    """
    if not allowed.known:
        return "A load is the usable water of the tank; what the axles allow is not known."
    if not allowed.less:
        return "A load is the usable water of the tank; the axles allow all of it."
    if allowed.water <= 0.0:
        return "There is no load: a limit on the axle loads is passed with the tank empty."
    return f"A load is of {show(allowed.water, 'volume', system=system)}, the most the axles allow."
