"""Where the water stands in a load state: one surface through a compartment, or one in each bay while braking."""

from __future__ import annotations

import math
from dataclasses import dataclass
from functools import lru_cache

import numpy as np
from numpy.typing import NDArray

from tunwright.sheets.views.shapes import cut
from tunwright.truck.solid import Compartment, Region
from tunwright.truck.states import LoadState
from tunwright.truck.truck import Truck

Floats = NDArray[np.float64]


@dataclass(frozen=True)
class Surface:
    """The water of a compartment or bay, in the tank's frame.

    start, end: where it is bounded by plates; infinite where a head closes it [m]
    c, a, b: its surface z = c + a x + b y [m, -, -]
    """

    start: float
    end: float
    c: float
    a: float
    b: float

    def height(self, x: float, y: float = 0.0) -> float:
        """Height of the surface at a place, in the tank's frame [m]."""
        return self.c + self.a * x + self.b * y


def full_state(truck: Truck) -> LoadState:
    """Filled to net, all seats taken, level; of the choices of lifted axles the first whose loads are known."""
    known = (i for i, stance in enumerate(truck.axles.stances) if stance.shares is not None)
    return LoadState("even", 1.0, (1.0,) * len(truck.solid.compartments), stance=next(known, 0))


def water_volumes(truck: Truck, state: LoadState) -> Floats:
    """Water in each compartment [m3]."""
    return truck.volumes.gross if state.brim else np.multiply(state.parts, truck.volumes.net)


def surfaces(truck: Truck, state: LoadState) -> list[Surface]:
    """The surface of every wet compartment or bay, front to rear."""
    along = 0.0 if state.surface == "frozen" else state.grade - state.braking
    a, b = (np.atleast_1d(part).astype(float) for part in truck.frame.surface(np.array([along]), -state.slope))
    found: list[Surface] = []
    for part, volume in zip(truck.solid.compartments, water_volumes(truck, state).tolist(), strict=True):
        if volume <= 0.0:
            continue
        held = _bays(truck, part, volume) if state.surface == "braked" else [(part.whole, volume)]
        for region, water in held:
            if water > 1e-9:
                c = _level(region, water, float(a[0]), float(b[0]))
                found.append(Surface(*_ends(truck, region), c, float(a[0]), float(b[0])))
    return found


@lru_cache(maxsize=256)
def _level(region: Region, volume: float, a: float, b: float) -> float:
    """Height of a surface [m]; kept, since the same water is drawn again wherever the tank is moved."""
    return float(region.levels(np.array([volume]), np.array([a]), b)[0])


def _bays(truck: Truck, part: Compartment, volume: float) -> list[tuple[Region, float]]:
    """What each bay holds while the water still stands level."""
    level = truck.frame.surface(np.zeros(1), 0.0)[0]
    c = part.whole.levels(np.array([volume]), level, 0.0)
    return [(bay, float(bay.moments(c, level, 0.0)[0, 0])) for bay in part.bays]


def _ends(truck: Truck, region: Region) -> tuple[float, float]:
    length = float(truck.build.tank.length)
    start = -math.inf if region.start <= 1e-6 else region.start
    return start, math.inf if region.end >= length - 1e-6 else region.end


def wet_side(contour: Floats, water: Surface) -> Floats:
    """The part of a side contour that is wet, columns x and z in the tank's frame; empty where nothing is."""
    for normal, bound in (((-1.0, 0.0), -water.start), ((1.0, 0.0), water.end), ((-water.a, 1.0), water.c)):
        if math.isfinite(bound) and len(contour):
            contour = cut(contour, normal, bound)
    return contour


def surface_line(wet: Floats, water: Surface) -> Floats:
    """Both ends of the surface in a wet contour, (2, 2); empty where the contour is full."""
    on_it = wet[np.abs(wet[:, 1] - water.c - water.a * wet[:, 0]) < 1e-9]
    if len(on_it) < 2 or np.ptp(on_it[:, 0]) < 1e-6:
        return np.empty((0, 2))
    return on_it[[int(on_it[:, 0].argmin()), int(on_it[:, 0].argmax())]]


def at_station(found: list[Surface], x: float) -> Surface | None:
    """The water at a place along the tank, None where it is dry or between compartments."""
    return next((water for water in found if water.start <= x <= water.end), None)
