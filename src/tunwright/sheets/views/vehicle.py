"""The chassis as drawn: its own facts, and usual sizes in place of those nobody has given yet.

The usual sizes are common practice, no source; whatever rests on them is drawn dashed and named on the sheet.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from functools import cached_property
from itertools import pairwise

from tunwright.build.chassis import Axle
from tunwright.checks.assess import Assessment
from tunwright.checks.window import Window
from tunwright.handbook.axle_statics import Support
from tunwright.sheets.views.wording import Wording
from tunwright.truck.size import OuterSize, outer_size
from tunwright.truck.states import LoadState

CAB_FRONT, CAB_LENGTH, CAB_ROOF, CAB_WIDTH = -1.35, 1.95, 2.85, 2.45
RAIL_HEIGHT, RAIL_FLANGE, RAIL_THICKNESS, FRAME_WIDTH = 0.28, 0.08, 0.008, 0.86
TYRE_RADIUS, SINGLE_WIDTH, TWIN_WIDTH, SINGLE_TRACK, TWIN_TRACK = 0.5, 0.36, 0.30, 2.03, 1.83
PAIR_GAP = 0.035  # between twin tyres
BED = 0.12  # between frame and tank where there is no subframe
BEHIND_LAST = 0.9  # frame behind the last axle


@dataclass(frozen=True)
class Fact:
    """A measure [m]; known is False for a usual size in place of a fact."""

    value: float
    known: bool = True


class Vehicle:
    """What the views draw. Facts by name, `guesses` in words."""

    def __init__(self, assessment: Assessment) -> None:
        self.assessment, self.truck = assessment, assessment.truck
        self.build = assessment.build
        self.chassis, self.tank = self.build.chassis, self.build.tank
        self.wording = Wording(self.build.order.units)

    @cached_property
    def window(self) -> Window | None:
        """The permitted window of the tank's middle, None where it cannot be known."""
        return None if self.assessment.unknown else self.assessment.window

    @cached_property
    def size(self) -> OuterSize:
        """Ends and sides, NaN where not known."""
        return outer_size(self.truck)

    @cached_property
    def cab(self) -> dict[str, Fact]:
        """The cab: front, back, roof, width."""
        cab = self.chassis.cab
        front = _fact(cab.front, CAB_FRONT if cab.back is None else min(float(cab.back) - CAB_LENGTH, CAB_FRONT))
        back = _fact(cab.back, front.value + CAB_LENGTH)
        return {
            "front": front,
            "back": back,
            "roof": _fact(cab.roof, CAB_ROOF),
            "width": _fact(cab.width if cab.width is not None else self.chassis.width, CAB_WIDTH),
        }

    @cached_property
    def frame(self) -> dict[str, Fact]:
        """The frame: top, front, rear, width over both rails, rail height, rail flange, rail thickness."""
        frame, sub = self.chassis.frame, self.build.subframe
        bed = BED if sub is None else float(sub.height)
        rear = max(float(self.chassis.axle[-1].at) + BEHIND_LAST, 0.0 if sub is None else float(sub.end))
        return {
            "top": _fact(frame.top, float(self.tank.bottom) - bed),
            "front": _fact(frame.front, self.cab["front"].value + 0.15),
            "rear": _fact(frame.rear, rear),
            "width": _fact(frame.width, FRAME_WIDTH),
            "rail height": _fact(frame.rail_height, RAIL_HEIGHT),
            "rail flange": _fact(frame.rail_flange, RAIL_FLANGE),
            "rail thickness": _fact(frame.rail_thickness, RAIL_THICKNESS),
        }

    def tyre(self, axle: Axle) -> dict[str, Fact]:
        """The tyres of an axle: radius, width, track, pair spacing."""
        twin = axle.tyres == 4
        width = _fact(axle.tyre_width, TWIN_WIDTH if twin else SINGLE_WIDTH)
        return {
            "radius": _fact(axle.tyre_radius, min(TYRE_RADIUS, 0.46 * self._closest)),
            "width": width,
            "track": _fact(axle.track, TWIN_TRACK if twin else SINGLE_TRACK),
            "pair spacing": _fact(axle.pair_spacing, width.value + PAIR_GAP),
        }

    @cached_property
    def _closest(self) -> float:
        places = [float(axle.at) for axle in self.chassis.axle]
        return min(b - a for a, b in pairwise(places))

    @cached_property
    def front(self) -> float:
        """Foremost point drawn [m]."""
        return min(self.cab["front"].value, self.frame["front"].value, self.size.tank_front)

    @cached_property
    def rear(self) -> float:
        """Rearmost point drawn [m]."""
        last = self.chassis.axle[-1]
        return max(self.size.rear, self.frame["rear"].value, float(last.at) + self.tyre(last)["radius"].value)

    @cached_property
    def top(self) -> float:
        """Highest point drawn [m]."""
        known = self.size.height
        return known if math.isfinite(known) else max(self.cab["roof"].value, self.size.tank_top + self._necks)

    @cached_property
    def bed(self) -> float:
        """Height of what the tank lies on: the subframe, or the frame [m]."""
        sub = self.build.subframe
        return self.frame["top"].value + (0.0 if sub is None else float(sub.height))

    @property
    def _necks(self) -> float:
        return max((float(manhole.neck) for manhole in self.tank.manhole), default=0.0)

    def raised(self, state: LoadState) -> tuple[int, ...]:
        """Indexes of the axles that hang above the road in a state."""
        return self.truck.axles.stances[state.stance].lifted

    def name(self, support: Support) -> str:
        """What an axle or a group that stands on the ground is called."""
        for group, members in self.truck.axles.groups:
            if support.axles[0] in members:
                return group.name
        return self.chassis.axle[support.axles[0]].name

    @cached_property
    def guesses(self) -> tuple[str, ...]:
        """What is drawn from usual sizes, in words; empty where every fact is known."""
        told = [("cab", self.cab), ("frame", self.frame)]
        found = [_listed(what, facts) for what, facts in told]
        missing: dict[str, None] = {}
        for axle in self.chassis.axle:
            for name, fact in self.tyre(axle).items():
                if not fact.known and (name != "pair spacing" or axle.tyres == 4):
                    missing[name] = None
        found.append(f"tyres ({', '.join(missing)})" if missing else "")
        return tuple(words for words in found if words)


def _fact(given: float | None, usual: float) -> Fact:
    return Fact(usual, known=False) if given is None else Fact(float(given))


def _listed(what: str, facts: dict[str, Fact]) -> str:
    missing = [name for name, fact in facts.items() if not fact.known]
    return f"{what} ({', '.join(missing)})" if missing else ""
