"""A load on slings of two, three or four legs under one hook: tension and angle of each leg, tilt of the load.

The load is stiff, the legs do not stretch. It turns until its centre of gravity hangs under the hook, so that weight
acts along the line from hook to centre; everything is worked out in the load's own axes (z up while it stands).

- three legs: three forces through the hook, exact;
- two legs: they make a hinge; the load also rolls about the line of its eyes until its centre is below that line;
- four legs: one more than statics can tell, and a leg a little long hangs slack. Every balanced set of tensions lies
  between those with one leg slack, so the greatest of these is the bound for each leg. With the centre in the middle of
  a rectangle this is the rigging rule that any two diagonal legs must carry all (ASME B30.9 and common rigging practice
  for loads that are stiff; from memory).
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from itertools import combinations
from types import MappingProxyType

import numpy as np
from numpy.typing import ArrayLike, NDArray

from tunwright.handbook.positive import positive

Floats = NDArray[np.float64]

FLATTEST = math.radians(60)
"""Greatest angle of a leg to the vertical, EN 13414-1."""

_FACTORS = MappingProxyType({2: (1.4, 1.0), 3: (2.1, 1.5), 4: (2.1, 1.5)})
_SLACK = 1e-9


@dataclass(frozen=True, eq=False)
class Hanging:
    """A load hanging from a hook.

    states: tensions of the legs in each balanced state with no more legs taut than statics can tell, (states, legs) [N]
    pull: unit vectors from the eyes to the hook in the load's axes, (legs, 3) [-]
    up: unit vector of the vertical in the load's axes, (3,) [-]
    """

    states: Floats
    pull: Floats
    up: Floats

    @property
    def tension(self) -> Floats:
        """Greatest tension of each leg, (legs,) [N]."""
        greatest: Floats = self.states.max(axis=0)
        return greatest

    @property
    def angle(self) -> Floats:
        """Angle of each leg to the vertical as the load hangs, (legs,) [rad]."""
        return np.arccos(np.clip(self.pull @ self.up, -1.0, 1.0))

    @property
    def horizontal(self) -> Floats:
        """Horizontal part of each leg's greatest tension, (legs,) [N]."""
        return self.tension * np.sin(self.angle)

    @property
    def tilt(self) -> float:
        """Angle between the load's z axis and the vertical [rad]."""
        return math.acos(min(max(float(self.up[2]), -1.0), 1.0))

    @property
    def too_flat(self) -> bool:
        """Whether a leg is more than 60 degrees off the vertical."""
        return bool((self.angle > FLATTEST + 1e-9).any())


def hang(*, eyes: ArrayLike, hook: ArrayLike, centre: ArrayLike, weight: float) -> Hanging:
    """Tensions of the legs and tilt of a load under a hook.

    eyes: where the legs hold the load, (2 to 4, 3) [m], in the load's axes
    hook: where the legs meet, (3,) [m], in the same axes; it fixes the legs' lengths
    centre: centre of gravity of the load, (3,) [m]
    weight: of the load [N], above 0
    ValueError: the load cannot hang so; the message says why

    Source: derived, statics.
    """
    points, top, middle = (np.asarray(given, dtype=float) for given in (eyes, hook, centre))
    positive(weight=(weight, "20e3 N"))
    if points.ndim != 2 or points.shape[1] != 3 or not 2 <= len(points) <= 4 or {top.shape, middle.shape} != {(3,)}:
        raise ValueError("A sling has two, three or four eyes x, y, z, one hook and one centre, for example eyes "
                         "[(0, -0.5, 1), (0, 0.5, 1)], hook (0, 0, 2), centre (0, 0, 0.5).")
    if len(points) == 2:
        top = _hinged(points, top, middle)
    reach = np.linalg.norm(top - middle)
    if reach <= 1e-6:
        raise ValueError("The hook lies in the centre of gravity; it must be above it, for example by 1 m.")
    up = (top - middle) / reach
    legs = top - points
    pull = legs / np.linalg.norm(legs, axis=1)[:, None]
    if up[2] <= 0 or (pull @ up <= 1e-6).any():
        raise ValueError("Every eye must lie below the hook as the load hangs; raise the hook, for example by 1 m.")
    return Hanging(_states(pull, up, weight), pull, up)


def _hinged(eyes: Floats, hook: Floats, centre: Floats) -> Floats:
    """The hook of two legs once the load has rolled about the line of its eyes."""
    axis = eyes[1] - eyes[0]
    axis = axis / np.linalg.norm(axis)
    along = float((hook - eyes[0]) @ axis)
    height = float(np.linalg.norm(hook - eyes[0] - along * axis))
    aside = centre - eyes[0] - float((centre - eyes[0]) @ axis) * axis
    upright = np.array([0.0, 0.0, 1.0]) - axis[2] * axis
    if float(aside @ upright) > 1e-9:
        raise ValueError("The centre of gravity lies above the line of the two eyes: the load would turn over. Place "
                         "the eyes above it, or use three or four legs.")
    depth = np.linalg.norm(aside)
    away = -aside / depth if depth > 1e-9 else upright / np.linalg.norm(upright)
    top: Floats = eyes[0] + along * axis + height * away
    return top


def _states(pull: Floats, up: Floats, weight: float) -> Floats:
    """Tensions of every balanced state with at most three legs taut."""
    count, rows = len(pull), []
    for taut in combinations(range(count), min(count, 3)):
        tension = np.zeros(count)
        share, _, rank, _ = np.linalg.lstsq(pull[list(taut)].T, up, rcond=1e-10)
        tension[list(taut)] = share
        balanced = np.abs(pull.T @ tension - up).max() < 1e-7
        if rank == len(taut) and balanced and tension.min() > -_SLACK:
            rows.append(np.maximum(tension, 0.0))
    if not rows:
        raise ValueError("No legs that only pull balance this load: its centre of gravity does not hang between the "
                         "eyes. Move the hook over the centre, or an eye beyond it.")
    return weight * np.array(rows)


def leg_factor(*, legs: int, angle: float) -> float:
    """Working load limit of a sling with equal legs at one angle, as a multiple of one leg's [-].

    2 legs 1.4, 3 or 4 legs 2.1 up to 45 degrees from the vertical; 1.0 and 1.5 up to 60 degrees: four legs are counted
    as three.

    legs: number of legs [-], 2, 3 or 4
    angle: of the legs to the vertical [rad], 0 to 60 degrees
    ValueError: another number of legs, or a flatter angle

    Source: EN 13414-1:2003, Table 4, read in a copy.
    """
    if legs not in _FACTORS:
        raise ValueError(f"A sling has 2, 3 or 4 legs; {legs} was given, for example 2.")
    if not 0 <= angle <= FLATTEST + 1e-9:
        raise ValueError(f"Legs may stand 0 to 60 degrees off the vertical; {math.degrees(angle):g} was given, "
                         "for example 0.7854 rad, which is 45.")
    return _FACTORS[legs][0 if angle <= math.radians(45) + 1e-9 else 1]
