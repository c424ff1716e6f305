"""What reinforcements weigh: those that were not on the chassis when it was weighed are added to it."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

import numpy as np

from tunwright.build.frame import Frame, Liner
from tunwright.handbook.inertia import Mass
from tunwright.truck.ladder.sections import DENSITY, liner_size, rail, rail_size


@dataclass(frozen=True)
class Lining:
    """A reinforcement along both rails as it weighs.

    start, end: behind the first axle [m]
    per_metre: of both rails together [kg/m]
    height: of its centre above the ground [m]
    """

    start: float
    end: float
    per_metre: float
    height: float

    @property
    def mass(self) -> float:
        """Of both rails together [kg]."""
        return self.per_metre * (self.end - self.start)

    def lump(self, half: float) -> Mass:
        """Both sides as one lump.

        half: distance of a rail's web from the middle of the vehicle [m]
        """
        spread = self.mass * np.diag([(self.end - self.start) ** 2 / 12.0, half**2, 0.0])
        return Mass(self.mass, np.array([0.5 * (self.start + self.end), 0.0, self.height]), spread)


def linings(frame: Frame, *, top: float) -> Iterator[tuple[Liner, Lining]]:
    """The reinforcements that were not on the chassis when it was weighed; the measures of the rails must be known.

    frame: the frame of the build
    top: height of the rails' upper flange above the ground [m]
    """
    bare = rail(rail_size(frame), None, right=False).thin
    for one in frame.liner:
        if one.weighed:
            continue
        lined = rail(rail_size(frame), liner_size(frame, one), right=False).thin
        area = lined.area - bare.area
        off = (lined.area * lined.centroid[1] - bare.area * bare.centroid[1]) / area
        height = top - 0.5 * float(frame.rail_height or 0.0) + off
        yield one, Lining(float(one.start), float(one.end), 2.0 * area * DENSITY, height)
