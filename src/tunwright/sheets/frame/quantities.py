"""What is drawn along the frame: moment, shear and stress, in whose units, and which way up."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from tunwright.build.kind import System, spelling
from tunwright.build.kinds import KINDS
from tunwright.handbook.beams import RY, W
from tunwright.sheets.frame.chosen import Shown
from tunwright.sheets.ticks import THIN, figure
from tunwright.sheets.views.wording import Wording

Floats = NDArray[np.float64]
_FOOT = 0.3048


@dataclass(frozen=True)
class Quantity:
    """One diagram.

    key: moment, shear or stress
    heading: what it is
    way: what is drawn up and what down
    units: SI value of its unit and the unit's symbol, by system
    signs: words for what is above and below the line, empty where there is no sign
    """

    key: str
    heading: str
    way: str
    units: dict[System, tuple[float, str]]
    signs: tuple[str, str] = ("", "")

    def unit(self, system: System) -> str:
        """Symbol of its unit.

        system: metric or us
        """
        return self.units[system][1]

    def number(self, value: float, system: System) -> float:
        """A value [SI] in its unit.

        value: the value
        system: metric or us
        """
        return value / self.units[system][0]

    def words(self, value: float, system: System) -> str:
        """A value [SI] with unit and sign in words.

        value: the value
        system: metric or us
        """
        size = abs(self.number(value, system))
        sign = self.signs[0] if value > 0.0 else self.signs[1]
        unit = self.unit(system).replace(" ", THIN)
        return f"{sign} {figure(size, 0 if size >= 100.0 else 1)}{THIN}{unit}".strip()


def _factor(kind: str, unit: str) -> float:
    return float(KINDS[kind].units[spelling(unit)].factor)


MOMENT = Quantity(
    "moment",
    "Bending moment My",
    "drawn on the side in tension: hogging up, sagging down",
    {"metric": (1e3, "kN m"), "us": (_factor("force", "kip") * _FOOT, "kip ft")},
    ("hogging", "sagging"),
)
SHEAR = Quantity(
    "shear",
    "Shear force Vz",
    "on the face that looks rearwards: upwards up",
    {"metric": (1e3, "kN"), "us": (_factor("force", "kip"), "kip")},
    ("up", "down"),
)
STRESS = Quantity(
    "stress",
    "Von Mises stress, worst fibre",
    "bending, axial force, torsion with warping, shear",
    {"metric": (1e6, "MPa"), "us": (_factor("stress", "ksi"), "ksi")},
)
QUANTITIES = (MOMENT, SHEAR, STRESS)


def along(shown: Shown, member: str) -> dict[str, tuple[Floats, Floats]]:
    """Places [m] and values [SI] along a member, by quantity; a place where the value jumps stands twice.

    shown: the state
    member: name of the member
    """
    x, forces, stress = shown.stresses.along(member, shown.trial, shown.fill)
    return {"moment": (x, forces[:, RY]), "shear": (x, forces[:, W]), "stress": (x, stress)}


def fine(wording: Wording, value: float) -> str:
    """A length in the sheet's unit, bare: whole millimetres, tenths where it has any; hundredths of an inch.

    wording: figures of the sheet
    value: [m]
    """
    number = wording.number(value, "length")
    if wording.system == "us":
        return figure(number, 2)
    return figure(number, 0 if abs(number - round(number)) < 0.05 else 1)


def unit_words(wording: Wording) -> str:
    """The unit of lengths as a word in a sentence: mm, or inches.

    wording: figures of the sheet
    """
    unit = wording.unit("length")
    return "inches" if unit == "in" else unit
