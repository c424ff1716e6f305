"""What to mind before and while a tank hangs. Common practice, no source, but for the figures."""

from __future__ import annotations

from collections.abc import Iterator

from tunwright.sheets.dossier.amounts import Amounts
from tunwright.truck.hoisting import Hoisting

FIRST = (
    "Local rules, the crane's manual and a licensed rigger and crane driver come first. This page is an aid for a "
    "competent person, never an approval."
)
CLEAR = (
    "Nobody stands under the load or between it and the chassis. Hands come near it only when it hangs still, a "
    "hand high over its mounts."
)
TAGS = (
    "Look at tags, hooks, shackle pins and lugs before the lift; a sling without a tag is not used. Shackles with pins "
    "as said here, the pins secured, no leg over an edge."
)
TRIAL = (
    "Trial lift: a hand high, then stop. Does it hang as level as said here, do all legs carry, do brakes and ground "
    "hold? What it weighs is read off and compared with this page."
)
LINES = "Tag lines at both ends, held by people who stand clear; one person gives the signals."
WELDS = "The first lift follows the inspection of the lugs' welds. The shell under the lugs is not checked here."


def cautions(hoisting: Hoisting, amounts: Amounts) -> Iterator[str]:
    """What to mind, one sentence or two each.

    hoisting: the lift
    amounts: how quantities are printed
    """
    side = float(hoisting.truck.build.tank.length) * hoisting.truck.solid.height
    yield FIRST
    yield f"Lift the tank empty: outlets open, every compartment looked into. {_wet(hoisting, amounts)}"
    yield from (CLEAR, TAGS, TRIAL, LINES)
    area = amounts.full(side, "area")
    yield f"Wind takes hold of about {area} of its side. No lift in gusts, nor in more wind than the chart allows."
    yield WELDS


def _wet(hoisting: Hoisting, amounts: Amounts) -> str:
    """What water that stays in would do."""
    stays = hoisting.stranded
    full = amounts.mass(float(hoisting.truck.volumes.gross.sum()) * hoisting.truck.water.density)
    if stays < 0.5:
        return f"Full it would weigh {full} more, and water runs to the low end."
    left = f"Below its outlets {amounts.mass(stays)} of water stay in, which these figures leave out"
    return f"{left}; full it would weigh {full} more. Water runs to the low end and tilts it further."
