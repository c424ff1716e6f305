"""The plain answer of the cover: does it hold, and if not, what would."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

import numpy as np

from tunwright.checks.assess import Assessment
from tunwright.checks.finding import Finding
from tunwright.sheets import words as said
from tunwright.sheets.dossier.amounts import Amounts
from tunwright.sheets.input_words import labels

_MOST_NAMED = 6


@dataclass(frozen=True)
class Answer:
    """The answer in plain words.

    head: in two to five words
    rest: the rest of the sentence, may be empty
    lines: what goes with it
    """

    head: str
    rest: str
    lines: tuple[str, ...]


def plain_answer(assessment: Assessment, amounts: Amounts, findings: Sequence[Finding]) -> Answer:
    """The answer of an assessment.

    assessment: the assessment
    amounts: how quantities are printed
    findings: its findings, worst first
    """
    head, rest = _parted(said.answer(assessment))
    return Answer(head, rest, tuple(_lines(assessment, amounts, findings)))


def _parted(sentence: str) -> tuple[str, str]:
    """The short answer, and what is said after it."""
    for mark in (": ", ", ", ". "):
        head, _, rest = sentence.partition(mark)
        if rest:
            return f"{head}.", f"{rest[0].upper()}{rest[1:]}"
    return sentence, ""


def _lines(assessment: Assessment, amounts: Amounts, findings: Sequence[Finding]) -> Iterator[str]:
    worst = findings[0] if findings else None
    if worst is not None and worst.verdict == "fails":
        value, limit = amounts.of_finding(worst)
        sense = "at most" if worst.sense == "at_most" else "at least"
        state = f" ({worst.state})" if worst.state else ""
        yield f"{worst.question} No: {value}, allowed {sense} {limit}{state}."
    if assessment.counts["fails"]:
        yield _gross(assessment, amounts)
    if assessment.counts["open"]:
        yield _open(assessment)
    number = len(assessment.assumed)
    if number:
        inputs = "one assumed value" if number == 1 else f"{number} assumed values"
        yield f"It rests on {inputs}, to be measured before release."


def _gross(assessment: Assessment, amounts: Amounts) -> str:
    """The gross rating against the most it can weigh."""
    rating = float(assessment.build.chassis.gross_rating)
    most = float(np.max(assessment.truck.table.gross))
    weighs = f"{amounts.mass(most)} is the most it can weigh, filled to the brim with the crew aboard"
    if most <= rating * (1 + 1e-9):
        return f"The gross rating of {amounts.mass(rating)} is enough: {weighs}."
    return f"The gross rating of {amounts.mass(rating)} is not enough: {weighs}."


def _open(assessment: Assessment) -> str:
    """What has to be measured or given."""
    every = labels(assessment.build, (path for finding in assessment.findings for path in finding.missing))
    more = len(every) - _MOST_NAMED
    tail = f"; and {more} more" if more > 0 else ""
    asked = f"Measure or give: {'; '.join(every[:_MOST_NAMED])}{tail}."
    number = assessment.counts["open"]
    stays = "One question stays open." if number == 1 else f"{number} questions stay open."
    return asked if assessment.worst == "open" else f"{stays} {asked}"
