"""CSV files with a header, read strictly but kindly: everything wrong with one comes in one go, in sentences.

Comma or semicolon between columns, the same in the whole file; a decimal point, or with semicolons a decimal comma.
UTF-8 with or without a mark at its beginning. Empty lines and lines that begin with # are passed over, and so are
columns whose name begins with "note". Which decimals a file has is told by its numbers: where one of them has a comma
all have, and a point is then refused, for it may part thousands.
"""

from __future__ import annotations

import csv
import hashlib
import math
from collections import Counter
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from pathlib import Path

from tunwright.build.problems import Problem, nearest
from tunwright.proof.cells import Cell, CellWrong, Wanted

LARGEST = 50_000_000
"""Largest file read [bytes]."""

MOST_ROWS = 500_000
"""Most rows of a file."""

MOST, ALIKE = 30, 3
"""Problems of one file that are told, and those of one kind in one column; after so many the rest is only counted."""

_PASSED = "note"
_UTF_16 = (b"\xff\xfe", b"\xfe\xff")


class RowProblems(ValueError):
    """Everything wrong with one file of rows.

    file: its name, as it stands in the sentences
    problems: by line
    """

    def __init__(self, file: str, problems: Sequence[Problem]) -> None:
        """Sort the problems by line; those of no line come first."""
        self.file, self.problems = file, sorted(problems, key=lambda one: one.line or 0)
        super().__init__(str(self))

    def __str__(self) -> str:
        """One sentence a line, of each kind of problem in a column the first few; the rest is counted."""
        told, kinds = list[Problem](), Counter[tuple[str, str]]()
        for one in self.problems:
            kinds[one.path, one.message] += 1
            if kinds[one.path, one.message] <= ALIKE:
                told.append(one)
        said = [one.sentence(self.file) for one in told[:MOST]]
        more = len(self.problems) - len(said)
        if more > 0:
            alike = "of the same kind " if len(told) <= MOST else ""
            said.append(f"{self.file}: {more} more {alike}{'is' if more == 1 else 'are'} told once these are mended.")
        return "\n".join(said)


@dataclass(frozen=True, eq=False)
class Rows:
    """The rows of a file.

    file: its name
    sha256: of its bytes
    lines: line of each row in the file, from 1
    cells: a value for each row, by column; None where the cell is empty
    """

    file: str
    sha256: str
    lines: tuple[int, ...]
    cells: Mapping[str, tuple[Cell, ...]]

    def has(self, column: str) -> bool:
        """Whether the file has a column with anything in it.

        column: its name
        """
        return any(one is not None for one in self.cells.get(column, ()))

    def numbers(self, column: str) -> list[float]:
        """Numbers of a column; not a number where the cell is empty or the column missing.

        column: its name
        """
        found = self.cells.get(column, (None,) * len(self.lines))
        return [math.nan if one is None or not isinstance(one, float) else one for one in found]

    def refuse(self, problems: Sequence[Problem]) -> None:
        """Raise RowProblems where there are any.

        problems: what is wrong with what the rows say
        """
        if problems:
            raise RowProblems(self.file, problems)


def read_rows(path: Path, wanted: Sequence[Wanted]) -> Rows:
    """A file of rows. Raises RowProblems with everything wrong with it.

    path: the file
    wanted: the columns there may be
    """
    raw = _bytes(path)
    return rows_of(raw, wanted, file=str(path))


def rows_of(raw: bytes, wanted: Sequence[Wanted], *, file: str) -> Rows:
    """Rows out of the bytes of a file. Raises RowProblems with everything wrong with it.

    raw: the bytes
    wanted: the columns there may be
    file: its name in the sentences
    """
    lines = _lines(raw, file)
    if not lines:
        names, allowed = ",".join(one.name for one in wanted if one.usual), "a line of names, then a line for each row"
        raise RowProblems(file, [_no_line("The file has no rows.", allowed, f'a first line "{names}"')])
    mark = _parted_by(lines[0], file)
    parted = [(number, _cells(text, mark)) for number, text in lines]
    columns, found = _columns(parted[0], wanted, mark)
    if found:  # without their names the cells say nothing
        raise RowProblems(file, found)
    rows = parted[1:]
    if not rows:
        raise RowProblems(file, [Problem(lines[0][0], "", "", "There is a line of column names, but no row.",
                                         "a line for each row under it", _example(columns, mark))])  # fmt: skip
    return _read(rows, columns, mark, file, hashlib.sha256(raw).hexdigest())


def _bytes(path: Path) -> bytes:
    """What a file holds, or a sentence why it is not read."""
    if path.is_dir():
        raise RowProblems(str(path), [_no_line("This is a folder, not a file of rows.", "a CSV file", "runs.csv")])
    try:
        size = path.stat().st_size
        if size > LARGEST:
            wrong = f"The file is too large: {size / 1e6:.0f} MB."
            example = "one file for each day"
            raise RowProblems(str(path), [_no_line(wrong, f"up to {LARGEST / 1e6:.0f} MB; part it", example)])
        return path.read_bytes()
    except FileNotFoundError:
        raise RowProblems(str(path), [_no_line("There is no such file.", "", "")]) from None


def _no_line(message: str, allowed: str, example: str) -> Problem:
    return Problem(None, "", "", message, allowed, example)


