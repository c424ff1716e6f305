"""The tank on the hook: what is lifted, where its centre of gravity is, how the legs pull and how far it tilts.

Points are in vehicle coordinates, the tank as it stands on the chassis. Always dry; `stranded` says what water that
stays in would add. With legs of one length the hook stands where they meet; with a height of the hook it stands over
the centre of gravity and every leg has a length of its own.
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import cached_property

import numpy as np
from numpy.typing import NDArray

from tunwright.build.lifting import Lifting
from tunwright.build.lifting_sense import eyes_of
from tunwright.handbook.gravity import GRAVITY
from tunwright.handbook.inertia import Mass, together
from tunwright.handbook.sling import Hanging, hang
from tunwright.handbook.sling_hook import meeting_point, room_inside
from tunwright.tables.read import shop_value
from tunwright.truck.truck import Truck
from tunwright.truck.weights import Lump

Floats = NDArray[np.float64]

_MIDDLE = 0.02
"""An eye nearer to the middle than this stands neither left nor right, neither front nor rear of the others [m]."""


@dataclass(frozen=True, eq=False)
class Lift:
    """Something that is lifted.

    name: what it is
    lumps: what it is made of
    load: mass, centre
    eyes: where the legs hold it, (legs, 3) [m]
    hook: where the legs meet before it tilts, (3,) [m], NaN where neither legs nor hook are stated
    room: how far inside the eyes the weight acts [m], NaN without a hook
    """

    name: str
    lumps: tuple[Lump, ...]
    load: Mass
    eyes: Floats
    hook: Floats
    room: float

    @property
    def legs(self) -> Floats:
        """Length of every leg from eye to hook, (legs,) [m]."""
        lengths: Floats = np.linalg.norm(self.hook - self.eyes, axis=1)
        return lengths

    @property
    def over(self) -> float:
        """Height of the hook above the highest eye [m]."""
        return float(self.hook[2] - self.eyes[:, 2].max())


@dataclass(frozen=True, eq=False)
class Hung(Lift):
    """A lift that hangs.

    hanging: tensions and angles
    """

    hanging: Hanging


class Hoisting:
    """The lift of a truck's tank.

    truck: the truck
    lifting: how it is lifted
    """

    def __init__(self, truck: Truck, lifting: Lifting) -> None:
        self.truck, self.lifting = truck, lifting

    @cached_property
    def eyes(self) -> Floats:
        """Where the legs hold the tank, (legs, 3) [m]."""
        return self.truck.frame.point(np.array(eyes_of(self.lifting)))

    @cached_property
    def names(self) -> tuple[str, ...]:
        """What the eyes are called: as stated, else by where they stand, else by number."""
        x, y, _ = np.array(eyes_of(self.lifting)).T
        words = [_where(float(a), float(b)) for a, b in zip(x - x.mean(), y, strict=True)]
        own = words if len(set(words)) == len(words) and all(words) else [f"eye {i + 1}" for i in range(len(words))]
        return tuple(one.name or word for one, word in zip(self.lifting.eye, own, strict=True))

    @cached_property
    def lifts(self) -> tuple[Lift, ...]:
        """The bare tank, and the tank with what stands on it where that is more."""
        every = self.truck.weights.lumps
        bare = [lump for lump in every if lump.key == "tank"]
        with_frame = self.lifting.with_subframe
        fitted = [lump for lump in every if lump.of == "tank" or (with_frame and lump.key == "subframe")]
        found = [self._lift("bare tank", bare)]
        return (*found, self._lift("fitted tank", fitted)) if len(fitted) > len(bare) else tuple(found)

    @property
    def known(self) -> bool:
        """Whether the hook's place is known."""
        return self.lifting.leg_length is not None or self.lifting.hook_height is not None

    @cached_property
    def hung(self) -> tuple[Hung, ...]:
        """The lifts that hang."""
        lifts = [lift for lift in self.lifts if lift.room > 0]
        return tuple(Hung(**vars(lift), hanging=_hanging(lift)) for lift in lifts)

    @property
    def rigging(self) -> float:
        """Mass of hook block, slings and shackles [kg]."""
        own = self.lifting.rigging_mass
        return shop_value("hoist_rigging") if own is None else float(own)

    @property
    def stranded(self) -> float:
        """Water that stays in a tank run dry by its outlets [kg]."""
        volumes = self.truck.volumes
        return float((volumes.net - volumes.usable).sum()) * self.truck.water.density

    def pulls(self, hung: Hung) -> Floats:
        """Greatest pull of every leg while hoisting, (legs,) [N].

        hung: what is lifted
        """
        return hung.hanging.tension * shop_value("hoist_dynamic")

    def on_tank(self, points: Floats) -> Floats:
        """Points in the tank's frame: behind its front tangent line, to the right, above its bottom, (..., 3) [m].

        points: in vehicle coordinates, (..., 3) [m]
        """
        frame = self.truck.frame
        found: Floats = (points - frame.origin) @ frame.turn
        return found

    def _lift(self, name: str, lumps: list[Lump]) -> Lift:
        load = together(lump.mass for lump in lumps)
        hook, room = self._hook(load.centre), float("nan")
        if self.known:
            room = room_inside(eyes=self.eyes, hook=hook, centre=load.centre)
        return Lift(name, tuple(lumps), load, self.eyes, hook, room)

    def _hook(self, centre: Floats) -> Floats:
        """Where the legs meet: as their one length says, else over the centre of gravity."""
        if self.lifting.leg_length is not None:
            return meeting_point(eyes=self.eyes, length=float(self.lifting.leg_length))
        if self.lifting.hook_height is not None:
            top = float(self.eyes[:, 2].max()) + float(self.lifting.hook_height)
            return np.array([centre[0], centre[1], top])
        return np.full(3, np.nan)


def _hanging(lift: Lift) -> Hanging:
    return hang(eyes=lift.eyes, hook=lift.hook, centre=lift.load.centre, weight=lift.load.mass * GRAVITY)


def _where(x: float, y: float) -> str:
    """Front left, rear right …: where an eye stands among the others."""
    along = "" if abs(x) < _MIDDLE else "front" if x < 0 else "rear"
    across = "" if abs(y) < _MIDDLE else "left" if y < 0 else "right"
    return " ".join(word for word in (along, across) if word)
