"""Butt-weld elbows and tees, middle to end, read once from `elbows.toml`; all values SI."""

from __future__ import annotations

import tomllib
from collections.abc import Mapping
from dataclasses import dataclass
from functools import lru_cache
from importlib.resources import files
from types import MappingProxyType
from typing import Any


@dataclass(frozen=True, kw_only=True)
class WeldFittings:
    """The fittings of one size, from the middle to the end; None where one is not made or not known.

    standard: for example "ASME B16.9"
    name: for example "DN100"
    long_90: elbow of 90 degrees with long radius, which is that radius too [m]
    long_45: elbow of 45 degrees with long radius [m]
    short_90: elbow of 90 degrees with short radius, which is that radius too [m]
    tee: straight tee [m]
    source: document
    mark: how it is known
    """

    standard: str
    name: str
    long_90: float
    long_45: float
    short_90: float | None
    tee: float | None
    source: str
    mark: str

    def takes(self, fitting: str) -> float | None:
        """What a fitting takes off a pipe that ends at it, middle to end [m]; None where that is not known.

        fitting: its name in the table of fittings, for example "elbow 90 long"
        """
        known = {
            "elbow 90 long": self.long_90,
            "elbow 90 short": self.short_90,
            "elbow 45 long": self.long_45,
            "tee through": self.tee,
            "tee branch": self.tee,
        }
        return known.get(fitting)


@lru_cache(maxsize=1)
def _table() -> dict[str, Any]:
    table: dict[str, Any] = tomllib.loads(files("tunwright.tables").joinpath("elbows.toml").read_text("utf-8"))
    return dict(table["fittings"])


@lru_cache(maxsize=1)
def weld_fittings() -> Mapping[str, tuple[WeldFittings, ...]]:
    """All sizes, smallest first, by standard."""
    rows = _table().items()
    return MappingProxyType({key: tuple(_size(key, row, size) for size in row["sizes_mm"]) for key, row in rows})


def _size(standard: str, row: Mapping[str, Any], size: tuple[str, float, float, float, float]) -> WeldFittings:
    name, long_90, long_45, short_90, tee = size
    return WeldFittings(
        standard=standard,
        name=name,
        long_90=long_90 / 1000,
        long_45=long_45 / 1000,
        short_90=short_90 / 1000 if short_90 else None,
        tee=tee / 1000 if tee else None,
        source=" ".join(row["source"].split()),
        mark=row["mark"],
    )


@lru_cache(maxsize=1)
def _standards() -> Mapping[str, str]:
    """Standard of the fittings by kind of pipe."""
    return MappingProxyType({series: key for key, row in _table().items() for series in row["series"]})


def fittings_of(series: str, name: str) -> WeldFittings | None:
    """The weld fittings of a pipe, None where no table has them: plastic, hose.

    series: kind of pipe, for example "sch 40"
    name: its size, for example "DN100"
    """
    standard = _standards().get(series)
    return next((one for one in weld_fittings().get(standard or "", ()) if one.name == name), None)
