"""The sheets of the pipework as files: PDF to print and sign, XLSX and CSV for spreadsheets."""

from __future__ import annotations

import io
from collections.abc import Sequence
from datetime import UTC, datetime
from pathlib import Path
from typing import Any

import xlsxwriter

from tunwright import __version__
from tunwright.build.kind import System
from tunwright.build.reading import Document
from tunwright.checks.assess import Assessment
from tunwright.sheets.csv_rows import csv_bytes
from tunwright.sheets.dossier.press import pressed
from tunwright.sheets.dossier.running import running, shortened
from tunwright.sheets.pipework.all_lists import pipework_lists
from tunwright.sheets.pipework.cautions import cautions
from tunwright.sheets.pipework.cutting.isometric import isometric_part
from tunwright.sheets.pipework.flows import plumbed
from tunwright.sheets.pipework.listing import Listing, Value
from tunwright.sheets.pipework.schematic.first_page import schematic_part
from tunwright.sheets.pipework.sheets import pipework_parts
from tunwright.sheets.whole_file import written
from tunwright.tables.read import tables_hash

_RUNNING = 80  # letters of the title in the head of a page
_WIDEST = 60  # letters of a column of the workbook
_LEAST = 9
_CREATED = datetime(2020, 1, 1, tzinfo=UTC).replace(tzinfo=None)  # always the same, so that the bytes are


def pipework_pdf(assessment: Assessment, *, document: Document) -> bytes:
    """The schematic and the sheets as PDF; the same assessment gives the same bytes.

    assessment: the assessment
    document: the build file
    Raises ValueError where there is no pipework.
    """
    sketches = isometric_part(plumbed(assessment), assessment.build.order.units)
    parts = [schematic_part(assessment), *pipework_parts(assessment), *([] if sketches is None else [sketches])]
    return pressed({**_running(assessment, document), "parts": parts})


def _running(assessment: Assessment, document: Document) -> dict[str, Any]:
    """What stands in the head and the foot of every page."""
    order = assessment.build.order
    title = f"Pipework: {order.title}"
    return running(title, shortened(title, _RUNNING), number=order.number, build=document.sha256)


def pipework_xlsx(assessment: Assessment, *, document: Document) -> bytes:
    """One sheet a list, in the units of the order; the same build gives the same bytes.

    assessment: the assessment
    document: the build file
    Raises ValueError where there is no pipework.
    """
    out, system = io.BytesIO(), assessment.build.order.units
    options = {"in_memory": True, "strings_to_formulas": False, "strings_to_urls": False}
    lists = pipework_lists(assessment, system)
    with xlsxwriter.Workbook(out, options) as book:
        book.set_properties({"title": f"Pipework: {assessment.build.order.title}", "created": _CREATED})
        bold = book.add_format({"bold": True, "bottom": 1, "text_wrap": True})
        _put(book.add_worksheet("about"), _about(assessment, document), bold)
        for one in lists:
            _put(book.add_worksheet(one.key), _table(one, system), bold)
    return out.getvalue()


def _about(assessment: Assessment, document: Document) -> list[list[Value]]:
    order = assessment.build.order
    rows: list[list[Value]] = [["what", "words"], ["order", order.title], ["job", order.number or ""]]
    rows += [[name, text] for name, text in cautions(plumbed(assessment), order.units)]
    rows += [["SHA-256 of the build file", document.sha256], ["SHA-256 of the tables", tables_hash()]]
    return [*rows, ["program", f"Tunwright {__version__}"]]


def _table(listing: Listing, system: System) -> list[list[Value]]:
    """Heading, rows, total and foot of a list."""
    columns = listing.columns
    kept = [*listing.rows, *([listing.total] if listing.total is not None else [])]
    rows = [[one.number(value, system) for one, value in zip(columns, values, strict=True)] for values in kept]
    foot: list[list[Value]] = [[], [listing.foot]] if listing.foot else []
    return [[one.head(system) for one in columns], *rows, *foot]


def _put(sheet: Any, rows: Sequence[Sequence[Value]], bold: Any) -> None:
    """Rows, the first as a head that stays in sight."""
    for i, values in enumerate(rows):
        sheet.write_row(i, 0, ["" if value is None else value for value in values], None if i else bold)
    sheet.freeze_panes(1, 1)
    for j in range(len(rows[0])):
        widest = max((len(str(values[j])) for values in rows[1:] if j < len(values) > 1), default=0)
        sheet.set_column(j, j, max(_LEAST, min(widest, _WIDEST)) + 2)


def write_csv(assessment: Assessment, folder: Path) -> list[Path]:
    """One CSV file a list, metric; gives the files. Raises ValueError where there is no pipework, OSError on writing.

    assessment: the assessment
    folder: made where it does not exist
    """
    made = []
    for one in pipework_lists(assessment, "metric"):
        head = [each.machine_head() for each in one.columns]
        rows = (zip(one.columns, values, strict=True) for values in one.rows)
        numbers = [[each.number(value, "metric") for each, value in row] for row in rows]
        made.append(written(folder / f"{one.key}.csv", csv_bytes([head, *numbers])))
    return made
