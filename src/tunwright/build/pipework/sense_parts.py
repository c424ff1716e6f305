"""What has to fit together in a part of the pipework. A check ends where it needs what is not known."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from itertools import pairwise
from typing import TYPE_CHECKING

from tunwright.build.base import Wrong, as_far_as_known
from tunwright.build.problems import nearest
from tunwright.build.typed import listed, quoted
from tunwright.handbook.pipe_bends import STRAIGHT, bent_tube, corner_angles
from tunwright.tables.fittings import fittings
from tunwright.tables.pipes import pipe_size, series_names, sizes

if TYPE_CHECKING:
    from tunwright.build.pipework import CurvePoint, Device, Drive, Hydrant, PipeRun, Point, Pump, Relief

_SPOT = 0.001  # corners nearer than this are one [m]
_OFF, _SLACK = 0.03, 0.05  # how far a way may stray from the length of its run: a share of it, and [m]


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
        elif b.adds > a.adds and _says(a) and _says(b):
            message = f"The curve rises from {a.adds.text} at {a.flow.text} to {b.adds.text} at {b.flow.text}."
            allowed = f"up to {a.adds.text}, or the curve from its highest point on"
            yield Wrong(("curve", i, _typed(b)), message, b.adds.text, allowed)
    if points[0].adds <= 0.0 and _says(points[0]):
        message = "A pump adds some head at the first flow of its curve."
        yield Wrong(("curve", 0, _typed(points[0])), message, points[0].adds.text, "above 0 m")
    for i, row in enumerate(points):
        if row.efficiency is not None and row.efficiency <= 0.0 < row.flow:
            message = "Where water flows, the efficiency is above nothing."
            yield Wrong(("curve", i, "efficiency"), message, row.efficiency.text, "above 0 %", '"40 %"')
    for name in ("efficiency", "npsh"):
        told = [i for i, one in enumerate(points) if getattr(one, name) is not None]
        gap = next((i for i, row in enumerate(points) if row.flow > 0.0 and i not in told), None)
        if told and gap is not None:
            message = f"Some points of the curve tell the {name}, this one does not."
            yield Wrong(("curve", gap, name), message, "", "all points at which water flows, or none")


def _says(row: CurvePoint) -> bool:
    """Whether a point of a curve says what head it adds; one that does not is complained about on its own."""
    return row.head is not None or row.pressure is not None


def _typed(row: CurvePoint) -> str:
    """The key the head of a point of a curve was typed under."""
    return "head" if row.head is not None else "pressure"


def curve_point(one: CurvePoint) -> Iterator[Wrong]:
    """A point of a curve with neither head nor pressure, or with both."""
    if one.head is None and one.pressure is None:
        yield Wrong(("head",), "The head is missing.", "", "a head, or a pressure in its place", 'head = "55 m"')
    elif one.head is not None and one.pressure is not None:
        message = "The point has a head and a pressure; they say the same thing."
        yield Wrong(("pressure",), message, one.pressure.text, "one of the two")


def meter(one: Device) -> Iterator[Wrong]:
    """A meter whose least flow is above its greatest; what only a meter has, on something else."""
    if one.least is not None and one.most is not None and one.least >= one.most:
        message = "The greatest flow of the meter is not above its least."
        yield Wrong(("most",), message, one.most.text, f"above {one.least.text}")
    if one.kind != "flow meter":
        for name in ("bore", "least", "most", "pulses"):
            given = getattr(one, name)
            if given is not None:
                message = f"A {one.kind} has no such key; a flow meter has."
                yield Wrong((name,), message, given.text, 'kind = "flow meter"', 'kind = "flow meter"')


def way(one: PipeRun) -> Iterator[Wrong]:
    """A way of one corner, corners on the same spot, one that turns back, or a way that is not as long as the run."""
    corners = [(float(each.at), float(each.y), float(each.height)) for each in one.corner]
    if len(corners) == 1:
        yield Wrong(("corner",), "One corner is no way.", "1", "two or more, the ends of the run among them")
    same = [i for i, (a, b) in enumerate(pairwise(corners), start=1) if math.dist(a, b) < _SPOT]
    for i in same:
        yield Wrong(("corner", i), "The corner stands where the last one stands.", "", "another place")
    if one.bend_radius is not None and len(corners) < 3:
        message = "A radius of bends needs the corners that are bent."
        yield Wrong(("bend_radius",), message, one.bend_radius.text, "three corners or more under corner")
    elif len(corners) > 1 and not same:
        yield from _turns(corners)
        yield from _bent(one, corners)


def _turns(corners: Sequence[tuple[float, float, float]]) -> Iterator[Wrong]:
    """Corners at which a pipe turns straight back."""
    for i, angle in enumerate(corner_angles(corners) if len(corners) > 2 else (), start=1):
        if angle > math.pi - STRAIGHT:
            message = "The way turns straight back here."
            yield Wrong(("corner", i), message, "", "a corner that turns by less, or two corners for a return")


def _bent(one: PipeRun, corners: Sequence[tuple[float, float, float]]) -> Iterator[Wrong]:
    """A leg too short for its bends; a length that is not that of the way."""
    told, whole = "The corners of the way make", math.fsum(math.dist(a, b) for a, b in pairwise(corners))
    if one.bend_radius is not None:
        try:
            whole = bent_tube(corners, radius=float(one.bend_radius)).developed
        except ValueError as error:
            yield Wrong(("bend_radius",), str(error), one.bend_radius.text, "a smaller radius, or longer legs")
            return
        told = f"Bent with {one.bend_radius.text}, the corners make a tube of"
    if abs(whole - float(one.length)) > _OFF * float(one.length) + _SLACK:
        message = f"{told} {whole:.2f} m, and the length says {one.length.text}."
        allowed = f"about {whole:.2f} m, or another corner: one of them is wrong"
        yield Wrong(("length",), message, one.length.text, allowed, f'"{whole:.2f} m"')
