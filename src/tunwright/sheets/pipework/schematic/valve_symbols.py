"""Symbols of valves in the manner of ISO 14617 (from memory): two triangles, filled as far as the valve is shut.

How a valve stands never depends on colour: open is empty, shut is filled, part open is filled on one side.
"""

from __future__ import annotations

from typing import Literal

from tunwright.build.pipework import Valve
from tunwright.sheets.drawing import Text
from tunwright.sheets.pipework.schematic.spot import Entities, Spot
from tunwright.truck.pipework.plumbing import ONE_WAY

State = Literal["open", "shut", "part"]
HALF, WAIST = 4.0, 2.4
"""Half the length of a valve, and half its height [mm]."""
REACH = 8.0
"""How far a valve with what works it reaches up [mm]."""

_FILLS: dict[State, tuple[str, str]] = {"open": ("sheet", "sheet"), "shut": ("ink", "ink"), "part": ("ink", "sheet")}


def valve_symbol(spot: Spot, kind: str, state: State, works: str = "hand") -> Entities:
    """A valve in a pipe.

    spot: where
    kind: kind of valve, as in the build file; any other draws a valve of no kind
    state: how it stands
    works: what works it, as in the build file
    """
    if kind in ONE_WAY:
        foot, lift, tested = (kind.startswith(word) for word in ("foot", "lift", "back"))
        return check_symbol(spot, state, foot=foot, lift=lift, tested=tested)
    return (*_worked(spot, works), *_triangles(spot, state), *_middle(spot, kind))


def up_reach(valve: Valve) -> float:
    """How far a valve's symbol reaches up [mm].

    valve: the valve
    """
    if valve.kind in ONE_WAY:
        return WAIST + (0.9 if valve.kind.startswith("back") else 0.4)
    return {"hand": 5.2, "itself": WAIST}.get(valve.works, REACH)


def _triangles(spot: Spot, state: State) -> Entities:
    before, behind = _FILLS[state]
    return (
        spot.path((-HALF, WAIST), (0.0, 0.0), (-HALF, -WAIST), closed=True, fill=before),
        spot.path((HALF, WAIST), (0.0, 0.0), (HALF, -WAIST), closed=True, fill=behind),
    )


def _middle(spot: Spot, kind: str) -> Entities:
    """What tells the kinds apart: a ball, a plug, a gate, a disc on its shaft."""
    match kind:
        case "ball valve":
            return (spot.ring(0.0, 0.0, 1.4),)
        case "globe valve":
            return (spot.ring(0.0, 0.0, 0.9, "ink"),)
        case "gate valve":
            return (spot.path((0.0, -WAIST), (0.0, WAIST)),)
        case "butterfly valve":
            disc = spot.path((-1.3, -WAIST), (1.3, WAIST), layer="ground")
            return (disc, spot.ring(0.0, 0.0, 0.55, "ink"))
        case _:
            return ()


def _worked(spot: Spot, works: str) -> Entities:
    """What works a valve, on a stem over it: a hand wheel, a diaphragm for air, a motor."""
    match works:
        case "hand":
            return (spot.path((0.0, 0.0), (0.0, 4.6)), spot.path((-1.6, 4.6), (1.6, 4.6), layer="ground"))
        case "air":
            stem = spot.path((0.0, 0.0), (0.0, 5.0))
            return (stem, spot.path((-2.4, 5.0), (2.4, 5.0)), spot.dome(0.0, 5.0, 2.4))
        case "electric":
            letter = Text(spot.to(0.0, 4.9), "M", "text", 1.8, "middle")
            return (spot.path((0.0, 0.0), (0.0, 3.7)), spot.ring(0.0, 5.8, 2.1), letter)
        case _:
            return ()


def check_symbol(
    spot: Spot, state: State, *, foot: bool = False, lift: bool = False, tested: bool = False
) -> Entities:
    """A valve that opens by itself and one way only: a ball before its seat, filled while it is shut.

    spot: where; water passes along its way
    state: "open" while water passes
    foot: with a strainer before it
    lift: it lifts straight, with a spring behind it, instead of swinging
    tested: a backflow preventer, in a case of its own
    """
    fill = "ink" if state == "shut" else "sheet"
    seat = spot.path((-0.2, WAIST + 0.3), (-2.6, 0.0), (-0.2, -WAIST - 0.3))
    parts: Entities = (spot.path((0.9, 0.0), (HALF, 0.0)), seat, spot.ring(-0.1, 0.0, 1.35, fill))
    parts = (spot.path((-HALF, 0.0), (-2.6, 0.0)), *parts)
    if lift:
        parts = (*parts, spot.path((1.3, 0.0), (1.8, 1.1), (2.4, -1.1), (3.0, 1.1), (3.4, 0.0)))
    if tested:
        high = WAIST + 0.9
        case = spot.path((-HALF, high), (HALF, high), (HALF, -high), (-HALF, -high), closed=True)
        parts = (*parts, case)
    if foot:
        basket = [((-HALF - 3.0, y), (-HALF, y)) for y in (-WAIST, WAIST)]
        ends = ((-HALF - 3.0, -WAIST), (-HALF - 3.0, WAIST))
        lines = (line for pair in (*basket, ends) for line in spot.dashes(*pair))
        parts = (
            *parts,
            *lines,
            spot.path((-HALF, -WAIST), (-HALF, WAIST)),
            spot.path((-HALF - 3.0, 0.0), (-HALF, 0.0)),
        )
    return parts


def relief_symbol(spot: Spot, state: State) -> Entities:
    """A valve that a spring holds shut.

    spot: where
    state: "open" while water passes
    """
    turns = [(0.0, 0.0), (0.0, 2.6)]
    turns += [((-1.4, 1.4)[i % 2], 3.2 + 0.9 * i) for i in range(4)]
    return (*_triangles(spot, state), spot.path(*turns, (0.0, 6.4)), spot.path((-1.4, 6.4), (1.4, 6.4)))


def regulator_symbol(spot: Spot) -> Entities:
    """A valve that holds the pressure behind it down: a diaphragm that feels what is behind.

    spot: where
    """
    stem, plate = spot.path((0.0, 0.0), (0.0, 4.2)), spot.path((-2.2, 4.2), (2.2, 4.2))
    feels = (*spot.dashes((2.2, 5.0), (HALF + 2.2, 5.0)), *spot.dashes((HALF + 2.2, 5.0), (HALF + 2.2, 0.0)))
    line = spot.path((HALF, 0.0), (HALF + 2.2, 0.0))
    return (*_triangles(spot, "open"), stem, plate, spot.dome(0.0, 4.2, 2.2), *feels, line)
