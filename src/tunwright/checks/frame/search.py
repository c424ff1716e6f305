"""Searching the table of reinforcements and subframes for the lightest that holds.

Each way is tried on a copy of the build with the whole frame model, both bounds of warping, and where the stresses hold
with all other findings, axle loads among them. The lightest is tried first, so that the first that holds is the
lightest. A reinforcement that fails beyond its ends alone is tried again longer. Of one shape the thickest is tried
before the others, of the subframes the heaviest: where that does not help no other of them is tried.
"""

from __future__ import annotations

import heapq
from collections.abc import Callable, Iterable
from dataclasses import dataclass, field
from itertools import count

from tunwright.checks.assess import Assessment
from tunwright.checks.finding import TINY
from tunwright.checks.frame.candidate import Candidate, liners_for, members_for, too_thick
from tunwright.checks.frame.frame import Framework
from tunwright.checks.frame.load import Limits, Span, hardest, joined, over, stress_limits
from tunwright.checks.frame.stretch import lined
from tunwright.tables.reinforcements import LinerKind, MemberKind
from tunwright.truck.ladder.stress import Stresses

Progress = Callable[[float, str], None]
_ALIKE = 1e-6


@dataclass(frozen=True)
class Tried:
    """A way that was tried.

    candidate: what was tried
    words: what it means to do
    mass: what it adds [kg]
    share: greatest stress over its limit [-]; of the first bound alone where that fails already
    over: where the rails are over their limit still [m]
    after: the assessment with it
    breaks: keys of findings that held and fail with it; asked only where the stresses hold
    """

    candidate: Candidate
    words: str
    mass: float
    share: float
    over: tuple[Span, ...]
    after: Assessment = field(compare=False, repr=False)
    breaks: tuple[str, ...] = ()

    @property
    def holds(self) -> bool:
        """All stresses hold and nothing else fails for it."""
        return self.share <= 1.0 + TINY and not self.breaks


