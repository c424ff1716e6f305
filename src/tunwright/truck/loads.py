"""Axle loads of many load states at once."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from functools import cached_property
from typing import Literal

import numpy as np
from numpy.typing import NDArray

from tunwright.handbook.gravity import GRAVITY
from tunwright.handbook.liquid import WET
from tunwright.truck.axles import Axles, Stance
from tunwright.truck.states import LoadState
from tunwright.truck.volumes import Volumes
from tunwright.truck.water import Water
from tunwright.truck.weights import Weights

Floats = NDArray[np.float64]
Mask = NDArray[np.bool_]
Rows = NDArray[np.intp]
Where = Literal["standing", "grades"]


@dataclass(frozen=True, eq=False)
class LoadTable:
    """Load states side by side.

    states: the states
    volumes: water in each compartment (n, compartments) [m3]
    water_mass: [kg] (n,)
    water_at: centre of the water (n, 3) [m]
    gross: mass of the whole vehicle [kg] (n,)
    centre: its centre (n, 3) [m]; NaN in z where the chassis' height of centre is not known
    axles: normal force on each axle over g (n, axles) [kg]; NaN where it cannot be worked out
    per_metre: change of each axle load for the tank moved 1 m rearwards (n, axles) [kg/m]
    """

    states: tuple[LoadState, ...]
    volumes: Floats
    water_mass: Floats
    water_at: Floats
    gross: Floats
    centre: Floats
    axles: Floats
    per_metre: Floats

    @property
    def litres(self) -> Floats:
        """Water [L] (n,)."""
        litres: Floats = 1000.0 * self.volumes.sum(axis=1)
        return litres

    def only(self, mask: Mask) -> LoadTable:
        """The states of a mask.

        mask: which (n,)
        """
        return self.at(np.flatnonzero(mask))

    def at(self, rows: Rows) -> LoadTable:
        """The states of some rows.

        rows: row numbers
        """
        rest = (self.volumes, self.water_mass, self.water_at, self.gross, self.centre, self.axles, self.per_metre)
        return LoadTable(tuple(self.states[i] for i in rows), *(part[rows] for part in rest))

    @cached_property
    def _parted(self) -> dict[tuple[Where, int | None], tuple[Rows, LoadTable]]:
        return {}

    def part(self, where: Where, stance: int | None = None) -> tuple[Rows, LoadTable]:
        """The states standing level or on a grade, and their row numbers; kept once made.

        where: standing or grades
        stance: only this choice of lifted axles, None for all
        """
        if (where, stance) not in self._parted:
            pick = [
                i
                for i, s in enumerate(self.states)
                if s.judged and (s.level if where == "standing" else s.grade != 0.0) and stance in (None, s.stance)
            ]
            rows = np.array(pick, dtype=np.intp)
            self._parted[where, stance] = rows, self.at(rows)
        return self._parted[where, stance]

    def mask(self, **wanted: object) -> Mask:
        """States whose fields have given values.

        wanted: field = value
        """
        return np.array([all(getattr(s, k) == v for k, v in wanted.items()) for s in self.states], dtype=bool)


@dataclass(frozen=True, eq=False)
class Loading:
    """Everything needed to load a truck: axles, masses, tank, water."""

    axles: Axles
    weights: Weights
    volumes: Volumes
    water: Water
    cg_height: float | None

    def table(self, states: Sequence[LoadState]) -> LoadTable:
        """Axle loads of load states.

        states: the states
        """
        volumes = np.array([self.volumes.gross if s.brim else np.multiply(s.parts, self.volumes.net) for s in states])
        water_mass, water_at = self._water(states, volumes)
        added_mass, added_first = self._added(states, water_mass, water_at)
        loads, slope = self._loads(states, added_mass, added_first, water_mass)
        kerb = self.axles.kerb_mass
        height = np.nan if self.cg_height is None else self.cg_height
        kerb_at = np.array([self.axles.kerb_x, float(self.axles.chassis.cg_y), height])
        gross = kerb + added_mass
        centre = (kerb * kerb_at + added_first) / gross[:, None]
        return LoadTable(tuple(states), volumes, water_mass, water_at, gross, centre, loads, slope)

    def _water(self, states: Sequence[LoadState], volumes: Floats) -> tuple[Floats, Floats]:
        """Mass and centre of the water.

        Its moments in the tank's frame are solved once for each different water and kept with the tank's solid, so
        that moving the tank, a pump or an axle solves no water again.
        """
        pitch, known = self.water.frame.pitch, self.water.solid.solved
        pairs = zip(states, volumes.tolist(), strict=True)
        keys = [(pitch, s.grade, s.slope, s.braking, s.surface, *held) for s, held in pairs]
        new = {key: i for i, key in enumerate(keys) if key not in known}
        if new:
            rows = np.fromiter(new.values(), dtype=np.intp)
            solved = self._solve([states[i] for i in rows], volumes[rows])
            known.update(zip(new, solved, strict=True))
        return self.water.centres(np.array([known[key] for key in keys]))

    def _solve(self, states: Sequence[LoadState], volumes: Floats) -> Floats:
        moments = np.zeros((len(states), WET))
        slope = np.array([_along(s) for s in states])
        braked = np.array([s.surface == "braked" for s in states])
        for value in np.unique(slope[braked]):
            mine = braked & (slope == value)
            moments[mine] = self.water.braked(volumes[mine], float(value))
        across = np.array([-s.slope for s in states])
        for value in np.unique(across[~braked]):
            mine = ~braked & (across == value)
            moments[mine] = self.water.settled(volumes[mine], slope[mine], float(value))
        return moments

    def _added(self, states: Sequence[LoadState], water_mass: Floats, water_at: Floats) -> tuple[Floats, Floats]:
        """Mass added to the bare chassis (n,) and its first moments (n, 3)."""
        added, crew = self.weights.added, np.array([s.crew for s in states])
        aboard, away = self.weights.crew_aboard, self.weights.crew_away
        mass = added.mass + water_mass + np.where(crew, aboard.mass, away.mass)
        persons = np.where(crew[:, None], aboard.mass * aboard.centre, away.mass * away.centre)
        return mass, added.mass * added.centre + water_mass[:, None] * water_at + persons

    def _loads(
        self, states: Sequence[LoadState], mass: Floats, first: Floats, water_mass: Floats
    ) -> tuple[Floats, Floats]:
        loads = np.full((len(states), self.axles.count), np.nan)
        slope = np.full_like(loads, np.nan)
        which = np.array([s.stance for s in states])
        for i, stance in enumerate(self.axles.stances):
            mine = which == i
            if mine.any() and stance.shares is not None:
                chosen = [s for s, keep in zip(states, mine, strict=True) if keep]
                loads[mine], slope[mine] = self._stance_loads(stance, chosen, mass[mine], first[mine], water_mass[mine])
        return loads, slope

    def _stance_loads(
        self, stance: Stance, states: Sequence[LoadState], mass: Floats, first: Floats, water_mass: Floats
    ) -> tuple[Floats, Floats]:
        """Normal forces over g: the bare chassis and the added masses pressed down, and the couple of the heights."""
        grade = np.arctan([s.grade for s in states])
        side = np.arctan([s.slope for s in states])
        press = np.cos(grade) * np.cos(side)
        pull = np.sin(grade) * np.cos(side) - np.array([s.braking for s in states])
        at = np.where(mass > 0, first[:, 0] / np.where(mass > 0, mass, 1.0), 0.0)
        level = stance.kerb + stance.shared.of_force(mass, at)
        height = np.nan if self.cg_height is None else self.cg_height
        lever = np.where(pull == 0.0, 0.0, pull * (self.axles.kerb_mass * height + first[:, 2]))
        moving = (self.weights.on_tank.mass + water_mass) * press
        return press[:, None] * level + stance.shared.of_couple(lever), moving[:, None] * stance.shared.per_force[:, 1]


def _along(state: LoadState) -> float:
    """Slope of the water's surface along the vehicle: up the road's grade, forward under braking."""
    if state.surface == "frozen":
        return 0.0
    return state.grade - state.braking


__all__ = ["GRAVITY", "LoadTable", "Loading"]
