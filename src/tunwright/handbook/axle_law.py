"""Axles as a road law sees them: where they stand, what they are, which of them count together.

Answers are yes, no, or not known (None): what is not known is never guessed.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

TWIN = 4
"""Tyres on one axle from which on it has twin tyres."""


@dataclass(frozen=True, kw_only=True)
class LawAxle:
    """One axle.

    at: distance behind the first axle [m]
    steered: it is steered by the driver
    driven: it is driven
    tyres: number of tyres, 2 or 4 [-]
    tyre_width: section width of one tyre [m], None if not known
    air_suspension: air suspension or one recognised as equal, None if not known
    group: name of the axle group in the build, for the wording only
    load_sharing: it shares its load with the other axles of its group, None if not known
    """

    at: float
    steered: bool
    driven: bool
    tyres: int
    tyre_width: float | None = None
    air_suspension: bool | None = None
    group: str | None = None
    load_sharing: bool | None = None

    @property
    def twin(self) -> bool:
        """Twin tyres."""
        return self.tyres >= TWIN


def spread(axles: Sequence[LawAxle]) -> float:
    """Distance between the outermost axles, to a tenth of a millimetre, so that 1.3 m is 1.3 m [m].

    axles: in order from the front, one or more
    """
    return round(axles[-1].at - axles[0].at, 4)


def consecutive_sets(count: int, *, least: int = 1) -> list[tuple[int, ...]]:
    """Every set of consecutive axles, as indices, from the front; the smaller set first.

    count: number of axles [-]
    least: least size of a set [-]
    """
    return [tuple(range(first, first + size)) for size in range(least, count + 1) for first in range(count - size + 1)]


def front_steered(axles: Sequence[LawAxle]) -> tuple[int, ...]:
    """Indices of the steered axles at the front: all up to the first that is not steered.

    axles: in order from the front
    """
    first_fixed = next((place for place, axle in enumerate(axles) if not axle.steered), len(axles))
    return tuple(range(first_fixed))


def matches(wanted: str, answers: Sequence[bool | None]) -> bool | None:
    """Whether as many are so as wanted; None if the unknown ones decide.

    wanted: "all", "any", "some" (but not all) or "none"; of no axles only "none" is so
    answers: one for each axle
    """
    if wanted == "some":
        return _and(matches("any", answers), _not(matches("all", answers)))
    if wanted == "none":
        return _not(matches("any", answers))
    decisive = wanted == "any"
    if not answers or decisive in answers:
        return decisive and bool(answers)
    return None if None in answers else not decisive


def _not(answer: bool | None) -> bool | None:  # noqa: FBT001 -- an answer is what is passed
    return None if answer is None else not answer


def _and(one: bool | None, other: bool | None) -> bool | None:  # noqa: FBT001 -- same
    if one is False or other is False:
        return False
    return None if one is None or other is None else True
