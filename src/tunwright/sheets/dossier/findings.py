"""Every finding with its working. What repeats an earlier finding is referred to, not printed again."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from itertools import takewhile

from tunwright.build.model import Build
from tunwright.checks.assess import Assessment
from tunwright.checks.finding import Finding, Rule, Step
from tunwright.sheets.dossier.amounts import NO_SIGN, NOT_KNOWN, Amounts, in_words
from tunwright.sheets.dossier.blocks import (
    Block,
    Cell,
    Part,
    cell,
    column,
    head,
    lines_of,
    note,
    row,
    table,
    verdict_cell,
    words,
)
from tunwright.sheets.input_words import labels

_WHOLE = 45  # lines of a finding that are kept on one page
_LEAST_SHARED = 4  # steps an earlier finding must share before it is referred to
_MARKS = {
    "seen": "seen in print",
    "memory": "from memory, the text not read",
    "derived": "derived from the laws of mechanics",
    "maker's": "set by the maker",
    "customer's": "set by the customer",
    "shop": "set by the shop",
}


def findings_part(assessment: Assessment, amounts: Amounts, findings: Sequence[Finding]) -> Part:
    """The part with all findings: an overview, then each with its working.

    assessment: the assessment
    amounts: how quantities are printed
    findings: its findings, worst first, with their remedies
    """
    close = "within the shop's band of the limit"
    blocks: list[Block] = [
        words(
            f"One line for each question, worst first; the worst state is named. Close: holds, but {close}. "
            "Open: an input is missing."
        ),
        overview(findings, amounts),
        head("Each finding with its working"),
    ]
    if amounts.system == "us":
        blocks.append(note("Workings are in SI units: 1 kg = 2.2046 lb, 1 m = 39.370 in, 1 L = 0.26417 US gal."))
    book = _Book(assessment.build, amounts, findings)
    blocks += [book.finding(i) for i in range(len(findings))]
    return Part("Findings", blocks)


def sides(finding: Finding, amounts: Amounts) -> tuple[str, str]:
    """Value and limit as printed, the limit with its sign; what is open has no value yet.

    finding: the finding
    amounts: how quantities are printed
    """
    value, limit = amounts.of_finding(finding)
    sign = "≤" if finding.sense == "at_most" else "≥"
    return (
        NOT_KNOWN if finding.verdict == "open" else value,
        f"{sign} {limit}" if finding.limit is not None else NO_SIGN,
    )


def overview(findings: Sequence[Finding], amounts: Amounts) -> Block:
    """All findings, one line each.

    findings: the findings
    amounts: how quantities are printed
    """
    columns = [
        column("no.", "7mm", right=True),
        column("verdict", "15mm"),
        column("question", "1.35fr"),
        column("value", "20mm", right=True),
        column("limit", "22mm", right=True),
        column("worst state", "1fr"),
        column("rule", "1fr"),
    ]
    rows = []
    for number, finding in enumerate(findings, start=1):
        value, limit = sides(finding, amounts)
        state: Cell = finding.state or cell(NO_SIGN, tone="soft")
        rule = ", ".join(part for part in (finding.rule.document, finding.rule.clause) if part)
        rows.append(row([str(number), verdict_cell(finding.verdict), finding.question, value, limit, state, rule]))
    return table(columns, rows, size=7.5)


class _Book:
    """The findings in print, each knowing those before it.

    build: the build
    amounts: how quantities are printed
    findings: the findings in their order
    """

    def __init__(self, build: Build, amounts: Amounts, findings: Sequence[Finding]) -> None:
        self.build, self.amounts, self.findings = build, amounts, findings
        self.numbers = {finding.key: i + 1 for i, finding in enumerate(findings)}

    def finding(self, index: int) -> Block:
        """One finding."""
        finding = self.findings[index]
        value, limit = sides(finding, self.amounts)
        shared, before = self._shared(index)
        steps = finding.working[shared:]
        sources = list(dict.fromkeys(step.source for step in steps if step.source))
        facts = [list(fact) for fact in self._facts(index)]
        same = f"Steps 1 to {shared} are those of finding {before}." if shared else ""
        return {
            "is": "finding",
            "number": index + 1,
            "verdict": finding.verdict,
            "question": finding.question,
            "value": value,
            "limit": limit,
            "facts": facts,
            "whole": _lines(facts, steps) <= _WHOLE,
            "long": _lines(facts, ()) > _WHOLE,
            "same": same,
            "steps": [_step(step, shared + i + 1, sources) for i, step in enumerate(steps)],
            "sources": [f"{_letter(i)}: {source}" for i, source in enumerate(sources)],
        }

    def _facts(self, index: int) -> Iterator[tuple[str, str]]:
        """What is said of a finding above its working: heading and text."""
        finding = self.findings[index]
        if finding.state:
            yield "worst state", finding.state
        yield "rule", _rule(finding.rule)
        if finding.missing:
            yield "not known", self._missing(index)
        if finding.assumed:
            yield "assumed", self._assumed(index)
        if finding.verdict == "fails":
            yield "remedy", self._remedy(finding)
        if finding.note:
            yield "note", finding.note

    def _missing(self, index: int) -> str:
        """What has to be measured; an earlier finding with the same stands for it."""
        mine = self.findings[index].missing
        for i in range(index):
            if self.findings[i].missing == mine and len(mine) > 1:
                return f"measure or give what is named under finding {i + 1}"
        return f"measure or give: {'; '.join(labels(self.build, mine))}"

    def _assumed(self, index: int) -> str:
        """The assumed inputs; an earlier finding with the same ones stands for them."""
        mine = self.findings[index].assumed
        for i in range(index):
            if self.findings[i].assumed == mine:
                return f"the {len(mine)} inputs named under finding {i + 1}" if len(mine) > 1 else f"as finding {i + 1}"
        return "; ".join(labels(self.build, mine))

    def _remedy(self, finding: Finding) -> str:
        remedy = finding.remedy
        if remedy is None:
            return "no single change that was tried makes it hold"
        said = [remedy.words]
        if remedy.cures:
            said.append(f"this also cures {self._listed(remedy.cures)}")
        if remedy.breaks:
            said.append(f"but then {self._listed(remedy.breaks)} would fail")
        return "; ".join(said)

    def _listed(self, keys: Sequence[str]) -> str:
        """Findings by number; one that is not here by its key."""
        known = sorted(self.numbers[key] for key in keys if key in self.numbers)
        others = [key for key in keys if key not in self.numbers]
        names = [*map(str, known), *others]
        word = "finding" if len(names) == 1 else "findings"
        return f"{word} {', '.join(names)}"

    def _shared(self, index: int) -> tuple[int, int]:
        """How many first steps an earlier finding has in common with this one, and its number."""
        mine = self.findings[index].working
        best, at = 0, 0
        for i in range(index):
            pairs = zip(self.findings[i].working, mine, strict=False)
            count = sum(1 for _ in takewhile(lambda pair: pair[0] == pair[1], pairs))
            if count > best:
                best, at = count, i + 1
        return (best, at) if best >= _LEAST_SHARED else (0, 0)


def _lines(facts: Sequence[Sequence[str]], steps: Sequence[Step]) -> int:
    """About how many lines a finding takes."""
    said = sum(lines_of(len(text), 100) for _, text in facts)
    widest = (max(len(s.what), len(s.formula), len(s.values)) for s in steps)
    return said + sum(lines_of(letters, 26) for letters in widest)


def _step(step: Step, number: int, sources: Sequence[str]) -> list[str]:
    """A step as a row: number, what, formula, values, result, letter of its source."""
    letter = _letter(sources.index(step.source)) if step.source else ""
    computed = [in_words(text) for text in (step.formula, step.values, step.result)]
    return [str(number), step.what, *computed, letter]


def _letter(index: int) -> str:
    """a, b, c … z, a2, b2 …"""
    lap, place = divmod(index, 26)
    return chr(ord("a") + place) + (str(lap + 1) if lap else "")


def _rule(rule: Rule) -> str:
    """A rule with the meaning of its mark."""
    known = ", ".join(part for part in (rule.document, rule.clause, rule.edition) if part)
    mark = _MARKS.get(rule.mark, rule.mark)
    return f"{known} ({mark})" if mark and mark not in known else known
