"""Symbols of the pipework in the manner of ISO 14617 (from memory): what stands in pipes, and at their ends.

A symbol in a pipe has its middle at the spot; one at an end begins there and reaches to the right of its way.
"""

from __future__ import annotations

import math

from tunwright.sheets.drawing import Text
from tunwright.sheets.pipework.schematic.spot import Entities, Spot

PUMP = 5.5
"""Radius of the pump [mm]."""
DEVICE = 4.0
"""Half the length of a strainer, filter or meter [mm]."""
END = 9.0
"""Length of what the water leaves by [mm]."""
SOURCE = 9.0
"""How far a hydrant or open water reaches down [mm]."""


def pump_symbol(spot: Spot, *, turns: bool) -> Entities:
    """A centrifugal pump: a circle, in it a triangle that points where it delivers, filled while it turns.

    spot: where
    turns: whether it turns
    """
    r = PUMP
    angles = (0.0, math.radians(125.0), math.radians(235.0))
    corners = [(r * math.cos(angle), r * math.sin(angle)) for angle in angles]
    return (spot.ring(0.0, 0.0, r), spot.path(*corners, closed=True, fill="ink" if turns else "sheet"))


def device_symbol(spot: Spot, kind: str) -> Entities:
    """A strainer, a filter, a flow meter, or a plain box for anything else.

    spot: where
    kind: kind of device, as in the build file
    """
    d, h = DEVICE, 2.6
    match kind:
        case "strainer":
            return (
                spot.path((-d, -h), (d, -h), (d, h), (-d, h), closed=True, fill="sheet"),
                *spot.dashes((-d, h), (d, -h)),
            )
        case "filter":
            diamond = spot.path((-d, 0.0), (0.0, -d), (d, 0.0), (0.0, d), closed=True, fill="sheet")
            return (diamond, *spot.dashes((0.0, d), (0.0, -d)))
        case "flow meter":
            return (spot.ring(0.0, 0.0, d), Text(spot.to(0.0, -1.0), "FI", "text", 2.0, "middle"))
        case _:
            return (spot.path((-d, -h), (d, -h), (d, h), (-d, h), closed=True, fill="sheet"),)


def end_symbol(spot: Spot, kind: str) -> Entities:
    """What the water leaves by.

    spot: where the pipe ends
    kind: kind of spray, as in the build file
    """
    return _ENDS[kind](spot)


def _jets(spot: Spot, x: float, y: float, reach: float, *, tilt: float = 0.0) -> Entities:
    """Three jets that spread from a point."""
    rays = (tilt + math.radians(angle) for angle in (24.0, 0.0, -24.0))
    ends = [(x + reach * math.cos(ray), y + reach * math.sin(ray)) for ray in rays]
    return tuple(line for end in ends for line in spot.dashes((x, y), end))


def _spray_head(spot: Spot) -> Entities:
    cone = spot.path((0.0, 0.0), (4.0, 2.0), (4.0, -2.0), closed=True, fill="sheet")
    return (cone, *_jets(spot, 4.6, 0.0, 4.4))


def _spray_bar(spot: Spot) -> Entities:
    bar = spot.path((1.5, 4.0), (1.5, -4.0), layer="outline")
    stub = spot.path((0.0, 0.0), (1.5, 0.0))
    heads = [spot.path((1.5, y), (3.6, y + 1.1), (3.6, y - 1.1), closed=True, fill="sheet") for y in (3.0, 0.0, -3.0)]
    jets = [line for y in (3.0, 0.0, -3.0) for line in spot.dashes((4.4, y), (END, y))]
    return (stub, bar, *heads, *jets)


def _monitor(spot: Spot) -> Entities:
    tilt = math.radians(32.0)

    def on(far: float, side: float) -> tuple[float, float]:
        return (1.8 + far * math.cos(tilt) - side * math.sin(tilt), far * math.sin(tilt) + side * math.cos(tilt))

    barrel = spot.path(on(0.0, 1.3), on(5.0, 0.7), on(5.0, -0.7), on(0.0, -1.3), closed=True, fill="sheet")
    return (barrel, spot.ring(1.8, 0.0, 1.8), *spot.dashes(on(5.6, 0.0), on(8.6, 0.0)))


