"""What has to fit together in the pipework. A check ends where it needs a value that is not known; the others go on."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator, Sequence
from itertools import pairwise
from typing import TYPE_CHECKING

from tunwright.build.base import Wrong, as_far_as_known
from tunwright.build.fields import slug
from tunwright.build.problems import nearest
from tunwright.build.typed import listed, quoted
from tunwright.tables.fittings import fittings
from tunwright.tables.pipes import pipe_size, series_names, sizes

if TYPE_CHECKING:
    from tunwright.build.model import Build
    from tunwright.build.pipework import Drive, Hydrant, PipeRun, Pipework, Point, Pump, Relief

At = tuple[str | int, ...]


def hydrant(one: Hydrant) -> Iterator[Wrong]:
    """A hydrant that gives as much pressure at a flow as with none."""
    if one.residual >= one.static:
        message = "A hydrant's pressure falls when it flows."
        yield Wrong(("residual",), message, one.residual.text, f"below {one.static.text}", '"3 bar"')


def point(one: Point) -> Iterator[Wrong]:
    """A point that is two things at once, or has no height."""
    kinds = {
        "outlet": one.outlet is not None,
        "mouth": one.mouth is True,
        "hydrant": one.hydrant is not None,
        "open_water": one.open_water is True,
    }
    said = [name for name, there in kinds.items() if there]
    if len(said) > 1:
        message = f"The point is {listed(said, 'and')} at once; it can be one of them."
        yield Wrong((said[1],), message, "", "one of outlet, mouth, hydrant and open_water, or none for a joint")
    if one.height is None and one.outlet is None:
        message = "The height of the point is missing."
        yield Wrong(("height",), message, "", "a height above the ground", 'height = "0.95 m"')


def run(one: PipeRun) -> Iterator[Wrong]:
    """A kind, size or fitting that is in no table; a run from a point to itself."""
    yield from as_far_as_known(_sized(one.series, one.size), _fitted(one.fittings), _round(one))


def _round(one: PipeRun) -> Iterator[Wrong]:
    if one.start == one.end:
        yield Wrong(("to",), "The run ends where it begins.", quoted(one.end), "another point")


def _sized(series: str, size: str) -> Iterator[Wrong]:
    known = series_names()
    if series not in known:
        example = quoted(nearest(series, known) or known[0])
        allowed = listed(list(map(quoted, known)))
        yield Wrong(("series",), "There is no such kind of pipe in the table.", quoted(series), allowed, example)
        return
    try:
        pipe_size(series, size)
    except ValueError as error:
        there = [one.name for one in sizes(series)]
        example = quoted(nearest(size, there) or there[0])
        yield Wrong(("size",), str(error), quoted(size), listed(list(map(quoted, there))), example)


def _fitted(named: Sequence[str]) -> Iterator[Wrong]:
    known = list(fittings())
    for i, name in enumerate(named):
        if name not in known:
            example = quoted(nearest(name, known) or known[0])
            message = "There is no such fitting in the table."
            yield Wrong(("fittings", i), message, quoted(name), listed(list(map(quoted, known))), example)


def relief(one: Relief) -> Iterator[Wrong]:
    """A relief valve that passes its flow before it opens, or leads to where it comes from."""
    if one.full <= one.opens:
        message = "A relief valve passes its flow at a higher pressure than the one it opens at."
        yield Wrong(("full",), message, one.full.text, f"above {one.opens.text}")
    if one.start == one.end:
        yield Wrong(("to",), "The relief valve leads to where it comes from.", quoted(one.end), "another point")


def drive(one: Drive) -> Iterator[Wrong]:
    """Engine speeds the wrong way round."""
    if one.most < one.least:
        message = "The highest speed of the engine is below the lowest."
        yield Wrong(("to",), message, one.most.text, f"from {one.least.text}")


def curve(one: Pump) -> Iterator[Wrong]:
    """A curve of one point, one that rises, or whose flows go back."""
    points = one.curve
    if len(points) < 2:
        message = "One point is no curve: the pump's pressure at other flows is not known."
        yield Wrong(("curve",), message, str(len(points)), "two points or more; the maker's curve has them")
    for i, (a, b) in enumerate(pairwise(points), start=1):
        if b.flow <= a.flow:
            message = "The points of a curve go from little flow to much."
            yield Wrong(("curve", i, "flow"), message, b.flow.text, f"above {a.flow.text}")
        elif b.head > a.head:
            message = f"The curve rises from {a.head.text} at {a.flow.text} to {b.head.text} at {b.flow.text}."
            allowed = f"up to {a.head.text}, or the curve from its highest point on"
            yield Wrong(("curve", i, "head"), message, b.head.text, allowed)
    if points[0].head <= 0.0:
        message = "A pump adds some head at the first flow of its curve."
        yield Wrong(("curve", 0, "head"), message, points[0].head.text, "above 0 m")
    for i, row in enumerate(points):
        if row.efficiency is not None and row.efficiency <= 0.0 < row.flow:
            message = "Where water flows, the efficiency is above nothing."
            yield Wrong(("curve", i, "efficiency"), message, row.efficiency.text, "above 0 %", '"40 %"')
    for name in ("efficiency", "npsh"):
        told = [i for i, one in enumerate(points) if getattr(one, name) is not None]
        if told and len(told) < len(points):
            gap = next(i for i in range(len(points)) if i not in told)
            message = f"Some points of the curve tell the {name}, this one does not."
            yield Wrong(("curve", gap, name), message, "", "all points or none")


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
