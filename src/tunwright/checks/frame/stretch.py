"""Where a reinforcement begins and ends: beyond the stretch that needs it, and clear of mounts and of the subframe."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence

from tunwright.build.model import Build
from tunwright.checks.frame.load import Span, joined
from tunwright.tables.read import shop_value

CM = 0.01
MOST = 4
"""Reinforcements a build file may have."""


def lined(build: Build, over: Sequence[Span]) -> tuple[Span, ...]:
    """From where to where both rails are lined, on whole centimetres, front to rear [m].

    Each stretch grows by some rail heights each way, then outwards until its ends are clear; those that meet, or would
    leave less than that between them, are one.

    build: the build; its rails must be known
    over: where the rails are over their limit [m]
    """
    frame = build.chassis.frame
    reach = shop_value("liner_reach") * float(frame.rail_height or 0.0)
    front, rear = float(frame.front or 0.0), float(frame.rear or 0.0)
    grown = joined([(a - reach, b + reach) for a, b in over], gap=reach)
    clear = [(_clear(build, a, -1), _clear(build, b, 1)) for a, b in grown]
    found = joined([(max(a, front), min(b, rear)) for a, b in clear], gap=reach)
    return found if len(found) <= MOST else ((found[0][0], found[-1][1]),)


def _clear(build: Build, x: float, way: int) -> float:
    """The nearest place outwards at which a reinforcement may end [m]."""
    blocked = sorted(_blocked(build), reverse=way < 0)
    for low, high in blocked:
        if low < x < high:
            x = high if way > 0 else low
    return (math.ceil(x / CM - 1e-6) if way > 0 else math.floor(x / CM + 1e-6)) * CM


def _blocked(build: Build) -> Iterator[Span]:
    """Where no reinforcement may end: at mounts, and where the subframe begins."""
    gap = shop_value("mount_to_liner_end")
    yield from ((float(one.at) - gap, float(one.at) + gap) for one in build.mount)
    if build.subframe is not None:
        gap = shop_value("liner_beyond") * float(build.chassis.frame.rail_height or 0.0)
        yield float(build.subframe.start) - gap, float(build.subframe.start) + gap
