"""What is wrong with a build file, in sentences a person can act on; all problems come in one go.

Every problem says where it is, what was given, what is allowed, and shows an example.
"""

from __future__ import annotations

import difflib
import json
import math
import re
from collections.abc import Iterable
from dataclasses import dataclass

_BARE_KEY = re.compile(r"[A-Za-z0-9_-]+")
_LONGEST_GIVEN = 60  # characters of the given text that a sentence quotes


@dataclass(frozen=True)
class Problem:
    """One thing wrong in a build file.

    line: line in the file, counted from 1; None when the problem belongs to no line
    path: the key, such as "chassis.axle[2].kerb_load"; entries are counted from 1, as people do (see `key_path`)
    given: what was written, as typed; empty when nothing was
    message: what is wrong, as a full sentence
    allowed: what may be written, such as "a length in m, mm, in …"; may be empty
    example: a value that would do, as it would be typed; may be empty
    """

    line: int | None
    path: str
    given: str
    message: str
    allowed: str
    example: str

    def sentence(self, file: str) -> str:
        """`file:line: key: message Given …; allowed …; for example …`, leaving out what is not known."""
        where = [file if self.line is None else f"{file}:{self.line}", self.path]
        parts = (("given", _short(self.given)), ("allowed", self.allowed), ("for example", self.example))
        tail = "; ".join(f"{word} {text}" for word, text in parts if text)
        closing = f" {tail[0].upper()}{tail[1:]}." if tail else ""
        return ": ".join(part for part in (*where, self.message) if part) + closing


class BuildProblems(Exception):
    """Everything wrong with one build file.

    file: name of the file, as it stands in the sentences
    problems: sorted by line; those without a line come last
    """

    def __init__(self, file: str, problems: Iterable[Problem]) -> None:
        """Sort `problems` by line; problems on one line keep their order."""
        self.file = file
        self.problems = sorted(problems, key=lambda problem: math.inf if problem.line is None else problem.line)
        super().__init__(file, self.problems)

    def __str__(self) -> str:
        """One sentence a line."""
        return "\n".join(problem.sentence(self.file) for problem in self.problems)


def key_path(path: Iterable[str | int]) -> str:
    """A key path as people read it: ("chassis", "axle", 1, "at") -> "chassis.axle[2].at".

    path: table keys, and list positions counted from 0, which are printed counted from 1
    """
    text = ""
    for part in path:
        if isinstance(part, int):
            text += f"[{part + 1}]"
        else:
            shown = part if _BARE_KEY.fullmatch(part) else json.dumps(part, ensure_ascii=False)
            text += f".{shown}" if text else shown
    return text


def nearest(word: str, choices: Iterable[str]) -> str | None:
    """The choice most like `word`, upper and lower case alike; None when nothing comes near."""
    folded: dict[str, str] = {}
    for choice in choices:
        folded.setdefault(choice.casefold(), choice)
    found = difflib.get_close_matches(word.casefold(), folded, n=1)
    return folded[found[0]] if found else None


def _short(text: str) -> str:
    """`text` on one line, cut when it is long."""
    line = " ".join(text.split())
    return line if len(line) <= _LONGEST_GIVEN else line[: _LONGEST_GIVEN - 1] + "…"
