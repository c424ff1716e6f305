"""Water across the width of the road: what each spray lays where, how even it is, and where sprays would add up."""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence

import numpy as np
from numpy.typing import NDArray

from tunwright.build.pipework import Spray
from tunwright.build.shown import show_number as n
from tunwright.handbook.spreading import (
    Nozzle,
    christiansen_uniformity,
    distribution_uniformity,
    even_spacing,
    pattern,
)

Sprayed = Sequence[tuple[Spray, float]]
"""Sprays of a known width with their flows [m3/s]."""

_STRIP = 0.1  # width the water is averaged over [m]
_SAME = 0.05  # places that differ by less are one [m]


def middles(spray: Spray) -> list[float]:
    """Middles of what sprays of one kind wet, side by side about their common middle [m].

    spray: the sprays, of a known width each
    """
    first = float(spray.y) - 0.5 * (spray.count - 1) * float(spray.width or 0.0)
    return [first + i * float(spray.width or 0.0) for i in range(spray.count)]


def nozzles(found: Sprayed) -> list[Nozzle]:
    """The sprays one by one, as the ground sees them.

    found: sprays with their flows
    """
    return [
        Nozzle(middle, 0.5 * float(one.width or 0.0), one.pattern, flow / one.count)
        for one, flow in found
        for middle in middles(one)
    ]


def wetted(sprays: Iterable[Spray]) -> float:
    """Width of road that is wet, where strips overlap counted once [m].

    sprays: those that work and have a width
    """
    wide = [(middle, float(one.width or 0.0)) for one in sprays for middle in middles(one)]
    strips = sorted((middle - 0.5 * width, width) for middle, width in wide)
    whole, reached = 0.0, -math.inf
    for left, width in strips:
        whole += max(0.0, left + width - max(left, reached))
        reached = max(reached, left + width)
    return whole


def tapers(bar: Sequence[Nozzle]) -> bool:
    """Whether patterns taper off to the sides and several stand apart: then they are to be even between them only.

    bar: the nozzles
    """
    places = [one.place for one in bar]
    return max(places) - min(places) >= _SAME and any(one.shape != "even" for one in bar)


def strips(bar: Sequence[Nozzle]) -> NDArray[np.float64]:
    """Part of all water on each metre of width, in strips across what is to be even [1/m].

    That is all that is wetted; of patterns that taper, what lies between the outermost middles.

    bar: the nozzles
    """
    out = 0.0 if tapers(bar) else 1.0
    low, high = (f(one.place + side * out * one.half_width for one in bar) for f, side in ((min, -1), (max, 1)))
    return pattern(np.linspace(low, high, max(2, round((high - low) / _STRIP) + 1)), bar)


def evenness(found: Sprayed) -> tuple[float, float]:
    """Christiansen's coefficient, and the driest quarter over the mean, across what is to be even [-].

    found: sprays with their flows
    """
    laid = strips(nozzles(found))
    return max(0.0, christiansen_uniformity(laid)), distribution_uniformity(laid)


def spacing_remedy(found: Sprayed, limit: float) -> str:
    """How far apart the sprays would add up, tried; nothing where they are not alike, or where it makes nothing better.

    found: sprays with their flows
    limit: least evenness that is wanted [-]
    """
    bar = nozzles(found)
    groups: list[list[Nozzle]] = []
    for one in sorted(bar, key=lambda one: one.place):
        if groups and one.place - groups[-1][0].place < _SAME:
            groups[-1].append(one)
        else:
            groups.append([one])
    alike = {(round(one.half_width, 6), one.shape) for one in bar}
    if len(groups) < 2 or len(alike) > 1:
        return ""
    return _apart(groups, limit, max(0.0, christiansen_uniformity(strips(bar))))


def _apart(groups: Sequence[Sequence[Nozzle]], limit: float, now: float) -> str:
    """In words: the spacing at which alike groups add up, and how even the road is then."""
    one = groups[0][0]
    triangle = one.shape == "triangle"
    apart = even_spacing(one.half_width) if triangle else 2.0 * one.half_width
    middle = sum(group[0].place for group in groups) / len(groups)
    first = middle - 0.5 * apart * (len(groups) - 1)
    tried = [
        Nozzle(first + i * apart, each.half_width, each.shape, each.flow)
        for i, group in enumerate(groups)
        for each in group
    ]
    then = max(0.0, christiansen_uniformity(strips(tried)))
    if then <= now + 1e-3:
        return ""
    adds = "where triangles add up" if triangle else "edge to edge"
    words = f"set the middles of what they wet {n(apart, 2)} m apart, {adds}: {n(100 * then)} % even then"
    return words if then >= limit else f"{words}; more sprays of less width bring it further"
