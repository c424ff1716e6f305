"""Line numbers in a build file: where each key and each list entry of a TOML text stands.

The standard reader keeps no line numbers, so this walks the same text once more. It relies on the text being valid:
call it only with what `tomllib` has accepted.
"""

from __future__ import annotations

import re
import tomllib
from bisect import bisect_right
from collections.abc import Mapping, Sequence

Path = tuple[str | int, ...]

_IDLE = re.compile(r"(?:[ \t\r\n,]+|#[^\n]*)*")  # between values; commas part entries and say nothing else
_ONE_LINE_STRING = r""""(?:[^"\\\n]|\\.)*"|'[^'\n]*'"""
_LONG_STRING = r"""\"{3}(?:[^\\]|\\.)*?\"{3,5}|'{3}.*?'{3,5}"""
_STRING = re.compile(f"{_LONG_STRING}|{_ONE_LINE_STRING}", re.DOTALL)
_KEY = re.compile(rf"[ \t]*({_ONE_LINE_STRING}|[A-Za-z0-9_-]+)[ \t]*")
_PLAIN_VALUE = re.compile(r"[^,\]}#\n]+")  # numbers, dates, true and false


def locate(text: str) -> dict[Path, int]:
    """The line, counted from 1, of every table, key and list entry in a valid TOML text.

    text: TOML that `tomllib.loads` accepts; for other text the result is not defined
    Keys of the result are paths such as ("chassis", "axle", 1, "kerb_load"), list positions counted from 0. A key
    stands where it is written; a table where its header is, or else where it is first mentioned; a list of tables
    where its first entry is; an entry of a list where it begins.
    """
    return _Walk(text).lines


def line_of(lines: Mapping[Path, int], path: Sequence[str | int]) -> int | None:
    """The line of `path`, or of the nearest thing around it that has one; None when nothing has.

    lines: as `locate` gives them
    path: keys, and list positions counted from 0
    """
    whole = tuple(path)
    return next((lines[whole[:end]] for end in range(len(whole), 0, -1) if whole[:end] in lines), None)


class _Walk:
    """One pass through the text, noting lines as it goes."""

    def __init__(self, text: str) -> None:
        self.text = text
        self.at = 0
        self.lines: dict[Path, int] = {}
        self.entries: dict[Path, int] = {}  # list of tables -> how many entries so far
        self.line_starts = [0, *(mark.end() for mark in re.finditer("\n", text))]
        table: Path = ()
        self.skip(_IDLE)
        while self.at < len(text):
            if text[self.at] == "[":
                table = self.header()
            else:
                self.pair(table)
            self.skip(_IDLE)

    def line(self) -> int:
        return bisect_right(self.line_starts, self.at)

    def skip(self, pattern: re.Pattern[str]) -> str:
        """Move behind the pattern and give what it matched; the text is valid, so it does match."""
        match = pattern.match(self.text, self.at)
        if match is None:
            raise ValueError(f"line {self.line()} is not valid TOML")
        self.at = match.end()
        return match[match.lastindex or 0]

    def keys(self) -> list[str]:
        """The keys of a dotted key."""
        found = [_plain_key(self.skip(_KEY))]
        while self.text[self.at] == ".":
            self.at += 1
            found.append(_plain_key(self.skip(_KEY)))
        return found

    def header(self) -> Path:
        """`[table]` or `[[list of tables]]`: the path of the table that follows."""
        line = self.line()
        brackets = 2 if self.text.startswith("[[", self.at) else 1
        self.at += brackets
        *outer, last = self.keys()
        self.at += brackets
        path: Path = ()
        for key in outer:
            path = self.current((*path, key), line)
        path = (*path, last)
        if brackets == 2:
            self.lines.setdefault(path, line)
            self.entries[path] = self.entries.get(path, 0) + 1
            path = (*path, self.entries[path] - 1)
        self.lines[path] = line  # a header outranks an earlier mention
        return path

    def current(self, path: Path, line: int) -> Path:
        """The table that `path` means inside a header: of a list of tables, its latest entry."""
        self.lines.setdefault(path, line)
        return (*path, self.entries[path] - 1) if path in self.entries else path

    def pair(self, table: Path) -> None:
        """`key = value` inside a table."""
        line = self.line()
        path = table
        for key in self.keys():
            path = (*path, key)
            self.lines.setdefault(path, line)
        self.at += 1  # the equals sign
        self.skip(_IDLE)
        self.value(path)

    def value(self, path: Path) -> None:
        """The value of `path`, with all that is inside it."""
        mark = self.text[self.at]
        if mark == "[":
            self.list_entries(path)
        elif mark == "{":
            self.inline_table(path)
        else:
            self.skip(_STRING if mark in "\"'" else _PLAIN_VALUE)

    def list_entries(self, path: Path) -> None:
        self.at += 1
        self.skip(_IDLE)
        count = 0
        while self.text[self.at] != "]":
            entry = (*path, count)
            self.lines[entry] = self.line()
            self.value(entry)
            self.skip(_IDLE)
            count += 1
        self.at += 1

    def inline_table(self, path: Path) -> None:
        self.at += 1
        self.skip(_IDLE)
        while self.text[self.at] != "}":
            self.pair(path)
            self.skip(_IDLE)
        self.at += 1


def _plain_key(written: str) -> str:
    """A key without its quotation marks and escapes."""
    if written[0] == "'":
        return written[1:-1]
    if written[0] == '"':
        return str(tomllib.loads(f"key = {written}")["key"])
    return written
