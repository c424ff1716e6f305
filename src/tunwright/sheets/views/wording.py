"""Figures in the units of the order: lengths bare, as on any drawing, masses and volumes with their unit."""

from __future__ import annotations

from dataclasses import dataclass

from tunwright.build.shown import THIN_SPACE, show
from tunwright.build.units import KINDS, System
from tunwright.sheets.ticks import THIN

_UNITS: dict[System, dict[str, tuple[str, int]]] = {
    "metric": {"length": ("mm", 0), "mass": ("kg", 0), "volume": ("L", 0)},
    "us": {"length": ("in", 1), "mass": ("lb", 0), "volume": ("US gal", 0)},
}


@dataclass(frozen=True)
class Wording:
    """How figures are written in one system of units."""

    system: System

    def unit(self, kind: str) -> str:
        """The one unit of a kind on a sheet: length, mass or volume."""
        return _UNITS[self.system][kind][0]

    @property
    def dimensions(self) -> str:
        """What bare figures on a view are in: "dimensions in mm"."""
        unit = self.unit("length")
        return f"dimensions in {'inches' if unit == 'in' else unit}"

    def number(self, value: float, kind: str) -> float:
        """A value [SI] in the sheet's unit, for a chart."""
        return KINDS[kind].units[self.unit(kind)].from_si(value)

    def words(self, value: float, kind: str) -> str:
        """A value [SI] with its unit: "6 601 kg", "3 170 US gal"."""
        unit, digits = _UNITS[self.system][kind]
        return show(value, kind, unit=unit, digits=digits).replace(THIN_SPACE, THIN)  # every face has that space

    def bare(self, value: float, kind: str) -> str:
        """A value [SI] without its unit: "3 900", "153.5"."""
        return self.words(value, kind).removesuffix(f" {self.unit(kind)}")

    def length(self, value: float) -> str:
        """A length [m] without its unit."""
        return self.bare(value, "length")
