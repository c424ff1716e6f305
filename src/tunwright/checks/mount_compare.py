"""What each way of mounting the tank does to frame and mounts: the rows of a table."""

from __future__ import annotations

import math
from collections.abc import Callable, Iterable, Iterator
from dataclasses import dataclass

import numpy as np

from tunwright.build.shown import show_number
from tunwright.checks.finding import TINY
from tunwright.checks.frame.frame import Framework
from tunwright.checks.frame.load import Limits, stress_limits, worst_of
from tunwright.checks.frame.mounts import extremes, opening
from tunwright.checks.mount_schemes import Scheme, schemes
from tunwright.handbook.beams import FREEDOMS, W
from tunwright.truck.ladder.ladder import Ladder
from tunwright.truck.ladder.structure import SIDES
from tunwright.truck.truck import Truck

Progress = Callable[[float, str], None]


@dataclass(frozen=True)
class SchemeRow:
    """A way of mounting beside what it does.

    key, name: of the scheme
    mounts: its mounts in words, front to rear
    trouble: why it cannot be made or has no equilibrium, empty where it has; then the figures are 0
    rail_rest: worst stress of the rails at rest [Pa]
    rail: otherwise [Pa]
    rail_state: where and in which case
    subframe: worst stress of the subframe [Pa], None without one
    press, pull: greatest forces on one side of a mount, warping free as everywhere for mounts [N]
    press_state, pull_state: which mount and which case
    rated: greatest force on the mount nearest to its rating [N], 0 where none has one
    lift: farthest that a mount opens [m]
    opened: how far the mount nearest to its travel opens [m], 0 where none has one
    twist: greatest twist of the frame between the outer axles with wheels raised crosswise [rad], None where unknown
    limits: what the members may bear, None where that is not known
    rating: rating of the mount nearest to it [N], None where none has one
    travel: travel of the mount nearest to it [m], None where none has one
    unrated: names of the mounts without a rating, held against none
    free: names of the spring mounts whose travel is not known, held against none
    """

    key: str
    name: str
    mounts: str
    trouble: str
    rail_rest: float
    rail: float
    rail_state: str
    subframe: float | None
    press: float
    press_state: str
    pull: float
    pull_state: str
    rated: float
    lift: float
    opened: float
    twist: float | None
    limits: Limits | None
    rating: float | None
    travel: float | None
    unrated: tuple[str, ...] = ()
    free: tuple[str, ...] = ()

    @property
    def over(self) -> tuple[str, ...]:
        """What is over its limit: rail at rest, rail, subframe, mount, travel."""
        pairs = [("mount", self.rated, self.rating), ("travel", self.opened, self.travel)]
        if self.limits is not None:
            pairs += [("rail at rest", self.rail_rest, self.limits.rail_rest), ("rail", self.rail, self.limits.rail)]
            pairs.append(("subframe", self.subframe or 0.0, self.limits.subframe))
        return tuple(name for name, value, limit in pairs if limit is not None and value > limit * (1.0 + TINY))

    @property
    def unknown(self) -> tuple[str, ...]:
        """What is held against no limit, for none is known: rail, subframe, mount, travel."""
        members = ("rail",) if self.subframe is None else ("rail", "subframe")
        found = () if self.limits is not None else members
        return (*found, *(("mount",) if self.unrated else ()), *(("travel",) if self.free else ()))

    @property
    def holds(self) -> bool | None:
        """Everything stays where it is and nothing is over its limit; None where that much is not known."""
        if self.trouble or self.over:
            return False
        return None if self.unknown else True


def scheme_rows(framework: Framework, progress: Progress | None = None) -> tuple[SchemeRow, ...]:
    """Ways of mounting the tank of a build, side by side; the build's own first.

    framework: the frame of the build
    progress: called with the part done and what is being tried
    NoSchemes: the frame is not known, or all mounts stand at one place
    """
    found, tried = [], schemes(framework)
    for i, scheme in enumerate(tried):
        if progress is not None:
            progress(i / len(tried), scheme.name)
        own = framework if scheme.key == "own" else Framework(Truck(scheme.on(framework.truck.build)))
        found.append(_row(scheme, own))
    return tuple(found)


