"""Ways to mount the tank, side by side on one frame: stress in the rails, forces on the mounts, twist of the frame.

The places are those of the build's own mounts: the first is the front; of those in the rear third of their range the
one nearest to the last axles is the rear, where a scheme has one rear place only. Rates come from the shop values. On a
pivot, on four springs and on rubber the subframe stands clear of the rails.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from tunwright.build.model import Build
from tunwright.build.mounting import Mount
from tunwright.build.units import Quantity
from tunwright.checks.frame import Framework
from tunwright.tables.read import shop_value
from tunwright.truck.truck import Truck

OWN = "own"
_PLACE = 0.02  # places of mounts nearer to each other than this are one [m]


@dataclass(frozen=True)
class Scheme:
    """A way to mount the tank.

    key: stable key
    name: what it is called
    mounts: its mounts, front to rear
    clear: the subframe does not lie on the rails
    """

    key: str
    name: str
    mounts: tuple[Mount, ...]
    clear: bool = False

    def on(self, build: Build) -> Build:
        """The build mounted this way.

        build: the build
        """
        if self.key == OWN:
            return build
        sub = build.subframe
        if sub is not None and self.clear:
            sub = sub.model_copy(update={"bearing": "none"})
        return build.model_copy(update={"mount": list(self.mounts), "subframe": sub})


class NoSchemes(ValueError):
    """Why no schemes can be made of a build, in a sentence."""


def schemes(framework: Framework) -> tuple[Scheme, ...]:
    """The build's own mounting, four usual ones, and stiff mounts at all four corners.

    framework: the frame of the build
    NoSchemes: the frame is not known, or all mounts stand at one place
    """
    if framework.missing:
        raise NoSchemes(f"No mounting can be compared before these are given: {', '.join(framework.missing)}.")
    places = _places(framework.truck.build)
    if len(places) < 2:
        raise NoSchemes("All mounts stand at one place; at least two places, front and rear, are needed to compare.")
    return tuple(_made(framework.truck, places))


def _places(build: Build) -> list[float]:
    found: list[float] = []
    for x in sorted(float(one.at) for one in build.mount):
        if not found or x - found[-1] > _PLACE:
            found.append(x)
    return found


def _made(truck: Truck, places: Sequence[float]) -> Iterator[Scheme]:
    front, third = places[0], places[-1] - (places[-1] - places[0]) / 3.0
    behind = [x for x in places[1:] if x >= third]
    rear = min(behind, key=lambda x: abs(x - _last_axles(truck)))
    before = [x for x in places if x not in behind]
    rigid = (*(_spring(x) for x in before), *(_plate(x) for x in behind))
    yield Scheme(OWN, "as in the build", tuple(truck.build.mount))
    yield Scheme("spring-front", "rigid rear, springs in front", rigid)
    three = (_pivot(truck.build, front), _plate(rear))
    yield Scheme("three-point", "three-point: pivot in front, rigid rear", three, clear=True)
    springs = _bouncing(truck, (front, rear), shop_value("scheme_four_springs"), "springs")
    yield Scheme("four-springs", "springs at four points", springs, clear=True)
    bearers = _bouncing(truck, places, shop_value("scheme_rubber"), "rubber")
    yield Scheme("rubber", "rubber bearers", bearers, clear=True)
    yield Scheme("stiff", "stiff at four corners", (_plate(front), _plate(rear)))


def _last_axles(truck: Truck) -> float:
    """Middle of the last axle, or of the group it belongs to [m]."""
    last = truck.axles.count - 1
    members = next((list(axles) for _, axles in truck.axles.groups if last in axles), [last])
    return float(truck.axles.places[members].mean())


def _plate(x: float) -> Mount:
    return Mount.model_construct(name=f"plates at {x:.2f} m", at=_metres(x), kind="plate")


def _spring(x: float) -> Mount:
    rate, preload, travel = (shop_value(f"scheme_spring_{word}") for word in ("rate", "preload", "travel"))
    return Mount.model_construct(
        name=f"springs at {x:.2f} m",
        at=_metres(x),
        kind="spring",
        rate=Quantity(rate, f"{rate / 1e3:g} N/mm", "stiffness"),
        preload=Quantity(preload, f"{preload:g} N", "force"),
        travel=_metres(travel),
    )


def _pivot(build: Build, x: float) -> Mount:
    """A pivot on the cross-member nearest to a place."""
    at = min((one.at for one in build.chassis.frame.cross_member), key=lambda place: abs(float(place) - x))
    return Mount.model_construct(name=f"pivot at {float(at):.2f} m", at=at, kind="pivot")


def _bouncing(truck: Truck, places: Sequence[float], frequency: float, word: str) -> tuple[Mount, ...]:
    """Mounts that give both ways, on which the full tank bounces at a frequency: k = (2 pi f)^2 m / (2 n)."""
    mass = truck.weights.on_tank.mass + float(truck.volumes.net.sum()) * truck.water.density
    rate = (2.0 * math.pi * frequency) ** 2 * mass / (2.0 * len(places))
    rate = 1e4 * round(rate / 1e4)
    text = Quantity(rate, f"{rate / 1e3:g} N/mm", "stiffness")
    return tuple(
        Mount.model_construct(name=f"{word} at {x:.2f} m", at=_metres(x), kind="rubber", rate=text) for x in places
    )


def _metres(value: float) -> Quantity:
    return Quantity(value, f"{value:.3f} m", "length")
