"""The water of a load state as closed bodies: the tank's inside cut along the surfaces and the plates."""

from __future__ import annotations

import math
from collections.abc import Iterator

import numpy as np
from numpy.typing import NDArray

from tunwright.sheets.mesh.hull import Hull
from tunwright.sheets.mesh.part import MeshPart, part
from tunwright.sheets.mesh.shapes import Shape, clip, fill, joined
from tunwright.sheets.mesh.tank import sump_shape
from tunwright.sheets.views.surfaces import Surface, surfaces
from tunwright.truck.states import LoadState
from tunwright.truck.truck import Truck

Floats = NDArray[np.float64]


def water_mesh(truck: Truck, state: LoadState, around: int) -> Iterator[MeshPart]:
    """The water, in vehicle coordinates: walls and surface of each compartment, or of each bay while braking.

    truck: the truck
    state: the load state
    around: points around the tank [-]
    """
    whole = inside(truck, around)
    found = surfaces(truck, state)
    for i, water in enumerate(found):
        walls, surface = body(whole, water)
        name = "water" if len(found) == 1 else f"water {i + 1}"
        for key, role, shape in (("walls", "water", walls), ("surface", "surface", surface)):
            if len(shape.triangles):
                placed = shape.moved(truck.frame.point(shape.points))
                words = name if role == "water" else f"surface of the {name}"
                yield part(f"water.{i + 1}.{key}", words, role, placed, see_through=True, cut="water")  # type: ignore[arg-type]


def inside(truck: Truck, around: int) -> Shape:
    """What water can fill, closed: the tank's inside and its sumps, in the tank's frame.

    truck: the truck
    around: points around the tank [-]
    """
    hull = Hull(truck.solid, around)
    return joined([hull.whole, *(sump_shape(hull, sump) for sump in truck.build.tank.sump)])


def body(whole: Shape, water: Surface) -> tuple[Shape, Shape]:
    """Walls and surface of the water between two plates, in the tank's frame; together they are closed.

    whole: what water can fill, closed
    water: where it is bounded
    """
    for outward, bound in ((-1.0, water.start), (1.0, water.end)):
        if math.isfinite(bound):
            left, cut = clip(whole, np.array([outward, 0.0, 0.0]), outward * bound)
            whole = joined([left, _end(cut, bound, outward)])
    walls, cut = clip(whole, np.array([-water.a, -water.b, 1.0]), water.c)
    flat, triangles = fill(cut[:, :, :2])
    ends = cut[:, :, :2].reshape(-1, 2)
    points = np.vstack([flat, ends])
    at = np.column_stack([points, water.c + points @ (water.a, water.b)])
    return walls, Shape(at, triangles, len(flat) + np.arange(len(ends)).reshape(-1, 2))


def _end(cut: Floats, x: float, outward: float) -> Shape:
    """The wall a plate makes."""
    flat, triangles = fill(cut[:, :, 1:])
    points = np.column_stack([np.full(len(flat), x), flat])
    return Shape(points, triangles if outward > 0 else triangles[:, ::-1], np.empty((0, 2), dtype=np.intp))
