"""The frame under a truck, loaded: forces in mounts, springs and beams in every case at every fill.

Everything is proportional but the links that only push. So the frame is solved once for a few loads of one newton and
all cases are put together from these; then `handbook.one_sided` finds which links have lifted.

On level ground springs and tyres carry what `truck.loading` says they do: their forces are set so that axle loads come
out exactly. A raised wheel presses its tyre; what follows is elastic.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from functools import cached_property
from itertools import pairwise

import numpy as np
from numpy.typing import NDArray

from tunwright.handbook.beams import CHI, FREEDOMS, shifts
from tunwright.handbook.gravity import GRAVITY
from tunwright.handbook.grillage import Grillage
from tunwright.handbook.one_sided import pulling, stand_ins
from tunwright.truck.ladder.cases import Case, cases
from tunwright.truck.ladder.known import missing, missing_for_twist
from tunwright.truck.ladder.running import Running, spring_places, unsprung
from tunwright.truck.ladder.structure import LONG, RIGHT, SIDES, TANK, UP, Point, Structure
from tunwright.truck.ladder.weights import (
    Hung,
    added_lumps,
    chassis_lumps,
    hang,
    hang_on_tank,
    hang_subframe,
    lining_lumps,
    pulled,
    wrench,
)
from tunwright.truck.loads import LoadTable
from tunwright.truck.states import FILLS, LoadState, Surface
from tunwright.truck.truck import Truck

Floats = NDArray[np.float64]
FALLS = "the supports that can only push lift one after another: nothing holds the vehicle or its tank any more"
_SELF_STRESS = 1e-3
"""States of springs and tyres in which the frame gives less than this part are settled by equilibrium alone."""


@dataclass(frozen=True, eq=False)
class Trial:
    """One case at every fill.

    case: what happens
    fills: water over net volume (fills,) [-]; on jacks the tank is always empty
    coefficients: of the solved loads (loads, fills)
    before: forces in the links before anything moves (links, fills) [N]
    opened: forces that stand in for lifted links (push-only links, fills) [N]
    lost: why there is no equilibrium, empty where there is
    """

    case: Case
    fills: Floats
    coefficients: Floats
    before: Floats
    opened: Floats
    lost: str = ""

    def state(self, fill: int) -> str:
        """The case at one of its fills, in words.

        fill: number of the fill
        """
        return self.case.words if self.case.jack else f"{self.case.words}, {100 * self.fills[fill]:.0f} % full"


class Ladder:
    """The frame of a truck.

    truck: the truck
    held: warping of the rails is held at every cross-member; otherwise nothing but the rails themselves resists it
    """

    def __init__(self, truck: Truck, *, held: bool = False) -> None:
        self.truck, self.held = truck, held
        self.missing = missing(truck.build)
        self.missing_for_twist = missing_for_twist(truck.build)
        self._tables: dict[tuple[float, bool], LoadTable] = {}

    @cached_property
    def structure(self) -> Structure:
        """Rails, cross-members, subframe, tank and mounts."""
        return Structure(self.truck, spring_places(self.truck))

    @cached_property
    def running(self) -> Running:
        """Axles, springs and tyres, no axle lifted."""
        return Running(self.truck, self.structure, self.truck.axles.stances[0].lifted)

    @cached_property
    def frame(self) -> Grillage:
        """All of it, assembled: first the links of tank and subframe, then springs, tyres and guides."""
        structure, running = self.structure, self.running
        joints = [beam.start for beam in structure.beams if beam.warping == "free"]
        joints += [beam.end for beam in structure.beams if beam.warping == "free"]
        held = [name for name in joints if "rail" in name] if self.held else []
        nodes = {**structure.nodes, **running.nodes}
        return Grillage(nodes, structure.beams, [*structure.links, *running.links], held=held)

    @cached_property
    def cases(self) -> tuple[Case, ...]:
        """What it is tried with."""
        standing = self.running.standing
        return cases(self.truck.build, front=standing[0], rear=standing[-1], twist=not self.missing_for_twist)

    @cached_property
    def fills(self) -> Floats:
        """Water over net volume (fills,)."""
        return np.linspace(0.0, 1.0, FILLS)

    # loads of one newton, solved

    @cached_property
    def _loads(self) -> Floats:
        """Columns: everything on the rails pulled along x, y, z; six on the tank; brakes; jacks."""
        own = unsprung(self.truck, self.running.carriers)
        lumps = chassis_lumps(self.truck, self.structure, self.running.carriers, own)
        lumps += [*added_lumps(self.truck, crew=True), *lining_lumps(self.structure)]
        hung = hang(self.frame, self.structure, lumps) + hang_subframe(self.frame, self.truck, self.structure)
        for i in self.running.standing:
            hung += self._on_axle(i, Hung(float(own[i]), self.running.nodes[f"axle {i + 1}"]))
        brakes = [self._at(f"axle {i + 1}", (float(self.running.axle[i].at), 0.0, 0.0), LONG) for i in self._standing]
        jacks = [sum(self._at(n, self.frame.nodes[n], UP) for n in self._ends(end)) / 2 for end in ("front", "rear")]
        return np.column_stack([hung, hang_on_tank(self.frame), *brakes, *jacks])

    @property
    def _standing(self) -> list[int]:
        return self.running.standing

    def _ends(self, end: str) -> list[str]:
        x = self.structure.rails[0 if end == "front" else -1]
        return [self.structure.rail_node(side, float(x)) for side in SIDES]

    def _at(self, node: str, point: Point, *forces: Point) -> Floats:
        """Forces on a node through a point, each a column."""
        number = np.array([self.frame.number[node]])
        return pulled(self.frame, number, np.array(point).reshape(1, 1, 3), np.array([forces]))

    def _on_axle(self, i: int, lump: Hung) -> Floats:
        return lump.mass * self._at(f"axle {i + 1}", lump.at, LONG, RIGHT, UP)

    @cached_property
    def _pushes(self) -> NDArray[np.bool_]:
        return np.array([link.pushes for link in self.frame.links], dtype=bool)

    @cached_property
    def _carrying(self) -> NDArray[np.intp]:
        """Numbers of the springs' and tyres' links."""
        first = len(self.structure.links)
        return np.arange(first, first + len(self.running.springs) + len(self.running.tyres))

    @cached_property
    def _preset(self) -> Floats:
        found = np.zeros(len(self.frame.links))
        for i, force in self.structure.preset.items():
            found[i] = force
        return found

    @cached_property
    def _moved(self) -> Floats:
        """Displacements (freedoms, columns): loads, springs and tyres, preset mounts."""
        rows = self.frame.rows
        columns = [self._loads, rows[self._carrying].T, rows.T @ self._preset[:, None]]
        return self.frame.solve(np.column_stack(columns))

    @cached_property
    def _given(self) -> Floats:
        """Displacements (freedoms, push-only links): a pair of unit forces in place of each link that can only push."""
        return self.frame.solve(self.frame.rows[self._pushes].T)

    @cached_property
    def _stretched(self) -> Floats:
        """Stretch of the links in each column (links, columns)."""
        return self.frame.rows @ self._moved

    @cached_property
    def _parts(self) -> tuple[slice, slice, slice]:
        edges = np.cumsum((0, self._loads.shape[1], len(self._carrying), 1))
        return tuple(slice(int(a), int(b)) for a, b in pairwise(edges))  # type: ignore[return-value]

    # what each case puts on the frame

    @cached_property
    def trials(self) -> tuple[Trial, ...]:
        """Every case at every fill. Raises Mechanism where something that holds the frame is missing."""
        loads = [self._loaded(case) for case in self.cases]
        c, before = (np.hstack(parts) for parts in zip(*loads, strict=True))
        coefficients, opened, lost = self._lifted(c, before)
        count = len(self.fills)
        found = []
        for i, case in enumerate(self.cases):
            mine = slice(i * count, (i + 1) * count)
            words = FALLS if lost[mine].any() else ""
            own = coefficients[:, mine], before[:, mine], opened[:, mine]
            found.append(Trial(case, self._fills_of(case), *own, words))
        return tuple(found)

    def _fills_of(self, case: Case) -> Floats:
        return np.zeros_like(self.fills) if case.jack else self.fills

    def _states(self, case: Case) -> list[LoadState]:
        count = len(self.truck.solid.compartments)
        surface: Surface = "braked" if case.braking else "settled"
        return [
            LoadState("even", float(f), (float(f),) * count, crew=True, braking=case.braking, surface=surface, stance=0)
            for f in self._fills_of(case)
        ]

    def _water(self, case: Case) -> LoadTable:
        """Loads and water at every fill; cases that move the water alike share them."""
        key = (case.braking, bool(case.jack))
        if key not in self._tables:
            self._tables[key] = self.truck.loading.table(self._states(case))
        return self._tables[key]

    def _loaded(self, case: Case) -> tuple[Floats, Floats]:
        """Parts of the solved loads (loads, fills) and forces in the links before anything moves (links, fills)."""
        table = self._water(case)
        acceleration = GRAVITY * np.array([-case.braking, case.cornering, -case.vertical])
        c = np.zeros((self._loads.shape[1], len(self.fills)))
        c[:3] = acceleration[:, None]
        dry = self.truck.weights.on_tank
        about = np.array(self.frame.nodes[TANK])
        c[3:9] = (
            wrench(dry.centre, about, dry.mass * acceleration)
            + wrench(table.water_at, about, table.water_mass[:, None] * acceleration)
        ).T
        loads = GRAVITY * case.vertical * table.axles.T
        brakes = loads[self._standing] / loads[self._standing].sum(axis=0)
        c[9 : 9 + len(self._standing)] = brakes * case.braking * GRAVITY * table.gross
        lift = np.zeros((2, len(self.fills)))
        if case.jack:
            loads, lift = self._jacked(case.jack, loads)
        c[-2:] = lift
        before = np.tile(self._preset[:, None], len(self.fills))
        before[self._carrying] = self._balanced(c, self._targets(loads, case))
        for axle, side, height in case.raised:
            i = self._tyre(axle, side)
            before[i] -= self.frame.springs[i] * height
        return c, before

    def _targets(self, loads: Floats, case: Case) -> Floats:
        """Forces of springs and tyres that give axle loads (springs and tyres, fills) [N], pulling positive."""
        own = GRAVITY * case.vertical * unsprung(self.truck, self.running.carriers)
        sprung = loads - own[:, None]
        springs = [-0.5 * sprung[list(one.axles)].sum(axis=0) for one in self.running.carriers for _ in SIDES]
        return np.array([*springs, *(-0.5 * loads[i] for i in self._standing for _ in SIDES)])

    def _balanced(self, c: Floats, targets: Floats) -> Floats:
        """What has to be in springs and tyres before, so that after the frame has given they carry their targets."""
        loads, springs, preset = self._parts
        at, k = self._carrying, self.frame.springs[self._carrying][:, None]
        given = k * (self._stretched[at, loads] @ c - self._stretched[at, preset])
        own = np.eye(len(at)) - k * self._stretched[at, springs]
        found: Floats = targets + np.linalg.lstsq(own, targets - given - own @ targets, rcond=_SELF_STRESS)[0]
        return found

    def _jacked(self, end: str, loads: Floats) -> tuple[Floats, Floats]:
        """Axle loads and forces of the jacks (2, fills) with one end of the frame on jacks and its axles in the air."""
        places = self.truck.axles.places
        first, last = self.running.carriers[0].axles, self.running.carriers[-1].axles
        off, stays = (first, last) if end == "front" else (last, first)
        x = float(self.structure.rails[0 if end == "front" else -1])
        pivot = float(places[list(stays)].mean())
        share = (places[list(off)] - pivot) / (x - pivot)
        found = loads.copy()
        lift = share @ loads[list(off)]
        found[list(stays)] += (loads[list(off)].sum(axis=0) - lift) / len(stays)
        found[list(off)] = 0.0
        jacks = np.array([lift, np.zeros_like(lift)])
        return found, jacks if end == "front" else jacks[::-1]

    def _tyre(self, axle: int, side: str) -> int:
        first = len(self.structure.links) + len(self.running.springs)
        return first + 2 * self._standing.index(axle) + SIDES.index(side)

    def _lifted(self, c: Floats, before: Floats) -> tuple[Floats, Floats, NDArray[np.bool_]]:
        """Parts of all solved loads, forces that stand in for lifted links, and which cases have no equilibrium."""
        loads, springs, preset = self._parts
        pull = before[self._carrying]
        stretch = self._stretched[:, loads] @ c - self._stretched[:, springs] @ pull - self._stretched[:, preset]
        force = (before + self.frame.springs[:, None] * stretch)[self._pushes]
        whole = np.concatenate([c, -pull, -np.ones((1, c.shape[1]))])
        kept = self._kept
        if not pulling(force, kept).any():
            return whole, np.zeros_like(force), np.zeros(c.shape[1], dtype=bool)
        compliance = self.frame.rows[self._pushes] @ self._given
        return whole, *stand_ins(force, self.frame.springs[self._pushes], compliance, kept)

    @property
    def _kept(self) -> NDArray[np.bool_]:
        """Tyres of the axles in the air, whose forces add up to nothing: they steady the axle instead of opening."""
        found = np.zeros((len(self.frame.links), len(self.cases), len(self.fills)), dtype=bool)
        for i, case in enumerate(self.cases):
            if case.jack:
                off = self.running.carriers[0 if case.jack == "front" else -1].axles
                found[[self._tyre(axle, side) for axle in off for side in SIDES], i] = True
        return found.reshape(len(found), -1)[self._pushes]

    # what comes of it

    @cached_property
    def _lifts(self) -> bool:
        """Whether any link has lifted in any case."""
        return any(trial.opened.any() for trial in self.trials)

    @cached_property
    def _columns(self) -> Floats:
        """Displacements (freedoms, columns) that all cases are put together from."""
        return np.hstack([self._moved, self._given]) if self._lifts else self._moved

    @cached_property
    def _stretches(self) -> Floats:
        """Stretch of the links (links, columns) that all cases are put together from."""
        return self.frame.rows @ self._columns

    def _all(self, trial: Trial) -> Floats:
        return np.concatenate([trial.coefficients, trial.opened]) if self._lifts else trial.coefficients

    def link_forces(self, trial: Trial) -> Floats:
        """Forces of all links (links, fills) [N], pulling positive.

        trial: the case
        """
        found = trial.before + self.frame.springs[:, None] * (self._stretches @ self._all(trial))
        found[self._pushes] -= trial.opened
        return found

    def displacements(self, trial: Trial) -> Floats:
        """Displacements (freedoms, fills) [m, rad, rad/m].

        trial: the case
        """
        found: Floats = self._columns @ self._all(trial)
        return found

    @cached_property
    def _ends_of_beams(self) -> Floats:
        """Forces at the ends of rails and subframe in each column (beams, 2, 7, columns), about their own centres."""
        count = len(self.structure.stretches)
        ends = self.frame.end_forces(self._columns)
        mine = ends[[one.index for one in self.structure.stretches]]
        back = np.linalg.inv(shifts([one.walls.beam for one in self.structure.stretches])).transpose(0, 2, 1)
        found: Floats = np.einsum("bij,bejc->beic", back, mine).reshape(count, 2, FREEDOMS, -1)
        return found

    def section_forces(self, trial: Trial) -> Floats:
        """Forces at both ends of the stretches (stretches, 2, 7, fills): N, Vy, Vz, T, My, Mz, B.

        N, My and Mz about the centroid, the shear forces and T through the shear centre; see `handbook.beams`.

        trial: the case
        """
        found: Floats = self._ends_of_beams @ self._all(trial)
        return found

    def twist_rates(self, trial: Trial) -> Floats:
        """Twist's rate chi at both ends of the stretches (stretches, 2, fills) [rad/m].

        trial: the case
        """
        number = self.frame.number
        beams = [self.structure.beams[one.index] for one in self.structure.stretches]
        rows = FREEDOMS * np.array([(number[b.start], number[b.end]) for b in beams]) + CHI
        found: Floats = self._columns[rows] @ self._all(trial)
        return found

    def reactions(self, trial: Trial) -> Iterator[tuple[int, Floats]]:
        """Axle loads that come out (fills,) [N], by index of the axle.

        trial: the case
        """
        force = self.link_forces(trial)
        for i in self._standing:
            yield i, -force[[self._tyre(i, side) for side in SIDES]].sum(axis=0)
