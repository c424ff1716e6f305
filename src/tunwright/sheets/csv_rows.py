"""Rows as the bytes of a CSV file."""

from __future__ import annotations

import csv
import io
from collections.abc import Iterable, Sequence


def csv_bytes(rows: Iterable[Sequence[str | int | float | None]]) -> bytes:
    """Rows as a CSV file; a cell that holds nothing is empty.

    rows: the first with the names of the columns
    """
    out = io.StringIO()
    csv.writer(out, lineterminator="\n").writerows(["" if one is None else one for one in row] for row in rows)
    return out.getvalue().encode()
