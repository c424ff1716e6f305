"""What has to fit together in a lift. A check ends where it needs a value that is not known; the others go on."""

from __future__ import annotations

import math
from collections.abc import Iterator
from typing import TYPE_CHECKING

from tunwright.build.base import Wrong, as_far_as_known
from tunwright.build.tank_sense import outline_of
from tunwright.build.typed import metres
from tunwright.build.units import Quantity
from tunwright.handbook.fillet_weld import LEAST_THROAT, effective_length
from tunwright.handbook.sling_hook import meeting_point, shortest_leg

if TYPE_CHECKING:
    from tunwright.build.lifting import Lifting, LiftingLug
    from tunwright.build.model import Build

Point = tuple[float, float, float]

THICKEST = 0.075
"""Thickest plate whose strength the table of materials has for all steels of a lug [m]."""

_SAME = 0.05
"""Eyes nearer to each other than this are one written twice [m]."""

_BEYOND, _BESIDE, _OVER, _UNDER = 0.5, 0.3, 0.6, 0.5
"""How far beyond the tangent lines, beside, over and under the tank an eye still belongs to it [m]."""


def pin(lug: LiftingLug) -> Iterator[Wrong]:
    """A plate no strength is known of, a pin that does not go through its hole."""
    if lug.thickness > THICKEST:
        message = "The plate is thicker than any whose strength is known."
        yield Wrong(("thickness",), message, lug.thickness.text, f"up to {1000 * THICKEST:g} mm", '"20 mm"')
    if lug.pin > lug.hole:
        message = "The pin does not go through the hole."
        yield Wrong(("pin",), message, lug.pin.text, f"up to {lug.hole.text}", metres(round(0.9 * lug.hole, 3)))


def rounding(lug: LiftingLug) -> Iterator[Wrong]:
    """A rounded end that is smaller than the pin."""
    if lug.rounding is not None and lug.rounding < lug.pin / 2:
        message = "The end cannot be rounded closer than half the pin."
        least = f"from {500 * lug.pin:g} mm"
        yield Wrong(("rounding",), message, lug.rounding.text, least, metres(lug.hole / 2 + lug.end))


def weld(lug: LiftingLug) -> Iterator[Wrong]:
    """Half a weld, one too thin or too short to count, or longer than the plate is wide."""
    if (lug.throat is None) != (lug.weld_length is None):
        name, other = ("throat", "length") if lug.throat is None else ("weld_length", "throat")
        example = 'throat = "5 mm"' if lug.throat is None else f"weld_length = {metres(float(lug.width))}"
        yield Wrong((name,), f"A weld needs both, a throat and a length; its {other} alone is given.", "", "a length "
                    "above 0 mm", example)  # fmt: skip
        return
    if lug.throat is None or lug.weld_length is None:
        return
    if lug.throat < LEAST_THROAT:
        message = "A fillet weld that carries has a throat of 3 mm or more (EN 1993-1-8, 4.5.2)."
        yield Wrong(("throat",), message, lug.throat.text, "from 3 mm", '"5 mm"')
        return
    if lug.weld_length > lug.width:
        message = "The weld is longer than the plate is wide at its foot."
        yield Wrong(("weld_length",), message, lug.weld_length.text, f"up to {lug.width.text}", metres(lug.width))
        return
    try:
        effective_length(float(lug.weld_length), throat=float(lug.throat))
    except ValueError:
        least = max(8 * float(lug.throat), 0.03 + 2 * float(lug.throat))
        message = "The weld is too short to carry: less two throats, 6 throats and 30 mm are the least."
        yield Wrong(("weld_length",), message, lug.weld_length.text, f"from {1000 * least:g} mm", metres(least + 0.01))


def legs(lifting: Lifting) -> Iterator[Wrong]:
    """A sling with another number of legs than there are eyes."""
    count = len(lifting.eye)
    if lifting.legs is not None and lifting.legs != count:
        message = f"The sling has {lifting.legs} legs, and there are {count} eyes: every leg holds one eye."
        yield Wrong(("legs",), message, str(lifting.legs), str(count), str(count))


def one_length(lifting: Lifting) -> Iterator[Wrong]:
    """Legs of one length, and a height of the hook beside it."""
    if lifting.leg_length is not None and lifting.hook_height is not None:
        message = "The length of the legs fixes the height of the hook: give one of them."
        yield Wrong(("hook_height",), message, lifting.hook_height.text, "no hook_height, or no leg_length")


