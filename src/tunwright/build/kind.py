"""What a unit and a kind of trade quantity are, and the spellings of units. The tables are in `kinds.py`."""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import dataclass
from fractions import Fraction
from types import MappingProxyType
from typing import Literal, NamedTuple

System = Literal["metric", "us"]

_MARKS = str.maketrans(
    {
        **dict.fromkeys("·⋅*.-\u00a0\u2009\u202f", " "),
        **dict.fromkeys("º˚", "°"),
        "²": "2",
        "³": "3",
        "₂": "2",
        "^": "",
        "\u00b5": "\u03bc",  # the micro sign becomes the Greek letter
    }
)


@dataclass(frozen=True)
class Unit:
    """One unit: SI value = (number + shift) * factor, and the tangent of that when `tangent` is set.

    symbol: as it is printed, such as "kg/m³"
    factor: SI units in one of this unit; a fraction, so that a reading is rounded once only
    shift: added to the number first, for temperatures [this unit]
    tangent: the unit is an angle, and the value wanted is its tangent (slopes)
    """

    symbol: str
    factor: Fraction
    shift: Fraction = Fraction(0)
    tangent: bool = False

    def to_si(self, number: Fraction) -> float:
        """SI value of `number` of this unit; OverflowError when it is too large for a float."""
        value = float((number + self.shift) * self.factor)
        return math.tan(value) if self.tangent else value

    def from_si(self, value: float) -> float:
        """How many of this unit the finite SI `value` is."""
        plain = math.atan(value) if self.tangent else value
        return float(Fraction(plain) / self.factor - self.shift)


@dataclass(frozen=True)
class Step:
    """How values of a size are printed: below `below` [SI] in `unit` with up to `digits` decimals.

    fixed: print exactly `digits` decimals; otherwise idle zeros at the end are dropped
    """

    below: float
    unit: str
    digits: int
    fixed: bool = False


@dataclass(frozen=True)
class Kind:
    """One kind of quantity.

    name: key in `KINDS`
    label: with its article, for sentences: "a length"
    example: a value as it should be written
    units: every accepted spelling (as `spelling` leaves it) -> unit; the first is the one suggested for bare numbers
    refused: spellings that are understood but not accepted -> why, as the end of a sentence
    steps: per system, how values are printed, from small to large
    least: smallest possible value [SI]
    bare: plain numbers from 0 up to, but not including, 1 are accepted without a unit
    """

    name: str
    label: str
    example: str
    units: Mapping[str, Unit]
    refused: Mapping[str, str]
    steps: Mapping[System, tuple[Step, ...]]
    least: float = -math.inf
    bare: bool = False

    @property
    def usual(self) -> Unit:
        """The unit suggested when none was written."""
        return next(iter(self.units.values()))

    @property
    def symbols(self) -> tuple[str, ...]:
        """Printed symbol of every unit, the usual one first."""
        return tuple(dict.fromkeys(unit.symbol for unit in self.units.values()))


class Row(NamedTuple):
    """A unit as the tables write it: "symbol|other spelling|…", then factor, shift and tangent as in `Unit`."""

    names: str
    factor: Fraction | int
    shift: Fraction = Fraction(0)
    tangent: bool = False


def spelling(text: str) -> str:
    """One spelling for the ways a unit is typed: "m³", "m^3" -> "m3"; "N·m", "N.m", "N-m" -> "N m"; "in." -> "in".

    Upper and lower case are kept: "mPa" and "MPa" are nine noughts apart.
    """
    words = " ".join(text.replace("**", "").translate(_MARKS).split())
    return words.replace(" /", "/").replace("/ ", "/").replace(" (", "(").replace("''", '"')


def kind(
    name: str,
    label: str,
    example: str,
    rows: tuple[Row, ...],
    metric: tuple[Step, ...],
    us: tuple[Step, ...],
    *,
    refused: Mapping[str, str] | None = None,
    least: float = -math.inf,
    bare: bool = False,
) -> Kind:
    """A `Kind` from table rows and printing steps; `refused` has several spellings to a key, as rows have."""
    units: dict[str, Unit] = {}
    for row in rows:
        names = row.names.split("|")
        unit = Unit(names[0], Fraction(row.factor), row.shift, row.tangent)
        units.update((spelling(one), unit) for one in names)
    reasons = {spelling(one): why for names, why in (refused or {}).items() for one in names.split("|")}
    return Kind(
        name,
        label,
        example,
        MappingProxyType(units),
        MappingProxyType(reasons),
        MappingProxyType({"metric": metric, "us": us}),
        least,
        bare,
    )
