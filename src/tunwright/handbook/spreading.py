"""Water on the ground: depth behind a truck, how far a load lasts, how even the nozzles lay it.

A depth of 1 mm is 1 L/m2. The pattern of a nozzle is its water across the width while the truck drives on.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from types import MappingProxyType

import numpy as np
from numpy.typing import ArrayLike, NDArray

from tunwright.handbook.positive import positive

Floats = NDArray[np.float64]
_SAME = 9  # decimals of a metre by which two places are one

SHAPES = MappingProxyType({
    "triangle": ((-1.0, 0.0), (0.0, 1.0), (1.0, 0.0)),
    "even": ((-1.0, 1.0), (1.0, 1.0)),
})
"""Patterns with a name: place in half-widths from the middle, and water there relative to other places."""


@dataclass(frozen=True)
class Nozzle:
    """A nozzle as the ground sees it.

    place: of the middle of its pattern across the width [m]
    half_width: from the middle of its pattern to the edge [m], above 0
    shape: "triangle", "even", or points (place in half-widths from -1 to 1, water there relative to other places [-]),
        straight between; a hollow fan is ((-1, 0.5), (-0.8, 1), (0, 0.3), (0.8, 1), (1, 0.5))
    flow: its water [m3/s], or relative to the other nozzles [-], above 0
    """

    place: float
    half_width: float
    shape: str | Sequence[tuple[float, float]] = "triangle"
    flow: float = 1.0

    def __post_init__(self) -> None:
        positive(half_width=(self.half_width, "3 m"), flow=(self.flow, "0.004 m3/s"))
        if isinstance(self.shape, str) and self.shape not in SHAPES:
            raise ValueError(f"A pattern is called {' or '.join(SHAPES)}, or is given as points; {self.shape!r} was "
                             "given, for example 'triangle'.")
        across, water = self.points.T
        if not ((np.diff(across) > 0).all() and abs(across).max() <= 1 and water.min() >= 0 and water.max() > 0):
            raise ValueError("The points of a pattern run from -1 to 1 across, each further than the last, with water "
                             "of 0 or more, not all 0; for example ((-1, 0), (0, 1), (1, 0)).")

    @property
    def points(self) -> Floats:
        """The pattern: place in half-widths and relative water, (points, 2) [-]."""
        given = SHAPES[self.shape] if isinstance(self.shape, str) else self.shape
        points = np.atleast_2d(np.asarray(given, dtype=float))
        if points.shape[1:] != (2,) or len(points) < 2:
            raise ValueError("A pattern has two or more points, each a place and the water there; for example "
                             "((-1, 0), (0, 1), (1, 0)).")
        return points

    def water_at(self, places: Floats) -> Floats:
        """Part of the nozzle's water on each metre of width at each place [1/m]; none outside its pattern.

        places: across the width [m]
        """
        across, water = self.points.T
        at = np.interp((places - self.place) / self.half_width, across, water, left=0.0, right=0.0)
        part: Floats = at / (np.trapezoid(water, across) * self.half_width)
        return part

    def part_before(self, places: Floats) -> Floats:
        """Part of the nozzle's water that falls to the left of each place [-].

        places: across the width [m]
        """
        across, water = self.points.T
        at = np.clip((places - self.place) / self.half_width, across[0], across[-1])
        summed = np.concatenate([[0.0], np.cumsum(np.diff(across) * (water[1:] + water[:-1]) / 2)])
        last = np.clip(np.searchsorted(across, at, side="right") - 1, 0, len(across) - 2)
        more = (at - across[last]) * (water[last] + np.interp(at, across, water)) / 2
        part: Floats = (summed[last] + more) / summed[-1]
        return part


def application_depth(*, flow: ArrayLike, speed: ArrayLike, width: ArrayLike) -> Floats:
    """Mean depth of water laid on the ground [m], d = Q / (v w).

    flow: of all nozzles Q [m3/s], above 0
    speed: of the truck v [m/s], above 0
    width: wetted w [m], above 0
    """
    return _ratio(("flow", flow, "0.02 m3/s"), ("speed", speed, "4 m/s"), ("width", width, "6 m"))


def flow_for(*, depth: ArrayLike, speed: ArrayLike, width: ArrayLike) -> Floats:
    """Flow that lays a depth [m3/s], Q = d v w.

    depth: d [m], above 0; 0.0003 to 0.0005 on haul roads
    speed: of the truck v [m/s], above 0
    width: wetted w [m], above 0
    """
    positive(depth=(np.min(depth), "0.0005 m"), speed=(np.min(speed), "4 m/s"), width=(np.min(width), "6 m"))
    flow: Floats = np.asarray(depth, dtype=float) * np.asarray(speed) * np.asarray(width)
    return flow


def speed_for(*, flow: ArrayLike, depth: ArrayLike, width: ArrayLike) -> Floats:
    """Speed of the truck at which a flow lays a depth [m/s], v = Q / (d w).

    flow: of all nozzles Q [m3/s], above 0
    depth: d [m], above 0
    width: wetted w [m], above 0
    """
    return _ratio(("flow", flow, "0.02 m3/s"), ("depth", depth, "0.0005 m"), ("width", width, "6 m"))


def area_per_load(*, volume: ArrayLike, depth: ArrayLike) -> Floats:
    """Ground that a load wets [m2], V / d.

    volume: of the load V [m3], above 0
    depth: d [m], above 0
    """
    return _ratio(("volume", volume, "10 m3"), ("depth", depth, "0.0005 m"))


def distance_per_load(*, volume: ArrayLike, depth: ArrayLike, width: ArrayLike) -> Floats:
    """Way on which a load lasts [m], V / (d w).

    volume: of the load V [m3], above 0
    depth: d [m], above 0
    width: wetted w [m], above 0
    """
    return _ratio(("volume", volume, "10 m3"), ("depth", depth, "0.0005 m"), ("width", width, "6 m"))


def time_per_load(*, volume: ArrayLike, flow: ArrayLike) -> Floats:
    """Time in which a load is spread [s], V / Q.

    volume: of the load V [m3], above 0
    flow: of all nozzles Q [m3/s], above 0
    """
    return _ratio(("volume", volume, "10 m3"), ("flow", flow, "0.02 m3/s"))


def pattern(edges: ArrayLike, nozzles: Sequence[Nozzle]) -> Floats:
    """Part of all water on each metre of width, the mean of each strip [1/m]; times Q / v it is the depth.

    Exact for any grid: what falls on the strips is all water, as far as they reach.

    edges: of the strips across the width, each further than the last, (strips + 1,) [m]
    nozzles: one or more

    Source: derived.
    """
    places = np.asarray(edges, dtype=float)
    if places.ndim != 1 or len(places) < 2 or not (np.diff(places) > 0).all() or not nozzles:
        raise ValueError("Strips need two or more edges, each further than the last, and one nozzle or more; for "
                         "example edges [0, 1, 2] and [Nozzle(place=1, half_width=2)].")
    before = sum(nozzle.flow * nozzle.part_before(places) for nozzle in nozzles)
    part: Floats = np.diff(before) / np.diff(places) / sum(nozzle.flow for nozzle in nozzles)
    return part


def profile(nozzles: Sequence[Nozzle]) -> tuple[Floats, Floats]:
    """Water across the width as a line: places [m], and part of all water on each metre there [1/m]; straight between.

    A place comes twice where one piece ends and the next begins, so that a pattern may begin at once.

    nozzles: one or more

    Source: derived: between the points of all patterns their sum is straight.
    """
    points = np.concatenate([nozzle.place + nozzle.half_width * nozzle.points[:, 0] for nozzle in nozzles])
    breaks = np.unique(np.round(points, _SAME))
    low, high = breaks[:-1], breaks[1:]

    def part(places: Floats) -> Floats:
        water: Floats = np.sum([nozzle.flow * nozzle.water_at(places) for nozzle in nozzles], axis=0)
        return water / sum(nozzle.flow for nozzle in nozzles)

    first, second = part(low + (high - low) / 3), part(high - (high - low) / 3)
    ends = np.column_stack([2 * first - second, 2 * second - first])
    return np.column_stack([low, high]).ravel(), ends.ravel()


def even_spacing(half_width: float, *, layers: int = 1) -> float:
    """Spacing at which triangular patterns add up to an even depth between the outer nozzles [m], half-width / layers.

    half_width: of each pattern [m], above 0
    layers: half the number of nozzles that wet each place [-], 1 or more

    Source: derived: beside the middle of one triangle its neighbour rises as fast as it falls.
    """
    positive(half_width=(half_width, "3 m"))
    if layers < 1 or layers != int(layers):
        raise ValueError(f"Layers are counted 1, 2 and so on; {layers:g} was given, for example 1.")
    return half_width / layers


def christiansen_uniformity(depths: ArrayLike) -> float:
    """Evenness by Christiansen's coefficient [-], CU = 1 - mean |d - mean d| / mean d; 1 is even.

    depths: caught by cans or strips of equal size, 0 or more, not all 0 [m], or any unit

    Source: Christiansen, Irrigation by Sprinkling, Bulletin 670, 1942 (cited in copies).
    """
    caught = _caught(depths)
    return float(1 - np.abs(caught - caught.mean()).mean() / caught.mean())


def distribution_uniformity(depths: ArrayLike) -> float:
    """Evenness by the driest quarter [-], DU = mean of the least quarter / mean of all; 1 is even.

    The quarter is the nearest whole number of cans, at least one.

    depths: caught by cans or strips of equal size, 0 or more, not all 0 [m], or any unit

    Source: Keller and Bliesner, Sprinkle and Trickle Irrigation, 2000 (cited in copies).
    """
    caught = np.sort(_caught(depths))
    return float(caught[: max(round(len(caught) / 4), 1)].mean() / caught.mean())


def _ratio(over: tuple[str, ArrayLike, str], *under: tuple[str, ArrayLike, str]) -> Floats:
    positive(**{name: (np.min(value), example) for name, value, example in (over, *under)})
    ratio = np.asarray(over[1], dtype=float)
    for _, value, _ in under:
        ratio = ratio / np.asarray(value)
    return ratio


def _caught(depths: ArrayLike) -> Floats:
    caught = np.asarray(depths, dtype=float).ravel()
    if not (len(caught) and (caught >= 0).all() and 0 < caught.sum() < np.inf):
        raise ValueError(f"Depths are one or more numbers of 0 or more, not all 0; {caught.tolist()} was given, for "
                         "example [0.0005, 0.0004].")
    return caught
