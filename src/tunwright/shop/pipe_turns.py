"""What stands at the corners and ends of a run of pipe, and what it takes off the pipe."""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass, replace

from tunwright.handbook.pipe_bends import corner_angles, mitre_cut, take_off
from tunwright.shop.pipe_runs import RunOfPipe
from tunwright.tables.read import shop_value

TURNING = {
    "elbow 90": 90, "elbow 90 short": 90, "elbow 90 long": 90, "bend 90": 90, "elbow 45": 45, "elbow 45 long": 45,
    "return bend": 180, "mitre 15": 15, "mitre 30": 30, "mitre 45": 45, "mitre 60": 60, "mitre 75": 75, "mitre 90": 90,
}  # fmt: skip
"""Fittings that turn, and by how many degrees."""
_TEES = ("tee through", "tee branch")
_THREADED = ("elbow 90", "elbow 45")
_LONG = "elbow 90 long"
_SAME_PIPE = 0.0006  # how far pipe and flange may differ in diameter [m]


@dataclass(frozen=True)
class Turn:
    """What stands at a corner.

    number: of the corner, from 1
    angle: by which the pipe turns [rad]
    what: the fitting, and how it is cut
    takes: what it takes off either leg, middle to end [m]; None where no table has it
    gap: between it and the pipe [m]
    listed: whether the fittings of the run name it
    """

    number: int
    angle: float
    what: str
    takes: float | None
    gap: float
    listed: bool = True

    @property
    def off(self) -> float | None:
        """What it takes off either leg with its gap [m]."""
        return None if self.takes is None else self.takes + self.gap


def degrees(angle: float) -> str:
    """An angle in print, such as "37.5°".

    angle: the angle [rad]
    """
    return f"{math.degrees(angle):.1f}".removesuffix(".0") + "°"


def turns(run: RunOfPipe) -> tuple[Turn, ...]:
    """What stands at the corners of a run whose way is known and that is not bent.

    The fittings of the run are taken in their order, each at the first corner it fits.

    run: the run
    """
    pool = [name for name in run.fittings if name in TURNING]
    angles = corner_angles(run.points).tolist() if len(run.points) > 2 else []
    return tuple(_turn(run, i, angle, pool) for i, angle in enumerate(angles, start=1))


def _turn(run: RunOfPipe, number: int, angle: float, pool: list[str]) -> Turn:
    """What stands at one corner; it leaves the pool."""
    name = next((one for one in pool if _fits(one, angle)), None)
    if name is not None:
        pool.remove(name)
        return fixed(run, number, angle, name)
    name = next((one for one in (_LONG, "elbow 45 long") if _fits(one, angle)), None)
    return _odd(run, number, angle, pool) if name is None else replace(fixed(run, number, angle, name), listed=False)


def _fits(name: str, angle: float) -> bool:
    return abs(math.radians(TURNING[name]) - angle) <= shop_value("elbow_angle_slack")


def fixed(run: RunOfPipe, number: int, angle: float, name: str) -> Turn:
    """A fitting as it comes.

    run: the run
    number: of the corner, from 1
    angle: by which the pipe turns [rad]
    name: of the fitting
    """
    what = name
    if name.startswith("mitre"):
        what = f"mitre, both ends cut {degrees(mitre_cut(angle=angle, welds=1))} off square"
    elif name in _THREADED:
        what = f"{name}, threaded"
    return Turn(number, angle, what, _takes(run, name), _gap(name))


def _takes(run: RunOfPipe, name: str) -> float | None:
    if name.startswith("mitre"):
        return 0.0
    return None if run.weld is None else run.weld.takes(name)


def _gap(name: str) -> float:
    """Gap at either side; the two pieces of a mitre share one."""
    gap = shop_value("weld_root_gap")
    return 0.5 * gap if name.startswith("mitre") else 0.0 if name in _THREADED else gap


def _odd(run: RunOfPipe, number: int, angle: float, pool: list[str]) -> Turn:
    """A corner that no elbow has: cut from a long one, from a return above 90 degrees."""
    whole, source = (_LONG, f"an {_LONG}") if angle <= math.pi / 2 else ("return bend", "a long return bend")
    listed = whole in pool
    if listed:
        pool.remove(whole)
    takes = None if run.weld is None else take_off(radius=run.weld.long_90, angle=angle)
    return Turn(number, angle, f"{degrees(angle)} cut from {source}", takes, shop_value("weld_root_gap"), listed)


@dataclass(frozen=True)
class RunEnd:
    """An end of a run.

    what: "plain", or its flange
    takes: what stands before the pipe's end [m]
    """

    what: str
    takes: float


def ends(run: RunOfPipe) -> tuple[RunEnd, RunEnd]:
    """The two ends of a run; a flange is a weld neck, with its gap.

    run: the run
    """
    try:
        found = run.flange()
    except ValueError:
        found = None
    plain = RunEnd("plain", 0.0)
    if found is None:
        return plain, plain
    there = RunEnd(f"flange {run.drilling}, weld neck", found.length + shop_value("weld_root_gap"))
    return (there if run.flanged[0] else plain, there if run.flanged[1] else plain)


def minded(run: RunOfPipe) -> Iterator[str]:
    """What is to be minded at fittings, flanges, valves and tees of a run.

    run: the run
    """
    if run.within:
        yield f"{' and '.join(run.within)}: take face to face, with gaskets, off the piece each stands in."
    tee = next((one for one in run.fittings if one in _TEES), None)
    if tee is not None and not run.size.soft:
        takes = None if run.weld is None else run.weld.takes(tee)
        said = "its middle to end" if takes is None else f"{1000 * takes:.0f} mm, middle to end,"
        yield f"{tee}: take {said} and a gap off the piece that ends at it; where it stands is not in the build file."
    if run.drilling is not None:
        yield from _flange_minded(run)


def _flange_minded(run: RunOfPipe) -> Iterator[str]:
    if run.size.soft:
        yield f"Its flanges {run.drilling} come with tails or stub ends; cut it to suit them."
        return
    try:
        found = run.flange()
    except ValueError as error:
        yield f"{error} Its flanges are not taken off."
        return
    if found is not None and abs(found.pipe - run.size.outside) > _SAME_PIPE:
        yield (
            f"{found.standard} {found.name} is made for pipe of {1000 * found.pipe:.1f} mm; order it for "
            f"{1000 * run.size.outside:.1f} mm."
        )
