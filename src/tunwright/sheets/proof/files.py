"""The sheets of what was measured as files: PDF to sign, CSV for spreadsheets."""

from __future__ import annotations

from pathlib import Path
from typing import Any

from tunwright.build.kind import System
from tunwright.build.reading import Document
from tunwright.proof.calibration import Calibration
from tunwright.proof.delivery_log import Deliveries
from tunwright.proof.rows import Rows
from tunwright.sheets.csv_rows import csv_bytes
from tunwright.sheets.dossier.press import pressed
from tunwright.sheets.dossier.running import SHORT, running, shortened
from tunwright.sheets.proof.calibration import calibration_part
from tunwright.sheets.proof.data import delivery_tables
from tunwright.sheets.proof.delivery import delivery_parts
from tunwright.sheets.whole_file import written

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
    title = shortened(title, _RUNNING)
    head = f"{title}; {Path(rows.file).name}, SHA-256 {rows.sha256[:SHORT]}"
    return running(title, head, number=number, build=None if document is None else document.sha256)


def write_tables(one: Deliveries, folder: Path) -> list[Path]:
    """Water by minute, by hour and by place as CSV, metric; gives the files. Raises OSError on writing.

    one: the log
    folder: made where it does not exist
    """
    return [written(folder / f"{name}.csv", csv_bytes(rows)) for name, rows in delivery_tables(one).items()]
