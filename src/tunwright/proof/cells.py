"""One cell of a file of rows: numbers, words and times, each with what is wrong with it in a sentence."""

from __future__ import annotations

import math
import re
from dataclasses import dataclass
from datetime import datetime
from typing import Literal

Cell = float | str | datetime | None

_NUMBER = re.compile(r"[+-]?(?:\d+(?:\.\d*)?|\.\d+)(?:[eE][+-]?\d{1,3})?")


class CellWrong(ValueError):
    """A cell that cannot be read.

    message: what is wrong, as a sentence
    allowed: what may be written
    example: a value that would do
    """

    def __init__(self, message: str, allowed: str, example: str) -> None:
        """All three texts are kept."""
        super().__init__(message)
        self.message, self.allowed, self.example = message, allowed, example


@dataclass(frozen=True)
class Wanted:
    """A column there may be.

    name: its name
    meaning: what it holds, with its unit, in words
    example: a value that would do
    needed: every file has it
    usual: a plain file has it
    blank: its cells may be empty
    what: what its cells are
    low, high: least and greatest number
    above: its numbers are above `low`, not on it
    whole: its numbers are whole
    """

    name: str
    meaning: str
    example: str
    needed: bool = False
    usual: bool = False
    blank: bool = False
    what: Literal["number", "words", "time"] = "number"
    low: float = -math.inf
    high: float = math.inf
    above: bool = False
    whole: bool = False

    @property
    def number(self) -> bool:
        """Whether its cells are numbers."""
        return self.what == "number"

    def read(self, typed: str, *, comma: bool) -> Cell:
        """What a cell says. Raises CellWrong.

        typed: the cell
        comma: the decimals of the file are commas
        """
        if not typed:
            if self.blank:
                return None
            raise CellWrong("The cell is empty.", self.allowed, self.example)
        if self.what == "words":
            return typed
        return self._time(typed) if self.what == "time" else self._number(typed, comma=comma)

    @property
    def allowed(self) -> str:
        """What may be written, in words."""
        if not self.number:
            return self.meaning
        ends = ["a whole number"] if self.whole else []
        ends += [f"{'above' if self.above else 'from'} {self.low:g}"] if math.isfinite(self.low) else []
        ends += [f"up to {self.high:g}"] if math.isfinite(self.high) else []
        return ", ".join([self.meaning, " ".join(ends)]) if ends else self.meaning

    def _number(self, typed: str, *, comma: bool) -> float:
        value = self._plain(typed, comma=comma)
        low = value <= self.low if self.above else value < self.low
        if low or value > self.high:
            raise CellWrong(f"The number is too {'small' if low else 'large'}.", self.allowed, self.example)
        if self.whole and value != round(value):
            raise CellWrong("The number is not whole, and nothing may part thousands.", self.allowed, self.example)
        return value

    def _plain(self, typed: str, *, comma: bool) -> float:
        if comma and "." in typed:
            wrong = "The numbers of this file have decimal commas, and a point may part thousands."
            raise CellWrong(wrong, "decimals by a comma, thousands by nothing", self.example.replace(".", ","))
        text = typed.replace(",", ".") if comma else typed
        if not _NUMBER.fullmatch(text.replace("\u2212", "-")):
            raise CellWrong(self._no_number(typed), self.allowed, self.example)
        return float(text.replace("\u2212", "-"))

    def _no_number(self, typed: str) -> str:
        if re.fullmatch(r"[+-]?\d{1,3}(?:[ .,]\d{3})+.*", typed):
            return "This is not read as a number: nothing may part its thousands."
        if re.match(r"[+-]?\d[\d.]*\s*[^\d\s.]", typed):
            return "This is more than a number: the unit stands in the name of the column."
        return "This is no number."

    def _time(self, typed: str) -> Cell:
        """Seconds, or a date with a time; both may have a comma before their decimals, where the file allows one."""
        text = typed.replace(",", ".")
        if _NUMBER.fullmatch(text):
            return self._number(text, comma=False)
        try:
            return datetime.fromisoformat(typed)
        except ValueError:
            wrong = "This is neither a number of seconds nor a date with a time in the order of ISO 8601."
            raise CellWrong(wrong, self.allowed, self.example) from None
