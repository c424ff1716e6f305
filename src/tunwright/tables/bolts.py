"""Bolt sizes, property classes and friction, read once from `bolts.toml`; all values SI."""

from __future__ import annotations

import tomllib
from collections.abc import Mapping
from dataclasses import dataclass
from functools import lru_cache
from importlib.resources import files
from types import MappingProxyType
from typing import Any

Steps = tuple[tuple[float, float], ...]


@dataclass(frozen=True, kw_only=True)
class BoltSize:
    """One size of ISO metric coarse thread with a hexagon head.

    key: for example "M16"
    diameter: nominal [m]
    pitch: [m]
    stress_area: nominal, three digits [m2]
    flats: width across flats [m]
    corners: least width across corners [m]
    face: least diameter of the washer face [m]
    head: height of the head [m]
    holes: clearance hole by series "fine", "medium", "coarse" [m]
    """

    key: str
    diameter: float
    pitch: float
    stress_area: float
    flats: float
    corners: float
    face: float
    head: float
    holes: Mapping[str, float]


@dataclass(frozen=True, kw_only=True)
class BoltClass:
    """A property class of bolts.

    key: for example "8.8"
    nominal_tensile: the fub of EN 1993-1-8 [Pa]
    nominal_yield: the fyb of EN 1993-1-8 [Pa]
    proof_steps: (greatest diameter [m], stress under proof load [Pa]), thinnest first
    yield_steps: (greatest diameter [m], least Rp0.2 [Pa])
    tensile_steps: (greatest diameter [m], least Rm [Pa])
    source: document
    mark: how it is known
    """

    key: str
    nominal_tensile: float
    nominal_yield: float
    proof_steps: Steps
    yield_steps: Steps
    tensile_steps: Steps
    source: str
    mark: str

    def proof_stress(self, diameter: float) -> float:
        """Stress under proof load Sp [Pa].

        diameter: nominal [m], above 0 up to 0.039
        ValueError: outside the table
        """
        return self._step(self.proof_steps, diameter)

    def yield_strength(self, diameter: float) -> float:
        """Least Rp0.2 [Pa].

        diameter: nominal [m], above 0 up to 0.039
        ValueError: outside the table
        """
        return self._step(self.yield_steps, diameter)

    def tensile_strength(self, diameter: float) -> float:
        """Least Rm [Pa].

        diameter: nominal [m], above 0 up to 0.039
        ValueError: outside the table
        """
        return self._step(self.tensile_steps, diameter)

    def _step(self, steps: Steps, diameter: float) -> float:
        for upto, value in steps:
            if 0 < diameter <= upto * (1 + 1e-9):
                return value
        raise ValueError(
            f"Class {self.key} is tabled for diameters above 0 up to {steps[-1][0] * 1000:g} mm; "
            f"{diameter * 1000:g} mm was given, for example 16 mm."
        )


@dataclass(frozen=True, kw_only=True)
class Friction:
    """Friction of threads and under heads in one condition.

    key: for example "zinc"
    meaning: the condition
    least: lower end of the range [-]
    most: upper end of the range [-]
    source: document
    mark: how it is known
    """

    key: str
    meaning: str
    least: float
    most: float
    source: str
    mark: str


@dataclass(frozen=True, kw_only=True)
class SlipFactor:
    """Friction between clamped surfaces.

    key: for example "D" or "painted"
    meaning: the surfaces
    value: the factor [-]
    source: document
    mark: how it is known
    """

    key: str
    meaning: str
    value: float
    source: str
    mark: str


@lru_cache(maxsize=1)
def _table() -> dict[str, Any]:
    return tomllib.loads(files("tunwright.tables").joinpath("bolts.toml").read_text("utf-8"))


@lru_cache(maxsize=1)
def bolt_sizes() -> Mapping[str, BoltSize]:
    """All sizes by key, smallest first."""
    rows = {key: row for key, row in _table()["size"].items() if isinstance(row, dict)}
    return MappingProxyType({key: _size(key, row) for key, row in rows.items()})


def _size(key: str, row: Mapping[str, Any]) -> BoltSize:
    lengths = {word: row[f"{word}_mm"] / 1000 for word in ("pitch", "flats", "corners", "face", "head")}
    holes = {series: mm / 1000 for series, mm in zip(("fine", "medium", "coarse"), row["hole_mm"], strict=True)}
    area = row["stress_area_mm2"] * 1e-6
    return BoltSize(
        key=key, diameter=float(key[1:]) / 1000, stress_area=area, holes=MappingProxyType(holes), **lengths
    )


@lru_cache(maxsize=1)
def bolt_classes() -> Mapping[str, BoltClass]:
    """All property classes by key."""
    return MappingProxyType({key: _class(key, row) for key, row in _table()["class"].items()})


def _class(key: str, row: Mapping[str, Any]) -> BoltClass:
    def steps(word: str) -> Steps:
        return tuple((upto / 1000, mpa * 1e6) for upto, mpa in row[f"{word}_mpa"])

    return BoltClass(
        key=key,
        nominal_tensile=row["nominal_tensile_mpa"] * 1e6,
        nominal_yield=row["nominal_yield_mpa"] * 1e6,
        proof_steps=steps("proof"),
        yield_steps=steps("yield"),
        tensile_steps=steps("tensile"),
        source=row["source"],
        mark=row["mark"],
    )


@lru_cache(maxsize=1)
def bolt_friction() -> Mapping[str, Friction]:
    """Friction of threads and under heads by condition: dry, oiled, zinc, greased, waxed."""
    return MappingProxyType({key: Friction(key=key, **row) for key, row in _table()["friction"].items()})


@lru_cache(maxsize=1)
def slip_factors() -> Mapping[str, SlipFactor]:
    """Friction between clamped surfaces by key: classes A to D of EN 1993-1-8, and painted, oily, liner."""
    return MappingProxyType({key: SlipFactor(key=key, **row) for key, row in _table()["slip"].items()})
