"""Ways to disinfect a drinking-water tank, and what gives the chlorine."""

from __future__ import annotations

import tomllib
from dataclasses import dataclass
from functools import lru_cache
from importlib.resources import files
from typing import Any


@dataclass(frozen=True, kw_only=True)
class Way:
    """A way to disinfect.

    key: its name
    words: what is done
    concentration: free chlorine to begin with [kg/m3]
    share: of the tank's volume that is made up with it [-]
    hours: how long it stands [h]
    source: document
    mark: how it is known
    left: free chlorine that is sure to be there at the end of the hours [kg/m3]; None where nothing says so
    """

    key: str
    words: str
    concentration: float
    share: float
    hours: float
    source: str
    mark: str
    left: float | None = None


@dataclass(frozen=True, kw_only=True)
class Product:
    """What gives the chlorine.

    key: its name
    words: what it is
    strength: available chlorine in a solid, by mass [-]; None for a liquid
    content: available chlorine in a liquid [kg/m3]; None for a solid
    source: document
    mark: how it is known
    """

    key: str
    words: str
    strength: float | None = None
    content: float | None = None
    source: str
    mark: str


@lru_cache(maxsize=1)
def _table() -> dict[str, Any]:
    return tomllib.loads(files("tunwright.tables").joinpath("disinfection.toml").read_text("utf-8"))


@lru_cache(maxsize=1)
def ways() -> tuple[Way, ...]:
    """The ways."""
    return tuple(Way(key=key, **row) for key, row in _table()["way"].items())


@lru_cache(maxsize=1)
def products() -> tuple[Product, ...]:
    """The products."""
    return tuple(Product(key=key, **row) for key, row in _table()["product"].items())
