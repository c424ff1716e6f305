"""What has to fit together in a chassis. A check ends where it needs a value that is not known; the others go on."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import TYPE_CHECKING

from tunwright.build.base import Wrong, as_far_as_known
from tunwright.build.problems import nearest
from tunwright.build.typed import listed, metres, quoted
from tunwright.build.units import Quantity

if TYPE_CHECKING:
    from tunwright.build.chassis import Axle, Chassis, Group
    from tunwright.build.frame import Frame

CLOSEST = 0.5
"""Least distance between axles that is taken as meant [m]; wheels of trucks are larger than that."""

MOST_LIFTS = 3
"""Axles of one vehicle that may be lifted: every choice of lifted axles is tried."""


def raised(axle: Axle) -> Iterator[Wrong]:
    """An axle lifted on the scale that cannot be lifted."""
    if axle.raised_when_weighed and not axle.lift:
        message = "The axle is not marked as one that can be lifted."
        yield Wrong(("raised_when_weighed",), message, "true", "true only with lift = true beside it", "lift = true")


def weighed_to_nothing(axle: Axle) -> Iterator[Wrong]:
    """A lifted axle with a load, or one that stood on the scale without any."""
    if axle.kerb_load is None:
        return
    if axle.raised_when_weighed and axle.kerb_load:
        message = "A lifted axle carries nothing on the scale."
        yield Wrong(("kerb_load",), message, axle.kerb_load.text, "0 kg, or no kerb_load", '"0 kg"')
    if not axle.raised_when_weighed and not axle.kerb_load:
        message = "The axle stood on the scale, so it carried something."
        allowed = "a mass above 0 kg, or raised_when_weighed = true for an axle that was lifted"
        yield Wrong(("kerb_load",), message, axle.kerb_load.text, allowed, '"2100 kg"')


def pair(axle: Axle) -> Iterator[Wrong]:
    """Twin tyres on an axle of two."""
    if axle.pair_spacing is not None and axle.tyres == 2:
        message = "The axle has single tyres, so there is no pair."
        yield Wrong(("pair_spacing",), message, axle.pair_spacing.text, "no pair_spacing, or tyres = 4", "tyres = 4")


def shares(group: Group) -> Iterator[Wrong]:
    """Shares that do not fit the axles."""
    if isinstance(group.sharing, str):
        return
    given = ", ".join(share.text for share in group.sharing)
    if len(group.sharing) != len(group.axles):
        message = "The number of shares differs from the number of axles."
        yield Wrong(("sharing",), message, given, f"{len(group.axles)} shares", '"equal"')
    elif abs(sum(group.sharing) - 1.0) > 1e-6:
        message = "The shares do not add up to 100 %."
        yield Wrong(("sharing",), message, given, "shares adding up to 100 %", '"equal"')


def ends(
    front: Quantity | None, rear: Quantity | None, path: tuple[str, ...], what: str, usual: float
) -> Iterator[Wrong]:
    """Something that ends before it begins.

    front: where it begins
    rear: where it ends
    path: path of the rear end
    what: what it is called
    usual: how long it may well be, for the example [m]
    """
    if front is not None and rear is not None and front >= rear:
        message = f"The {what} ends before it begins."
        yield Wrong(path, message, rear.text, f"more than {front.text}", metres(front + usual))


THINNEST = 0.002
"""No rail of a truck is thinner [m]."""


def rail(frame: Frame) -> Iterator[Wrong]:
    """Rails thicker than a quarter of their height, or thinner than any."""
    if frame.rail_thickness is not None and frame.rail_thickness < THINNEST:
        message = "No rail of a truck is as thin as this."
        yield Wrong(("rail_thickness",), message, frame.rail_thickness.text, "from 2 mm", '"8 mm"')
    if frame.rail_thickness is not None and frame.rail_height is not None:
        most = frame.rail_height / 4
        if frame.rail_thickness > most:
            message = "The rail is thicker than a quarter of its height."
            allowed = f"up to {1000 * most:.1f} mm"
            yield Wrong(("rail_thickness",), message, frame.rail_thickness.text, allowed, metres(most / 8))


def axle_order(chassis: Chassis) -> Iterator[Wrong]:
    """Axles not listed from front to rear, or standing in each other."""
    axles = chassis.axle
    checks = [_first_at_zero(axles[0]), *(_behind(axles, i) for i in range(1, len(axles)))]
    yield from as_far_as_known(*checks)


def _first_at_zero(axle: Axle) -> Iterator[Wrong]:
    if axle.at != 0.0:
        message = "All places count from the first axle, so the first axle stands at 0."
        yield Wrong(("axle", 0, "at"), message, axle.at.text, "0 m", '"0 m"')


def _behind(axles: Sequence[Axle], i: int) -> Iterator[Wrong]:
    here, before = axles[i].at, axles[i - 1].at
    if here <= before:
        message, least = "The axles must be listed from front to rear.", before.text
    elif here < before + CLOSEST:
        message, least = "Two axles cannot stand this close.", metres(before + CLOSEST).strip('"')
    else:
        return
    yield Wrong(("axle", i, "at"), message, here.text, f"more than {least}", metres(before + 1.35))


def steered_and_driven(chassis: Chassis) -> Iterator[Wrong]:
    """A chassis that cannot be steered or driven."""
    if not any(axle.steered for axle in chassis.axle):
        message = "No axle is marked as steered."
        yield Wrong(("axle", 0), message, "", "steered = true on at least one axle", "steered = true")
    if not any(axle.driven for axle in chassis.axle):
        last = len(chassis.axle) - 1
        message = "No axle is marked as driven."
        yield Wrong(("axle", last), message, "", "driven = true on at least one axle", "driven = true")


def own_names(parts: Sequence[Axle] | Sequence[Group], what: str) -> Iterator[Wrong]:
    """Two of a kind with one name.

    parts: axles or groups
    what: their key
    """
    yield from as_far_as_known(*(_own_name([part.name for part in parts[: i + 1]], what) for i in range(len(parts))))


def _own_name(names: Sequence[str], what: str) -> Iterator[Wrong]:
    *before, name = names
    if name in before:
        message = f"The name is taken already; every {what} needs its own."
        free = next(f"{name} {n}" for n in range(2, 99) if f"{name} {n}" not in before)
        yield Wrong((what, len(before), "name"), message, quoted(name), "a name not used before", quoted(free))


def group_members(chassis: Chassis) -> Iterator[Wrong]:
    """Groups of axles that do not exist, belong to two groups, or do not stand together."""
    names = [axle.name for axle in chassis.axle]
    taken: dict[str, str] = {}
    for i, group in enumerate(chassis.group):
        for j, name in enumerate(group.axles):
            yield from _member(names, taken, ("group", i, "axles", j), name)
            taken.setdefault(name, group.name)
        places = [names.index(name) for name in group.axles if name in names]
        if places and places != list(range(places[0], places[0] + len(places))):
            message = "The axles of a group must follow each other, front to rear."
            first = min(places[0], len(names) - 2)
            pair = ", ".join(quoted(name) for name in names[first : first + 2])
            allowed = "neighbouring axles, each once, in the order of the list of axles"
            yield Wrong(("group", i, "axles"), message, ", ".join(group.axles), allowed, f"[{pair}]")


def _member(names: Sequence[str], taken: dict[str, str], path: tuple[str | int, ...], name: str) -> Iterator[Wrong]:
    if name not in names:
        free = [one for one in names if one not in taken] or list(names)
        example = nearest(name, free) or free[-1]
        allowed = listed([quoted(one) for one in names])
        yield Wrong(path, "There is no axle of this name.", quoted(name), allowed, quoted(example))
    elif name in taken:
        message = f"The axle already belongs to the group {quoted(taken[name])}."
        yield Wrong(path, message, quoted(name), "each axle once, in one group at most")


def _group_of(chassis: Chassis, axle: Axle) -> Group | None:
    return next((group for group in chassis.group if axle.name in group.axles), None)


def _strangers(chassis: Chassis) -> bool:
    """Whether a group names axles that do not exist."""
    names = [axle.name for axle in chassis.axle]
    return any(name not in names for group in chassis.group for name in group.axles)


def weighed(chassis: Chassis) -> Iterator[Wrong]:
    """Axles nobody weighed."""
    yield from as_far_as_known(*(_axle_weighed(chassis, i) for i in range(len(chassis.axle))))


def _axle_weighed(chassis: Chassis, i: int) -> Iterator[Wrong]:
    axle = chassis.axle[i]
    if axle.kerb_load is not None or axle.raised_when_weighed:
        return
    group = _group_of(chassis, axle)
    if group is None and _strangers(chassis):
        return  # the axle may be meant by a group under another name, which is told
    if group is None or group.kerb_load is None:
        message = "The load on this axle as weighed is missing."
        allowed = "kerb_load on the axle, or on its group where that was weighed as one"
        yield Wrong(("axle", i, "kerb_load"), message, "", allowed, 'kerb_load = "4700 kg"')


def weighed_once(chassis: Chassis) -> Iterator[Wrong]:
    """Groups weighed as one whose axles carry loads of their own."""
    yield from as_far_as_known(*(_group_once(chassis, g) for g in range(len(chassis.group))))


def _group_once(chassis: Chassis, g: int) -> Iterator[Wrong]:
    group = chassis.group[g]
    if group.kerb_load is None:
        return
    members = [axle for axle in chassis.axle if axle.name in group.axles]
    if any(axle.kerb_load for axle in members if axle.kerb_load is not None):
        message = "The group was weighed as one, yet its axles carry loads of their own."
        yield Wrong(("group", g, "kerb_load"), message, group.kerb_load.text, "one of the two")
    if members and all(axle.raised_when_weighed for axle in members):
        message = "All axles of the group were lifted, so it carried nothing on the scale."
        yield Wrong(("group", g, "kerb_load"), message, group.kerb_load.text, "no kerb_load")


def standing(chassis: Chassis) -> Iterator[Wrong]:
    """A chassis that stood on one axle or group only when it was weighed."""
    feet = set()
    for i, axle in enumerate(chassis.axle):
        if not axle.raised_when_weighed:
            group = _group_of(chassis, axle)
            feet.add(f"group {group.name}" if group else i)
    if len(feet) < 2:
        message = "As weighed the chassis stood on fewer than two axles or groups, so its centre cannot be found."
        yield Wrong(("axle",), message, "", "two axles or groups on the ground, one before the other")


def lifts(chassis: Chassis) -> Iterator[Wrong]:
    """More axles that can be lifted than can be tried in every choice."""
    which = [i for i, axle in enumerate(chassis.axle) if axle.lift]
    if len(which) > MOST_LIFTS:
        message = "More axles can be lifted than can be tried in every choice."
        allowed = f"lift = true on {MOST_LIFTS} axles at most"
        yield Wrong(("axle", which[MOST_LIFTS], "lift"), message, "true", allowed, "false")


def below_gross(chassis: Chassis) -> Iterator[Wrong]:
    """A chassis heavier than its rating."""
    total = sum(float(axle.kerb_load) for axle in chassis.axle if axle.kerb_load is not None)
    total += sum(float(group.kerb_load) for group in chassis.group if group.kerb_load is not None)
    if total >= chassis.gross_rating:
        message = "The bare chassis already weighs more than its gross rating."
        example = quoted(f"{min(2e5, 500 * (total // 200)):.0f} kg")
        yield Wrong(("gross_rating",), message, chassis.gross_rating.text, f"more than {total:.0f} kg", example)


def ends_at_axles(chassis: Chassis) -> Iterator[Wrong]:
    """Frame and cab that do not reach over the axles, or far beyond them."""
    last = float(chassis.axle[-1].at)
    frame, cab = chassis.frame, chassis.cab
    yield from as_far_as_known(
        _between(frame.front, -6.0, 0.0, ("frame", "front"), "The frame begins", '"-1.25 m"'),
        _between(frame.rear, last, last + 8.0, ("frame", "rear"), "The frame ends", metres(last + 1.2)),
        _between(cab.front, -6.0, 0.0, ("cab", "front"), "The cab begins", '"-1.4 m"'),
        _between(cab.back, -4.0, last, ("cab", "back"), "The cab ends", metres(min(0.6, last / 2))),
    )


def _between(
    place: Quantity | None, low: float, high: float, path: tuple[str, ...], what: str, example: str
) -> Iterator[Wrong]:
    if place is not None and not low <= place <= high:
        allowed = f"from {low:.2f} m to {high:.2f} m, the axles standing from 0 m to the last one"
        yield Wrong(path, f"{what} where no truck does.", place.text, allowed, example)


def fuel_near(chassis: Chassis) -> Iterator[Wrong]:
    """A fuel tank away from the vehicle."""
    fuel, last = chassis.fuel, float(chassis.axle[-1].at)
    if fuel is None:
        return
    yield from as_far_as_known(
        _between(fuel.at, -3.0, last + 5.0, ("fuel", "at"), "The fuel tank stands", metres(last / 2)),
        _between(fuel.height, 0.1, 3.0, ("fuel", "height"), "The fuel tank hangs", '"0.75 m"'),
    )
