"""What has to fit together in the pipework as a whole. A check ends where it needs a value that is not known."""

from __future__ import annotations

import math
from collections import Counter
from collections.abc import Iterator, Sequence
from typing import TYPE_CHECKING

from tunwright.build.base import Wrong, as_far_as_known
from tunwright.build.fields import slug
from tunwright.build.problems import nearest
from tunwright.build.typed import listed, quoted

if TYPE_CHECKING:
    from tunwright.build.model import Build
    from tunwright.build.pipework import Corner, Pipework

At = tuple[str | int, ...]

_SAME_HEIGHT = 0.05  # how far the end of a way may stand off the height of its point [m]
_SAME_PLACE = 0.15  # ends of ways nearer than this meet [m]


def names(work: Pipework) -> Iterator[Wrong]:
    """One name for two things of a kind."""
    for table in ("point", "run", "valve", "device", "spray", "vent", "duty"):
        count = Counter(one.name for one in getattr(work, table))
        for i, one in enumerate(getattr(work, table)):
            if count[one.name] > 1:
                message = f"Another {table} has this name."
                yield Wrong((table, i, "name"), message, quoted(one.name), "a name of its own")
                break
    yield from _one_each(work)


def _one_each(work: Pipework) -> Iterator[Wrong]:
    """Things water flows through that share a name: their flows could not be told apart."""
    flows: list[tuple[At, str]] = [(("run", i, "name"), one.name) for i, one in enumerate(work.run)]
    flows += [(("relief", i, "name"), one.name) for i, one in enumerate(work.relief)]
    flows += [(("spray", i, "name"), one.name) for i, one in enumerate(work.spray)]
    flows += [(("pump", "name"), work.pump.name)] if work.pump is not None else []
    first: dict[str, At] = {}
    for at, name in flows:
        if name in first and first[name][0] != at[0]:
            message = f"A {first[name][0]} has this name too; water flows through both."
            yield Wrong(at, message, quoted(name), "a name of its own")
        first.setdefault(name, at)
    slugs: dict[str, str] = {}
    for i, duty in enumerate(work.duty):
        other = slugs.setdefault(slug(duty.name), duty.name)
        if other != duty.name:
            message = f"The duty can hardly be told from {quoted(other)}."
            yield Wrong(("duty", i, "name"), message, quoted(duty.name), "a name that differs in letters or figures")


def regulators(work: Pipework) -> Iterator[Wrong]:
    """Two regulators on a run, or one where no pressure can be held: at the tank or at open water."""
    ends = {one.name: one.end for one in work.run}
    held = {one.name for one in work.point if one.outlet is not None or one.mouth or one.open_water}
    taken: set[str] = set()
    for i, one in enumerate(work.regulator):
        if one.on in taken:
            yield Wrong(("regulator", i, "on"), "This run has a regulator already.", quoted(one.on), "another run")
        if ends.get(one.on) in held:
            message = "The run ends in the tank or in open water, where a regulator has no pressure to hold."
            yield Wrong(("regulator", i, "on"), message, quoted(one.on), "a run that ends at a joint")
        taken.add(one.on)


def leads(work: Pipework) -> Iterator[Wrong]:
    """Names of points, runs and valves that are not there."""
    points, runs = [one.name for one in work.point], [one.name for one in work.run]
    ends = [(("run", i), one.start, one.end) for i, one in enumerate(work.run)]
    ends += [(("relief", i), one.start, one.end) for i, one in enumerate(work.relief)]
    for at, start, end in ends:
        yield from _known((*at, "from"), start, points, "point")
        yield from _known((*at, "to"), end, points, "point")
    if work.pump is not None:
        yield from _known(("pump", "from"), work.pump.start, points, "point")
        yield from _known(("pump", "to"), work.pump.end, points, "point")
    for table in ("valve", "device", "regulator"):
        for i, one in enumerate(getattr(work, table)):
            yield from _known((table, i, "on"), one.on, runs, "run")
    for i, one in enumerate(work.spray):
        yield from _known(("spray", i, "on"), one.on, points, "point")


def ways(work: Pipework) -> Iterator[Wrong]:
    """Ways that do not begin and end where the points of their runs are, or that do not meet."""
    yield from as_far_as_known(_ends_high(work), _ends_along(work), _meeting(work))


def _ends(work: Pipework) -> Iterator[tuple[At, str, Corner]]:
    """The first and the last corner of every way, with the name of the point it stands at."""
    for i, one in enumerate(work.run):
        if len(one.corner) > 1:
            yield ("run", i, "corner", 0), one.start, one.corner[0]
            yield ("run", i, "corner", len(one.corner) - 1), one.end, one.corner[-1]


