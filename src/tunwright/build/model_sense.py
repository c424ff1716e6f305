"""What has to fit between the tables of a build: nothing stands far away from the vehicle.

A check ends where it needs a value that is not known; the others go on.
"""

from __future__ import annotations

from collections.abc import Iterator
from typing import TYPE_CHECKING

from tunwright.build.base import Wrong, as_far_as_known
from tunwright.build.problems import nearest
from tunwright.build.typed import listed, metres, quoted
from tunwright.build.units import Quantity

if TYPE_CHECKING:
    from tunwright.build.chassis import Chassis
    from tunwright.build.model import Build, Item, Subframe

Path = tuple[str | int, ...]

_SAME_MOUNT = 0.05
AHEAD, BEHIND, HIGHEST = 4.0, 6.0, 5.0
"""How far in front of the first and behind the last axle, and above the ground, a thing still belongs to it [m]."""


def member(subframe: Subframe) -> Iterator[Wrong]:
    """Members of a subframe thicker than a quarter of their height or flange."""
    for name, side in (("height", subframe.height), ("flange", subframe.flange)):
        if subframe.thickness > side / 4:
            message = f"The member is thicker than a quarter of its {name}."
            allowed = f"up to {250 * side:.1f} mm"
            yield Wrong(("thickness",), message, subframe.thickness.text, allowed, metres(min(0.02, side / 16)))
            return


def persons(build: Build) -> Iterator[Wrong]:
    """More persons on the scale than seats."""
    weighed, seats = build.chassis.persons_weighed, len(build.crew)
    if weighed > seats:
        message = "More persons were weighed than seats are listed under crew."
        yield Wrong(("chassis", "persons_weighed"), message, str(weighed), f"0 to {seats}", str(seats))


def emptying(build: Build) -> Iterator[Wrong]:
    """Emptying orders of compartments that do not exist."""
    names = [c.name for c in build.tank.compartment]
    for i, order in enumerate(build.states.emptying):
        yield from as_far_as_known(*(_emptied(names, order, (i, j)) for j in range(len(order))))


def _emptied(names: list[str], order: list[str], at: tuple[int, int]) -> Iterator[Wrong]:
    name = order[at[1]]
    if name not in names:
        allowed = listed(list(map(quoted, names))) if names else "no order: the tank is one"
        example = quoted(nearest(name, names) or names[0]) if names else ""
        message = "There is no compartment of this name."
        yield Wrong(("states", "emptying", *at), message, quoted(name), allowed, example)


def _reach(chassis: Chassis) -> tuple[float, float]:
    """From where to where a thing still belongs to the vehicle [m]."""
    return -AHEAD, float(chassis.axle[-1].at) + BEHIND


def _near(place: Quantity, low: float, high: float, path: Path, message: str, example: str = "") -> Iterator[Wrong]:
    if not low <= place <= high:
        allowed = f"from {low:.2f} m to {high:.2f} m"
        yield Wrong(path, message, place.text, allowed, example or metres((low + high) / 2))


def tank_place(build: Build) -> Iterator[Wrong]:
    """A tank nowhere near the axles."""
    message = "The middle of the tank stands nowhere near the axles."
    yield from _near(build.tank.middle, *_reach(build.chassis), ("tank", "middle"), message)


def crew(build: Build) -> Iterator[Wrong]:
    """Persons who ride away from the vehicle."""
    reach = _reach(build.chassis)
    for i in range(len(build.crew)):
        yield from as_far_as_known(_seat(build, i, reach))


def _seat(build: Build, i: int, reach: tuple[float, float]) -> Iterator[Wrong]:
    seat = build.crew[i]
    yield from as_far_as_known(
        _near(seat.at, *reach, ("crew", i, "at"), "The seat stands nowhere near the vehicle.", '"-0.35 m"'),
        _near(seat.height, 0.3, HIGHEST, ("crew", i, "height"), "Nobody sits at this height.", '"1.75 m"'),
    )


def items(build: Build) -> Iterator[Wrong]:
    """Things that are fitted far away from the vehicle or the tank."""
    yield from as_far_as_known(*(_item(build, build.item[i], i) for i in range(len(build.item))))


def _item(build: Build, item: Item, i: int) -> Iterator[Wrong]:
    at, height = ("item", i, "at"), ("item", i, "height")
    if item.on == "tank":
        message = "The item stands nowhere near the tank; its place counts from the front tangent line."
        high = "The item stands nowhere near the tank; its height counts from the tank's bottom."
        yield from as_far_as_known(
            _near(item.at, -2.0, build.tank.length + 2.0, at, message),
            _near(item.height, -2.0, HIGHEST, height, high),
        )
        return
    message = "The item stands nowhere near the vehicle."
    yield from as_far_as_known(
        _near(item.at, *_reach(build.chassis), at, message),
        _near(item.height, 0.0, HIGHEST, height, message, '"0.85 m"'),
    )


def subframe(build: Build) -> Iterator[Wrong]:
    """A subframe away from the chassis."""
    sub = build.subframe
    if sub is None:
        return
    last = float(build.chassis.axle[-1].at)
    message = "The subframe reaches beyond any chassis."
    yield from as_far_as_known(
        _near(sub.start, -AHEAD, last, ("subframe", "from"), message, metres(min(0.95, last / 2))),
        _near(sub.end, 0.0, last + BEHIND, ("subframe", "to"), message, metres(last + 1.0)),
    )


def mounts(build: Build) -> Iterator[Wrong]:
    """Mounts off the rails, off the subframe, or with one name."""
    frame, sub = build.chassis.frame, build.subframe
    names = [one.name for one in build.mount]
    for i, one in enumerate(build.mount):
        if one.name in names[:i]:
            message = "Two mounts have this name."
            yield Wrong(("mount", i, "name"), message, quoted(one.name), "a name of its own", quoted(f"{one.name} 2"))
        if any(abs(float(one.at) - float(other.at)) < _SAME_MOUNT for other in build.mount[:i]):
            message = "Another mount stands here already: their holes would fall on each other."
            yield Wrong(("mount", i, "at"), message, one.at.text, "a place of its own")
        ends = [(frame.front, frame.rear, "rails")]
        ends += [(sub.start, sub.end, "subframe")] if sub is not None else []
        for low, high, what in ends:
            if low is not None and high is not None and low < high and not low <= one.at <= high:
                message = f"The mount does not stand between the ends of the {what}."
                allowed = f"from {low:.2f} m to {high:.2f} m"
                yield Wrong(("mount", i, "at"), message, one.at.text, allowed, metres((float(low) + float(high)) / 2))
                break
