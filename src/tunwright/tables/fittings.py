"""Loss coefficients of fittings, open and throttled, read once from `fittings.toml`."""

from __future__ import annotations

import difflib
import math
import tomllib
from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from functools import lru_cache
from importlib.resources import files
from itertools import pairwise
from types import MappingProxyType
from typing import Any


@dataclass(frozen=True, kw_only=True)
class Fitting:
    """A fitting and its loss coefficient K, referred to the velocity in the pipe.

    name: what a build calls it, for example "elbow 90"
    meaning: what it is
    multiple: K over the friction factor in complete turbulence [-]; None where k is given
    k: K itself [-]; None where a multiple is given
    source: document
    mark: how it is known
    """

    name: str
    meaning: str
    multiple: float | None = None
    k: float | None = None
    source: str
    mark: str

    def coefficient(self, turbulent_factor: float) -> float:
        """Loss coefficient K [-].

        turbulent_factor: friction factor in complete turbulence of clean steel pipe of this size [-]
        """
        if self.multiple is not None:
            return self.multiple * turbulent_factor
        return self.k or 0.0


@dataclass(frozen=True, kw_only=True)
class Throttling:
    """What a valve loses while it is partly open.

    valve: for example "ball valve"
    meaning: which valve was measured, and what the share is of
    adds: whether throttling adds to the open valve's coefficient; if not, it multiplies it
    points: (share open, flow through it as a part of the flow through the open valve), closed first [-]
    source: document
    mark: how it is known
    """

    valve: str
    meaning: str
    adds: bool
    points: tuple[tuple[float, float], ...]
    source: str
    mark: str

    def coefficient(self, *, open_loss: float, share: float) -> float:
        """Loss coefficient K [-], infinite when closed.

        open_loss: K of the open valve [-], 0 or more
        share: how far it is open [-], 0 to 1
        ValueError: outside 0 to 1
        """
        if not 0 <= share <= 1:
            raise ValueError(f"A valve is open by 0 to 1; {share:g} was given, for example 0.5.")
        flow = _between(self.points, share)
        if flow == 0:
            return math.inf
        return open_loss + flow**-2 - 1 if self.adds else open_loss * flow**-2


def _between(points: Iterable[tuple[float, float]], share: float) -> float:
    """The straight line through points, first share first."""
    for (start, low), (end, high) in pairwise(points):
        if share <= end:
            return low + (high - low) * (share - start) / (end - start)
    return 1.0


@lru_cache(maxsize=1)
def _table() -> dict[str, Any]:
    return tomllib.loads(files("tunwright.tables").joinpath("fittings.toml").read_text("utf-8"))


@lru_cache(maxsize=1)
def fittings() -> Mapping[str, Fitting]:
    """All fittings by name."""
    return MappingProxyType({name: Fitting(name=name, **row) for name, row in _table()["fitting"].items()})


def fitting(name: str) -> Fitting:
    """One fitting.

    name: for example "elbow 90", "gate valve", "foot valve with strainer"
    ValueError: there is none of this name; the message names the nearest
    """
    plain = " ".join(name.lower().split())
    if plain not in fittings():
        near = difflib.get_close_matches(plain, fittings(), n=3)
        known = f"the nearest are {', '.join(near)}" if near else f"known are {', '.join(fittings())}"
        raise ValueError(f"There is no fitting '{name}'; {known}.")
    return fittings()[plain]


@lru_cache(maxsize=1)
def throttlings() -> Mapping[str, Throttling]:
    """What partly open valves lose, by the name of the valve."""
    return MappingProxyType({valve: _throttling(valve, row) for valve, row in _table()["throttling"].items()})


def _throttling(valve: str, row: Mapping[str, Any]) -> Throttling:
    adds = row["does"] == "adds"
    given = row.get("at_open") or [(1 - degrees / 90, value) for degrees, value in row["at_degrees"]]
    points = {share: (value + adds) ** -0.5 for share, value in given} | {0.0: 0.0}
    words = {word: row[word] for word in ("meaning", "source", "mark")}
    return Throttling(valve=valve, adds=adds, points=tuple(sorted(points.items())), **words)


def throttling(valve: str) -> Throttling:
    """What a partly open valve loses.

    valve: gate valve | ball valve | butterfly valve | globe valve
    ValueError: there is no table for this valve
    """
    plain = " ".join(valve.lower().split())
    if plain not in throttlings():
        raise ValueError(f"How '{valve}' throttles is not tabled; known are {', '.join(throttlings())}.")
    return throttlings()[plain]
