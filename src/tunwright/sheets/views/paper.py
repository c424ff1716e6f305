"""What belongs to the sheet: its frame, title block, tables and notes, placed in millimetres of paper.

The lower left corner of the paper is (0, 0); one `Paper` turns millimetres into the metres of a drawing at 1:scale.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass

from tunwright.sheets.drawing import Anchor, Entity, Line, Polyline, Text
from tunwright.sheets.lettering import SPARE, text_width
from tunwright.sheets.ticks import THIN

SIZES: dict[str, tuple[float, float]] = {
    "A4": (297.0, 210.0),
    "A3": (420.0, 297.0),
    "A2": (594.0, 420.0),
    "A1": (841.0, 594.0),
    "11x17": (431.8, 279.4),
}
"""Papers lying flat: width and height [mm]."""

BINDING, EDGE = 20.0, 10.0  # margins of the frame: left, and all round (ISO 5457, from memory)
SMALL, NORMAL, LARGE = 1.8, 2.5, 3.5  # heights of capitals [mm]
ROW = 4.4  # rows of tables [mm]
NOTE_ROW = 3.7
_LEAST = 1.8
_INDENT = 2.0


@dataclass(frozen=True)
class Cell:
    """A field of the title block: what it is, and what stands in it."""

    caption: str
    value: str
    width: float
    height: float = NORMAL
    bold: bool = False


@dataclass(frozen=True)
class Paper:
    """A sheet of a standard size at 1:scale."""

    size: str
    scale: float

    @property
    def width(self) -> float:
        """Width [mm]."""
        return SIZES[self.size][0]

    @property
    def height(self) -> float:
        """Height [mm]."""
        return SIZES[self.size][1]

    @property
    def mm(self) -> float:
        """A millimetre of paper in metres of the thing."""
        return self.scale / 1000.0

    def line(self, x0: float, y0: float, x1: float, y1: float, layer: str = "thin") -> Line:
        """A line [mm]."""
        return Line((x0 * self.mm, y0 * self.mm), (x1 * self.mm, y1 * self.mm), layer)

    def box(self, left: float, low: float, right: float, high: float, layer: str = "sheet_frame") -> Polyline:
        """A rectangle [mm]."""
        corners = ((left, low), (right, low), (right, high), (left, high))
        return Polyline(tuple((x * self.mm, y * self.mm) for x, y in corners), layer, closed=True)

    def text(
        self,
        x: float,
        y: float,
        words: str,
        *,
        height: float = NORMAL,
        room: float | None = None,
        anchor: Anchor = "start",
        bold: bool = False,
        layer: str = "text",
    ) -> Text:
        """A line of lettering [mm]; made smaller, then shortened, to keep within `room` [mm]."""
        if room is not None:
            words, height = fitted(words, height, room, bold=bold)
        return Text((x * self.mm, y * self.mm), words, layer, height, anchor, bold)

    def frame(self) -> list[Entity]:
        """The frame with its centring marks."""
        left, low, right, high = BINDING, EDGE, self.width - EDGE, self.height - EDGE
        across, up = self.width / 2.0, self.height / 2.0
        reach = 0.5 * EDGE
        marks = [self.line(across, y - reach, across, y + reach, "ground") for y in (low, high)]
        marks += [self.line(x - reach, up, x + reach, up, "ground") for x in (left, right)]
        return [self.box(left, low, right, high), *marks]

    def block(self, right: float, low: float, rows: Sequence[tuple[float, Sequence[Cell]]]) -> list[Entity]:
        """A title block with its lower right corner given: rows from the top, each (height, cells)."""
        width = sum(cell.width for cell in rows[0][1])
        top = low + sum(height for height, _ in rows)
        left, y = right - width, top
        found: list[Entity] = [self.box(left, low, right, top)]
        for height, cells in rows:
            x, y = left, y - height
            if y > low + 0.1:
                found.append(self.line(left, y, right, y))
            for cell in cells:
                if x > left:
                    found.append(self.line(x, y, x, y + height))
                found += self._cell(cell, x, y, height)
                x += cell.width
        return found

    def _cell(self, cell: Cell, x: float, y: float, height: float) -> list[Entity]:
        room = cell.width - 3.0
        head = self.text(x + 1.5, y + height - 1.3 - SMALL, cell.caption, height=SMALL, room=room, layer="note")
        lines = [cell.value]
        if height > 12.0 and fitted(cell.value, cell.height, room, bold=cell.bold)[1] < NORMAL:
            lines = _two_lines(cell.value)
        tall = cell.height if len(lines) == 1 else NORMAL
        rises = [1.6 * NORMAL * i for i in reversed(range(len(lines)))]
        values = [
            self.text(x + 1.5, y + 1.6 + rise, line, height=tall, room=room, bold=cell.bold)
            for rise, line in zip(rises, lines, strict=True)
        ]
        return [head, *values] if cell.caption else [*values]

    def table(
        self, left: float, top: float, widths: Sequence[float], heading: str, rows: Sequence[Sequence[str]]
    ) -> list[Entity]:
        """A table under a heading; first row its columns' names, last row set off; figures flush right."""
        right, y = left + sum(widths), top - NORMAL
        found: list[Entity] = [self.text(left, y, heading, bold=True, room=sum(widths))]
        for i, row in enumerate(rows):
            y -= ROW
            x = left
            for j, (words, width) in enumerate(zip(row, widths, strict=True)):
                anchor: Anchor = "start" if j == 0 else "end"
                at, layer = x if j == 0 else x + width, "note" if i == 0 else "text"
                bold = i == len(rows) - 1
                found.append(
                    self.text(at, y, words, height=2.2, room=width - 1.5, anchor=anchor, layer=layer, bold=bold)
                )
                x += width
            if i in (0, len(rows) - 2):
                found.append(self.line(left, y - 1.1, right, y - 1.1))
        return found

    def notes(self, left: float, top: float, width: float, notes: Sequence[str]) -> list[Entity]:
        """Notes under their heading, each on as many lines as it needs."""
        y = top - NORMAL
        found: list[Entity] = [self.text(left, y, "Notes", bold=True)]
        for indent, line in note_lines(notes, width):
            y -= NOTE_ROW
            found.append(self.text(left + indent, y, line, height=2.2))
        return found


