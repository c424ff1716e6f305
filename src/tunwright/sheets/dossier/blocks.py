"""What a part of the dossier is made of: plain data that the press lays out. Texts are data, never markup."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, field
from typing import Any

Cell = str | dict[str, Any]
Block = dict[str, Any]

SHORT = 42  # lines of a table that are kept together
SHORT_TALL = 20  # the same of a table that is written in
LONG = 400  # letters of a cell that may be parted between pages
_NARROW = 22  # letters on a line of a narrow column


@dataclass(frozen=True)
class Part:
    """A numbered part of the dossier.

    title: its heading
    blocks: what it holds, in order
    fresh: it begins on a new page
    """

    title: str
    blocks: Sequence[Block] = field(default_factory=tuple)
    fresh: bool = True

    def data(self) -> Block:
        """The part as plain data."""
        return {"title": self.title, "blocks": list(self.blocks), "fresh": self.fresh}


def words(text: str) -> Block:
    """A paragraph."""
    return {"is": "words", "text": text}


def note(text: str) -> Block:
    """A quiet line under something."""
    return {"is": "note", "text": text}


def unknown(text: str) -> Block:
    """A paragraph that says what is not known and what to measure."""
    return {"is": "unknown", "text": text}


def head(text: str) -> Block:
    """A heading inside a part."""
    return {"is": "head", "text": text}


def together(blocks: Sequence[Block]) -> Block:
    """Blocks that stand on one page.

    blocks: what belongs together, less than a page of it
    """
    return {"is": "together", "blocks": list(blocks)}


def legend() -> Block:
    """The key to the marks of origin."""
    return {"is": "legend"}


def column(text: str, width: str = "auto", *, right: bool = False, title: bool = False) -> dict[str, Any]:
    """A column of a table.

    text: its heading
    width: "auto", a share such as "1.5fr", or millimetres such as "20mm"
    right: figures stand to the right
    title: its heading names the whole table
    """
    return {"head": text, "width": width, "right": right, "title": title}


def cell(text: str, *, bold: bool = False, tone: str = "", span: int = 1) -> Cell:
    """A cell that is more than a text.

    text: what stands in it
    bold: printed bold
    tone: "bad", "near", "soft" or "accent"
    span: columns it reaches over
    """
    return {"text": text, "bold": bold, "tone": tone, "span": span}


def origin_cell(text: str, origin: str, *, below: str = "") -> Cell:
    """A value with the mark of where it comes from; an assumed one stands on a tint."""
    return {"text": text, "below": below, "origin": origin, "shade": origin == "assumed"}


def box_cell() -> Cell:
    """A box to be ticked by hand."""
    return {"box": True}


def verdict_cell(verdict: str) -> Cell:
    """A verdict: its mark and its word."""
    return {"verdict": verdict}


def row(cells: Iterable[Cell], *, total: bool = False) -> Block:
    """A row of a table; a total has a line above it and stands bold; a very long one may go on overleaf."""
    kept = list(cells)
    return {"cells": kept, "total": total, "long": max(map(_length, kept), default=0) > LONG}


def table(
    columns: Sequence[Block], rows: Sequence[Block], *, size: float = 8.0, foot: str = "", tall: bool = False
) -> Block:
    """A table whose heading repeats on every page; one that is short is kept on one page.

    columns: its columns
    rows: its rows
    size: letter size [pt]
    foot: a quiet line under it
    tall: rows are written in by hand
    """
    lines = sum(lines_of(max(map(_length, one["cells"]), default=0), _NARROW) for one in rows)
    made = {"columns": list(columns), "rows": list(rows), "size": size, "foot": foot, "tall": tall}
    return {"is": "table", "whole": lines <= (SHORT_TALL if tall else SHORT), **made}


def lines_of(letters: int, wide: int) -> int:
    """About how many lines a text takes.

    letters: letters in it
    wide: letters on a line
    """
    return max(1, -(-letters // wide))


def _length(one: Cell) -> int:
    """Letters in a cell."""
    if isinstance(one, str):
        return len(one)
    return len(one.get("text", "")) // int(one.get("span", 1)) + len(one.get("below", ""))


def picture(svg: str, text: str, *, width_mm: float) -> Block:
    """A chart.

    svg: the picture
    text: what it shows, for those who cannot see it
    width_mm: width on paper [mm]
    """
    return {"is": "picture", "svg": svg, "text": text, "width": width_mm}
