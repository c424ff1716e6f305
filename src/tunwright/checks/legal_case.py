"""Which case of a limit holds for a set of axles, and what is not known about them."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass

from tunwright.handbook.axle_law import LawAxle, matches
from tunwright.tables.rule_types import Case

_Flags = Callable[[Sequence[LawAxle]], list[bool | None]]

_FLAGS: Mapping[str, _Flags] = {
    "driven": lambda axles: [axle.driven for axle in axles],
    "steered": lambda axles: [axle.steered for axle in axles],
    "twin_tyres": lambda axles: [axle.twin for axle in axles],
    "air_suspension": lambda axles: [axle.air_suspension for axle in axles],
    "load_sharing": lambda axles: [axle.load_sharing for axle in axles],
    "driven_twin_tyres": lambda axles: [axle.twin for axle in axles if axle.driven],
    "driven_air_suspension": lambda axles: [axle.air_suspension for axle in axles if axle.driven],
}

_NAMES = {
    "air_suspension": "the kind of suspension",
    "driven_air_suspension": "the kind of suspension",
    "load_sharing": "load sharing",
    "tyre_width_from": "the tyre width",
    "tyre_width_below": "the tyre width",
}


@dataclass(frozen=True)
class Chosen:
    """The case taken.

    case: the case
    unknown: what is not known and would have decided; the stricter case was taken
    """

    case: Case
    unknown: tuple[str, ...]


def choose(cases: Sequence[Case], axles: Sequence[LawAxle]) -> Chosen | None:
    """The first case whose conditions are met; the strictest one where that is not known; None if none holds.

    cases: in the order of the rule file
    axles: the axles judged
    """
    possible: list[tuple[Case, tuple[str, ...]]] = []
    for case in cases:
        answers = {field: _answer(field, wanted, axles) for field, wanted in case.conditions.items()}
        if False in answers.values():
            continue
        unknown = tuple(_NAMES[field] for field, answer in answers.items() if answer is None)
        possible.append((case, unknown))
        if not unknown:
            break
    if not possible:
        return None
    strictest = min(reversed(possible), key=lambda one: _looseness(one[0]))[0]
    decides = len({(_looseness(case), case.unread) for case, _ in possible}) > 1
    asked = dict.fromkeys(name for _, unknown in possible for name in unknown if decides)
    return Chosen(strictest, tuple(asked))


def _looseness(case: Case) -> float:
    """Smaller is stricter."""
    return case.amount.value if case.amount else -(case.share or 0.0)


def _answer(field: str, wanted: str | float, axles: Sequence[LawAxle]) -> bool | None:
    """Whether one condition is met."""
    if isinstance(wanted, str):
        return matches(wanted, _FLAGS[field](axles))
    if field == "steered_axles":
        return sum(axle.steered for axle in axles) == wanted
    widths = [axle.tyre_width for axle in axles if not axle.twin]
    if not widths:
        return False
    return _width_answer(field, float(wanted), [width for width in widths if width is not None], len(widths))


def _width_answer(field: str, wanted: float, known: Sequence[float], tyres: int) -> bool | None:
    """Whether the narrowest single tyre is below, or not below, a width; one narrow tyre decides for all."""
    if known and min(known) < wanted:
        return field == "tyre_width_below"
    return None if len(known) < tyres else field == "tyre_width_from"