def _lines(raw: bytes, file: str) -> list[tuple[int, str]]:
    """Lines that say something, with their numbers."""
    if raw.startswith(_UTF_16):
        wrong = "The file is written in UTF-16."
        raise RowProblems(file, [_no_line(wrong, "UTF-8", 'save it again as "CSV UTF-8"')])
    try:
        text = raw.decode("utf-8-sig")
    except UnicodeDecodeError as error:
        line = raw[: error.start].count(b"\n") + 1
        wrong = "There is a letter here that is not UTF-8."
        raise RowProblems(file, [Problem(line, "", "", wrong, "UTF-8", 'save it again as "CSV UTF-8"')]) from None
    if "\0" in text[:10_000]:
        raise RowProblems(file, [_no_line("This is no text.", "a CSV file, as a spreadsheet saves it", "runs.csv")])
    every = enumerate(text.splitlines(), start=1)
    kept = [(i, line) for i, line in every if line.strip(" \t,;") and not line.lstrip().startswith("#")]
    if len(kept) > MOST_ROWS + 1:
        wrong = f"The file has too many rows: {len(kept) - 1}."
        raise RowProblems(file, [_no_line(wrong, f"up to {MOST_ROWS}; part it", "one file for each day")])
    return kept


def _parted_by(header: tuple[int, str], file: str) -> str:
    """What parts the columns of a file."""
    number, text = header
    if ";" in text:
        return ";"
    if "\t" in text:
        wrong = "The columns are parted by tabs."
        raise RowProblems(file, [Problem(number, "", "", wrong, "commas or semicolons", "time,flow_l_min")])
    return ","


def _cells(text: str, mark: str) -> list[str]:
    return [cell.strip() for cell in next(csv.reader([text], delimiter=mark), [])]


def _columns(
    header: tuple[int, list[str]], wanted: Sequence[Wanted], mark: str
) -> tuple[list[Wanted | None], list[Problem]]:
    """What each column is, None for one that is passed over; and what is wrong with the names."""
    known, line = {one.name: one for one in wanted}, header[0]
    names = [_plain(name) for name in header[1]]
    while names and not names[-1]:
        names.pop()
    found, columns = list[Problem](), list[Wanted | None]()
    for i, name in enumerate(names):
        columns.append(known.get(name))
        if name in names[:i] and not name.startswith(_PASSED):
            found.append(Problem(line, f"column {name}", name, "The column is there twice.", "each name once", ""))
        elif name not in known and not name.startswith(_PASSED):
            found.append(_unknown(line, header[1][i], name, wanted))
    missing = [one for one in wanted if one.needed and one.name not in names]
    example = mark.join([*(name for name in names if name in known), *(one.name for one in missing)])
    for one in missing:
        found.append(Problem(line, f"column {one.name}", "", "The column is missing.", one.meaning, f'"{example}"'))
    return columns, found


def _plain(name: str) -> str:
    return "_".join(name.casefold().replace("-", " ").split())


def _unknown(line: int, typed: str, name: str, wanted: Sequence[Wanted]) -> Problem:
    near = nearest(name, [one.name for one in wanted])
    hint = f' Did you mean "{near}"?' if near else ""
    wrong = f"There is no column of this name.{hint}" if name else "A column has no name."
    allowed = f"{', '.join(one.name for one in wanted)}, and any that begin with note"
    return Problem(line, f'column "{typed}"', typed, wrong, allowed, near or "note_driver")


def _example(columns: Sequence[Wanted | None], mark: str) -> str:
    return f'"{mark.join("" if one is None else one.example for one in columns)}"'


def _read(
    rows: Sequence[tuple[int, list[str]]], columns: Sequence[Wanted | None], mark: str, file: str, sha256: str
) -> Rows:
    """All cells read, or everything wrong with them."""
    comma = mark == ";" and _has_commas(rows, columns)
    problems, kept = list[Problem](), {one.name: list[Cell]() for one in columns if one is not None}
    for line, cells in rows:
        problems += _wrong_count(line, cells, columns, mark)
        for one, typed in zip(columns, cells, strict=False):
            if one is None:
                continue
            try:
                kept[one.name].append(one.read(typed, comma=comma))
            except CellWrong as wrong:
                kept[one.name].append(None)
                told = (typed, wrong.message, wrong.allowed, wrong.example)
                problems.append(Problem(line, f"column {one.name}", *told))
    if problems:
        raise RowProblems(file, problems)
    return Rows(file, sha256, tuple(line for line, _ in rows), {name: tuple(row) for name, row in kept.items()})


def _has_commas(rows: Sequence[tuple[int, list[str]]], columns: Sequence[Wanted | None]) -> bool:
    counted = [i for i, one in enumerate(columns) if one is not None and one.number]
    return any(i < len(cells) and "," in cells[i] for _, cells in rows for i in counted)


def _wrong_count(line: int, cells: list[str], columns: Sequence[Wanted | None], mark: str) -> Iterator[Problem]:
    """A row with more or fewer cells than there are columns; empty ones at its end do not count."""
    while len(cells) > len(columns) and not cells[-1]:
        cells.pop()
    if len(cells) != len(columns):
        more = len(cells) > len(columns)
        hint = " Decimal commas need semicolons between the columns." if more and mark == "," else ""
        wrong = f"The row has {len(cells)} cells under {len(columns)} names.{hint}"
        yield Problem(line, "", mark.join(cells), wrong, f"{len(columns)} cells", _example(columns, mark))
        cells += [""] * (len(columns) - len(cells))
