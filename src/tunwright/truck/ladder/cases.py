"""What the frame is tried with, at every fill: at rest, rough ground, braking, curves, twist; and jacked up empty."""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import Literal

from tunwright.build.model import Build
from tunwright.truck.states import tried

Kind = Literal["standing", "bump", "braking", "cornering", "lift", "diagonal", "jacked"]


@dataclass(frozen=True)
class Case:
    """One way the frame is loaded, at every fill.

    key: stable key
    kind: standing, bump, braking, cornering, lift, diagonal or jacked
    words: what happens
    vertical: weight over the weight at rest [-]
    braking: deceleration over g [-]
    cornering: acceleration to the right of what stands on the frame, over g [-]
    raised: wheels on higher ground: (index of the axle, left or right, height [m])
    jack: the end of the frame that is jacked up, "" for none
    """

    key: str
    kind: Kind
    words: str
    vertical: float = 1.0
    braking: float = 0.0
    cornering: float = 0.0
    raised: tuple[tuple[int, str, float], ...] = field(default=())
    jack: str = ""

    @property
    def static(self) -> bool:
        """At rest on level ground or jacks."""
        return self.kind in ("standing", "jacked")


def cases(build: Build, *, front: int, rear: int, twist: bool) -> tuple[Case, ...]:
    """The cases of a build; braking and curves take the height of the chassis' centre of gravity.

    build: the build
    front, rear: indexes of the first and the last axle on the ground
    twist: rates of springs and tyres are known, so that curves and lifted wheels can be tried
    """
    roads = tried(build)
    found = [
        Case("standing", "standing", "standing level"),
        Case("bump", "bump", f"rough ground, {roads.bump:g} g", vertical=roads.bump),
    ]
    if build.chassis.cg_height is not None:
        found.append(Case("braking", "braking", f"braking at {roads.braking:g} g", braking=roads.braking))
        found += _curves(roads.cornering) if twist else []
    if twist:
        found += _twists(build, front, rear, roads.wheel_lift)
    found += [
        Case(f"jacked-{end}", "jacked", f"jacked up under the {end} end of the frame, tank empty", jack=end)
        for end in ("front", "rear")
    ]
    return tuple(found)


def _curves(turn: float) -> list[Case]:
    return [
        Case(f"cornering-{side}", "cornering", f"a curve to the {other}, {turn:g} g", cornering=sign * turn)
        for side, other, sign in (("right", "left", 1.0), ("left", "right", -1.0))
    ]


def _twists(build: Build, front: int, rear: int, lift: float) -> list[Case]:
    names = [axle.name for axle in build.chassis.axle]
    found = [
        Case(
            f"lift-{where}-{side}", "lift", f"{side} wheel of axle {names[axle]} raised by {lift * 1000:.0f} mm",
            raised=((axle, side, lift),),
        )
        for where, axle in (("front", front), ("rear", rear))
        for side in ("left", "right")
    ]  # fmt: skip
    for one, other in (("left", "right"), ("right", "left")):
        words = f"{one} front and {other} rear wheel raised by {lift * 1000:.0f} mm"
        found.append(Case(f"diagonal-{one}", "diagonal", words, raised=((front, one, lift), (rear, other, lift))))
    return found
