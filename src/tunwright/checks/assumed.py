"""Which inputs of a build are only assumed: said to be, or facts of the chassis whose origin nobody stated."""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence

from pydantic import BaseModel

from tunwright.build.model import Build
from tunwright.build.problems import key_path
from tunwright.build.units import Quantity

Path = tuple[str | int, ...]


def quantities(table: BaseModel, at: Path = ()) -> Iterator[tuple[Path, Quantity, str]]:
    """Every quantity written in a build, with its path and its origin: measured, maker, assumed or chosen.

    table: the build, or a table of it
    at: path of the table
    """
    for name in type(table).model_fields:
        field = type(table).model_fields[name]
        if name in table.model_fields_set:
            extra = field.json_schema_extra if isinstance(field.json_schema_extra, dict) else {}
            yield from _in(getattr(table, name), (*at, field.alias or name), fact=bool(extra.get("x-fact")))


def _in(value: object, at: Path, *, fact: bool) -> Iterator[tuple[Path, Quantity, str]]:
    if isinstance(value, Quantity):
        yield at, value, value.source or ("assumed" if fact and value != 0.0 else "chosen")
    elif isinstance(value, BaseModel):
        yield from quantities(value, at)
    elif isinstance(value, list):
        for i, part in enumerate(value):
            yield from _in(part, (*at, i), fact=fact)


def assumed(build: Build) -> tuple[str, ...]:
    """Paths of all assumed inputs of a build.

    build: the build
    """
    return tuple(key_path(path) for path, _, origin in quantities(build) if origin == "assumed")


def resting_on(paths: Sequence[str], patterns: Sequence[str]) -> tuple[str, ...]:
    """Those of the assumed inputs that a check reads.

    paths: paths of the assumed inputs
    patterns: regular expressions of the paths a check reads
    """
    wanted = re.compile("|".join(patterns))
    return tuple(path for path in paths if wanted.match(path))


LOADS = (
    r"chassis\.axle\[\d+\]\.(at|kerb_load)",
    r"chassis\.group\[\d+\]\.kerb_load",
    r"chassis\.fuel\.(capacity|level|at)",
    r"tank\.",
    r"subframe",
    r"item\[\d+\]\.(mass|at)",
    r"crew\[\d+\]\.(mass|at)",
    r"states\.liquid_density",
)
"""What level axle loads rest on."""

MASSES = (
    r"chassis\.axle\[\d+\]\.kerb_load",
    r"chassis\.group\[\d+\]\.kerb_load",
    r"chassis\.fuel\.(capacity|level)",
    r"tank\.",
    r"subframe",
    r"item\[\d+\]\.mass",
    r"crew\[\d+\]\.mass",
    r"states\.liquid_density",
)
"""What the mass of the vehicle rests on."""

HEIGHTS = (r"chassis\.cg_height", r"item\[\d+\]\.height", r"crew\[\d+\]\.height")
"""What loads on grades and under braking rest on as well."""
