"""Keys of a build file in the words of their descriptions."""

from __future__ import annotations

import re
from collections.abc import Iterable

from pydantic import BaseModel

from tunwright.build.model import Build
from tunwright.checks.assumed import Path

_STEP = re.compile(r'([A-Za-z0-9_-]+)|\[(\d+)\]|"((?:[^"\\]|\\.)*)"')


def parsed(path: str) -> Path:
    """A key path as people read it back into its steps, positions counted from 0.

    path: such as "chassis.axle[2].at"
    """
    steps: list[str | int] = []
    for name, place, quoted in _STEP.findall(path):
        steps.append(int(place) - 1 if place else name or quoted)
    return tuple(steps)


def field_of(table: BaseModel, step: str) -> tuple[str, str] | None:
    """Attribute and description of a key of a table, None where it has no such key.

    table: the table
    step: the key as written
    """
    for name, field in type(table).model_fields.items():
        if step in (name, field.alias):
            return name, field.description or step.replace("_", " ")
    return None


def short(description: str) -> str:
    """A description up to its first semicolon."""
    return description.split(";", 1)[0]


def called(table: BaseModel, key: str, index: int) -> str:
    """What one of several tables is called: "axle “front”", or "baffle 2" where it has no name.

    table: the table
    key: key of the list it stands in
    index: its position, from 0
    """
    own = getattr(table, "name", None)
    word = key.replace("_", " ")
    return f"{word} “{own}”" if isinstance(own, str) else f"{word} {index + 1}"


def label(build: Build, path: str) -> str:
    """An input in words, with the table it stands in; a text that is no key stays as it is.

    build: the build
    path: key path of the input, or words
    """
    return _joined([_place(build, path)[0]], _place(build, path)[1])


def labels(build: Build, paths: Iterable[str]) -> list[str]:
    """Inputs in words, the tables named together where the same is meant in each.

    build: the build
    paths: key paths, or words
    """
    found: dict[str, list[str]] = {}
    for path in dict.fromkeys(paths):
        place, what = _place(build, path)
        found.setdefault(what, []).append(place)
    return [_joined(places, what) for what, places in found.items()]


def _joined(places: list[str], what: str) -> str:
    """Where it stands, then what it is: "axle “front”: load on it as weighed"."""
    named: list[str] = []
    word = ""
    for place in dict.fromkeys(places):
        head, quote, rest = place.partition("“")
        named.append(f"{quote}{rest}" if quote and head == word else place)
        word = head
    where = ", ".join(place for place in named if place)
    return f"{where}: {what}" if where else what


def _place(build: Build, path: str) -> tuple[str, str]:
    """The table an input stands in, and what it is."""
    if re.search(r"\s", re.sub(r'"[^"]*"', "", path)):
        return "", path
    place: list[str] = []
    at: object = build
    what = ""
    steps = parsed(path)
    for i, step in enumerate(steps):
        if isinstance(step, int):
            if not isinstance(at, list) or not 0 <= step < len(at):
                return "", path
            at = at[step]
            if isinstance(at, BaseModel):
                place[-1] = called(at, str(steps[i - 1]), step)
            continue
        found = field_of(at, step) if isinstance(at, BaseModel) else None
        if found is None:
            return ", ".join(place), step.replace("_", " ")
        what = short(found[1])
        at = getattr(at, found[0])
        place.append(step.replace("_", " "))
    return ", ".join(word for word in place[:-1] if word != "chassis"), what
