"""Old formats of the build document, brought up to today's step by step."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from typing import Any

from tunwright.build.model import FORMAT
from tunwright.build.problems import BuildProblems, Problem

Step = Callable[[dict[str, Any]], dict[str, Any]]

STEPS: Mapping[int, Step] = {}
"""From a format to the next one; empty as long as there has been only one."""


def upgraded(raw: dict[str, Any], name: str) -> dict[str, Any]:
    """The document in today's format. Raises BuildProblems for a format that is not known.

    raw: the parsed document
    name: what it is called in messages
    """
    found = raw.get("format")
    if found is None:
        return raw  # reported with everything else that is missing
    if isinstance(found, bool) or not isinstance(found, int) or not 1 <= found <= FORMAT:
        message = "This program does not know the format; a newer file needs a newer program."
        raise BuildProblems(name, [Problem(1, "format", repr(found), message, f"1 to {FORMAT}", f"format = {FORMAT}")])
    while raw["format"] < FORMAT:
        raw = STEPS[raw["format"]](raw)
    return raw
