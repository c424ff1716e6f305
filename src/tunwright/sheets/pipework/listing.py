"""A list of the shop as plain data, and in which unit each of its columns is written."""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from types import MappingProxyType

from tunwright.build.factors import FOOT, INCH, POUND, POUND_FORCE, PSI, TURN, US_GALLON
from tunwright.build.kind import System
from tunwright.build.shown import show_number

Value = str | int | float | None
NONE = "–"  # a cell that holds nothing
UNKNOWN = "not known"
_YARD, _MILE, _HORSEPOWER = 3 * FOOT, 5280 * FOOT, 550 * FOOT * POUND_FORCE


@dataclass(frozen=True)
class Measure:
    """A unit a column is written in.

    symbol: as it is printed
    size: SI units in one of it
    digits: decimals
    """

    symbol: str
    size: float
    digits: int

    def number(self, value: float) -> float:
        """A quantity in this unit, rounded; a whole number where it has no decimals.

        value: the quantity [SI]
        """
        return round(value / self.size, self.digits or None)


def _pair(metric: tuple[str, float, int], us: tuple[str, float, int]) -> Mapping[System, Measure]:
    return MappingProxyType({"metric": Measure(*metric), "us": Measure(*us)})


MEASURES = MappingProxyType(
    {
        "bore": _pair(("mm", 1e-3, 1), ("in", float(INCH), 2)),
        "cut": _pair(("mm", 1e-3, 0), ("in", float(INCH), 2)),
        "run": _pair(("m", 1.0, 2), ("ft", float(FOOT), 1)),
        "flow": _pair(("L/min", 1e-3 / 60, 0), ("US gpm", float(US_GALLON) / 60, 0)),
        "pressure": _pair(("bar", 1e5, 2), ("psi", float(PSI), 1)),
        "gauge": _pair(("bar", 1e5, 1), ("psi", float(PSI), 0)),
        "velocity": _pair(("m/s", 1.0, 2), ("ft/s", float(FOOT), 1)),
        "head": _pair(("m", 1.0, 1), ("ft", float(FOOT), 0)),
        "power": _pair(("kW", 1e3, 1), ("hp", float(_HORSEPOWER), 1)),
        "torque": _pair(("N m", 1.0, 0), ("lbf ft", float(POUND_FORCE * FOOT), 0)),
        "force": _pair(("N", 1.0, 0), ("lbf", float(POUND_FORCE), 0)),
        "rotation": _pair(("rpm", float(TURN) / 60, 0), ("rpm", float(TURN) / 60, 0)),
        "volume": _pair(("L", 1e-3, 1), ("US gal", float(US_GALLON), 1)),
        "road": _pair(("km/h", 1 / 3.6, 1), ("mph", float(_MILE) / 3600, 1)),
        "depth": _pair(("L/m²", 1e-3, 2), ("US gal/yd²", float(US_GALLON / _YARD**2), 3)),
        "dose": _pair(("mg/L", 1e-3, 0), ("mg/L", 1e-3, 0)),
        "weight": _pair(("g", 1e-3, 0), ("oz", float(POUND) / 16, 1)),
        "dosed": _pair(("L", 1e-3, 2), ("US gal", float(US_GALLON), 3)),
        "area": _pair(("m²", 1.0, 0), ("yd²", float(_YARD**2), 0)),
        "way": _pair(("km", 1e3, 2), ("mi", float(_MILE), 2)),
    }
)
"""Kind of column -> its unit in each system."""


def said(value: float, kind: str, system: System) -> str:
    """A quantity with its unit.

    value: the quantity [SI]
    kind: name in `MEASURES`
    system: "metric" or "us"
    """
    measure = MEASURES[kind][system]
    return f"{show_number(measure.number(value), measure.digits)} {measure.symbol}" if math.isfinite(value) else UNKNOWN


@dataclass(frozen=True)
class Column:
    """A column of a list.

    key: its name for machines, without the unit
    name: its heading, without the unit
    kind: what it measures, a name in `MEASURES`; empty for words and counts
    """

    key: str
    name: str
    kind: str = ""

    def head(self, system: System) -> str:
        """Its heading with the unit.

        system: "metric" or "us"
        """
        return f"{self.name}, {MEASURES[self.kind][system].symbol}" if self.kind else self.name

    def machine_head(self) -> str:
        """Its heading for machines, in metric units, such as "inside_mm"."""
        if not self.kind:
            return self.key
        unit = MEASURES[self.kind]["metric"].symbol.lower().replace("/", "_").replace("²", "2").replace(" ", "")
        return f"{self.key}_{unit}"

    def shown(self, value: Value, system: System) -> str:
        """A value of the column in print.

        value: words, a count, a quantity [SI], or None where there is none
        system: "metric" or "us"
        """
        if value is None:
            return NONE
        if isinstance(value, str) or not self.kind:
            return str(value)
        return said(value, self.kind, system).removesuffix(MEASURES[self.kind][system].symbol).strip()

    def number(self, value: Value, system: System) -> Value:
        """A value of the column for a spreadsheet: a number where it is one, None where it is missing or not known.

        value: words, a count, a quantity [SI], or None where there is none
        system: "metric" or "us"
        """
        if isinstance(value, str) or value is None or not self.kind:
            return value
        return MEASURES[self.kind][system].number(value) if math.isfinite(value) else None


@dataclass(frozen=True)
class Listing:
    """A list of the shop.

    key: its name for machines
    title: its heading
    columns: its columns
    rows: a value for each column, quantities in SI
    foot: what is to be known to read it
    total: what its columns add up to, None where they do not
    """

    key: str
    title: str
    columns: Sequence[Column]
    rows: Sequence[Sequence[Value]]
    foot: str = ""
    total: Sequence[Value] | None = None
