"""The sheets of what was measured as files: PDF to sign, CSV for spreadsheets."""

from __future__ import annotations

import csv
import io
from collections.abc import Sequence
from pathlib import Path
from typing import Any

from tunwright import __version__
from tunwright.build.kind import System
from tunwright.build.reading import Document
from tunwright.proof.calibration import Calibration
from tunwright.proof.delivery_log import Deliveries
from tunwright.proof.rows import Rows
from tunwright.sheets.dossier.press import pressed
from tunwright.sheets.pipework.listing import Value
from tunwright.sheets.proof.calibration import calibration_part
from tunwright.sheets.proof.data import delivery_tables
from tunwright.sheets.proof.delivery import delivery_parts
from tunwright.sheets.whole_file import whole_file
from tunwright.tables.read import tables_hash

_SHORT = 12  # letters of a hash in the foot of a page
_RUNNING = 60  # letters of the title in the head of a page


def calibration_pdf(one: Calibration) -> bytes:
    """The calibration sheet as PDF; the same file gives the same bytes.

    one: the meter
    """
    return pressed({**_running("Calibration of a flow meter", one.rows, None), "parts": [calibration_part(one)]})


def delivery_pdf(one: Deliveries, system: System, document: Document | None = None) -> bytes:
    """The delivery-log sheet as PDF; the same files give the same bytes.

    one: the log
    system: "metric" or "us"
    document: the build file, None without one
    """
    title = "Delivery log" if document is None else f"Delivery log: {document.build.order.title}"
    return pressed({**_running(title, one.log.rows, document), "parts": delivery_parts(one, system, document)})


def _running(title: str, rows: Rows, document: Document | None) -> dict[str, Any]:
    """What stands in the head and the foot of every page."""
    number = "" if document is None else document.build.order.number
    title = title if len(title) <= _RUNNING else f"{title[: _RUNNING - 1].rstrip()}…"
    return {
        "title": title,
        "running": f"{title}; {Path(rows.file).name}, SHA-256 {rows.sha256[:_SHORT]}",
        "job": f"job {number}" if number else "no job number",
        "build_short": "none" if document is None else document.sha256[:_SHORT],
        "tables_short": tables_hash()[:_SHORT],
        "program": f"Tunwright {__version__}",
    }


def write_tables(one: Deliveries, folder: Path) -> list[Path]:
    """Water by minute, by hour and by place as CSV, metric; gives the files. Raises OSError on writing.

    one: the log
    folder: made where it does not exist
    """
    return [written(folder / f"{name}.csv", _csv(rows)) for name, rows in delivery_tables(one).items()]


def _csv(rows: Sequence[Sequence[Value]]) -> bytes:
    out = io.StringIO()
    writer = csv.writer(out, lineterminator="\n")
    for values in rows:
        writer.writerow(["" if value is None else value for value in values])
    return out.getvalue().encode()


def written(path: Path, made: bytes) -> Path:
    """A sheet as a file, whole or not at all; gives the file.

    path: the file; its folders are made where they do not exist
    made: what it holds
    """
    with whole_file(path) as part:
        part.write_bytes(made)
    return path
