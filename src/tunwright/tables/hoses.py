"""Fire hose by size and the coefficients of its friction loss, read once from `hoses.toml`; all values SI.

The US formula p = C (q / 100)^2 L / 100, in psi, gallons a minute and feet, is p = R q^2 L in SI, with a resistance R
a metre that is C times a constant. It is made for water in lined hose.
"""

from __future__ import annotations

import tomllib
from collections.abc import Mapping
from dataclasses import dataclass
from functools import lru_cache
from importlib.resources import files
from types import MappingProxyType
from typing import Any

_INCH = 0.0254
_PSI = 6894.757293168
_HUNDRED_GALLONS_A_MINUTE = 100 * 3.785411784e-3 / 60
_HUNDRED_FEET = 30.48


@dataclass(frozen=True)
class HoseCoefficient:
    """One source's coefficient.

    value: C of the US formula [psi at 100 gallons a minute in 100 ft]
    source: document
    mark: how it is known
    """

    value: float
    source: str
    mark: str

    @property
    def resistance(self) -> float:
        """Loss of pressure a metre over the flow squared R [Pa s2/m7]."""
        return self.value * _PSI / (_HUNDRED_GALLONS_A_MINUTE**2 * _HUNDRED_FEET)


@dataclass(frozen=True)
class FireHose:
    """Fire hose of one size.

    name: for example "45 mm"
    nps: the same size in inches, for example "1 3/4 in"
    inside: nominal inside diameter [m]
    wall: under pressure [m]
    coefficients: of all sources; the first is used
    """

    name: str
    nps: str
    inside: float
    wall: float
    coefficients: tuple[HoseCoefficient, ...]

    @property
    def resistance(self) -> float:
        """Loss of pressure a metre over the flow squared R, of the first source [Pa s2/m7]."""
        return self.coefficients[0].resistance


@lru_cache(maxsize=1)
def fire_hoses() -> Mapping[str, FireHose]:
    """All sizes by their name in inches, smallest first."""
    table = tomllib.loads(files("tunwright.tables").joinpath("hoses.toml").read_text("utf-8"))
    return MappingProxyType({nps: _hose(nps, row) for nps, row in table["hose"].items()})


def _hose(nps: str, row: Mapping[str, Any]) -> FireHose:
    coefficients = tuple(HoseCoefficient(float(value), source, mark) for value, source, mark in row["coefficient"])
    return FireHose(row["name"], nps, row["inside_in"] * _INCH, row["wall_mm"] / 1000, coefficients)