def _two_lines(words: str) -> list[str]:
    """The words on two lines as even as it goes."""
    cuts = [i for i, sign in enumerate(words) if sign == " "] or [len(words)]
    at = min(cuts, key=lambda i: abs(2 * i - len(words)))
    return [words[:at], words[at + 1 :]]


def table_height(rows: int) -> float:
    """Room a table with so many rows takes [mm]."""
    return NORMAL + ROW * rows + 1.2


def notes_height(notes: Sequence[str], width: float) -> float:
    """Room the notes take [mm]."""
    return NORMAL + NOTE_ROW * len(note_lines(notes, width)) + 1.0


def note_lines(notes: Iterable[str], width: float) -> list[tuple[float, str]]:
    """Notes broken into lines no wider than `width` [mm], each with its indent: none for the first of a note."""
    found: list[tuple[float, str]] = []
    for note in notes:
        indent, line = 0.0, ""
        for word in note.replace(" %", f"{THIN}%").split(" "):
            longer = f"{line} {word}" if line else word
            if line and indent + SPARE * text_width(longer, 2.2) > width:
                found.append((indent, line))
                indent, longer = _INDENT, word
            line = longer
        found.append((indent, line))
    return found


def fitted(words: str, height: float, room: float, *, bold: bool = False) -> tuple[str, float]:
    """The words and the height at which they keep within `room` [mm]."""
    wide = SPARE * text_width(words, height, bold=bold)
    if wide <= room:
        return words, height
    smaller = max(_LEAST, height * room / wide)
    if SPARE * text_width(words, smaller, bold=bold) <= room + 1e-9:
        return words, smaller
    while words and SPARE * text_width(words + "…", smaller, bold=bold) > room:
        words = words[:-1].rstrip()
    return words + "…", smaller