class Search:
    """The candidates of a build, lightest first.

    base: the assessment of the build
    start: its frame without planned reinforcements
    on_flange: reinforcements joined to a flange may be tried
    progress: called with the part done and what is being tried
    """

    def __init__(
        self, base: Assessment, start: Framework, *, on_flange: bool, progress: Progress | None = None
    ) -> None:
        self.base, self.build, self.progress, self.on_flange = base, base.build, progress, on_flange
        limits = stress_limits(self.build)
        if limits is None:
            raise ValueError("A frame without yield_strength has no limit to search for; give it first.")
        self.limits: Limits = limits
        self.first = hardest((start.stresses,), limits)
        self.share = max(self.first, hardest((start.held,), limits))
        self.over = over((start.stresses, start.held), limits)
        self.tried: list[Tried] = []
        self.unlined = ""  # why no reinforcement is tried, in a sentence
        self._done: dict[Candidate, Tried] = {}
        self._hope_of: dict[tuple[MemberKind | None, str], bool] = {}
        self._heap: list[tuple[float, int, Candidate]] = []
        self._number = count()

    def run(self, most: int) -> Tried | None:
        """The lightest that holds; None where none of those tried does.

        most: ways that are tried at most
        """
        self.liners = self._suiting()
        self._push(self._lined(None, self.over))
        self._push(Candidate(member=member) for member in self._members())
        while self._heap and len(self.tried) < most:
            _, _, one = heapq.heappop(self._heap)
            if one.liner is not None and not self._hope(one, one.liner):
                continue
            tried = self._try(one)
            if tried.holds:
                return tried
            self._push(self._after(tried))
        return None

    def _suiting(self) -> tuple[LinerKind, ...]:
        """Reinforcements that can be put on: none where one lies in the rails there already."""
        taken = self._taken(lined(self.build, self.over))
        found = () if taken else liners_for(self.build, on_flange=self.on_flange)
        if taken:
            self.unlined = "No liner is tried: one lies in the rails there already."
        elif not found and self.over:
            self.unlined = too_thick(self.build, on_flange=self.on_flange)
        return found

    def _taken(self, stretches: Iterable[Span]) -> bool:
        """Whether a reinforcement lies in the rails already where another would."""
        there = [(float(one.start), float(one.end)) for one in self.build.chassis.frame.liner if one.weighed]
        return any(a < high and low < b for a, b in stretches for low, high in there)

    def _members(self) -> tuple[MemberKind, ...]:
        """Larger subframes; none where the heaviest does not press anything less."""
        found = members_for(self.build)
        if not found:
            return ()
        heaviest = max(found, key=lambda kind: Candidate(member=kind).mass(self.build))
        return found if self._try(Candidate(member=heaviest)).share < self.first else ()

    def _push(self, candidates: Iterable[Candidate]) -> None:
        for one in candidates:
            heapq.heappush(self._heap, (one.mass(self.build), next(self._number), one))

    def _lined(self, member: MemberKind | None, spans: tuple[Span, ...]) -> list[Candidate]:
        """All reinforcements over a stretch, beside a subframe."""
        stretches = lined(self.build, spans)
        return [Candidate(kind, stretches, member) for kind in self.liners if spans and not self._taken(stretches)]

    def _hope(self, one: Candidate, liner: LinerKind) -> bool:
        """Whether the thickest of its shape is strong enough where it lies."""
        family = (one.member, liner.shape)
        if family not in self._hope_of:
            thickest = max((k for k in self.liners if k.shape == liner.shape), key=lambda kind: kind.thickness)
            tried = self._try(Candidate(thickest, one.stretches, one.member))
            self._hope_of[family] = tried.share <= 1.0 + TINY or self._longer(tried) is not None
        return self._hope_of[family]

    def _longer(self, tried: Tried) -> Candidate | None:
        """The same over a longer stretch, where the rails are over beyond its ends alone and nothing lies there."""
        one = tried.candidate
        inside = any(min(b, d) - max(a, c) > _ALIKE for a, b in tried.over for c, d in one.stretches)
        if one.liner is None or inside or not tried.over:
            return None
        longer = joined([*one.stretches, *lined(self.build, tried.over)])
        useless = longer == one.stretches or self._taken(longer)
        return None if useless else Candidate(one.liner, longer, one.member)

    def _after(self, tried: Tried) -> list[Candidate]:
        """What may be tried because of what was tried."""
        if tried.candidate.liner is None:
            return self._lined(tried.candidate.member, tried.over)
        longer = self._longer(tried)
        return [] if longer is None else [longer]

    def _try(self, one: Candidate) -> Tried:
        if one not in self._done:
            if self.progress is not None:
                self.progress(len(self.tried) / (len(self.tried) + len(self._heap) + 1), one.words(self.build))
            self._done[one] = self._asked(one)
            self.tried.append(self._done[one])
        return self._done[one]

    def _asked(self, one: Candidate) -> Tried:
        """Both bounds one after the other, and everything else where the stresses hold."""
        words, mass = one.words(self.build), one.mass(self.build)
        after = Assessment(one.on(self.build))
        frame, limits = after.framework, stress_limits(after.build)
        if frame.trouble or limits is None:
            return Tried(one, words, mass, float("inf"), (), after)
        bounds: list[Stresses] = []
        for free in (True, False):
            bounds.append(frame.stresses if free else frame.held)
            share = hardest(bounds, limits)
            if share > 1.0 + TINY:
                return Tried(one, words, mass, share, over(bounds, limits), after)
        return Tried(one, words, mass, share, (), after, self._broken(after))

    def _broken(self, after: Assessment) -> tuple[str, ...]:
        """What held and fails with it."""
        before = {finding.key for finding in self.base.findings if finding.verdict == "fails"}
        return tuple(f.key for f in after.findings if f.verdict == "fails" and f.key not in before)
