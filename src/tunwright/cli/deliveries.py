"""What `tunwright deliveries` prints and writes: the log of a pump control, alone or held against a build."""

from __future__ import annotations

from pathlib import Path

import click
from rich.text import Text

from tunwright.build.kind import System
from tunwright.build.reading import Document
from tunwright.build.typed import capital
from tunwright.checks.finding import Finding
from tunwright.cli.calibrate import k_factor
from tunwright.cli.reports import CAUTION, STYLES, console, exit_code, print_json, read
from tunwright.proof.delivery_log import Deliveries
from tunwright.proof.log import read_log
from tunwright.sheets import words
from tunwright.sheets.proof.data import delivery_data
from tunwright.sheets.proof.delivery_figures import lasts, volume
from tunwright.sheets.proof.delivery_words import headline, sentences
from tunwright.sheets.proof.files import delivery_pdf, write_tables
from tunwright.sheets.proof.loss_words import losses
from tunwright.sheets.proof.tank import with_tank
from tunwright.sheets.whole_file import written


def report(
    path: Path, build: Path | None, *, k: str | None, pdf: Path | None, folder: Path | None, as_json: bool
) -> int:
    """Print what the log says, or write the sheet; the exit code.

    path: the log
    build: the build file, None without one
    k: K-factor of the meter, as typed
    pdf: the PDF to write
    folder: where to write the CSV files
    as_json: print as JSON
    Raises RowProblems with everything wrong with the log.
    """
    log = read_log(path, k_factor(k))
    document, assessment = (None, None) if build is None else read(build)
    one = Deliveries(log) if assessment is None else with_tank(log, assessment)
    system: System = "metric" if document is None else document.build.order.units
    files = _write(one, system, document, pdf, folder)
    for file in files:
        click.echo(file, err=as_json)
    if as_json:
        print_json(delivery_data(one))
    elif not files:
        _print(one, system)
    return exit_code(one.findings)


def _write(
    one: Deliveries, system: System, document: Document | None, pdf: Path | None, folder: Path | None
) -> list[Path]:
    made = [] if pdf is None else [written(pdf, delivery_pdf(one, system, document))]
    return made + ([] if folder is None else write_tables(one, folder))


def _print(one: Deliveries, system: System) -> None:
    out = console()
    out.print(Text(headline(one, system), style="bold"))
    for sentence in sentences(one, system):
        out.print(Text(sentence))
    out.print()
    for sentence in losses(one, system):
        out.print(Text(sentence))
    out.print()
    for each in one.findings:
        mark = Text(words.VERDICTS[each.verdict], style=STYLES[each.verdict])
        out.print(Text.assemble(mark, f"  {each.question} {_told(each, system)}".rstrip()))
    out.print()
    out.print(CAUTION, style="dim")


def _told(each: Finding, system: System) -> str:
    """Its figures and what to do."""
    parts = []
    if each.value is not None and each.limit is not None:
        parts.append(f"{volume(each.value / 1000, system)}, allowed {volume(each.limit / 1000, system)}.")
    elif each.value:
        parts.append(f"{lasts(60.0 * each.value)} of gaps.")
    if each.remedy is not None:
        parts.append(f"{capital(each.remedy.words)}.")
    return " ".join([*parts, each.note]).strip()
