"""Steps that the workings of all fastenings share: what is held, what throws it, what one side of a mount gets."""

from __future__ import annotations

from collections.abc import Iterator

from tunwright.build.shown import show_number as n
from tunwright.checks.finding import Step
from tunwright.handbook.gravity import GRAVITY
from tunwright.tables.read import shop_values
from tunwright.truck.fastening.securing import Securing

WAYS = (("along", "rearwards", "forwards"), ("across", "to the right", "to the left"), ("up", "upwards", "downwards"))
MODEL = "frame model: everything stated on the frame, solved as one elastic frame"
RIGID = "a stiff body on springs: sum of forces and of moments are zero, mounts as stiff as in the frame model"


def kilonewtons(value: float, digits: int = 1) -> str:
    """A force in print.

    value: [N]
    digits: decimals
    """
    return f"{n(value / 1000, digits)} kN"


def in_words(force: tuple[float, float, float]) -> str:
    """A force by its parts.

    force: along, across and up [N]
    """
    least = 0.5e-3 * max(map(abs, force), default=0.0)
    parts = [
        f"{kilonewtons(abs(value))} {plus if value > 0 else minus}"
        for value, (_, plus, minus) in zip(force, WAYS, strict=True)
        if abs(value) > max(least, 50.0)
    ]
    return ", ".join(parts) or "none"


def force_steps(
    securing: Securing, name: str, side: str, words: str, force: tuple[float, float, float]
) -> Iterator[Step]:
    """How the force on one side of a mount comes about.

    securing: the tank on its mounts
    name: of the mount
    side: left, right or middle
    words: the case
    force: force of the body there along, across and up [N]
    """
    parts = " + ".join(n(mass.mass) for _, mass in securing.parts)
    whole = securing.body.mass
    yield Step("held by the mounts", " + ".join(what for what, _ in securing.parts), parts, f"{n(whole)} kg")
    throw = next((i for i, one in enumerate(securing.throws) if one.words == words), None)
    if throw is None:
        yield Step(f"force on {name}, {side} side", words, "", in_words(force), MODEL)
        return
    one = securing.throws[throw]
    values = ", ".join(f"{abs(a):g}" for a in (one.along, one.across, one.up) if a)
    load = tuple(float(f) for f in securing.loads[throw])
    source = "states of the build" if one.daily else shop_values()["securing_forward"].source
    yield Step(f"thrown: {words}", "a m g", f"{values} × {n(whole)} × {GRAVITY:g}", in_words(load), source)  # type: ignore[arg-type]
    yield Step(f"force on {name}, {side} side", "on the bolts and welds of this side", "", in_words(force), RIGID)
