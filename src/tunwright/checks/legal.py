"""What a rule set asks of one truck: every limit on its axles, its groups, its gross mass and its outer size.

The truck is a plain list of axles; a rule set (tables) says which sets of axles count and what they may carry. Where a
fact is not known, the stricter value is used and the note says so.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping, Sequence
from itertools import pairwise
from typing import Any

from tunwright.checks.legal_case import Chosen, choose
from tunwright.checks.legal_limit import DimensionLimit, LegalLimit, Raised
from tunwright.handbook import bridge
from tunwright.handbook.axle_law import LawAxle, consecutive_sets, front_steered, spread
from tunwright.tables.rule_types import DIMENSIONS, Amount, RuleLimit, RuleSet

_FOOT = 0.3048
_INCH = 0.0254
_POUND = 0.45359237

_Members = tuple[int, ...]


def legal_limits(rules: RuleSet, axles: Sequence[LawAxle]) -> list[LegalLimit]:
    """Every limit the rule set puts on these axles, in the order of the rule file.

    A set of consecutive axles is judged where its number of axles and the distance of its outer axles fit. Of such sets
    of one limit that lie inside each other the largest is judged; in a rule set where every axle belongs to one group
    only, that holds across all its limits.

    rules: the rule set
    axles: all axles that stand on the ground, from the front
    ValueError: there is no axle, or they are not in order
    """
    if not axles:
        raise ValueError("A truck has at least one axle; none was given.")
    places = [axle.at for axle in axles]
    if any(behind <= ahead for ahead, behind in pairwise(places)):
        raise ValueError(
            f"The axles must stand in order from the front, each behind the one before; {places} m was "
            "given, for example [0.0, 4.2, 5.55] m."
        )
    found = [
        one for limit in rules.limits if limit.kind in _READERS for one in _READERS[limit.kind](rules, limit, axles)
    ]
    return found + _gross_not_held(rules, axles, found)


def dimension_limits(rules: RuleSet, axles: Sequence[LawAxle] = ()) -> list[DimensionLimit]:
    """The greatest length, width and height the rule set allows.

    rules: the rule set
    axles: all axles of the truck; a limit for another number of axles is left out. Without axles all are listed
    """
    return [
        DimensionLimit(
            rules=rules.name,
            key=limit.key,
            question=limit.question,
            dimension=limit.kind,
            value_m=case.amount.value,
            printed=case.amount.printed,
            document=limit.document,
            clause=limit.clause,
            edition=limit.edition,
            mark=limit.mark,
            note=limit.note,
        )
        for limit in rules.limits
        if limit.kind in DIMENSIONS and (not axles or limit.counts(len(axles)))
        for case in limit.cases
        if case.amount
    ]


def _fitting(limit: RuleLimit, axles: Sequence[LawAxle]) -> list[_Members]:
    """The sets of consecutive axles a limit of kind "axles" means, by their number and distance."""
    return [
        members
        for members in consecutive_sets(len(axles))
        if limit.counts(len(members)) and limit.spread.holds(spread(_pick(axles, members)))
    ]


def _sets(rules: RuleSet, limit: RuleLimit, axles: Sequence[LawAxle]) -> list[_Members]:
    """The sets of axles that are judged: none that lies inside a larger one."""
    others = [one for one in rules.limits if one.kind == "axles" and (rules.one_each or one is limit)]
    rivals = [set(members) for one in others for members in _fitting(one, axles)]
    return [members for members in _fitting(limit, axles) if not any(set(members) < rival for rival in rivals)]


def _axle_sets(rules: RuleSet, limit: RuleLimit, axles: Sequence[LawAxle]) -> Iterator[LegalLimit]:
    """Kind "axles": the summed load of a set of consecutive axles."""
    for members in _sets(rules, limit, axles):
        chosen = choose(limit.cases, _pick(axles, members))
        if chosen and chosen.case.amount:
            key = f"{limit.key}:{_signs(members)}"
            yield _valued(rules, limit, axles, members, chosen, key, chosen.case.amount)


def _gross(rules: RuleSet, limit: RuleLimit, axles: Sequence[LawAxle]) -> Iterator[LegalLimit]:
    """Kinds "gross" and "gross_per_metre": all axles together, for trucks with this number of axles."""
    everyone = tuple(range(len(axles)))
    chosen = choose(limit.cases, axles) if limit.counts(len(axles)) else None
    amount = chosen.case.amount if chosen else None
    if chosen and amount and limit.kind == "gross_per_metre":
        metres = spread(axles)
        amount = Amount(
            round(amount.value * metres, 6), f"{amount.printed} × {metres:.2f} m", amount.unit.removesuffix("/m")
        )
    if chosen and amount:
        yield _valued(rules, limit, axles, everyone, chosen, limit.key, amount)


def _share(rules: RuleSet, limit: RuleLimit, axles: Sequence[LawAxle]) -> Iterator[LegalLimit]:
    """Kind "share": some axles carry at least a share of the gross mass."""
    driven = tuple(place for place, axle in enumerate(axles) if axle.driven)
    members = driven if limit.of_axles == "driven" else front_steered(axles)
    chosen = choose(limit.cases, axles) if limit.counts(len(axles)) else None
    if not chosen:
        return
    share = chosen.case.share
    yield LegalLimit(
        **_source(rules, limit, chosen),
        key=limit.key,
        question=_asked(limit, axles, members),
        axles=members,
        share=share,
        of="gross",
        sense="at_least",
        unit="share",
        printed=f"{100 * (share or 0):g} % of the gross mass",
        note=_note(limit, axles, members, chosen),
        missing=chosen.case.unread if members else f"which axles are {limit.of_axles}: none is given as such",
    )


def _bridge(rules: RuleSet, limit: RuleLimit, axles: Sequence[LawAxle]) -> Iterator[LegalLimit]:
    """Kind "bridge": the formula, for every set of two or more consecutive axles."""
    if not limit.counts(len(axles)):
        return
    for members in consecutive_sets(len(axles), least=2):
        picked = _pick(axles, members)
        feet, tandems = spread(picked) / _FOOT, _two_tandems(picked)
        pounds = bridge.bridge_limit_lb(spread_ft=feet, axles=len(members), two_tandems=tandems)
        yield LegalLimit(
            **_source(rules, limit, None),
            key=f"{limit.key}:{_signs(members)}",
            axles=members,
            unit="lb",
            question=_asked(limit, axles, members),
            value_kg=round(pounds * _POUND, 6),
            printed=f"{pounds} lb",
            note=_joined(
                limit.note,
                f"N = {len(members)}, L = {feet:.2f} ft before rounding",
                "Two tandems: 34000 lb each from 36 ft on" if tandems else "",
            ),
        )


def _two_tandems(axles: Sequence[LawAxle]) -> bool:
    """Whether four axles are two tandems: over 40 in and not over 96 in apart each."""
    if len(axles) != 4:
        return False
    return all(40 * _INCH < spread(pair) <= round(96 * _INCH, 4) for pair in (axles[:2], axles[2:]))


_Reader = Callable[[RuleSet, RuleLimit, Sequence[LawAxle]], Iterator[LegalLimit]]

_READERS: Mapping[str, _Reader] = {
    "axles": _axle_sets,
    "gross": _gross,
    "gross_per_metre": _gross,
    "share": _share,
    "bridge": _bridge,
}


def _gross_not_held(rules: RuleSet, axles: Sequence[LawAxle], found: Sequence[LegalLimit]) -> list[LegalLimit]:
    """An open limit where the rule set has gross limits but none for this truck."""
    gross = {limit.key: limit for limit in rules.limits if limit.kind == "gross"}
    if not gross or any(one.key in gross for one in found):
        return []
    first = next(iter(gross.values()))
    return [
        LegalLimit(
            **_source(rules, first, None),
            key="gross",
            question="Is the whole truck within a gross limit?",
            axles=tuple(range(len(axles))),
            note="",
            missing=f"a gross limit for {len(axles)} axles: the rule set '{rules.name}' holds none",
        )
    ]


def _valued(
    rules: RuleSet,
    limit: RuleLimit,
    axles: Sequence[LawAxle],
    members: _Members,
    chosen: Chosen,
    key: str,
    amount: Amount,
) -> LegalLimit:
    """A limit with a mass as its value."""
    return LegalLimit(
        **_source(rules, limit, chosen),
        key=key,
        question=_asked(limit, axles, members),
        axles=members,
        value_kg=amount.value,
        unit=amount.unit,
        printed=amount.printed,
        note=_note(limit, axles, members, chosen),
        missing=chosen.case.unread,
        raised=_raised(chosen, axles, members),
    )


def _raised(chosen: Chosen, axles: Sequence[LawAxle], members: _Members) -> Raised | None:
    """The higher value under a load condition."""
    lift = chosen.case.lift
    if lift is None:
        return None
    watched = tuple(place for place in members if lift.who == "all" or axles[place].driven)
    return Raised(lift.amount.value, lift.amount.printed, watched, lift.each.value)


def _source(rules: RuleSet, limit: RuleLimit, chosen: Chosen | None) -> dict[str, Any]:
    """Where a limit comes from."""
    own = chosen.case if chosen else None
    return {
        "rules": rules.name,
        "document": limit.document,
        "edition": limit.edition,
        "clause": (own and own.clause) or limit.clause,
        "mark": (own and own.mark) or limit.mark,
    }


def _note(limit: RuleLimit, axles: Sequence[LawAxle], members: _Members, chosen: Chosen) -> str:
    """The words on a limit, and what was not known."""
    unknown = f"{' and '.join(chosen.unknown)} of {_words(axles, members)} not given: the stricter value is used"
    return _joined(limit.note, chosen.case.note, unknown[0].upper() + unknown[1:] if chosen.unknown else "")


def _joined(*sentences: str) -> str:
    """Sentences one behind the other, each with its full stop."""
    return " ".join(f"{one.rstrip('.')}." for one in sentences if one)


def _asked(limit: RuleLimit, axles: Sequence[LawAxle], members: _Members) -> str:
    """The question with its axles."""
    return limit.question.replace("{axles}", _words(axles, members))


def _pick(axles: Sequence[LawAxle], members: _Members) -> list[LawAxle]:
    return [axles[place] for place in members]


def _signs(members: _Members) -> str:
    """Axles as a person counts them: 2+3."""
    return "+".join(str(place + 1) for place in members)


def _words(axles: Sequence[LawAxle], members: _Members) -> str:
    """Axles in words: "no axle", "axle 1", "axles 2 and 3 (rear bogie)", "axles 1 to 4"."""
    if len(members) < 2:
        return f"axle {members[0] + 1}" if members else "no axle"
    joint = " and " if len(members) == 2 else " to "
    names = {axles[place].group for place in members}
    name = names.pop() if len(names) == 1 else None
    return f"axles {members[0] + 1}{joint}{members[-1] + 1}{f' ({name})' if name else ''}"
