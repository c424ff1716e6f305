"""The working of a lift: what hangs on the hook, where the hook stands, how the legs stand and pull."""

from __future__ import annotations

import math
from collections.abc import Iterator

import numpy as np
from numpy.typing import NDArray

from tunwright.build.shown import show_number as n
from tunwright.checks.finding import Step
from tunwright.handbook.gravity import GRAVITY
from tunwright.handbook.sling import FLATTEST, leg_factor
from tunwright.tables.read import shop_values
from tunwright.truck.hoisting import Hoisting, Hung, Lift

STATICS = "statics: legs and weight in balance, the load stiff, the legs without stretch"
TAG = "EN 13414-1:2003, Table 4, read in a copy"
HANGS = "eyes from which the tank hangs"


def lacking(hoisting: Hoisting) -> tuple[str, ...]:
    """What is missing before any leg can be judged; nothing where a lift hangs.

    hoisting: the lift
    """
    if not hoisting.known:
        return ("lifting.leg_length",)
    return () if hoisting.hung else (HANGS,)


def place(hoisting: Hoisting, at: NDArray[np.float64]) -> str:
    """A point as people measure it on the tank.

    hoisting: the lift
    at: the point in vehicle coordinates [m]
    """
    x, y, z = hoisting.on_tank(at).tolist()
    side = "in the middle" if abs(y) < 0.0005 else f"{n(abs(y), 3)} m to the {'right' if y > 0 else 'left'}"
    return f"{n(x, 3)} m behind the front tangent line, {side}, {n(z, 3)} m up"


def weight_steps(hoisting: Hoisting, lift: Lift) -> Iterator[Step]:
    """What is lifted, and where its centre of gravity is.

    hoisting: the lift
    lift: what is lifted
    """
    for lump in lift.lumps:
        yield Step(lump.name, "m", place(hoisting, lump.mass.centre), f"{n(lump.mass.mass, 1)} kg")
    where = place(hoisting, lift.load.centre)
    yield Step(f"{lift.name} and its centre of gravity", "sum of m r / sum of m", where, f"{n(lift.load.mass, 1)} kg")


def hook_step(hoisting: Hoisting, lift: Lift) -> Step:
    """Where the hook stands before the load tilts.

    hoisting: the lift
    lift: what is lifted
    """
    length = hoisting.lifting.leg_length
    way = "over the centre of gravity" if length is None else f"where {len(lift.eyes)} legs of {length.text} meet"
    return Step("hook", way, place(hoisting, lift.hook), f"{n(lift.over, 3)} m over the highest eye", "geometry")


def leg_step(hoisting: Hoisting, hung: Hung, leg: int) -> Step:
    """How a leg stands.

    hoisting: the lift
    hung: what is lifted
    leg: index of the leg
    """
    angle = math.degrees(float(hung.hanging.angle[leg]))
    length = f"{n(float(hung.legs[leg]), 3)} m long"
    return Step(f"leg to {hoisting.names[leg]}, off the vertical as it hangs", "acos(pull · up)", length,
                f"{n(angle, 1)}°", "geometry")  # fmt: skip


def pull_steps(hoisting: Hoisting, hung: Hung, leg: int) -> Iterator[Step]:
    """The pull of a leg, at rest and while hoisting.

    hoisting: the lift
    hung: what is lifted
    leg: index of the leg
    """
    yield leg_step(hoisting, hung, leg)
    states, rest = hung.hanging.states, float(hung.hanging.tension[leg]) / GRAVITY
    way = "legs and weight in balance"
    if len(hung.eyes) == 4:
        way += "; of four legs one may hang slack, so the greatest of every balance with at most three taut"
    each = ", ".join(n(float(state[leg]) / GRAVITY) for state in states)
    yield Step(f"pull of the leg to {hoisting.names[leg]} at rest", way, each, f"{n(rest, 1)} kg", STATICS)
    usual = shop_values()["hoist_dynamic"]
    values = f"{n(rest, 1)} × {usual.value:g}"
    yield Step("while hoisting", "pull × dynamic factor", values, f"{n(rest * usual.value, 1)} kg", usual.source)
    yield from _tag(hoisting, hung)


def _tag(hoisting: Hoisting, hung: Hung) -> Iterator[Step]:
    """What the whole sling is good for by its tag, where its legs stand as the tag says."""
    rating, angle = hoisting.lifting.leg_rating, float(hung.hanging.angle.max())
    if rating is None or angle > FLATTEST:
        return
    factor = leg_factor(legs=len(hung.eyes), angle=angle)
    words = f"factor for {len(hung.eyes)} even legs up to {45 if angle <= math.radians(45) else 60}° × leg"
    whole = factor * float(rating)
    yield Step("for comparison: the whole sling", words, f"{factor:g} × {n(float(rating))} kg", f"{n(whole)} kg", TAG)


def tilt_steps(hung: Hung) -> Iterator[Step]:
    """How far the load turns until its centre hangs under the hook.

    hung: what is lifted
    """
    up = hung.hanging.up
    tilt, along, across = math.degrees(hung.hanging.tilt), float(up[0] / up[2]), float(up[1] / up[2])
    values = f"{n(along, 4)} along, {n(across, 4)} across"
    yield Step("tilt until the centre of gravity hangs under the hook", "atan of its distance from the plumb line of "
               "the hook over its depth under it", values, f"{n(tilt, 2)}°, {tilt_words(hung)}", STATICS)  # fmt: skip


def tilt_words(hung: Hung) -> str:
    """Which way a load tilts: nose down, left side down, or level.

    hung: what is lifted
    """
    x, y, _ = hung.hanging.up.tolist()
    along = "" if abs(x) < 0.0005 else "nose down" if x > 0 else "rear down"
    across = "" if abs(y) < 0.0005 else "left side down" if y > 0 else "right side down"
    return ", ".join(word for word in (along, across) if word) or "level"


def against(value: float, limit: float, unit: str) -> Step:
    """A value held against its limit.

    value: the value [any unit]
    limit: its limit [the same unit]
    unit: that unit
    """
    share = f"{100 * value / limit:.1f} %"
    return Step("against the limit", "value / limit", f"{n(value, 1)} / {n(limit, 1)} {unit}", share)
