"""What the command line prints: tables for people, JSON and CSV for machines."""

from __future__ import annotations

import csv
import json
import sys
from collections.abc import Iterable, Sequence
from pathlib import Path
from typing import TYPE_CHECKING, Any

from rich.console import Console
from rich.table import Table
from rich.text import Text

from tunwright.build.problems import nearest
from tunwright.build.reading import Document, read_file
from tunwright.build.shown import show_number
from tunwright.checks.assess import Assessment
from tunwright.checks.finding import Finding
from tunwright.checks.remedy import Remedies
from tunwright.sheets import words
from tunwright.sheets.input_words import labels

if TYPE_CHECKING:
    from tunwright.sheets.dips import DipTable

STYLES = {"holds": "green", "close": "yellow", "fails": "bold red", "open": "cyan"}
NAMED = 8
"""How many assumed inputs are named before the rest are counted."""

CAUTION = (
    "An aid for a competent person, never an approval: local codes, the chassis maker's limits and licensed practice "
    "come first."
)


def console() -> Console:
    """Where tables go; wide enough for whole words when the output is a file."""
    wide = None if sys.stdout.isatty() else 150
    return Console(width=wide, highlight=False, soft_wrap=False)


def read(path: Path) -> tuple[Document, Assessment]:
    """A build file and its assessment.

    path: the file
    """
    document = read_file(path)
    return document, Assessment(document.build)


def print_json(data: Any) -> None:
    """Print data as JSON.

    data: what to print
    """
    sys.stdout.write(json.dumps(data, ensure_ascii=False, indent=2, allow_nan=False) + "\n")


def exit_code(found: Iterable[Finding]) -> int:
    """0 all hold or are close, 1 something fails, 3 something is open.

    found: what was judged
    """
    verdicts = {one.verdict for one in found}
    return 1 if "fails" in verdicts else 3 if "open" in verdicts else 0


def print_assessment(assessment: Assessment, document: Document, *, only_troubles: bool) -> None:
    """Print the verdicts with their remedies, and the answers a lead asks for.

    assessment: the assessment
    document: the build file
    only_troubles: leave out what holds
    """
    out = console()
    out.print(Text(assessment.build.order.title, style="bold"))
    out.print(words.answer(assessment), style=STYLES[assessment.worst])
    out.print()
    findings = Remedies(assessment).findings()
    listed = [finding for finding in findings if not only_troubles or finding.verdict != "holds"]
    out.print(_verdicts(assessment, listed) if listed else "Nothing fails, is open or is close to its limit.")
    out.print()
    _print_help(out, findings, assessment)
    for title, said in (
        ("Permitted window", words.window_words(assessment)),
        ("Fill limit", words.fill_words(assessment)),
        ("Volumes", words.volume_words(assessment)),
    ):
        out.print(Text.assemble((f"{title}: ", "bold"), said))
    if assessment.assumed:
        first, more = labels(assessment.build, assessment.assumed[:NAMED]), len(assessment.assumed) - NAMED
        rest = f" and {more} more; the dossier lists them" if more > 0 else ""
        out.print(Text.assemble(("Still assumed: ", "bold"), "; ".join(first), rest))
    out.print(Text.assemble(("Build file: ", "bold"), f"SHA-256 {document.sha256[:16]}"))
    out.print(CAUTION, style="dim")


def _print_help(out: Console, findings: Sequence[Finding], assessment: Assessment) -> None:
    """What would help where something fails or is open; questions with the same answer together."""
    together: dict[tuple[str, ...], list[Finding]] = {}
    for finding in findings:
        if _below(finding, assessment):
            together.setdefault(tuple(_below(finding, assessment)), []).append(finding)
    for lines, asked in together.items():
        more = f" and {len(asked) - 1} more" if len(asked) > 1 else ""
        verdict = (words.VERDICTS[asked[0].verdict], STYLES[asked[0].verdict])
        out.print(Text.assemble(verdict, f"  {asked[0].question}{more}"))
        for line in lines:
            out.print(f"    {line}")
    if together:
        out.print()


def _verdicts(assessment: Assessment, findings: Sequence[Finding]) -> Table:
    table = Table(box=None, pad_edge=False, show_edge=False)
    for name, justify in (
        ("verdict", "left"),
        ("question", "left"),
        ("worst state", "left"),
        ("value", "right"),
        ("limit", "right"),
    ):
        table.add_column(name, justify=justify, no_wrap=name in ("verdict", "value", "limit"))  # type: ignore[arg-type]
    for finding in findings:
        value = words.value_of(finding, assessment)
        limit = words.limit_words(finding, assessment) if finding.limit is not None else ""
        mark = Text(words.VERDICTS[finding.verdict], style=STYLES[finding.verdict])
        table.add_row(mark, finding.question, finding.state, value, limit)
    return table


def _below(finding: Finding, assessment: Assessment) -> list[str]:
    """Lines under a question: what would help, what is missing."""
    lines, build = [], assessment.build
    if finding.remedy is not None:
        lines.append(f"→ {finding.remedy.words}")
        if finding.remedy.breaks:
            asked = (words.question_of(key, assessment) for key in finding.remedy.breaks)
            lines.append(f"  but then fails: {'; '.join(asked)}")
    elif finding.verdict == "fails":
        lines.append(finding.note or "→ no single change that was tried makes this hold")
    if finding.missing:
        lines.append(f"to be given or measured: {'; '.join(labels(build, finding.missing))}")
    return lines


def print_keys(assessment: Assessment) -> None:
    """Print the keys of all findings.

    assessment: the assessment
    """
    for finding in assessment.findings:
        sys.stdout.write(f"{finding.key:36} {words.VERDICTS[finding.verdict]:8}  {finding.question}\n")


