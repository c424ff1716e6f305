"""The dip table: how much water there is for what the dip stick reads, level and on grades."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from tunwright.checks.assess import Assessment
from tunwright.handbook.liquid import wet_volume
from tunwright.truck.solid import Compartment
from tunwright.truck.truck import Truck

Floats = NDArray[np.float64]
_MOST_ROWS = 60
_STEPS = {"metric": (0.01, 0.02, 0.025, 0.05, 0.1), "us": tuple(0.0254 * x for x in (0.5, 1.0, 2.0, 4.0))}


@dataclass(frozen=True)
class DipColumn:
    """A column of the dip table.

    compartment: its name, empty for a tank of one
    grade: slope of the road, + nose up [-]
    place: where it is dipped, behind the front tangent line [m]
    """

    compartment: str
    grade: float
    place: float


@dataclass(frozen=True)
class DipTable:
    """Water at every level of the dip stick.

    levels: over the floor at the dip point [m]
    volumes: a row for each level, a column for each of `columns` [m3]
    """

    columns: tuple[DipColumn, ...]
    levels: tuple[float, ...]
    volumes: tuple[tuple[float, ...], ...]

    def on_grade(self, grade: float) -> DipTable:
        """The columns of one of its grades.

        grade: slope of the road, + nose up [-]
        Raises ValueError when the table has no such grade.
        """
        picked = [i for i, column in enumerate(self.columns) if column.grade == grade]
        if not picked:
            known = ", ".join(f"{one:g}" for one in dict.fromkeys(column.grade for column in self.columns))
            raise ValueError(f"the table has no grade {grade:g}, only {known}")
        rows = tuple(tuple(row[i] for i in picked) for row in self.volumes)
        return DipTable(tuple(self.columns[i] for i in picked), self.levels, rows)


def dip_rows(assessment: Assessment, *, step: float | None = None, grades: Sequence[float] = ()) -> DipTable:
    """The dip table: level, and on each grade nose up and nose down; a column for every compartment.

    A compartment without the tank's dip point in it is dipped at its middle.

    step: between levels [m]; None takes a round one that gives at most 60 rows
    grades: slopes of the road besides level, each taken both ways [-]
    Raises ValueError when the step is not above 0 or gives more than 5000 rows.
    """
    truck = assessment.truck
    parts = truck.solid.compartments
    places = [_dip_place(truck, part) for part in parts]
    depth = max(_depth(truck, place) for place in places)
    step = _round_step(depth, assessment.build.order.units) if step is None else step
    if not (step > 0.0 and depth / step < 5000.0):
        raise ValueError(f"a step of {step:g} m over {depth:.3f} m; give one above 0 and at most 5000 rows, say 0.025")
    levels = np.minimum(step * np.arange(math.ceil(depth / step - 1e-9) + 1), depth)
    every = [0.0, *(sign * abs(g) for g in grades if g for sign in (1.0, -1.0))]
    columns, volumes = [], []
    for part, place in zip(parts, places, strict=True):
        for grade in every:
            columns.append(DipColumn(part.name if len(parts) > 1 else "", grade, place))
            volumes.append(_dipped(truck, part, place, levels, grade))
    rows = tuple(tuple(row) for row in np.array(volumes).T.tolist())
    return DipTable(tuple(columns), tuple(levels.tolist()), rows)


def _dip_place(truck: Truck, part: Compartment) -> float:
    x = truck.volumes.dip_point()[0]
    inside = part.whole.start <= x <= part.whole.end
    return x if inside else 0.5 * (part.whole.start + part.whole.end)


def _depth(truck: Truck, place: float) -> float:
    y = float(truck.build.tank.dip_y)
    return truck.solid.roof(y) - truck.solid.floor(place, y)


def _dipped(truck: Truck, part: Compartment, place: float, levels: Floats, grade: float) -> list[float]:
    """Water in a compartment for levels read at a place [m3]."""
    a = float(truck.frame.surface(np.array(grade), 0.0)[0])
    floor = truck.solid.floor(place, float(truck.build.tank.dip_y))
    held = wet_volume(part.whole.bodies, c=floor + levels - a * place, a=np.full(len(levels), a))[0]
    wet: list[float] = np.maximum(held, 0.0).tolist()
    return wet


def _round_step(depth: float, system: str) -> float:
    steps = _STEPS[system]
    return next((step for step in steps if depth / step <= _MOST_ROWS), steps[-1])
