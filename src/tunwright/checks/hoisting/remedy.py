"""Changes of a lift that would make a failing finding hold: longer legs, a thicker plate, a nearer crane."""

from __future__ import annotations

import math
from collections.abc import Callable, Iterator, Sequence

from tunwright.build.lifting import Lifting, LiftingLug
from tunwright.build.model import Build
from tunwright.build.shown import show
from tunwright.build.units import Quantity
from tunwright.checks.hoisting.hoisting import hoisting_findings
from tunwright.handbook.gravity import GRAVITY
from tunwright.handbook.sling_hook import shortest_leg
from tunwright.truck.hoisting import Hoisting
from tunwright.truck.truck import Truck

LONGEST, STEP = 10.0, 0.05
"""Longest legs that are tried, and their steps [m]."""

_PLATES = tuple(n / 1000 for n in (6, 8, 10, 12, 15, 20, 25, 30, 35, 40, 50, 60))  # plates as they are sold [m]
_PINS = tuple(n / 1000 for n in (13, 16, 19, 22, 25, 28, 32, 35, 38, 42, 50))  # bow shackles, from memory [m]
_THROATS = tuple(n / 1000 for n in (3, 4, 5, 6, 7, 8, 10, 12))  # [m]
_RATING_STEP = 10.0  # [kg]

Change = tuple[str, Lifting]


def hoisting_changes(truck: Truck, key: str) -> Iterator[tuple[str, Build]]:
    """What to do and the build with it done, for a failing finding of a lift; the mildest first.

    truck: the truck
    key: key of the finding
    """
    lifting = truck.build.lifting
    if lifting is None:
        return
    search = _Search(truck, lifting, key)
    for words, changed in search.changes():
        yield words, truck.build.model_copy(update={"lifting": changed})


