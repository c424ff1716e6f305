"""The figures a change of a build is judged by, with their names: for summaries and for comparing two texts."""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass
from typing import Any

import numpy as np

from tunwright.build.kind import System
from tunwright.build.reading import Document
from tunwright.build.shown import NO_VALUE, show
from tunwright.checks.assess import Assessment
from tunwright.checks.capacity import volumes_litres
from tunwright.desk.live import assessed, load_state


@dataclass(frozen=True)
class Figure:
    """One figure.

    key: its name for machines, the unit at its end
    words: its name for people
    value: the figure [SI]; NaN where it is not known
    kind: kind of quantity it is printed as
    """

    key: str
    words: str
    value: float
    kind: str

    def shown(self, system: System) -> str:
        """The figure as printed.

        system: metric or us
        """
        text = show(self.value, self.kind, system=system)
        return "not known" if text == NO_VALUE else text


_PER_SI = {"mass": 1.0, "volume": 1000.0, "length": 1.0}


def document(text: str) -> Document:
    """A build file that was read before or is read now. Raises BuildProblems.

    text: the file
    """
    return Document("build.toml", text, assessed(text).build)


def figures(assessment: Assessment) -> list[Figure]:
    """All figures of a build.

    assessment: the assessment
    """
    return [*_masses(assessment), *_volumes(assessment), *_places(assessment)]


def _masses(assessment: Assessment) -> Iterator[Figure]:
    truck = assessment.truck
    states = [load_state(assessment, {"fill": fill}) for fill in (1.0, 0.0)]
    table = truck.loading.table(states)
    for row, when in enumerate(("full", "empty")):
        for axle, load in zip(truck.axles.axle, table.axles[row], strict=True):
            yield Figure(f"axle.{axle.name}.{when}_kg", f"{axle.name} axle, {when}", float(load), "mass")
        for group, members in truck.axles.groups:
            load = float(np.sum(table.axles[row][list(members)]))
            yield Figure(f"group.{group.name}.{when}_kg", f"{group.name} group, {when}", load, "mass")
        yield Figure(f"gross.{when}_kg", f"gross, {when}", float(table.gross[row]), "mass")


def _volumes(assessment: Assessment) -> Iterator[Figure]:
    for name, litres in volumes_litres(assessment.truck).items():
        yield Figure(f"{name}_l", f"{name} volume", litres / 1000, "volume")
    known = not assessment.unknown
    limit = assessment.fill_limit.water if known else math.nan
    yield Figure("fill_limit_l", "first limit reached at", limit, "volume")


def _places(assessment: Assessment) -> Iterator[Figure]:
    tank, window = assessment.build.tank, assessment.window
    yield Figure("tank.middle_m", "middle of the tank", float(tank.middle), "length")
    yield Figure("tank.length_m", "length of the tank", float(tank.length), "length")
    fits = window.filled != "most" and not assessment.unknown
    for end, place in (("from", window.low), ("to", window.high)):
        value = place if fits and math.isfinite(place) else math.nan
        yield Figure(f"window.{end}_m", f"permitted window, {end}", value, "length")


def summary(text: str) -> dict[str, Any]:
    """What is kept with a revision of what was found then. Raises BuildProblems.

    text: a build file
    """
    assessment = assessed(text)
    found = {one.key: round(one.value * _PER_SI[one.kind], 4) for one in figures(assessment) if _known(one)}
    return {
        "title": assessment.build.order.title,
        "verdict": assessment.worst,
        "counts": dict(assessment.counts),
        "figures": found,
    }


def _known(figure: Figure) -> bool:
    return math.isfinite(figure.value)
