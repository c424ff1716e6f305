"""Flanges by standard and size, and the bolts they take, read once from `flanges.toml`; all values SI."""

from __future__ import annotations

import math
import tomllib
from collections.abc import Mapping
from dataclasses import dataclass
from functools import lru_cache
from importlib.resources import files
from types import MappingProxyType
from typing import Any

_ROUNDING = 1e-9


@dataclass(frozen=True, kw_only=True)
class FlangeBolt:
    """A bolt of flanges with its nut and its washer.

    key: for example "M16" or "5/8 in"
    diameter: nominal [m]
    pitch: of its thread [m]
    nut: height of its nut [m]
    washer: thickness of a washer [m]
    lengths: lengths that are sold, shortest first [m]; a step from length to length where there is one alone
    source: document
    mark: how it is known
    """

    key: str
    diameter: float
    pitch: float
    nut: float
    washer: float
    lengths: tuple[float, ...]
    source: str
    mark: str

    def usual(self, least: float) -> float:
        """The shortest length that is sold and not shorter [m].

        least: length that is needed [m], up to the longest of the table
        ValueError: nothing so long is in the table
        """
        if len(self.lengths) == 1:
            step = self.lengths[0]
            return step * math.ceil(least / step - _ROUNDING)
        found = next((one for one in self.lengths if one >= least - _ROUNDING), None)
        if found is None:
            raise ValueError(
                f"Bolts {self.key} are tabled up to {1000 * self.lengths[-1]:g} mm; {1000 * least:.0f} mm is needed."
            )
        return found


@dataclass(frozen=True, kw_only=True)
class Flange:
    """A flange of one size.

    standard: for example "EN 1092-1 PN 16"
    name: for example "DN100"
    pipe: outside diameter of the pipe it is made for [m]
    outside: outside diameter [m]
    circle: diameter of the circle its bolts stand on [m]
    holes: how many
    hole: diameter of a hole [m]
    bolt: the bolts it takes
    plate: thickness of a plate flange (EN type 01) or a slip-on, face to back [m]
    neck: thickness of a weld neck flange (EN type 11), face to back [m]
    length: of a weld neck flange, face to the end that is welded [m]
    face: diameter of the raised face [m]
    plus: how much thicker than printed it may be [m]
    gasket: outside diameter of a ring gasket [m]
    source: document
    mark: how it is known
    """

    standard: str
    name: str
    pipe: float
    outside: float
    circle: float
    holes: int
    hole: float
    bolt: FlangeBolt
    plate: float
    neck: float
    length: float
    face: float
    plus: float
    gasket: float
    source: str
    mark: str

    def bolt_needed(self, *, gasket: float, washers: int = 2) -> float:
        """Least length of a bolt through two weld neck flanges of this size at their thickest [m].

        Flanges, gasket, washers, nut, and two threads that stand out.

        gasket: its thickness [m]
        washers: how many on a bolt
        """
        grip = 2.0 * (self.neck + self.plus) + gasket + washers * self.bolt.washer
        return grip + self.bolt.nut + 2.0 * self.bolt.pitch


@lru_cache(maxsize=1)
def _table() -> dict[str, Any]:
    return tomllib.loads(files("tunwright.tables").joinpath("flanges.toml").read_text("utf-8"))


@lru_cache(maxsize=1)
def flange_bolts() -> Mapping[str, FlangeBolt]:
    """All bolts of flanges by key."""
    return MappingProxyType({key: _bolt(key, row) for key, row in _table()["bolt"].items()})


def _bolt(key: str, row: Mapping[str, Any]) -> FlangeBolt:
    lengths = _table()["lengths"]
    sold = tuple(lengths["metric_mm"]) if key.startswith("M") else (lengths["inch_step_mm"],)
    return FlangeBolt(
        key=key,
        diameter=row["diameter_mm"] / 1000,
        pitch=row["pitch_mm"] / 1000,
        nut=row["nut_mm"] / 1000,
        washer=row["washer_mm"] / 1000,
        lengths=tuple(one / 1000 for one in sold),
        source=row["source"],
        mark=row["mark"],
    )


@lru_cache(maxsize=1)
def flanges() -> Mapping[str, tuple[Flange, ...]]:
    """All flanges, smallest first, by what a build calls their drilling: "PN 10", "PN 16", "class 150"."""
    return MappingProxyType(
        {key: tuple(_flange(row, size) for size in row["sizes_mm"]) for key, row in _table()["flange"].items()}
    )


def _flange(row: Mapping[str, Any], size: tuple[Any, ...]) -> Flange:
    name, pipe, outside, circle, holes, hole, bolt, plate, neck, length, face, height = size
    on_top = height if row["face_on_top"] else 0.0
    bolts = flange_bolts()[bolt]
    return Flange(
        standard=row["standard"],
        name=name,
        pipe=pipe / 1000,
        outside=outside / 1000,
        circle=circle / 1000,
        holes=holes,
        hole=hole / 1000,
        bolt=bolts,
        plate=(plate + on_top) / 1000,
        neck=(neck + on_top) / 1000,
        length=(length + on_top) / 1000,
        face=face / 1000,
        plus=row["plus_mm"] / 1000,
        gasket=circle / 1000 - (hole / 1000 if row["gasket"] == "holes" else bolts.diameter),
        source=" ".join(row["source"].split()),
        mark=row["mark"],
    )


def flange(drilling: str, name: str) -> Flange:
    """One flange.

    drilling: "PN 10" | "PN 16" | "class 150"
    name: for example "DN100"
    ValueError: there is no such drilling, or no such size of it; the message says which there are
    """
    if drilling not in flanges():
        raise ValueError(f"There are no flanges '{drilling}' in the table; known are {', '.join(flanges())}.")
    found = next((one for one in flanges()[drilling] if one.name == name), None)
    if found is None:
        there = ", ".join(one.name for one in flanges()[drilling])
        raise ValueError(f"{flanges()[drilling][0].standard} has no flange {name} in the table; it has {there}.")
    return found