class _Search:
    """Looks for the least change of each sort that holds."""

    def __init__(self, truck: Truck, lifting: Lifting, key: str) -> None:
        self.truck, self.lifting, self.key = truck, lifting, key
        self.units = truck.build.order.units

    def changes(self) -> Iterator[Change]:
        """Changes worth trying for the finding."""
        ways: dict[str, Sequence[Callable[[], Change | None]]] = {
            "hoist-angle": (self._longer,),
            "hoist-pull": (self._longer, self._stronger),
            "hoist-tilt": (self._over_centre,),
            "hoist-crane": (self._nearer,),
            "hoist-forklift": (self._closer,),
        }
        found = [way() for way in ways.get(self.key, ())]
        if self.key.startswith("hoist-lug-") and self.lifting.lug is not None:
            found = [way(self.lifting.lug) for way in self._for_lug(self.key.removeprefix("hoist-lug-"))]
        yield from (change for change in found if change is not None)

    def _for_lug(self, name: str) -> Sequence[Callable[[LiftingLug], Change | None]]:
        return {
            "bearing": (self._larger_pin, self._thicker),
            "aside": (self._turned, self._thicker),
            "weld": (self._more_weld,),
        }.get(name, (self._thicker,))

    def _holds(self, lifting: Lifting) -> bool:
        found = {finding.key: finding for finding in hoisting_findings(self.truck, (), lifting)}
        return found[self.key].verdict in ("holds", "close")

    def _least(self, tried: Sequence[Lifting]) -> Lifting | None:
        """The first that holds, of changes that help more and more."""
        if not tried or not self._holds(tried[-1]):
            return None
        low, high = 0, len(tried) - 1
        while low < high:
            middle = (low + high) // 2
            low, high = (low, middle) if self._holds(tried[middle]) else (middle + 1, high)
        return tried[high]

    def _with(self, **changes: object) -> Lifting:
        return self.lifting.model_copy(update=changes)

    def _lugs(self, lug: LiftingLug, name: str, sizes: Sequence[float], **also: object) -> Lifting | None:
        """The first that holds of lugs with one size after the other."""
        lugs = [lug.model_copy(update={name: _metres(size), **also}) for size in sizes]
        return self._least([self._with(lug=one) for one in lugs])

    def _longer(self) -> Change | None:
        """Longer legs, or a hook higher up."""
        name = "leg_length" if self.lifting.leg_length is not None else "hook_height"
        now = float(getattr(self.lifting, name))
        least = shortest_leg(Hoisting(self.truck, self.lifting).eyes) if name == "leg_length" else 0.0
        first = math.floor(max(now, least) / STEP) + 1
        lengths = [i * STEP for i in range(first, round(LONGEST / STEP) + 1)]
        found = self._least([self._with(**{name: _metres(length)}) for length in lengths])
        if found is None:
            return None
        length = self._length(float(getattr(found, name)))
        words = f"take legs of {length}" if name == "leg_length" else f"set the hook {length} over the highest eye"
        return words, found

    def _stronger(self) -> Change | None:
        """A sling whose legs carry the pull."""
        hoisting = Hoisting(self.truck, self.lifting)
        most = max(float(hoisting.pulls(hung).max()) for hung in hoisting.hung)
        rating = math.ceil(most / GRAVITY / _RATING_STEP) * _RATING_STEP
        words = f"take a sling with a working load limit of {show(rating, 'mass', system=self.units)} for each leg"
        return words, self._with(leg_rating=Quantity(rating, f"{rating:.0f} kg", "mass"))

    def _over_centre(self) -> Change | None:
        """Legs of different length, so that the hook stands over the centre of gravity."""
        hoisting = Hoisting(self.truck, self.lifting)
        last = hoisting.lifts[-1]
        if self.lifting.leg_length is None:
            return None
        changed = self._with(leg_length=None, hook_height=_metres(round(last.over, 2)))
        lift = Hoisting(self.truck, changed).lifts[-1]
        each = ", ".join(f"{self._length(leg)} {name}" for name, leg in zip(hoisting.names, lift.legs, strict=True))
        return f"set the legs so that the hook stands over the centre of gravity: {each}", changed

    def _thicker(self, lug: LiftingLug) -> Change | None:
        found = self._lugs(lug, "thickness", [t for t in _PLATES if t > lug.thickness])
        if found is None or found.lug is None:
            return None
        return f"make the lug of {self._length(float(found.lug.thickness))} plate", found

    def _larger_pin(self, lug: LiftingLug) -> Change | None:
        found = self._lugs(lug, "pin", [pin for pin in _PINS if lug.pin < pin <= lug.hole])
        if found is None or found.lug is None:
            return None
        return f"take a shackle with a pin of {self._length(float(found.lug.pin))}", found

    def _turned(self, lug: LiftingLug) -> Change | None:
        if lug.turned == "hook":
            return None
        return "turn the lugs towards the hook", self._with(lug=lug.model_copy(update={"turned": "hook"}))

    def _more_weld(self, lug: LiftingLug) -> Change | None:
        """Welds along the whole foot, then thicker ones."""
        now = float(lug.throat or 0.0)
        throats = [now, *(a for a in _THROATS if a > now)]
        found = self._lugs(lug, "throat", throats, weld_length=_metres(float(lug.width)))
        if found is None or found.lug is None or found.lug.throat is None:
            return None
        throat = self._length(float(found.lug.throat))
        return f"weld the lug along its whole foot on both sides, throat {throat}", found

    def _nearer(self) -> Change | None:
        """The farthest line of the chart that lifts it."""
        lines = [line for line in reversed(self.lifting.crane) if line.radius < (self.lifting.radius or 0.0)]
        found = self._least([self._with(radius=line.radius) for line in lines])
        if found is None or found.radius is None:
            return None
        return f"set the crane so that it works within {self._length(float(found.radius))}", found

    def _closer(self) -> Change | None:
        fork = self.lifting.forklift
        if fork is None or fork.at is None:
            return None
        places = [i * STEP for i in range(math.ceil(fork.at / STEP) - 1, 0, -1)]
        found = self._least([self._with(forklift=fork.model_copy(update={"at": _metres(at)})) for at in places])
        if found is None or found.forklift is None or found.forklift.at is None:
            return None
        return f"bring the hook within {self._length(float(found.forklift.at))} of the fork face", found

    def _length(self, value: float) -> str:
        return show(value, "length", system=self.units)


def _metres(value: float) -> Quantity:
    return Quantity(value, f"{value:.3f} m", "length")
