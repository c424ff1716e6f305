"""The workbook: findings, axle loads and dip chart as sheets of a spreadsheet, values as numbers."""

from __future__ import annotations

import io
from collections.abc import Sequence
from datetime import UTC, datetime
from typing import Any

import xlsxwriter

from tunwright.build.reading import Document
from tunwright.checks.assess import Assessment
from tunwright.sheets.data import assessment_data

_WIDEST = 60
_FINDINGS = ("key", "question", "state", "value", "limit", "unit", "sense", "verdict")


def workbook(
    assessment: Assessment, read: Document, *, loads: Sequence[Sequence[Any]], dip: Sequence[Sequence[Any]]
) -> bytes:
    """The workbook; the same build gives the same bytes.

    assessment: the assessment
    read: the build file
    loads: rows of the sheet of axle loads, with a head
    dip: rows of the dip chart, with a head
    """
    out = io.BytesIO()
    data = assessment_data(assessment, read)
    with xlsxwriter.Workbook(out, {"in_memory": True, "strings_to_formulas": False, "strings_to_urls": False}) as book:
        book.set_properties({"title": data["title"], "created": datetime(2020, 1, 1, tzinfo=UTC).replace(tzinfo=None)})
        head = book.add_format({"bold": True, "bottom": 1})
        for name, rows in (
            ("summary", _summary(data)),
            ("findings", _findings(data)),
            ("axle loads", loads),
            ("dip chart", dip),
        ):
            _put(book.add_worksheet(name), rows, head)
    return out.getvalue()


def _put(sheet: Any, rows: Sequence[Sequence[Any]], head: Any) -> None:
    """Rows, the first as a head that stays in sight."""
    for i, row in enumerate(rows):
        sheet.write_row(i, 0, ["" if value is None else value for value in row], head if i == 0 else None)
    sheet.freeze_panes(1, 0)
    for j in range(len(rows[0])):
        widest = max(len(str(row[j])) for row in rows if j < len(row))
        sheet.set_column(j, j, min(widest, _WIDEST) + 2)


def _summary(data: dict[str, Any]) -> list[list[Any]]:
    rows: list[list[Any]] = [["what", "value"], ["order", data["title"]], ["answer", data["answer"]]]
    rows += [[f"{name} volume, L", value] for name, value in data["volumes_l"].items()]
    rows += [["permitted window", data["window"]["words"]], ["fill limit", data["fill_limit"]["words"]]]
    rows += [["SHA-256 of the build file", data["build_sha256"]], ["SHA-256 of the tables", data["tables_sha256"]]]
    rows += [["program", data["program"]], ["caution", _CAUTION]]
    return rows


_CAUTION = "An aid for a competent person, never an approval."


def _findings(data: dict[str, Any]) -> list[list[Any]]:
    rows: list[list[Any]] = [[*_FINDINGS, "source", "remedy", "missing"]]
    for one in data["findings"]:
        rule, remedy = one["rule"], one["remedy"]
        source = ", ".join(str(rule[key]) for key in ("document", "clause", "edition") if rule.get(key))
        rows.append(
            [*(one[key] for key in _FINDINGS), source, remedy["words"] if remedy else "", "; ".join(one["missing"])]
        )
    return rows
