"""The load states a build is tried in: how much water is where, who is aboard, which way the road leans."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from itertools import product
from typing import Literal

import numpy as np
from numpy.typing import NDArray

from tunwright.build.model import Build
from tunwright.handbook.gravity import GRAVITY
from tunwright.tables.read import shop_value

Floats = NDArray[np.float64]
Sort = Literal["even", "pattern", "emptying"]
Surface = Literal["settled", "braked", "frozen", "levelled"]

FILLS = 21
"""Levels of the sweep, from dry to net in equal steps."""


@dataclass(frozen=True)
class Tried:
    """Which roads a build is tried on.

    grade: slope along the road, each way [-]
    side_slope: slope across, each way [-]
    braking: deceleration over g [-]
    bump: weight over the weight at rest on rough ground [-]
    cornering: acceleration across in a curve, over g [-]
    wheel_lift: how far a wheel is raised over the others [m]
    """

    grade: float
    side_slope: float
    braking: float
    bump: float
    cornering: float
    wheel_lift: float


def tried(build: Build) -> Tried:
    """The roads of a build: its own, or the shop's.

    build: the build
    """
    own = build.states
    return Tried(
        grade=shop_value("grade") if own.grade is None else float(own.grade),
        side_slope=shop_value("side_slope") if own.side_slope is None else float(own.side_slope),
        braking=shop_value("braking") if own.braking is None else float(own.braking) / GRAVITY,
        bump=_by_terrain(build, "bump") if own.bump is None else float(own.bump) / GRAVITY,
        cornering=shop_value("cornering") if own.cornering is None else float(own.cornering) / GRAVITY,
        wheel_lift=_by_terrain(build, "wheel_lift") if own.wheel_lift is None else float(own.wheel_lift),
    )


def _by_terrain(build: Build, name: str) -> float:
    """A shop value that depends on the terrain of the order."""
    terrain = {"paved": "paved", "unpaved": "unpaved", "off-road": "off_road"}[build.order.terrain]
    return shop_value(f"{name}_{terrain}")


@dataclass(frozen=True)
class LoadState:
    """One load state.

    sort: even fill in every compartment, a pattern of full and empty ones, or a step of an emptying order
    fill: water over net volume [-]; above 1 at the brim
    parts: fill of each compartment [-]
    brim: filled to the roof
    crew: all seats taken, or nobody aboard
    grade: slope along the road, + nose up [-]
    slope: slope across the road, + right side high [-]
    braking: deceleration over g [-]
    surface: settled (one surface through all bays), braked (each bay on its own), frozen or levelled for comparison
    stance: index of the choice of lifted axles
    lifted: some axle is lifted
    """

    sort: Sort
    fill: float
    parts: tuple[float, ...]
    brim: bool = False
    crew: bool = True
    grade: float = 0.0
    slope: float = 0.0
    braking: float = 0.0
    surface: Surface = "settled"
    stance: int = 0
    lifted: bool = False

    @property
    def judged(self) -> bool:
        """Whether limits are held against it: with axles lifted only the empty vehicle is, since a lift axle comes down
        by itself as the load grows; how much water it may stay up with is a finding of its own.
        """
        return not self.lifted or self.fill == 0.0

    @property
    def level(self) -> bool:
        """Standing level and not braking."""
        return not (self.grade or self.slope or self.braking)

    @property
    def id(self) -> str:
        """A name made of what the state is, such as `even-050-crew-up12`."""
        words = [self._filled(), "crew" if self.crew else "nobody"]
        if self.grade:
            words.append(f"{'up' if self.grade > 0 else 'down'}{_percent(self.grade)}")
        if self.slope:
            words.append(f"{'right' if self.slope > 0 else 'left'}high{_percent(self.slope)}")
        if self.braking:
            words.append(f"brake{_percent(self.braking)}")
        if self.surface in ("frozen", "levelled"):
            words.append(self.surface)
        if self.stance:
            words.append(f"lift{self.stance}")
        return "-".join(words)

    def _filled(self) -> str:
        if self.brim:
            return "brim"
        if self.sort == "even":
            return (
                f"even-{round(100 * self.fill):03d}"
                if abs(self.fill * 100 - round(self.fill * 100)) < 1e-6
                else f"even-{self.fill:.4f}"
            )
        return f"{self.sort}-" + "_".join(f"{round(100 * part)}" for part in self.parts)

    @property
    def words(self) -> str:
        """The state as a person would say it."""
        said = [self._water(), "crew aboard" if self.crew else "nobody aboard"]
        if self.grade:
            said.append(
                f"{abs(self.grade):.3g} rise".replace(
                    f"{abs(self.grade):.3g} rise",
                    f"{100 * abs(self.grade):g} % {'uphill' if self.grade > 0 else 'downhill'}",
                )
            )
        if self.slope:
            said.append(f"{100 * abs(self.slope):g} % side slope, {'right' if self.slope > 0 else 'left'} side high")
        if self.braking:
            said.append(f"braking at {self.braking:g} g")
        if self.stance:
            said.append("axles lifted" if self.lifted else f"lift choice {self.stance + 1}")
        return ", ".join(said)

    def _water(self) -> str:
        if self.brim:
            return "filled to the brim"
        if self.sort == "even":
            return "empty" if self.fill == 0 else "full" if self.fill == 1 else f"{100 * self.fill:.3g} % full"
        return "compartments " + " / ".join(f"{100 * part:.3g} %" for part in self.parts)


def _percent(value: float) -> str:
    return f"{100 * abs(value):g}"


def even(count: int, fills: Iterable[float], *, brim: bool) -> list[LoadState]:
    """Every compartment at the same fraction.

    count: number of compartments [-]
    fills: fractions of net [-]
    brim: with the brim state at the end
    """
    found = [LoadState("even", float(f), (float(f),) * count) for f in fills]
    return found + ([LoadState("even", 1.0, (1.0,) * count, brim=True)] if brim else [])


def patterns(net: Floats) -> list[LoadState]:
    """Every full and empty pattern of several compartments but all full and all empty.

    net: net volume of each compartment [m3]
    """
    if len(net) < 2:
        return []
    choices = (p for p in product((0.0, 1.0), repeat=len(net)) if 0 < sum(p) < len(net))
    return [LoadState("pattern", float(np.dot(p, net) / net.sum()), p) for p in choices]


def emptyings(build: Build, net: Floats) -> list[LoadState]:
    """The steps of the emptying orders of a build, each compartment in quarters.

    build: the build
    net: net volume of each compartment [m3]
    """
    names = [c.name for c in build.tank.compartment]
    seen: dict[tuple[float, ...], LoadState] = {}
    for order in build.states.emptying:
        parts = [1.0] * len(net)
        for name in order:
            for left in (0.75, 0.5, 0.25, 0.0):
                parts[names.index(name)] = left
                at = tuple(parts)
                seen.setdefault(at, LoadState("emptying", float(np.dot(at, net) / net.sum()), at))
    return list(seen.values())


def everything(build: Build, net: Floats, lifted: Sequence[bool], *, top: float | None = None) -> Iterator[LoadState]:
    """Every state the checks read: standing, on grades, on side slopes, braking.

    build: the build
    net: net volume of each compartment [m3]
    lifted: for each choice of lifted axles, whether there is one lifted
    top: fraction of net that is never passed [-], None for filling to the brim
    """
    roads, count = tried(build), len(net)
    sweep = even(count, np.linspace(0.0, 1.0 if top is None else top, FILLS), brim=top is None)
    standing = [*sweep, *(capped(s, top) for s in (*patterns(net), *emptyings(build, net)))]
    for stance, crew in product(range(len(lifted)), (True, False)):
        more = {"stance": stance, "lifted": lifted[stance], "crew": crew}
        for grade in (0.0, roads.grade, -roads.grade):
            yield from (_with(s, grade=grade, **more) for s in standing)
        for slope in (roads.side_slope, -roads.side_slope):
            yield from (_with(s, slope=slope, **more) for s in sweep)
        for surface in ("braked", "frozen", "levelled"):
            yield from (_with(s, braking=roads.braking, surface=surface, **more) for s in sweep)


def capped(state: LoadState, top: float | None) -> LoadState:
    """The state with no compartment fuller than a fraction of net.

    state: the state
    top: the fraction [-], None for no cap
    """
    if top is None:
        return state
    return _with(state, parts=tuple(min(part, top) for part in state.parts), fill=min(state.fill, top))


def _with(state: LoadState, **changes: object) -> LoadState:
    return LoadState(**{**state.__dict__, **changes})
