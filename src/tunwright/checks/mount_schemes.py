"""Ways to mount the tank, side by side on one frame: stress in the rails, forces on the mounts, twist of the frame.

The places are those of the build's own mounts: the first is the front; of those in the rear third of their range the
one nearest to the last axles is the rear, where a scheme has one rear place only. Rates come from the shop values. On a
pivot, on four springs and on rubber the subframe stands clear of the rails. A mount is taken to be rated as the build's
own at its place, a pivot, which stands for two sides, twice as high as the one in front.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from functools import partial

from tunwright.build.model import Build
from tunwright.build.mounting import Mount
from tunwright.build.shown import show_number
from tunwright.build.units import Quantity
from tunwright.checks.frame.frame import Framework
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
    why: why it cannot be made, in words; empty where it can
    """

    key: str
    name: str
    mounts: tuple[Mount, ...]
    clear: bool = False
    why: str = ""

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
    rated = partial(_rating, truck.build)
    rigid = (*(_spring(x, rated(x)) for x in before), *(_plate(x, rated(x)) for x in behind))
    yield Scheme(OWN, "as in the build", tuple(truck.build.mount))
    yield Scheme("spring-front", "rigid rear, springs in front", rigid)
    yield _three_point(truck, _plate(rear, rated(rear)), rated(front))
    springs = _bouncing(truck, (front, rear), shop_value("scheme_four_springs"), "springs")
    yield Scheme("four-springs", "springs at four points", springs, clear=True)
    bearers = _bouncing(truck, places, shop_value("scheme_rubber"), "rubber")
    yield Scheme("rubber", "rubber bearers", bearers, clear=True)
    yield Scheme("stiff", "stiff at four corners", (_plate(front, rated(front)), _plate(rear, rated(rear))))


def _last_axles(truck: Truck) -> float:
    """Middle of the last axle, or of the group it belongs to [m]."""
    last = truck.axles.count - 1
    members = next((list(axles) for _, axles in truck.axles.groups if last in axles), [last])
    return float(truck.axles.places[members].mean())


def _rating(build: Build, x: float) -> Quantity | None:
    """The least rating of the build's own mounts at a place, None where one of them has none [N]."""
    ratings = [one.rating for one in build.mount if abs(float(one.at) - x) <= _PLACE]
    known = [one for one in ratings if one is not None]
    return min(known, key=float) if known and len(known) == len(ratings) else None


def _plate(x: float, rating: Quantity | None) -> Mount:
    return Mount.model_construct(name=_named("plates", x), at=_metres(x), kind="plate", rating=rating)


def _spring(x: float, rating: Quantity | None) -> Mount:
    rate, preload, travel = (shop_value(f"scheme_spring_{word}") for word in ("rate", "preload", "travel"))
    return Mount.model_construct(
        name=_named("springs", x),
        at=_metres(x),
        kind="spring",
        rate=Quantity(rate, f"{rate / 1e3:g} N/mm", "stiffness"),
        preload=Quantity(preload, f"{preload:g} N", "force"),
        travel=_metres(travel),
        rating=rating,
    )


def _three_point(truck: Truck, plate: Mount, rating: Quantity | None) -> Scheme:
    """A pivot on the foremost cross-member under the subframe, or the tank, ahead of the rear axle and its plates."""
    build = truck.build
    tank = float(truck.frame.origin[0]) - truck.solid.front.depth
    start = tank if build.subframe is None else float(build.subframe.start)
    last = min(float(truck.axles.places[-1]), float(plate.at) - _PLACE)
    places = [one.at for one in build.chassis.frame.cross_member if start <= one.at <= last]
    named = partial(Scheme, "three-point", "three-point: pivot in front, rigid rear", clear=True)
    if not places:
        what = "tank" if build.subframe is None else "subframe"
        return named(mounts=(), why=f"no cross-member under the {what}'s front to carry a pivot")
    at = min(places, key=float)
    both = None if rating is None else Quantity(2.0 * rating, f"{rating / 500.0:g} kN", "force")
    pivot = Mount.model_construct(name=_named("pivot", at), at=at, kind="pivot", rating=both)
    return named(mounts=(pivot, plate))


def _bouncing(truck: Truck, places: Sequence[float], frequency: float, word: str) -> tuple[Mount, ...]:
    """Mounts that give both ways, on which full tank and subframe bounce at a frequency: k = (2 pi f)^2 m / (2 n)."""
    mass = truck.weights.on_mounts + float(truck.volumes.net.sum()) * truck.water.density
    rate = (2.0 * math.pi * frequency) ** 2 * mass / (2.0 * len(places))
    rate = 1e4 * round(rate / 1e4)
    text = Quantity(rate, f"{rate / 1e3:g} N/mm", "stiffness")
    return tuple(
        Mount.model_construct(
            name=_named(word, x), at=_metres(x), kind="rubber", rate=text, rating=_rating(truck.build, x)
        )
        for x in places
    )


def _named(word: str, x: float) -> str:
    return f"{word} at {show_number(x, 2)} m"


def _metres(value: float) -> Quantity:
    return Quantity(value, f"{value:.3f} m", "length")
