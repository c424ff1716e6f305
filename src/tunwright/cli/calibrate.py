"""What `tunwright calibrate` prints and writes: a flow meter by its runs."""

from __future__ import annotations

from pathlib import Path

import click
from rich.table import Table
from rich.text import Text

from tunwright.build.typed import capital
from tunwright.build.units import parse
from tunwright.checks.finding import Finding
from tunwright.cli.reports import CAUTION, STYLES, console, exit_code, print_json
from tunwright.proof.calibration import Calibration, calibrated
from tunwright.proof.calibration_findings import calibration_findings
from tunwright.sheets import words
from tunwright.sheets.proof.calibration_words import answer, columns, percent, rows, sentences
from tunwright.sheets.proof.data import calibration_data
from tunwright.sheets.proof.files import calibration_pdf
from tunwright.sheets.whole_file import written


def k_factor(text: str | None) -> float | None:
    """The K-factor of an option [1/m3].

    text: as typed, such as "120 pulses/L"; None where it was not given
    Raises UnitError, or ValueError where it is not above zero.
    """
    if text is None:
        return None
    value = float(parse(text, "pulses"))
    if value <= 0.0:
        raise ValueError(f"A K-factor is above zero; '{text}' was given, for example --k \"120 pulses/L\".")
    return value


def report(path: Path, *, k: str | None, pdf: Path | None, as_json: bool) -> int:
    """Print what the runs say, or write the sheet; the exit code.

    path: the file of runs
    k: K-factor that the display uses, as typed
    pdf: the PDF to write
    as_json: print as JSON
    Raises RowProblems with everything wrong with the file.
    """
    one = calibrated(path, k_factor(k))
    found = calibration_findings(one)
    if pdf is not None:
        click.echo(written(pdf, calibration_pdf(one)), err=as_json)
    if as_json:
        print_json(calibration_data(one))
    elif pdf is None:
        _print(one, found)
    return exit_code(found)


def _print(one: Calibration, found: tuple[Finding, ...]) -> None:
    out = console()
    out.print(Text(answer(one), style="bold"))
    for sentence in sentences(one):
        out.print(Text(sentence))
    out.print()
    table = Table(box=None, pad_edge=False)
    for i, name in enumerate(columns(one)):
        table.add_column(name, justify="right" if 0 < i < len(columns(one)) - 1 else "left")
    for cells in rows(one):
        table.add_row(*cells)
    out.print(table)
    out.print()
    for each in found:
        figures = "" if each.value is None else f" {percent(each.value).lstrip('+')}, allowed {percent(one.limit)}."
        told = each.note if each.remedy is None else f"{capital(each.remedy.words)}."
        mark = Text(words.VERDICTS[each.verdict], style=STYLES[each.verdict])
        out.print(Text.assemble(mark, f"  {each.question}{figures.replace('+', '')} {told}".rstrip()))
    out.print()
    out.print(CAUTION, style="dim")
