"""Old formats of the build document, brought up to today's step by step."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from typing import Any

from tunwright.build.model import FORMAT
from tunwright.build.problems import BuildProblems, Problem
from tunwright.build.typed import as_typed

Step = Callable[[dict[str, Any]], dict[str, Any]]

STEPS: Mapping[int, Step] = {}
"""From a format to the next one; empty as long as there has been only one."""


NONSENSE = 1000
"""No format will ever have this number; it is a slip of the pen."""


def upgraded(raw: dict[str, Any], name: str, line: Callable[[], int | None] = lambda: None) -> dict[str, Any]:
    """The document in today's format. Raises BuildProblems for a format that is not known.

    raw: the parsed document
    name: what it is called in messages
    line: finds the line of the format, where it is to be named
    """
    found = raw.get("format")
    if isinstance(found, bool) or not isinstance(found, int) or not 1 <= found < NONSENSE:
        return raw  # reported with everything else that is wrong
    if found > FORMAT:
        message = "This program does not know the format; a newer file needs a newer program."
        allowed = f"1 to {FORMAT}" if FORMAT > 1 else "1"
        raise BuildProblems(name, [Problem(line(), "format", as_typed(found), message, allowed, str(FORMAT))])
    while raw["format"] < FORMAT:
        raw = STEPS[raw["format"]](raw)
    return raw