def _hose_reel(spot: Spot) -> Entities:
    hose = spot.path((3.2, -3.2), (END, -3.2))
    return (spot.ring(3.2, 0.0, 3.2), spot.ring(3.2, 0.0, 1.9, None), spot.ring(3.2, 0.0, 0.6, "ink"), hose)


def _open_end(spot: Spot) -> Entities:
    lips = (spot.path((0.0, 0.9), (2.2, 2.2)), spot.path((0.0, -0.9), (2.2, -2.2)))
    return (spot.path((0.0, 0.9), (0.0, -0.9)), *lips, *spot.dashes((1.4, 0.0), (END, 0.0)))


_ENDS = {
    "spray head": _spray_head,
    "spray bar": _spray_bar,
    "monitor": _monitor,
    "hose reel": _hose_reel,
    "open end": _open_end,
}


def hydrant_symbol(spot: Spot) -> Entities:
    """A hydrant under the end of a pipe that comes down to it.

    spot: lower end of the pipe
    """
    letter = Text(spot.to(0.0, -6.6), "H", "text", 2.0, "middle", bold=True)
    body, foot = spot.box(2.4, -8.2, -3.0), spot.path((-3.4, -8.2), (3.4, -8.2), layer="outline")
    return (spot.path((0.0, 0.0), (0.0, -3.0)), body, spot.dome(0.0, -3.0, 2.4), foot, letter)


def open_water_symbol(spot: Spot) -> Entities:
    """Open water whose surface a pipe dips into: the mark of a free surface, lines under it.

    spot: lower end of the pipe
    """
    mark = spot.path((3.2, -3.6), (2.0, -1.6), (4.4, -1.6), closed=True, fill="sheet")
    lines = ((6.0, -3.6, "water"), (4.2, -5.4, "water"), (2.6, -7.0, "water"))
    return (spot.path((0.0, 0.0), (0.0, -6.2)), mark, *(spot.path((-x, y), (x, y), layer=on) for x, y, on in lines))


def vent_symbol(spot: Spot) -> Entities:
    """A vent on the top of a tank: a stem under a hood.

    spot: where it stands
    """
    return (
        spot.path((-0.9, 0.0), (-0.9, 4.0)),
        spot.path((0.9, 0.0), (0.9, 4.0)),
        spot.dome(0.0, 4.0, 2.4),
        spot.path((-2.4, 4.0), (2.4, 4.0)),
    )


def outflow_symbol(spot: Spot) -> Entities:
    """The open lower end of a pipe, with the arrow of what runs out.

    spot: lower end of the pipe
    """
    tip = spot.path((0.0, -4.4), (-1.0, -1.8), (1.0, -1.8), closed=True, fill="ink")
    return (spot.path((-1.4, 0.0), (1.4, 0.0)), spot.path((0.0, 0.0), (0.0, -1.8)), tip)


def arrow_symbol(spot: Spot) -> Entities:
    """The arrow of what flows, on a pipe.

    spot: where; it points along the way
    """
    return (spot.path((1.9, 0.0), (-1.5, 1.25), (-1.5, -1.25), closed=True, fill="ink"),)


def dot_symbol(spot: Spot) -> Entities:
    """Pipes that are joined; where they only cross there is none.

    spot: where
    """
    return (spot.ring(0.0, 0.0, 0.8, "ink"),)


def tank_symbol(spot: Spot, length: float, height: float, level: float) -> Entities:
    """A tank standing on its lower left corner, filled to a level.

    spot: its lower left corner
    length: [mm]
    height: [mm]
    level: height of the water in it [mm]; none at 0
    """
    rim = ((0.0, 0.0), (length, 0.0), (length, height), (0.0, height))
    parts: Entities = (spot.path(*rim, layer="area", closed=True, fill="sheet"),)
    if level > 0.0:
        water = ((0.0, 0.0), (length, 0.0), (length, level), (0.0, level))
        parts = (*parts, spot.path(*water, layer="area", closed=True, fill="water"))
        parts = (*parts, spot.path((0.0, level), (length, level), layer="water"))
    return (*parts, spot.path(*rim, layer="outline", closed=True))
