"""Where along the frame something happens: the places of the nodes."""

from __future__ import annotations

from collections.abc import Iterable
from itertools import pairwise

import numpy as np
from numpy.typing import NDArray

from tunwright.build.model import Build

Floats = NDArray[np.float64]
WIDEST = 0.40
"""Greatest distance between nodes of a rail [m]: weights are hung on the nodes, and the subframe lies on them."""

BESIDE = 0.20
"""The same where the subframe lies [m]."""

_SAME = 2e-3


def rail_places(build: Build, extra: Iterable[float]) -> Floats:
    """Nodes of the rails, front to rear [m]: ends, cross-members, reinforcements, mounts, springs and between.

    build: the build; the ends of its rails must be known
    extra: further places, those of the springs
    """
    frame, sub = build.chassis.frame, build.subframe
    front, rear = float(frame.front or 0.0), float(frame.rear or 0.0)
    places = [front, rear, *(float(one.at) for one in frame.cross_member), *(float(one.at) for one in build.mount)]
    places += [float(x) for one in frame.liner for x in (one.start, one.end)]
    places += [] if sub is None else [float(sub.start), float(sub.end)]
    places += list(extra)
    return _filled(_merged(x for x in places if front - _SAME <= x <= rear + _SAME), build)


def subframe_places(build: Build, rails: Floats) -> Floats:
    """Nodes of the subframe: those of the rails under it [m].

    build: the build
    rails: nodes of the rails [m]
    """
    sub = build.subframe
    if sub is None:
        return rails[:0]
    return rails[(rails >= float(sub.start) - _SAME) & (rails <= float(sub.end) + _SAME)]


def _merged(places: Iterable[float]) -> list[float]:
    found: list[float] = []
    for x in sorted(places):
        if not found or x - found[-1] > _SAME:
            found.append(x)
    return found


def _filled(places: list[float], build: Build) -> Floats:
    sub, found = build.subframe, [places[0]]
    for a, b in pairwise(places):
        lies = sub is not None and float(sub.start) - _SAME <= a and b <= float(sub.end) + _SAME
        count = max(1, int(np.ceil((b - a) / (BESIDE if lies else WIDEST) - 1e-9)))
        found += list(np.linspace(a, b, count + 1)[1:])
    return np.array(found)


def nearest(places: Floats, x: float) -> int:
    """The node nearest to a place.

    places: nodes [m]
    x: the place [m]
    """
    return int(np.abs(places - x).argmin())


def shares(places: Floats, x: Floats) -> tuple[NDArray[np.intp], Floats]:
    """Numbers of the two nodes that loads hang on, and their parts by the lever (2, n); beyond the ends at the end.

    places: nodes [m]
    x: places of the loads (n,) [m]
    """
    x = np.clip(x, places[0], places[-1])
    i = np.clip(np.searchsorted(places, x) - 1, 0, len(places) - 2)
    part = (x - places[i]) / (places[i + 1] - places[i])
    return np.stack([i, i + 1]), np.stack([1.0 - part, part])
