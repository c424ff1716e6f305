"""A part of the solid picture: what it is, its colour role and its triangles."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

import numpy as np
from numpy.typing import NDArray

from tunwright.sheets.mesh.shapes import Shape

Role = Literal["shell", "plate", "fitting", "frame", "tyre", "rim", "cab", "item", "water", "surface", "ground"]
Cut = Literal["line", "face", "water", "room"]


@dataclass(frozen=True, eq=False)
class MeshPart:
    """A part in vehicle coordinates: x rearwards from the first axle, y to the right, z up from the road.

    key: stable key, such as "tank.baffle.2"
    name: what it is called
    role: what its colour follows
    vertices: points (n, 3) [m]
    triangles: (m, 3) numbers of points
    edges: (k, 2) numbers of points, lines to be drawn
    see_through: what stands behind it is to be seen
    cut: what a plane through it shows: the line of a plate, the face of a body, the face of the water, or the line of a
        plate that keeps water out
    """

    key: str
    name: str
    role: Role
    vertices: NDArray[np.float32]
    triangles: NDArray[np.uint32]
    edges: NDArray[np.uint32]
    see_through: bool = False
    cut: Cut = "face"

    @property
    def shape(self) -> Shape:
        """The part as a shape to be measured."""
        return Shape(self.vertices.astype(float), self.triangles.astype(np.intp), self.edges.astype(np.intp))


def part(key: str, name: str, role: Role, shape: Shape, *, see_through: bool = False, cut: Cut = "face") -> MeshPart:
    """A part of a shape, without points nothing uses.

    key, name, role, see_through, cut: see `MeshPart`
    shape: its shape, in vehicle coordinates
    """
    numbers = np.concatenate([shape.triangles.ravel(), shape.edges.ravel()])
    used, numbers = np.unique(numbers, return_inverse=True)
    split = shape.triangles.size
    triangles, edges = numbers[:split].reshape(-1, 3), numbers[split:].reshape(-1, 2)
    kept = shape.points[used].astype(np.float32)
    return MeshPart(key, name, role, kept, triangles.astype(np.uint32), edges.astype(np.uint32), see_through, cut)
