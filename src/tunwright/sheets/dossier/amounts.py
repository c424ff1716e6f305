"""Figures as the dossier prints them: in the units of the order, and in words where nothing is known."""

from __future__ import annotations

import math
import re
from dataclasses import dataclass
from fractions import Fraction

from tunwright.build.kind import Kind, System, Unit, spelling
from tunwright.build.kinds import KINDS
from tunwright.build.shown import show, show_number
from tunwright.checks.finding import Finding

NOT_KNOWN = "not known"
NO_SIGN = "–"  # a cell that asks for nothing

_COLUMNS: dict[str, dict[System, tuple[str, int]]] = {
    "mass": {"metric": ("kg", 0), "us": ("lb", 0)},
    "length": {"metric": ("mm", 0), "us": ("in", 1)},
    "volume": {"metric": ("L", 0), "us": ("US gal", 0)},
    "area": {"metric": ("m2", 2), "us": ("ft2", 1)},
    "inertia": {"metric": ("kg m2", 0), "us": ("lb ft2", 0)},
    "ratio": {"metric": ("%", 1), "us": ("%", 1)},
}
_US_UNITS = {"m/s": "ft/s", "m3/s": "US gpm"}  # where the usual US unit of the kind does not fit a finding
_MORE_DIGITS = 4


@dataclass(frozen=True)
class Amounts:
    """Prints quantities in one system of units.

    system: "metric" or "us"
    """

    system: System

    def unit(self, kind: str) -> str:
        """The unit a column of a kind is printed in.

        kind: mass, length, volume, area, inertia or ratio
        """
        name = _COLUMNS[kind][self.system][0]
        return KINDS[kind].units[spelling(name)].symbol

    def bare(self, value: float, kind: str, *, digits: int | None = None) -> str:
        """A figure for a column, without its unit.

        value: the quantity [SI]; not-a-number prints as words
        kind: as for `unit`
        digits: decimals, those of the column where left out
        """
        if not math.isfinite(value):
            return NOT_KNOWN
        name, usual = _COLUMNS[kind][self.system]
        found = show(value, kind, unit=name, digits=usual if digits is None else digits)
        return found.removesuffix(self.unit(kind)).strip(" ")

    def full(self, value: float, kind: str) -> str:
        """A quantity with its unit.

        value: the quantity [SI]; not-a-number prints as words
        kind: name of the kind
        """
        return show(value, kind, system=self.system) if math.isfinite(value) else NOT_KNOWN

    def mass(self, value: float) -> str:
        """A mass with its unit.

        value: mass [kg]
        """
        return self._column(value, "mass")

    def length(self, value: float) -> str:
        """A length with its unit.

        value: length [m]
        """
        return self._column(value, "length")

    def volume(self, value: float) -> str:
        """A volume with its unit.

        value: volume [m3]
        """
        return self._column(value, "volume")

    def _column(self, value: float, kind: str) -> str:
        return f"{self.bare(value, kind)} {self.unit(kind)}" if math.isfinite(value) else NOT_KNOWN

    def of_finding(self, finding: Finding) -> tuple[str, str]:
        """Value and limit of a finding; more decimals where they would look alike and are not.

        finding: the finding
        """
        value, limit = finding.value, finding.limit
        if value is None and finding.verdict == "fails":
            return "", ""
        for more in range(_MORE_DIGITS):
            pair = self._in_unit(value, finding.unit, more), self._in_unit(limit, finding.unit, more)
            if pair[0] != pair[1] or value == limit or value is None or not math.isfinite(value):
                break
        return pair

    def _in_unit(self, value: float | None, unit: str, more: int) -> str:
        """A value in the unit of its finding, turned into the trade's."""
        if value is None or not math.isfinite(value):
            return NOT_KNOWN
        kind, own = _kind_of(unit)
        if kind is None or own is None:
            return f"{_plain(value, more)} {unit}".strip()
        si = own.to_si(Fraction(value))
        if self.system == "us" and unit in _US_UNITS:
            return show(si, kind.name, unit=_US_UNITS[unit], digits=1 + more)
        if self.system == "us" or unit in ("m", "share"):
            return _finer(show(si, kind.name, system=self.system), si, kind, more)
        return _finer(show(si, kind.name, unit=own.symbol, digits=_digits(value)), si, kind, more)


def _kind_of(unit: str) -> tuple[Kind | None, Unit | None]:
    """Kind and unit that a finding's unit names; none where no kind has it."""
    if unit == "share":
        return KINDS["ratio"], Unit("share", Fraction(1))
    first = ("acceleration",) if unit == "g" else ()
    for name in (*first, *KINDS):
        found = KINDS[name].units.get(spelling(unit))
        if found is not None and unit:
            return KINDS[name], found
    return None, None


def _digits(value: float) -> int:
    """Decimals that show about four figures, none from a hundred on."""
    size = abs(value)
    return 0 if size >= 100 or size == 0 else 1 if size >= 10 else 2


def _plain(value: float, more: int) -> str:
    return show_number(value, _digits(value) + more)


def _finer(text: str, si: float, kind: Kind, more: int) -> str:
    """The same figure in the same unit with more decimals."""
    number, gap, unit = text.partition(" ")
    if not more or not gap:
        return text
    have = len(number.partition(".")[2])
    return show(si, kind.name, unit=unit, digits=have + more)


_NO_NUMBER = re.compile(r"\bnan\b|\bno value\b|\bNone\b", re.IGNORECASE)


def in_words(text: str) -> str:
    """A computed text with words in place of what is no number.

    text: a text put together from numbers, never one a person typed
    """
    return _NO_NUMBER.sub(NOT_KNOWN, text)
