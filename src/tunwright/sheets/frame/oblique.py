"""An oblique view from the left: lengths along and up are true, across they are shortened and rise to the right."""

from __future__ import annotations

import math
from collections.abc import Sequence

import numpy as np
from numpy.typing import NDArray

from tunwright.handbook.beams import FREEDOMS, RX, RZ, U, W
from tunwright.sheets.drawing import Point
from tunwright.truck.ladder.ladder import Ladder

Floats = NDArray[np.float64]
_ACROSS = 0.95  # of the true length
_RISE = math.radians(40.0)
FACTORS = (1000.0, 500.0, 200.0, 100.0, 50.0, 20.0, 10.0, 5.0, 2.0, 1.0)
REACH = 0.45
"""Most that anything of the frame is moved on the drawing [m]."""


def seen(point: Sequence[float] | Floats) -> Point:
    """A point of the vehicle on the drawing.

    point: x, y, z [m]
    """
    x, y, z = (float(one) for one in point)
    return (x + _ACROSS * math.cos(_RISE) * y, z + _ACROSS * math.sin(_RISE) * y)


class Moved:
    """Points of a frame where they stand and where they go, exaggerated.

    ladder: the frame, loaded
    moves: displacements of its freedoms [m, rad]
    factor: exaggeration
    """

    def __init__(self, ladder: Ladder, moves: Floats, factor: float) -> None:
        self.frame, self.factor = ladder.frame, factor
        self.moves = moves.reshape(-1, FREEDOMS)

    def to(self, node: str, point: Sequence[float]) -> Floats:
        """How far a point that belongs to a node moves [m], not exaggerated.

        node: name of the node
        point: where it stands [m]
        """
        own = self.moves[self.frame.number[node]]
        arm = np.asarray(point, dtype=float) - np.asarray(self.frame.nodes[node])
        found: Floats = own[U : W + 1] + np.cross(own[RX : RZ + 1], arm)
        return found

    def drawn(self, node: str, point: Sequence[float]) -> Point:
        """Where a point that belongs to a node is drawn.

        node: name of the node
        point: where it stands [m]
        """
        return seen(np.asarray(point, dtype=float) + self.factor * self.to(node, point))

    @staticmethod
    def fitting(ladder: Ladder, moves: Floats) -> float:
        """The greatest round factor that keeps all moves on the drawing within `REACH`.

        ladder: the frame, loaded
        moves: displacements of its freedoms [m, rad]
        """
        rows = [
            ladder.frame.number[name] for name in ladder.frame.nodes if " rail at" in name or " subframe at" in name
        ]
        most = float(np.abs(moves.reshape(-1, FREEDOMS)[rows, U : W + 1]).max())
        return next((f for f in FACTORS if f * most <= REACH), 1.0)


def bent_alone(ladder: Ladder, moves: Floats) -> tuple[Floats, Floats]:
    """What bends and twists the rails: displacements without the motion that moves them as one stiff body.

    The motion is the one that fits the moves of all nodes of the rails best, by least squares.

    ladder: the frame, loaded
    moves: displacements of its freedoms [m, rad]
    Returns the displacements left, and the motion taken off: three moves at the first axle [m], three turns [rad].
    """
    own = moves.reshape(-1, FREEDOMS)
    nodes = ladder.frame.nodes
    rails = [name for name in nodes if " rail at" in name]
    fit = np.vstack([_motion(nodes[name]) for name in rails])
    seen_moves = np.concatenate([own[ladder.frame.number[name], U : W + 1] for name in rails])
    motion: Floats = np.linalg.lstsq(fit, seen_moves, rcond=None)[0]
    left = own.copy()
    for name, i in ladder.frame.number.items():
        left[i, U : W + 1] -= _motion(nodes[name]) @ motion
        left[i, RX : RZ + 1] -= motion[3:]
    return left.ravel(), motion


def _motion(at: Sequence[float]) -> Floats:
    """Moves of a point under one of each: three moves, three turns about the origin (3, 6)."""
    x, y, z = at
    turns = np.array([(0.0, z, -y), (-z, 0.0, x), (y, -x, 0.0)])
    return np.hstack([np.eye(3), turns])
