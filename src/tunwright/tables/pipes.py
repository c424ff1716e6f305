"""Pipe and hose sizes by series, and roughness by material, read once from `pipes.toml`; all values SI."""

from __future__ import annotations

import difflib
import re
import tomllib
from collections.abc import Mapping
from dataclasses import dataclass
from fractions import Fraction
from functools import lru_cache
from importlib.resources import files
from types import MappingProxyType
from typing import Any

from tunwright.tables.hoses import FireHose, fire_hoses

FIRE_HOSE = "fire hose"
"""The series whose friction goes by a coefficient, see `hoses`, and not by roughness."""

_INCH = 25.4


@dataclass(frozen=True, kw_only=True)
class PipeSize:
    """One size of a series.

    series: for example "sch 40"
    name: for example "DN100"; of a hose its inside diameter, "76 mm"
    nps: nominal size in inches, for example "4 in"; empty where it has none
    outside: outside diameter [m]
    wall: nominal wall [m]; of plastic the least one
    inside: inside diameter [m]
    material: whose roughness is taken
    roughness: [m]
    resistance: loss of pressure a metre over the flow squared [Pa s2/m7] where friction goes by that, as in fire hose;
        None where it goes by roughness
    """

    series: str
    name: str
    nps: str
    outside: float
    wall: float
    inside: float
    material: str
    roughness: float
    resistance: float | None = None

    @property
    def soft(self) -> bool:
        """Whether it is of plastic or rubber."""
        return any(word in self.material for word in ("PE", "rubber", "hose"))

    @property
    def made(self) -> Wall:
        """What its wall is made of."""
        return walls()["soft" if self.soft else "hard"]


@dataclass(frozen=True, kw_only=True)
class PipeSeries:
    """A row of sizes out of one standard.

    key: for example "sch 40"
    standard: what it is
    material: whose roughness its sizes have
    sizes: smallest first
    source: document
    mark: how it is known
    """

    key: str
    standard: str
    material: str
    sizes: tuple[PipeSize, ...]
    source: str
    mark: str


@dataclass(frozen=True, kw_only=True)
class Roughness:
    """Roughness of a wall.

    key: the material, for example "galvanised"
    meaning: what it is
    value: [m]
    source: document
    mark: how it is known
    """

    key: str
    meaning: str
    value: float
    source: str
    mark: str


@dataclass(frozen=True, kw_only=True)
class Wall:
    """What walls are made of.

    key: "hard" or "soft"
    meaning: what it is
    young: Young's modulus [Pa]
    conductivity: of heat [W/(m K)]
    source: document
    mark: how it is known
    """

    key: str
    meaning: str
    young: float
    conductivity: float
    source: str
    mark: str


@lru_cache(maxsize=1)
def _table() -> dict[str, Any]:
    return tomllib.loads(files("tunwright.tables").joinpath("pipes.toml").read_text("utf-8"))


@lru_cache(maxsize=1)
def roughnesses() -> Mapping[str, Roughness]:
    """Roughness by material."""
    return MappingProxyType({key: _roughness(key, row) for key, row in _table()["roughness"].items()})


def _roughness(key: str, row: Mapping[str, Any]) -> Roughness:
    words = {word: row[word] for word in ("meaning", "source", "mark")}
    return Roughness(key=key, value=row["roughness_mm"] / 1000, **words)


@lru_cache(maxsize=1)
def walls() -> Mapping[str, Wall]:
    """What walls are made of, by key."""
    return MappingProxyType({key: _wall(key, row) for key, row in _table()["wall"].items()})


def _wall(key: str, row: Mapping[str, Any]) -> Wall:
    words = {word: row[word] for word in ("meaning", "source", "mark")}
    return Wall(key=key, young=row["young_gpa"] * 1e9, conductivity=row["conductivity_w_mk"], **words)


@lru_cache(maxsize=1)
def pipe_series() -> Mapping[str, PipeSeries]:
    """All series by key."""
    rows = {key: _series(key, row) for key, row in _table()["series"].items()}
    return MappingProxyType(rows | {FIRE_HOSE: _fire_hose()})


