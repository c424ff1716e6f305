"""Reinforcements of rails and members of subframes to choose from, read once from `reinforcements.toml`; all SI."""

from __future__ import annotations

import tomllib
from dataclasses import dataclass
from functools import lru_cache
from importlib.resources import files
from typing import Any


@dataclass(frozen=True, kw_only=True)
class LinerKind:
    """A reinforcement along both rails; its other measures are those that fit the rail.

    shape: channel, angle or strip
    thickness: [m]
    on_flange: it is joined to a flange, which makers forbid
    """

    shape: str
    thickness: float
    on_flange: bool


@dataclass(frozen=True, kw_only=True)
class MemberKind:
    """A member of a subframe.

    shape: channel or box
    height, flange, thickness: [m]
    """

    shape: str
    height: float
    flange: float
    thickness: float


@dataclass(frozen=True, kw_only=True)
class Reinforcements:
    """All of them.

    liners: along the rails
    members: of the subframe
    source: where they come from
    mark: how they are known
    """

    liners: tuple[LinerKind, ...]
    members: tuple[MemberKind, ...]
    source: str
    mark: str


@lru_cache(maxsize=1)
def reinforcements() -> Reinforcements:
    """What a frame may be reinforced with."""
    table: dict[str, Any] = tomllib.loads(files(__package__).joinpath("reinforcements.toml").read_text("utf-8"))
    liners = [
        LinerKind(shape=row["shape"], thickness=row["thickness_mm"] / 1000, on_flange=row["on_flange"])
        for row in table["liner"]
    ]
    names = ("height", "flange", "thickness")
    members = [
        MemberKind(shape=row["shape"], **{name: row[f"{name}_mm"] / 1000 for name in names}) for row in table["member"]
    ]
    return Reinforcements(liners=tuple(liners), members=tuple(members), source=table["source"], mark=table["mark"])