def apart(lifting: Lifting) -> Iterator[Wrong]:
    """Two eyes in one place, two names alike, or three and four on a line."""
    places = eyes_of(lifting)
    for i, place in enumerate(places):
        name = lifting.eye[i].name
        if any(math.dist(place, other) < _SAME for other in places[:i]):
            yield Wrong(("eye", i, "at"), "There is an eye here already.", lifting.eye[i].at.text, "a place of its own")
            return
        if name is not None and name in [one.name for one in lifting.eye[:i]]:
            message = "Two eyes have this name."
            yield Wrong(("eye", i, "name"), message, f'"{name}"', "a name of its own", f'"{name} 2"')
    try:
        shortest_leg(places)
    except ValueError:
        message = "The eyes stand over each other or on one line as seen from above: the load would tip."
        yield Wrong(("eye",), message, "", "eyes apart, three or four of them round the centre of gravity")


def meeting(lifting: Lifting) -> Iterator[Wrong]:
    """Legs too short to meet over the eyes, or that meet in no point."""
    if lifting.leg_length is None:
        return
    places, length = eyes_of(lifting), float(lifting.leg_length)
    try:
        least = shortest_leg(places)
        meeting_point(eyes=places, length=length)
    except ValueError as error:
        if "do not meet" not in str(error):
            return  # said of the eyes already
        if length > least:
            message = "Four legs of one length do not meet over these eyes; one would hang slack."
            yield Wrong(("leg_length",), message, lifting.leg_length.text, "eyes on a circle, or a hook_height")
            return
        message = "The legs are too short to meet over the eyes."
        example = metres(math.ceil(14.2 * least) / 10)
        yield Wrong(("leg_length",), message, lifting.leg_length.text, f"above {least:.3f} m", example)


def eyes_of(lifting: Lifting) -> list[Point]:
    """The eyes as points of the tank's frame: behind its front tangent line, to the right, up [m].

    lifting: the lift
    """
    return [(float(one.at), float(one.y), float(one.height)) for one in lifting.eye]


def chart(lifting: Lifting) -> Iterator[Wrong]:
    """A chart whose radii do not grow or whose capacities do, and a radius beyond it."""
    for i, (here, before) in enumerate(zip(lifting.crane[1:], lifting.crane, strict=False), start=1):
        if here.radius <= before.radius:
            message = "The chart must be listed from the nearest radius outwards."
            example = metres(before.radius + 1.0)
            yield Wrong(("crane", i, "radius"), message, here.radius.text, f"more than {before.radius.text}", example)
        elif here.capacity > before.capacity:
            message = "A crane lifts no more farther out: this line does not belong to the same chart."
            allowed = f"up to {before.capacity.text}"
            yield Wrong(("crane", i, "capacity"), message, here.capacity.text, allowed, f'"{before.capacity.text}"')
    if lifting.crane and lifting.radius is not None and lifting.radius > lifting.crane[-1].radius:
        far = lifting.crane[-1].radius
        message = "The crane's chart does not reach so far: it must not lift there."
        yield Wrong(("radius",), message, lifting.radius.text, f"up to {far.text}", f'"{far.text}"')


def on_tank(build: Build) -> Iterator[Wrong]:
    """Eyes off the tank, and a subframe that is to be lifted where there is none."""
    lifting = build.lifting
    if lifting is None:
        return
    if lifting.with_subframe and build.subframe is None:
        message = "There is no subframe to lift with the tank."
        yield Wrong(("lifting", "with_subframe"), message, "true", "false, or a subframe", "false")
    outline = outline_of(build.tank)
    if outline is None:
        return
    length, half = float(build.tank.length), max(-outline.left, outline.right) + _BESIDE
    for i, eye in enumerate(lifting.eye):
        yield from as_far_as_known(
            _off(("lifting", "eye", i, "at"), eye.at, -_BEYOND, length + _BEYOND),
            _off(("lifting", "eye", i, "y"), eye.y, -half, half),
            _off(("lifting", "eye", i, "height"), eye.height, -_UNDER, outline.highest + _OVER),
        )


def _off(path: tuple[str | int, ...], value: Quantity, low: float, high: float) -> Iterator[Wrong]:
    if not low <= value <= high:
        message = "The eye does not stand on the tank; its place counts from the front tangent line, the tank's middle "
        message += "and its lowest inside point."
        ends = f"from {low:.2f} m to {high:.2f} m"
        yield Wrong(path, message, value.text, ends, metres(round((low + high) / 2, 2)))