def print_working(assessment: Assessment, key: str) -> bool:
    """Print the working of a finding; False, with a word on what is there, where there is none of that key.

    assessment: the assessment
    key: its key
    """
    keys = [finding.key for finding in assessment.findings]
    if key not in keys:
        near = nearest(key, keys)
        hint = f"Did you mean {near}?" if near else f"Known are: {', '.join(keys)}."
        sys.stderr.write(f"There is no finding of the key '{key}'. {hint}\n")
        return False
    finding = next(f for f in Remedies(assessment).findings() if f.key == key)
    out = console()
    out.print(Text(finding.question, style="bold"))
    verdict = Text.assemble((words.VERDICTS[finding.verdict], STYLES[finding.verdict]), f"   {finding.state}")
    out.print(verdict)
    limit = words.limit_words(finding, assessment) if finding.limit is not None else ""
    out.print(f"{words.value_of(finding, assessment)} {limit}".strip())
    out.print(f"Rule: {finding.rule.words}")
    out.print()
    if finding.working:
        out.print(_steps(finding))
    for line in dict.fromkeys((*_below(finding, assessment), finding.note)):
        if line:
            out.print(line)
    if finding.assumed:
        out.print(f"Rests on assumed values: {'; '.join(labels(assessment.build, finding.assumed))}", style="dim")
    return True


def _steps(finding: Finding) -> Table:
    table = Table(box=None, pad_edge=False)
    for name in ("", "what", "formula", "with", "result"):
        table.add_column(name, justify="right" if name == "result" else "left")
    for i, step in enumerate(finding.working):
        table.add_row(str(i + 1), step.what, step.formula, step.values, step.result)
    return table


def print_loads(assessment: Assessment, data: dict[str, Any], *, as_csv: bool) -> None:
    """Print axle loads.

    assessment: the assessment
    data: axle loads as data
    as_csv: as CSV, metric
    """
    groups = [group.name for group, _ in assessment.truck.axles.groups]
    if as_csv:
        _csv_loads(data, groups)
        return
    table = Table(box=None, pad_edge=False)
    for name in ("state", "water", *data["axles"], *groups, "gross"):
        table.add_column(name, justify="left" if name == "state" else "right", no_wrap=name != "state")
    every = assessment.truck.table
    rows = {state.id: i for i, state in enumerate(every.states)}
    for state in data["states"]:
        i = rows[state["id"]]  # printed from the loads themselves: those of the data are rounded already
        held = [float(every.axles[i, list(members)].sum()) for _, members in assessment.truck.axles.groups]
        loads = [*every.axles[i].tolist(), *held, float(every.gross[i])]
        water = words.volume(float(every.litres[i]) / 1000, assessment)
        table.add_row(state["id"], water, *(words.figure(load, "kg", assessment) for load in loads))
    console().print(table)


def _csv_loads(data: dict[str, Any], groups: list[str]) -> None:
    writer = csv.writer(sys.stdout, lineterminator="\n")
    plain = ("id", "fill", "water_l", "grade", "slope", "braking", "surface", "crew")
    writer.writerow([*plain, *(f"{name} kg" for name in (*data["axles"], *groups)), "gross_kg"])
    for state in data["states"]:
        loads = (*state["axle_loads_kg"], *state["group_loads_kg"].values())
        writer.writerow([*(state[key] for key in plain), *loads, state["gross_kg"]])


def _dipped_at(assessment: Assessment, found: DipTable) -> str:
    """Where the tank is dipped, one place for each compartment that has its own."""
    said: dict[str, list[str]] = {}
    for column in found.columns:
        said.setdefault(words.length(column.place, assessment), []).append(column.compartment)
    places = [at if len(said) == 1 else f"{at} ({', '.join(names)})" for at, names in said.items()]
    y = float(assessment.build.tank.dip_y)
    side = "in the middle" if abs(y) < 1e-6 else f"{words.length(abs(y), assessment)} {_side(y)} of the middle"
    return f"Dipped {', '.join(places)} behind the front tangent line, {side}; levels are above the floor there."


def _side(y: float) -> str:
    return "right" if y > 0 else "left"


def print_dip(assessment: Assessment, grade: float, step: float | None, *, as_csv: bool) -> None:
    """Print the dip chart, a column for every compartment.

    assessment: the assessment
    grade: slope of the road, + nose up [-]
    step: step of the level [m], None for a handy one
    as_csv: as CSV, metric
    """
    from tunwright.sheets.figures import dip_rows

    found = dip_rows(assessment, step=step, grades=(grade,)).on_grade(grade)
    names = [column.compartment for column in found.columns]
    if as_csv:
        writer = csv.writer(sys.stdout, lineterminator="\n")
        writer.writerow(["level_mm", *(f"{name} litres".strip() for name in names)])
        for level, litres in zip(found.levels, found.volumes, strict=True):
            writer.writerow([f"{1000 * level:.1f}", *(f"{1000 * one:.1f}" for one in litres)])
        return
    slope = f" on a grade of {show_number(100 * grade, 1)} %" if grade else ""
    sys.stdout.write(f"Level at the dip point and water in the tank{slope}\n{_dipped_at(assessment, found)}\n")
    table = Table(box=None, pad_edge=False)
    for name in ("level", *(name or "water" for name in names)):
        table.add_column(name, justify="right", no_wrap=True)
    for level, litres in zip(found.levels, found.volumes, strict=True):
        table.add_row(words.length(level, assessment), *(words.volume(one, assessment) for one in litres))
    console().print(table)
