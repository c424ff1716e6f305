"""Entries of the tables: a material, a shop value. All values SI."""

from __future__ import annotations

from dataclasses import dataclass

FAMILIES = ("carbon steel", "stainless", "aluminium")


@dataclass(frozen=True, kw_only=True)
class Material:
    """A plate or section material with its specified minima.

    key: what a build calls it
    name: what a person calls it
    family: carbon steel | stainless | aluminium
    density: [kg/m3]
    youngs_modulus: [Pa]
    poisson: [-]
    expansion: thermal expansion [1/K]
    elongation: elongation at fracture [-]
    yield_steps: (greatest thickness [m], yield strength or Rp0.2 [Pa]), thinnest first
    tensile_steps: (greatest thickness [m], least Rm [Pa], greatest Rm [Pa]), thinnest first
    source: document of the strengths
    mark: how the strengths are known
    physical_source: document of density, moduli and expansion
    physical_mark: how those are known
    """

    key: str
    name: str
    family: str
    density: float
    youngs_modulus: float
    poisson: float
    expansion: float
    elongation: float
    yield_steps: tuple[tuple[float, float], ...]
    tensile_steps: tuple[tuple[float, float, float], ...]
    source: str
    mark: str
    physical_source: str
    physical_mark: str

    def yield_strength(self, thickness: float) -> float:
        """Least yield strength (Rp0.2 where there is no yield point) of a thickness [Pa].

        thickness: of the plate or wall [m], above 0 up to the last step of the table
        ValueError: outside the table
        """
        return self._step(self.yield_steps, thickness)[1]

    def tensile_strength(self, thickness: float) -> float:
        """Least tensile strength Rm of a thickness [Pa].

        thickness: of the plate or wall [m], above 0 up to the last step of the table
        ValueError: outside the table
        """
        return self._step(self.tensile_steps, thickness)[1]

    def _step(self, steps: tuple[tuple[float, ...], ...], thickness: float) -> tuple[float, ...]:
        """The step a thickness falls into; it belongs to the step it ends."""
        for step in steps:
            if 0 < thickness <= step[0] * (1 + 1e-9):
                return step
        raise ValueError(
            f"{self.key} is tabled for thicknesses above 0 up to {steps[-1][0] * 1000:g} mm; "
            f"{thickness * 1000:g} mm was given, for example 6 mm."
        )


@dataclass(frozen=True, kw_only=True)
class ShopValue:
    """A value the shop may set for itself.

    key: its name
    value: the number, in `unit`
    unit: kind of unit, for example "share", "kg/m3", "g"
    meaning: what it is used for
    mark: how it is known; "shop" where the shop has set it
    source: where it comes from, or why the shop has set it
    """

    key: str
    value: float
    unit: str
    meaning: str
    mark: str
    source: str
