"""The torque sheet on the command line: a table to read, CSV for machines, PDF to sign."""

from __future__ import annotations

import csv
import sys
from pathlib import Path

import click
from rich.table import Table

from tunwright.build.shown import show, show_number
from tunwright.cli.reports import console, read
from tunwright.sheets.dossier import torque_pdf
from tunwright.sheets.whole_file import whole_file
from tunwright.shop.torque import Connection, connections

NONE = "No mount of this build has bolts: give them in [mount.bolts] of its mounts."


def run_torque(build: Path, into: Path | None, *, as_csv: bool) -> None:
    """Print the torques, or write the sheet.

    build: the build file
    into: the PDF to write, None to print
    as_csv: as CSV, metric
    Raises ValueError where no mount has bolts.
    """
    document, assessment = read(build)
    found = connections(document.build)
    if not found:
        raise ValueError(NONE)
    if into is not None:
        made = torque_pdf(assessment, document=document)
        with whole_file(into) as part:
            part.write_bytes(made)
        click.echo(into)
    elif as_csv:
        _write_csv(found)
    else:
        console().print(_table(found, document.build.order.units))


def _write_csv(found: tuple[Connection, ...]) -> None:
    writer = csv.writer(sys.stdout, lineterminator="\n")
    head = ("connection", "bolt", "place", "size", "class", "finish", "first_pass_nm", "torque_nm", "preload_least_kn")
    writer.writerow([*head, "preload_most_kn"])
    for one in found:
        how = one.how
        fixed = [how.size.key, how.grade.key, one.bolts.finish, f"{how.first:g}", f"{how.torque:g}"]
        for line in one.lines:
            preload = [f"{how.least / 1000:.1f}", f"{how.most / 1000:.1f}"]
            writer.writerow([one.name, line.number, line.place, *fixed, *preload])


def _table(found: tuple[Connection, ...], units: str) -> Table:
    table = Table(box=None, pad_edge=False)
    for name in ("connection", "bolts", "threads", "first pass", "torque", "preload", "of proof load"):
        table.add_column(name, justify="right" if name not in ("connection", "bolts", "threads") else "left")
    system = "us" if units == "us" else "metric"
    for one in found:
        how = one.how
        first, last = (show(value, "torque", system=system) for value in (how.first, how.torque))  # type: ignore[arg-type]
        least, most = (show(value, "force", system=system) for value in (how.least, how.most))  # type: ignore[arg-type]
        table.add_row(
            one.name,
            f"{len(one.lines)} × {how.size.key}, class {how.grade.key}",
            one.bolts.finish,
            first,
            last,
            f"{least} to {most}",
            f"{show_number(100 * how.most / how.proof)} %",
        )
    return table
