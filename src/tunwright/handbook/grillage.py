"""A frame of beams, rigid bodies and springs in space: displacements, link forces and end forces by the direct
stiffness method.

Every node has six freedoms and, where beams share their warping, a seventh. A rigid body (a tank, an axle) is a node
whose links lead to points away from it. A link resists along one generalised direction: a sum of displacements of
points, each with its weight. Links that only push are found out by `one_sided`.

Source: the direct stiffness method, e.g. Przemieniecki, Theory of Matrix Structural Analysis (1968), from memory; the
tests compare with closed forms and an independent library.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from functools import cached_property

import numpy as np
from numpy.typing import NDArray
from scipy.sparse import csr_array
from scipy.sparse.linalg import SuperLU, splu

from tunwright.handbook.beams import CHI, FREEDOMS, BeamSection, Warping, stiffness

Floats = NDArray[np.float64]
_LOOSE = 1e-9  # a mode this much softer than the stiffest freedom is a mechanism


class Mechanism(ValueError):
    """A frame that is not held: the message names what moves and which way."""


@dataclass(frozen=True)
class Beam:
    """A beam between two nodes.

    start, end: names of its nodes
    section: its section
    warping: shared with the beams it continues, free at both ends or held at both ends
    up: direction of its section's z axis; x of the section runs from start to end
    """

    start: str
    end: str
    section: BeamSection
    warping: Warping = "shared"
    up: tuple[float, float, float] = (0.0, 0.0, 1.0)


@dataclass(frozen=True)
class Touch:
    """A point of a body and a direction.

    node: name of the node it belongs to
    point: where [m]
    way: direction, a unit vector
    weight: its part in the link
    """

    node: str
    point: tuple[float, float, float]
    way: tuple[float, float, float]
    weight: float = 1.0


@dataclass(frozen=True)
class Link:
    """A spring along one generalised direction: its force is before + stiffness x (sum of weighted displacements).

    name: what it is called
    touches: what it joins; a force of +1 pulls every touch back against its way, times its weight
    stiffness: [N/m]
    pushes: it can only push, that is its force is never above 0
    """

    name: str
    touches: tuple[Touch, ...]
    stiffness: float
    pushes: bool = False


class Grillage:
    """A frame, assembled and factorised once when it is first asked.

    nodes: places by name [m]
    beams: the beams
    links: the springs
    held: names of nodes that may not warp
    """

    def __init__(
        self,
        nodes: Mapping[str, tuple[float, float, float]],
        beams: Sequence[Beam],
        links: Sequence[Link],
        *,
        held: Iterable[str] = (),
    ) -> None:
        self.nodes = dict(nodes)
        self.beams, self.links = tuple(beams), tuple(links)
        self.number = {name: i for i, name in enumerate(self.nodes)}
        self.place = np.array(list(self.nodes.values()), dtype=float).reshape(-1, 3)
        self.held = frozenset(held)

    @property
    def size(self) -> int:
        """Freedoms, those that nothing resists among them."""
        return FREEDOMS * len(self.nodes)

    @cached_property
    def free(self) -> NDArray[np.intp]:
        """The freedoms solved for: all but the warping where none is shared or it is held."""
        warps = np.zeros(len(self.nodes), dtype=bool)
        for beam in self.beams:
            if beam.warping == "shared" and beam.section.warping > 0.0:
                warps[[self.number[beam.start], self.number[beam.end]]] = True
        warps[[self.number[name] for name in self.held]] = False
        kept = np.ones((len(self.nodes), FREEDOMS), dtype=bool)
        kept[:, CHI] = warps
        return np.flatnonzero(kept.ravel())

    @cached_property
    def rows(self) -> Floats:
        """Directions of the links (links, freedoms)."""
        found = np.zeros((len(self.links), self.size))
        for i, link in enumerate(self.links):
            for touch in link.touches:
                j = self.number[touch.node]
                found[i, FREEDOMS * j : FREEDOMS * j + 6] += touch.weight * self.lever(touch)
        return found

    def lever(self, touch: Touch) -> Floats:
        """What the six freedoms of a node give to the displacement of a point along a way (6,).

        touch: the point
        """
        a, b, c = touch.way
        x, y, z = (p - q for p, q in zip(touch.point, self.nodes[touch.node], strict=True))
        return np.array([a, b, c, y * c - z * b, z * a - x * c, x * b - y * a])

    @cached_property
    def springs(self) -> Floats:
        """Stiffness of the links (links,) [N/m]."""
        return np.array([link.stiffness for link in self.links], dtype=float)

    @cached_property
    def length(self) -> Floats:
        """Lengths of the beams (beams,) [m]."""
        ends = self._ends
        found: Floats = np.linalg.norm(self.place[ends[:, 1]] - self.place[ends[:, 0]], axis=1)
        return found

    @cached_property
    def _ends(self) -> NDArray[np.intp]:
        pairs = [(self.number[b.start], self.number[b.end]) for b in self.beams]
        return np.array(pairs, dtype=np.intp).reshape(-1, 2)

    @cached_property
    def _freedoms(self) -> NDArray[np.intp]:
        """Freedoms of the beams' ends (beams, 14)."""
        return (FREEDOMS * self._ends[:, :, None] + np.arange(FREEDOMS)).reshape(-1, 2 * FREEDOMS)

    @cached_property
    def turns(self) -> Floats:
        """Rotations (beams, 14, 14) from the vehicle's axes into the beams' own."""
        ends = self._ends
        x = (self.place[ends[:, 1]] - self.place[ends[:, 0]]) / self.length[:, None]
        up = np.array([beam.up for beam in self.beams])
        y = np.cross(up, x)
        y /= np.linalg.norm(y, axis=1)[:, None]
        axes = np.stack([x, y, np.cross(x, y)], axis=1)
        found = np.tile(np.eye(2 * FREEDOMS), (len(ends), 1, 1))
        for i in (0, 3, FREEDOMS, FREEDOMS + 3):
            found[:, i : i + 3, i : i + 3] = axes
        return found

    @cached_property
    def own(self) -> Floats:
        """Stiffness of the beams in their own axes (beams, 14, 14)."""
        if not self.beams:
            return np.zeros((0, 2 * FREEDOMS, 2 * FREEDOMS))
        return stiffness([b.section for b in self.beams], self.length, [b.warping for b in self.beams])

    @cached_property
    def matrix(self) -> csr_array:
        """Stiffness of the whole (freedoms, freedoms), sparse, all links at work."""
        rows = csr_array(self.rows)
        k = csr_array(rows.T @ (rows * self.springs[:, None]))
        if self.beams:
            turned = self.turns.transpose(0, 2, 1) @ self.own @ self.turns
            at = self._freedoms
            places = (np.repeat(at, 2 * FREEDOMS, axis=1).ravel(), np.tile(at, 2 * FREEDOMS).ravel())
            k = k + csr_array((turned.ravel(), places), shape=k.shape)
        return k

    @cached_property
    def _factor(self) -> SuperLU:
        """The stiffness of the free freedoms, factorised: symmetric and positive where the frame is held."""
        k = self.matrix[self.free][:, self.free].tocsc()
        try:
            factor = splu(k, permc_spec="MMD_AT_PLUS_A", diag_pivot_thresh=0.0, options={"SymmetricMode": True})
        except RuntimeError:
            raise Mechanism(self._loose()) from None
        pivots = factor.U.diagonal()[factor.perm_c]
        if not (pivots >= _LOOSE * k.diagonal()).all():
            raise Mechanism(self._loose())
        return factor

    def _loose(self) -> str:
        """What moves without resistance, in words."""
        k = self.matrix[self.free][:, self.free].toarray()
        scale = 1.0 / np.sqrt(np.maximum(np.diag(k), 1e-300))
        mode = np.linalg.eigh(k * scale[:, None] * scale)[1][:, 0] * scale
        whole = np.zeros(self.size)
        whole[self.free] = mode
        parts = whole.reshape(-1, FREEDOMS)
        reach = np.abs(parts[:, :6]) * [1, 1, 1, 0.5, 0.5, 0.5]  # a turn counted at half a metre
        node, way = np.unravel_index(int(reach.argmax()), reach.shape)
        words = (
            "along the vehicle", "across the vehicle", "up and down",
            "about the long axis", "about the cross axis", "about the upright axis",
        )[way]  # fmt: skip
        verb = "move" if way < 3 else "turn"
        return f"{list(self.nodes)[node]} can {verb} {words} without resistance: a support that holds it is missing"

    def solve(self, loads: Floats) -> Floats:
        """Displacements (freedoms, cases) under loads. Raises Mechanism where the frame is not held.

        loads: generalised forces (freedoms, cases) [N, N m, N m2]
        """
        found = np.zeros_like(loads)
        if self.free.size and loads.shape[1]:
            found[self.free] = self._factor.solve(loads[self.free])
        return found

    def pulls(self, displacements: Floats) -> Floats:
        """Forces of the links (links, cases) [N], pulling positive, beside what was in them before.

        displacements: from `solve` [m, rad, rad/m]
        """
        return self.springs[:, None] * (self.rows @ displacements)

    def end_forces(self, displacements: Floats) -> Floats:
        """Forces at both ends of the beams (beams, 2, 7, cases) on the faces that look along +x; see `beams`.

        They act at the section's reference point, in the beam's own axes.

        displacements: from `solve` [m, rad, rad/m]
        """
        moved = np.einsum("bij,bjc->bic", self.turns, displacements[self._freedoms])
        forces = np.einsum("bij,bjc->bic", self.own, moved)
        parted: Floats = forces.reshape(len(self.beams), 2, FREEDOMS, -1)
        parted[:, 0] *= -1.0
        return parted