def _row(scheme: Scheme, framework: Framework) -> SchemeRow:
    build = framework.truck.build
    limits = stress_limits(build)
    mounts = "; ".join(f"{one.name} ({one.kind})" if one.kind not in one.name else one.name for one in scheme.mounts)
    unrated = tuple(one.name for one in scheme.mounts if one.rating is None)
    free = tuple(one.name for one in scheme.mounts if one.kind == "spring" and one.travel is None)
    trouble = scheme.why or framework.trouble
    if trouble:
        return SchemeRow(
            scheme.key, scheme.name, mounts, trouble, 0.0, 0.0, "", None, 0.0, "", 0.0, "", 0.0, 0.0, 0.0, None, limits,
            None, None, unrated, free,
        )  # fmt: skip
    trouble = "; ".join(f"{t.case.words}: {t.lost}" for t in framework.ladder.trials if t.lost)
    bounds = (framework.stresses, framework.held)
    rail = worst_of(bounds, "rail", static=False)
    ladders = [one.ladder for one in bounds]
    forces = list(_forces(framework.ladder))
    press, pull = min(forces)[:2], max(forces)[:2]
    rated, rating = _nearest((force, limit) for force, _, limit in forces)
    opened = list(_opened(framework.ladder))
    most, travel = _nearest(opened)
    return SchemeRow(
        scheme.key,
        scheme.name,
        mounts,
        trouble,
        worst_of(bounds, "rail", static=True).value,
        rail.value,
        f"{rail.stretch.member} at {show_number(rail.x, 2)} m, {rail.trial.state(rail.fill)}",
        None if build.subframe is None else worst_of(bounds, "subframe").value,
        max(0.0, -press[0]),
        press[1],
        max(0.0, pull[0]),
        pull[1],
        rated,
        max((lift for lift, _ in opened), default=0.0),
        most,
        _twist(ladders),
        limits,
        rating,
        travel,
        unrated,
        free,
    )


def _forces(ladder: Ladder) -> Iterator[tuple[float, str, float]]:
    """Greatest press and pull on one side of each mount [N], which and when, and its rating [N], infinite without."""
    for mount in ladder.truck.build.mount:
        for force, words in extremes(ladder, mount):
            yield force, f"{mount.name}, {words}", math.inf if mount.rating is None else float(mount.rating)


def _opened(ladder: Ladder) -> Iterator[tuple[float, float]]:
    """How far each spring mount opens, and its travel, infinite where not known [m]."""
    for mount in ladder.truck.build.mount:
        if mount.kind == "spring":
            yield opening(ladder, mount)[0], math.inf if mount.travel is None else float(mount.travel)


def _nearest(found: Iterable[tuple[float, float]]) -> tuple[float, float | None]:
    """Of figures with their limits the one nearest to its limit; 0 and None where no limit is finite."""
    pairs = [(abs(value), limit) for value, limit in found if math.isfinite(limit)]
    return max(pairs, key=lambda pair: pair[0] / pair[1], default=(0.0, None))


def _twist(ladders: list[Ladder]) -> float | None:
    """Greatest twist of the frame between the outer axles, wheels raised crosswise [rad]."""
    found = [twist for ladder in ladders for twist in _twists(ladder)]
    return max(found, default=None)


def _twists(ladder: Ladder) -> Iterator[float]:
    places = ladder.truck.axles.places
    rows = [[_upright(ladder, side, float(x)) for side in SIDES] for x in (places[0], places[-1])]
    for trial in (t for t in ladder.trials if t.case.kind == "diagonal" and not t.lost):
        moved = ladder.displacements(trial)
        roll = [(moved[left] - moved[right]) / (2.0 * ladder.structure.half) for left, right in rows]
        yield float(np.abs(roll[0] - roll[1]).max())


def _upright(ladder: Ladder, side: str, x: float) -> int:
    return FREEDOMS * ladder.frame.number[ladder.structure.rail_node(side, x)] + W