def _ends_along(work: Pipework) -> Iterator[Wrong]:
    """Ways that begin or end beside their points, along the vehicle."""
    places = {one.name: one.at for one in work.point if one.at is not None}
    for at, name, corner in _ends(work):
        wanted = places.get(name)
        if wanted is not None and abs(float(corner.at) - float(wanted)) > _SAME_PLACE:
            message = f"The way does not reach the point {quoted(name)}."
            allowed = f"about {wanted.text}, or another place of the point"
            yield Wrong((*at, "at"), message, corner.at.text, allowed, quoted(wanted.text))


def _meeting(work: Pipework) -> Iterator[Wrong]:
    """Ways of runs that share a point and end apart from each other there."""
    first: dict[str, Corner] = {}
    for at, name, corner in _ends(work):
        other = first.setdefault(name, corner)
        off = math.dist(*((float(one.at), float(one.y), float(one.height)) for one in (corner, other)))
        if off > _SAME_PLACE:
            message = f"Another way ends {off:.2f} m from here at the point {quoted(name)}."
            there = f"about {other.at.text}, y {other.y.text}, {other.height.text}"
            yield Wrong(at, message, f"{corner.at.text}, y {corner.y.text}, {corner.height.text}", there)


def _ends_high(work: Pipework) -> Iterator[Wrong]:
    """Ways that do not begin and end at the heights of the points of their runs.

    An outlet of the tank without a height, and open water, whose pipe dips below its surface, are left out.
    """
    heights = {one.name: one.height for one in work.point if one.height is not None and not one.open_water}
    for i, one in enumerate(work.run):
        if len(one.corner) > 1:
            for j, name, first in ((0, one.start, "begins"), (len(one.corner) - 1, one.end, "ends")):
                given, wanted = one.corner[j].height, heights.get(name)
                if wanted is not None and abs(float(given) - float(wanted)) > _SAME_HEIGHT:
                    message = f"The way {first} at another height than the point {quoted(name)}."
                    allowed = f"about {wanted.text}; corners go from the first point of the run to its last"
                    yield Wrong(("run", i, "corner", j, "height"), message, given.text, allowed, quoted(wanted.text))


def duties(work: Pipework) -> Iterator[Wrong]:
    """Valves of duties and sprays that are not there; a pump asked to turn where there is none."""
    valves = [one.name for one in work.valve] + [one.valve for one in work.spray if one.valve is not None]
    for i, one in enumerate(work.duty):
        for j, name in enumerate(one.open):
            yield from _known(("duty", i, "open", j), name, valves, "valve")
        for j, part in enumerate(one.throttled):
            yield from _known(("duty", i, "throttled", j, "valve"), part.valve, valves, "valve")
            if part.valve in one.open or part.valve in [other.valve for other in one.throttled[:j]]:
                at = ("duty", i, "throttled", j, "valve")
                yield Wrong(at, "The valve is said to stand in two ways.", quoted(part.valve), "each valve once")
        if one.engine is not None and work.pump is None:
            message = "The duty turns a pump, and there is none."
            yield Wrong(("duty", i, "engine"), message, one.engine.text, "no engine speed, or a table [pipework.pump]")


def emergency(work: Pipework) -> Iterator[Wrong]:
    """Things to shut that are not there."""
    there = ["engine", *(one.name for one in work.valve), *(one.valve for one in work.spray if one.valve is not None)]
    for i, name in enumerate(work.emergency):
        yield from _known(("emergency", i), name, there, "valve")


def _known(at: At, name: str, there: Sequence[str], kind: str) -> Iterator[Wrong]:
    if name not in there:
        allowed = listed(list(map(quoted, there))) if there else f"none: there is no {kind}"
        example = quoted(nearest(name, there) or there[0]) if there else ""
        yield Wrong(at, f"There is no {kind} of this name.", quoted(name), allowed, example)


def on_tank(build: Build) -> Iterator[Wrong]:
    """Points that are outlets the tank does not have; vents on compartments that are not there."""
    work = build.pipework
    if work is None:
        return
    count = len(build.tank.outlet)
    for i, one in enumerate(work.point):
        if one.outlet is not None and one.outlet > count:
            allowed = f"1 to {count}" if count else "none: list the outlet under [[tank.outlet]] first"
            message = "The tank has no outlet of this number."
            yield Wrong(("pipework", "point", i, "outlet"), message, str(one.outlet), allowed, "1" if count else "")
    rooms = [one.name for one in build.tank.compartment]
    told = [(("vent", i), one.compartment) for i, one in enumerate(work.vent)]
    told += [(("point", i), one.compartment) for i, one in enumerate(work.point)]
    for at, name in told:
        if name is not None:
            yield from _known(("pipework", *at, "compartment"), name, rooms, "compartment")
