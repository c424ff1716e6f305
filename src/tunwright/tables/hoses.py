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

    name: for example "1 3/4 in"
    inside: nominal inside diameter [m]
    coefficients: of all sources; the first is used
    """

    name: str
    inside: float
    coefficients: tuple[HoseCoefficient, ...]

    @property
    def resistance(self) -> float:
        """Loss of pressure a metre over the flow squared R, of the first source [Pa s2/m7]."""
        return self.coefficients[0].resistance

    def pressure_loss(self, *, flow: float, length: float) -> float:
        """Loss of pressure R q |q| L [Pa], with the sign of the flow.

        flow: [m3/s]
        length: of the hose [m], 0 or more
        """
        return self.resistance * flow * abs(flow) * length


@lru_cache(maxsize=1)
def fire_hoses() -> Mapping[str, FireHose]:
    """All sizes by name, smallest first."""
    table = tomllib.loads(files("tunwright.tables").joinpath("hoses.toml").read_text("utf-8"))
    return MappingProxyType({name: _hose(name, row) for name, row in table["hose"].items()})


def _hose(name: str, row: Mapping[str, Any]) -> FireHose:
    coefficients = tuple(HoseCoefficient(float(value), source, mark) for value, source, mark in row["coefficient"])
    return FireHose(name, row["inside_in"] * _INCH, coefficients)


def fire_hose(name: str) -> FireHose:
    """Fire hose of one size.

    name: for example "2 1/2 in"
    ValueError: there is no such size; the message names all
    """
    plain = " ".join(name.lower().replace('"', " in").replace("-", " ").split())
    if plain not in fire_hoses():
        raise ValueError(f"There is no fire hose '{name}'; known are {', '.join(fire_hoses())}.")
    return fire_hoses()[plain]