def _fire_hose() -> PipeSeries:
    """Fire hose; the table of hoses says where each coefficient comes from."""
    material = "rubber hose"
    return PipeSeries(
        key=FIRE_HOSE,
        standard="fire hose, named by its inside diameter; friction by a coefficient",
        material=material,
        sizes=tuple(_hose_size(one, material) for one in fire_hoses().values()),
        source="coefficients: table of hoses; walls: common practice, no source",
        mark="common practice",
    )


def _hose_size(one: FireHose, material: str) -> PipeSize:
    return PipeSize(
        series=FIRE_HOSE,
        name=one.name,
        nps=one.nps,
        outside=one.inside + 2 * one.wall,
        wall=one.wall,
        inside=one.inside,
        material=material,
        roughness=roughnesses()[material].value,
        resistance=one.resistance,
    )


def _series(key: str, row: Mapping[str, Any]) -> PipeSeries:
    words = {word: row[word] for word in ("standard", "material", "source", "mark")}
    return PipeSeries(key=key, sizes=tuple(_size(key, row["material"], size) for size in row["sizes_mm"]), **words)


def _size(series: str, material: str, row: tuple[str, str, float, float]) -> PipeSize:
    name, nps, outside, wall = row
    return PipeSize(
        series=series,
        name=name,
        nps=nps,
        outside=outside / 1000,
        wall=wall / 1000,
        inside=round(outside - 2 * wall, 6) / 1000,
        material=material,
        roughness=roughnesses()[material].value,
    )


def series_names() -> list[str]:
    """Names of all series."""
    return list(pipe_series())


def sizes(series: str) -> tuple[PipeSize, ...]:
    """All sizes of a series, smallest first.

    series: its name, for example "sch 40"
    ValueError: there is no such series
    """
    known = {_plain(key): row for key, row in pipe_series().items()}
    if _plain(series) not in known:
        near = difflib.get_close_matches(_plain(series), known, n=1)
        hint = f" Did you mean '{known[near[0]].key}'?" if near else ""
        raise ValueError(f"There is no series of pipes '{series}'.{hint} Known are {', '.join(series_names())}.")
    return known[_plain(series)].sizes


def pipe_size(series: str, name: str) -> PipeSize:
    """One size of a series.

    series: its name, for example "sch 40"
    name: "DN100", "4 in" or "NPS 4"; of a hose its inside diameter too, "76 mm"
    ValueError: there is no such series, or no such size in it; the message names the nearest
    """
    inches = _inches(name)
    for size in sizes(series):
        if _plain(name) in _names(size) or (inches is not None and inches == _inches(size.nps)):
            return size
    near = " and ".join(f"{size.name} ({size.nps})" if size.nps else size.name for size in _nearest(series, name))
    raise ValueError(
        f"There is no size '{name}' in the series '{sizes(series)[0].series}'; the nearest are {near}. "
        f"It goes from {sizes(series)[0].name} to {sizes(series)[-1].name}."
    )


def _plain(text: str) -> str:
    return "".join(text.lower().split())


def _names(size: PipeSize) -> tuple[str, ...]:
    """What a size may be called; a hose "76 mm" is DN76 as well."""
    return (_plain(size.name), f"dn{_number(size.name):g}")


def _inches(text: str) -> Fraction | None:
    """Inches of "4 in", "NPS 4", "1 1/2 in" or '2.5"'; None of anything else."""
    plain = text.lower().strip()
    number = re.sub(r"^nps|(?:inch|in|\")$", "", plain).strip()
    if number == plain:
        return None
    try:
        return sum((Fraction(part) for part in re.split(r"[\s-]+", number)), Fraction(0))
    except (ValueError, ZeroDivisionError):
        return None


def _number(text: str) -> float:
    """The first number of a text, 0 without one."""
    found = re.search(r"\d+(?:\.\d+)?", text)
    return float(found.group()) if found else 0.0


def _nearest(series: str, name: str) -> tuple[PipeSize, ...]:
    """The two sizes next to what was asked for."""
    inches = _inches(name)
    wanted = _number(name) if inches is None else float(inches) * _INCH
    near = sorted(sizes(series), key=lambda size: abs(_number(size.name) - wanted))[:2]
    return tuple(sorted(near, key=lambda size: size.outside))
