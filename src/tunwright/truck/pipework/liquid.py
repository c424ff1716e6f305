"""The water in the pipes."""

from __future__ import annotations

from dataclasses import dataclass

from tunwright.handbook.gravity import GRAVITY


@dataclass(frozen=True)
class Liquid:
    """The water in the pipes.

    density: [kg/m3]
    viscosity: kinematic [m2/s]
    vapour: pressure of its vapour [Pa]
    air: pressure of the air [Pa]
    """

    density: float
    viscosity: float
    vapour: float
    air: float

    def head(self, pressure: float) -> float:
        """A pressure as a height of water [m].

        pressure: [Pa]
        """
        return pressure / (self.density * GRAVITY)

    def pressure(self, head: float) -> float:
        """A height of water as a pressure [Pa].

        head: [m]
        """
        return head * self.density * GRAVITY
