"""A finding: one question about the build, answered with a number, its limit, its rule and its working."""

from __future__ import annotations

import math
from dataclasses import dataclass, replace
from typing import Literal

from tunwright.build.us_words import us_words
from tunwright.tables.read import shop_value, shop_values

Verdict = Literal["holds", "close", "fails", "open"]
Sense = Literal["at_most", "at_least"]

TINY = 1e-9
"""A value this near to its limit, as a share of it, is on it: rounding of the last bits is no failure."""

ORDER: tuple[Verdict, ...] = ("fails", "open", "close", "holds")
"""Verdicts, worst first."""


@dataclass(frozen=True)
class Rule:
    """Where a limit comes from.

    document: the document, or who set the limit
    clause: where in it
    edition: which edition, and how it was read
    mark: published, maker's, shop's, common practice, derived …
    """

    document: str
    clause: str = ""
    edition: str = ""
    mark: str = ""

    @property
    def words(self) -> str:
        """The rule on one line."""
        mark = "" if self.mark and self.mark in self.document else self.mark
        return ", ".join(word for word in (self.document, self.clause, self.edition, mark) if word)


def shop_rule(key: str) -> Rule:
    """Who says what a shop value is.

    key: its name, for example "ullage"
    """
    found = shop_values()[key]
    return Rule(found.source, mark=found.mark)


@dataclass(frozen=True)
class Step:
    """One step of a working.

    what: what is worked out
    formula: in symbols or words
    values: the values put in
    result: what comes out, with its unit
    source: where the formula or the values come from
    """

    what: str
    formula: str
    values: str
    result: str
    source: str = ""


@dataclass(frozen=True)
class Remedy:
    """What would make a failing finding hold, tried on a copy.

    words: what to do, with a number
    breaks: keys of findings that held and fail once it is done
    cures: keys of other findings that failed and hold once it is done
    """

    words: str
    breaks: tuple[str, ...] = ()
    cures: tuple[str, ...] = ()


@dataclass(frozen=True)
class Finding:
    """The answer to one question.

    key: stable key
    question: what is asked
    state: the worst state, in words
    value: the number found, None where an input is missing
    limit: the number it is held against, None where there is none
    unit: of both
    sense: whether the value must be at most or at least the limit
    verdict: holds, close, fails or open
    rule: where the limit comes from
    working: how the value came about
    assumed: paths of assumed inputs it rests on
    missing: paths of inputs that are missing
    note: a word on it
    remedy: what would make it hold
    """

    key: str
    question: str
    state: str
    value: float | None
    limit: float | None
    unit: str
    sense: Sense
    verdict: Verdict
    rule: Rule
    working: tuple[Step, ...] = ()
    assumed: tuple[str, ...] = ()
    missing: tuple[str, ...] = ()
    note: str = ""
    remedy: Remedy | None = None


def verdict(value: float | None, limit: float | None, sense: Sense) -> Verdict:
    """How a value stands to its limit; what is missing or not a number is open, never held.

    value: the value
    limit: its limit
    sense: whether the value must be at most or at least the limit
    """
    if value is None or limit is None or not math.isfinite(value) or math.isnan(limit):
        return "open"
    room = limit - value if sense == "at_most" else value - limit
    size = max(abs(limit), 1e-12)
    if room < -TINY * size:
        return "fails"
    return "close" if room < shop_value("close_band") * size else "holds"


def not_known(
    key: str,
    question: str,
    rule: Rule,
    unit: str,
    missing: tuple[str, ...],
    *,
    sense: Sense = "at_most",
    limit: float | None = None,
    note: str = "",
) -> Finding:
    """An open finding: an input is missing.

    key: its key
    question: what is asked
    rule: where the limit comes from
    unit: of value and limit
    missing: what has to be measured or given
    sense: whether the value must be at most or at least the limit
    limit: the limit, where that much is known
    note: a word on it
    """
    return Finding(key, question, "", None, limit, unit, sense, "open", rule, missing=missing, note=note)


def in_us_words(finding: Finding) -> Finding:
    """A finding whose sentences give their figures in US units; value and limit stay in the finding's own unit.

    finding: the finding
    """
    remedy, turn = finding.remedy, us_words
    steps = tuple(replace(step, values=turn(step.values), result=turn(step.result)) for step in finding.working)
    words = None if remedy is None else replace(remedy, words=turn(remedy.words))
    return replace(finding, state=turn(finding.state), note=turn(finding.note), remedy=words, working=steps)
