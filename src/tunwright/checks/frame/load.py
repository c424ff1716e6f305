"""How hard a frame is pressed: the worst stress of its members, case by case, and where along the rails it is too much.

Every figure is the greater of the two bounds, the rails' warping free and held at the cross-members.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from tunwright.build.model import Build
from tunwright.checks.finding import TINY
from tunwright.tables.read import materials, shop_value
from tunwright.truck.ladder.ladder import Trial
from tunwright.truck.ladder.stress import Stresses, Worst

Floats = NDArray[np.float64]
Span = tuple[float, float]


@dataclass(frozen=True)
class Limits:
    """What the members may bear.

    rail_rest: rails at rest [Pa]
    rail: rails otherwise [Pa]
    subframe: [Pa], infinite without a subframe
    """

    rail_rest: float
    rail: float
    subframe: float

    def of(self, member: str, trial: Trial) -> float:
        """The limit of a member in a case [Pa].

        member: ends with rail or subframe
        trial: the case
        """
        if member.endswith("subframe"):
            return self.subframe
        return self.rail_rest if trial.case.static else self.rail


def stress_limits(build: Build) -> Limits | None:
    """What the members of a build may bear; None where the rails' yield strength is not known.

    build: the build
    """
    strength, sub = build.chassis.frame.yield_strength, build.subframe
    if strength is None:
        return None
    rest, moving = shop_value("frame_static_share"), shop_value("frame_dynamic_share")
    lower = np.inf if sub is None else materials()[sub.material].yield_strength(float(sub.thickness))
    return Limits(rest * float(strength), moving * float(strength), moving * lower)


def worst_of(bounds: Sequence[Stresses], member: str, *, static: bool | None = None) -> Worst:
    """The greatest stress of a member in all bounds.

    bounds: stresses of one frame, warping free and held
    member: rail or subframe
    static: only at rest, or only otherwise; None for all
    """
    return max((one.worst(member, static=static) for one in bounds), key=lambda found: found.value)


def hardest(bounds: Sequence[Stresses], limits: Limits) -> float:
    """The greatest stress as a share of its limit [-]; above 1 where something is over.

    bounds: stresses of one frame
    limits: what its members may bear
    """
    return max(float(share.max()) for one in bounds for share in _shares(one, limits))


def over(bounds: Sequence[Stresses], limits: Limits) -> tuple[Span, ...]:
    """Where the rails are over their limit, front to rear; between two nodes by the chord, which lies above [m].

    bounds: stresses of one frame
    limits: what its members may bear
    """
    found: list[Span] = []
    for one in bounds:
        for stretch, share in zip(one.stretches, _shares(one, limits), strict=True):
            a, b = share.max(axis=-1).max(axis=0)
            if stretch.member.endswith("rail") and max(a, b) > 1.0 + TINY:
                found.append(_part_over(stretch.start, stretch.end, float(a), float(b)))
    return joined(found)


def _part_over(start: float, end: float, a: float, b: float) -> Span:
    """The part of a stretch over its limit, by the line between the shares of its ends."""
    if min(a, b) > 1.0:
        return start, end
    x = start + (end - start) * (1.0 - a) / (b - a)
    return (start, x) if a > 1.0 else (x, end)


def joined(spans: Sequence[Span], *, gap: float = 1e-6) -> tuple[Span, ...]:
    """Spans front to rear, those that touch made one.

    spans: from where to where [m]
    gap: those this near to each other are one as well [m]
    """
    found: list[Span] = []
    for a, b in sorted(spans):
        if found and a <= found[-1][1] + gap:
            found[-1] = (found[-1][0], max(b, found[-1][1]))
        else:
            found.append((a, b))
    return tuple(found)


def _shares(one: Stresses, limits: Limits) -> Floats:
    """Stress over its limit (stretches, cases, ends, fills) [-]."""
    trials = [t for t in one.ladder.trials if not t.lost]
    mises = np.stack([one.mises[t.case.key] for t in trials], axis=1)
    bound = np.array([[limits.of(s.member, t) for t in trials] for s in one.stretches])
    found: Floats = mises / bound[:, :, None, None]
    return found


@dataclass(frozen=True)
class CaseRow:
    """A case beside what it does to a member.

    key, words: of the case
    member: rail or subframe
    where: left rail at 1.75 m
    fill: at which fill [-]
    stress: [Pa]
    limit: [Pa], None where it is not known
    """

    key: str
    words: str
    member: str
    where: str
    fill: float
    stress: float
    limit: float | None


def case_rows(bounds: Sequence[Stresses], limits: Limits | None) -> Iterator[CaseRow]:
    """Every case with its worst stress in rails and subframe.

    bounds: stresses of one frame
    limits: what its members may bear, None where that is not known
    """
    for number, trial in enumerate(bounds[0].ladder.trials):
        for member in ("rail", "subframe"):
            found = [row for one in bounds for row in _row(one, number, member, limits)]
            if found and not trial.lost:
                yield max(found, key=lambda row: row.stress)


def _row(one: Stresses, number: int, member: str, limits: Limits | None) -> Iterator[CaseRow]:
    trial = one.ladder.trials[number]
    mine = [s for s in one.stretches if s.member.endswith(member)]
    rows = [i for i, s in enumerate(one.stretches) if s.member.endswith(member)]
    if not mine or trial.lost:
        return
    table = one.mises[trial.case.key][rows]
    stretch, end, fill = (int(i) for i in np.unravel_index(int(table.argmax()), table.shape))
    place = mine[stretch].end if end else mine[stretch].start
    yield CaseRow(
        trial.case.key,
        trial.case.words,
        member,
        f"{mine[stretch].member} at {place:.2f} m",
        float(trial.fills[fill]),
        float(table[stretch, end, fill]),
        None if limits is None else limits.of(member, trial),
    )
