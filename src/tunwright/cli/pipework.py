"""What `tunwright pipework` prints and writes: what flows in every duty, and the sheets of the pipework."""

from __future__ import annotations

import math
from collections.abc import Sequence
from pathlib import Path

import click
from rich.console import Console
from rich.table import Table
from rich.text import Text

from tunwright.build.reading import Document
from tunwright.build.shown import show
from tunwright.checks.assess import Assessment
from tunwright.checks.finding import Finding
from tunwright.checks.pipework.worked import Worked
from tunwright.cli.reports import CAUTION, STYLES, console, exit_code, print_json, read
from tunwright.sheets import words
from tunwright.sheets.pipework.data import pipework_data
from tunwright.sheets.pipework.expected import expected
from tunwright.sheets.pipework.files import pipework_pdf, pipework_xlsx, write_csv
from tunwright.sheets.pipework.flows import asked, concerning, findings_of, general, half, plumbed, wet_runs
from tunwright.sheets.pipework.listing import said
from tunwright.sheets.pipework.lists import size_name
from tunwright.sheets.pipework.road.load import permitted
from tunwright.sheets.whole_file import written
from tunwright.truck.pipework.duties import PumpPoint

_RUNS = (("run", "left"), ("pipe", "left"), ("flow", "right"), ("velocity", "right"), ("pressure behind", "right"))


def report(
    path: Path, *, duty: str | None, as_json: bool, pdf: Path | None, xlsx: Path | None, folder: Path | None
) -> int:
    """Print what flows in the duties, or write the sheets; the exit code.

    path: the build file
    duty: name of the one duty that is asked for, None for all
    as_json: print as JSON
    pdf: the PDF to write
    xlsx: the workbook to write
    folder: where to write the CSV files
    Raises ValueError where there is no pipework or no such duty.
    """
    document, assessment = read(path)
    worked, findings = asked(assessment, duty), findings_of(assessment)
    files = _write(document, assessment, pdf, xlsx, folder)
    for file in files:
        click.echo(file, err=as_json)
    if as_json:
        print_json(pipework_data(assessment, duty))
    elif not files:
        _print(assessment, worked, findings)
    return exit_code(findings if duty is None else [each for one in worked for each in concerning(findings, one)])


def _write(
    document: Document, assessment: Assessment, pdf: Path | None, xlsx: Path | None, folder: Path | None
) -> list[Path]:
    made = [] if pdf is None else [written(pdf, pipework_pdf(assessment, document=document))]
    made += [] if xlsx is None else [written(xlsx, pipework_xlsx(assessment, document=document))]
    return made + ([] if folder is None else write_csv(assessment, folder))


def _print(assessment: Assessment, worked: Sequence[Worked], findings: Sequence[Finding]) -> None:
    out = console()
    out.print(Text(assessment.build.order.title, style="bold"))
    if not worked:
        out.print("The pipework is asked to do nothing: give it tables [[pipework.duty]].", style=STYLES["open"])
    for one in worked:
        _print_duty(out, assessment, one, concerning(findings, one))
    rest = [each for each in general(findings, worked) if each.verdict != "holds"]
    if rest and len(worked) == len(assessment.pipes.worked):
        out.print()
        out.print(Text("The pipework as a whole", style="bold"))
        _print_findings(out, assessment, rest)
    out.print()
    out.print("Tables and pump with the tank half full; ranges over all its levels.", style="dim")
    out.print(CAUTION, style="dim")


def _print_duty(out: Console, assessment: Assessment, one: Worked, findings: Sequence[Finding]) -> None:
    out.print()
    out.print(Text(one.duty.name, style="bold"))
    system = assessment.build.order.units
    if one.over is not None:
        if wet_runs(half(one)):
            out.print(_runs(assessment, one))
        point = half(one).pump
        out.print("The pump stands still." if point is None else _pump(assessment, one, point))
    for sentence in expected(one, plumbed(assessment), system, permitted(assessment)):
        out.print(sentence, style=None if one.over is not None else STYLES["fails"])
    _print_findings(out, assessment, findings)


def _print_findings(out: Console, assessment: Assessment, findings: Sequence[Finding]) -> None:
    for each in findings:
        if each.verdict != "holds":
            figures = f"{words.value_of(each, assessment)} {words.limit_words(each, assessment)}".strip()
            mark = Text(words.VERDICTS[each.verdict], style=STYLES[each.verdict])
            told = " ".join(part for part in (figures if each.limit is not None else "", each.note) if part)
            out.print(Text.assemble(mark, f"  {each.question} {told}"))


def _runs(assessment: Assessment, one: Worked) -> Table:
    """Runs in which water flows, the tank half full."""
    table = Table(box=None, pad_edge=False)
    for name, justify in _RUNS:
        table.add_column(name, justify=justify, no_wrap=justify == "right")  # type: ignore[arg-type]
    state, system = half(one), assessment.build.order.units
    for name in wet_runs(state):
        run = state.plumbing.runs[name]
        flow, speed = state.flow(name), abs(state.velocity(name))
        behind = said(state.pressure(state.behind(name)), "pressure", system)
        backwards = f"{name} (from {run.end} to {run.start})" if flow < 0 else name
        pipe = f"{run.series}, {size_name(state.plumbing.size(run), system)}"
        table.add_row(backwards, pipe, said(abs(flow), "flow", system), said(speed, "velocity", system), behind)
    return table


def _pump(assessment: Assessment, one: Worked, point: PumpPoint) -> str:
    system = assessment.build.order.units
    if math.isnan(point.has):
        return f"Pump: {said(point.speed, 'rotation', system)}, and no water goes through it."
    engine = "" if one.duty.engine is None else f" (engine {show(float(one.duty.engine), 'rotation')})"
    turns = f"{said(point.speed, 'rotation', system)}{engine}"
    works = f"{said(point.flow, 'flow', system)} at {said(point.head, 'head', system)}"
    takes = f"takes {said(point.power, 'power', system)}, {said(point.torque, 'torque', system)} at its shaft"
    suction = f"{said(point.has, 'head', system)}, needs {said(point.needs, 'head', system)}"
    beyond = "" if point.within else "; beyond the end of its curve"
    return f"Pump: {turns}, {works}{beyond}; {takes}; suction head there is {suction}."
