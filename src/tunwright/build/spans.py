"""Where everything in a build file begins and ends, so that one place of the text can be changed and no other."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any, NamedTuple

from tunwright.build.locate import _Walk
from tunwright.build.toml import tables

Path = tuple[str | int, ...]


class Span(NamedTuple):
    """A stretch of text, from its first character to before its end."""

    start: int
    end: int


@dataclass(frozen=True)
class Section:
    """A header with what stands under it.

    path: the table, with the position in its list
    start: where the line of the header begins
    content: end of the line of its last key, or of the header where it has none
    """

    path: Path
    start: int
    content: int


class Spans(_Walk):
    """Spans of a valid text.

    values: path -> its value
    pairs: path -> key, equals sign and value
    sections: the headers, as they stand, after one for what stands above them all
    """

    def __init__(self, text: str) -> None:
        self.values: dict[Path, Span] = {}
        self.pairs: dict[Path, Span] = {}
        self.sections: list[Section] = [Section((), 0, 0)]
        self._begun: list[int] = []
        self.data = tables(text)
        super().__init__(text)

    def header(self) -> Path:
        """A header: a section of its own begins."""
        start = self.text.rfind("\n", 0, self.at) + 1
        path = super().header()
        self.sections.append(Section(path, start, self.line_end(self.at)))
        return path

    def pair(self, table: Path) -> None:
        """A key with its value; outside inline tables it lengthens the section it stands in."""
        self._begun.append(self.at)
        super().pair(table)
        self._begun.pop()
        if not self._begun:
            last = self.sections[-1]
            self.sections[-1] = Section(last.path, last.start, self.line_end(self.at))

    def value(self, path: Path) -> None:
        """A value, and the pair it belongs to unless it is an entry of a list."""
        start = self.at
        super().value(path)
        while self.text[self.at - 1] in " \t\r":  # a plain value is read with the blanks behind it
            self.at -= 1
        self.values[path] = Span(start, self.at)
        if not isinstance(path[-1], int):
            self.pairs[path] = Span(self._begun[-1], self.at)

    def line_end(self, at: int) -> int:
        """End of the line of a place, the line break included."""
        found = self.text.find("\n", at)
        return len(self.text) if found < 0 else found + 1

    def line_start(self, at: int) -> int:
        """Beginning of the line of a place."""
        return self.text.rfind("\n", 0, at) + 1

    def at_path(self, path: Path) -> Any:
        """What a path holds; KeyError or IndexError where it leads nowhere."""
        here: Any = self.data
        for part in path:
            here = here[part]
        return here

    def own_section(self, path: Path) -> Section | None:
        """The section of a table, None where it has no header."""
        return next((one for one in self.sections if one.path == path), None)
