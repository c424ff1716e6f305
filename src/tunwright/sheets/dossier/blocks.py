"""What a part of the dossier is made of: plain data that the press lays out. Texts are data, never markup."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, field
from typing import Any, Literal

Cell = str | dict[str, Any]
Block = dict[str, Any]
Origin = Literal["measured", "maker", "assumed", "chosen"]


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


def legend() -> Block:
    """The key to the marks of origin."""
    return {"is": "legend"}


def column(text: str, width: str = "auto", *, right: bool = False) -> dict[str, Any]:
    """A column of a table.

    text: its heading
    width: "auto", a share such as "1.5fr", or millimetres such as "20mm"
    right: figures stand to the right
    """
    return {"head": text, "width": width, "right": right}


def cell(text: str, *, below: str = "", bold: bool = False, tone: str = "", shade: bool = False) -> Cell:
    """A cell that is more than a text.

    text: what stands in it
    below: a quiet second line
    bold: printed bold
    tone: "bad", "near", "soft" or "accent"
    shade: on a tinted ground
    """
    return {"text": text, "below": below, "bold": bold, "tone": tone, "shade": shade}


def origin_cell(text: str, origin: str, *, below: str = "") -> Cell:
    """A value with the mark of where it comes from; an assumed one stands on a tint."""
    return {"text": text, "below": below, "origin": origin, "shade": origin == "assumed"}


def verdict_cell(verdict: str) -> Cell:
    """A verdict: its mark and its word."""
    return {"verdict": verdict}


def row(cells: Iterable[Cell], *, total: bool = False) -> Block:
    """A row of a table; a total has a line above it and stands bold."""
    return {"cells": list(cells), "total": total}


def band(text: str) -> Block:
    """A row with one heading over all columns."""
    return {"band": text}


def table(columns: Sequence[Block], rows: Sequence[Block], *, size: float = 8.0, whole: bool = False) -> Block:
    """A table whose heading repeats on every page.

    columns: its columns
    rows: its rows
    size: letter size [pt]
    whole: kept on one page
    """
    return {"is": "table", "columns": list(columns), "rows": list(rows), "size": size, "whole": whole}


def picture(svg: str, text: str, *, width_mm: float) -> Block:
    """A chart.

    svg: the picture
    text: what it shows, for those who cannot see it
    width_mm: width on paper [mm]
    """
    return {"is": "picture", "svg": svg, "text": text, "width": width_mm}
