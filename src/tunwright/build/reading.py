"""From the text of a build file to a Build, or to all that is wrong with it."""

from __future__ import annotations

import hashlib
import re
import tomllib
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from pydantic import BaseModel, ValidationError
from pydantic.fields import FieldInfo

from tunwright.build.base import Wrong
from tunwright.build.locate import line_of, locate
from tunwright.build.model import FORMAT, Build
from tunwright.build.problems import BuildProblems, Problem, key_path, nearest
from tunwright.build.upgrade import upgraded

LARGEST = 2_000_000
"""Largest build file read [bytes]."""

Loc = tuple[str | int, ...]


@dataclass(frozen=True)
class Document:
    """A build file that can be built.

    name: what the file is called in messages
    text: the file, word for word
    build: what it says
    """

    name: str
    text: str
    build: Build

    @property
    def sha256(self) -> str:
        """SHA-256 of the text."""
        return hashlib.sha256(self.text.encode()).hexdigest()


def read_file(path: Path) -> Document:
    """Read a build file. Raises BuildProblems with everything wrong with it.

    path: the file
    """
    return read_text(_text(path), name=str(path))


def _text(path: Path) -> str:
    """The text of a file, or why there is none."""
    try:
        if path.is_dir():
            raise _refused(path, "This is a folder, not a build file.")
        size = path.stat().st_size
        if size > LARGEST:
            raise _refused(
                path, f"The file is {size / 1e6:.1f} MB large; a build file has at most {LARGEST / 1e6:.0f} MB."
            )
        raw = path.read_bytes()
    except FileNotFoundError:
        raise _refused(path, "There is no such file.") from None
    except OSError as error:
        raise _refused(path, f"The file cannot be read: {error.strerror or error}.") from None
    try:
        return raw.decode("utf-8-sig").replace("\r\n", "\n")
    except UnicodeDecodeError as error:
        line = raw.count(b"\n", 0, error.start) + 1
        raise _refused(path, "The file is not UTF-8 text; save it as UTF-8 in the editor.", line) from None


def _refused(path: Path, message: str, line: int | None = None) -> BuildProblems:
    return BuildProblems(str(path), [Problem(line, "", "", message, "", "")])


def read_text(text: str, *, name: str = "build.toml") -> Document:
    """Read the text of a build file. Raises BuildProblems with everything wrong with it.

    text: the document
    name: what it is called in messages
    """
    raw = upgraded(_parsed(text, name), name)
    tank = raw.get("tank")
    context = {"tank_material": tank.get("material", "S235") if isinstance(tank, Mapping) else "S235"}
    try:
        build = Build.model_validate(raw, context=context)
    except ValidationError as error:
        lines = locate(text)
        problems = [problem for item in error.errors() for problem in _problems(item, lines)]
        raise BuildProblems(name, problems) from None
    return Document(name, text, build)


def _parsed(text: str, name: str) -> dict[str, Any]:
    try:
        return tomllib.loads(text)
    except tomllib.TOMLDecodeError as error:
        found = re.search(r"\(at line (\d+), column (\d+)\)", str(error))
        line = int(found.group(1)) if found else text.count("\n") + 1
        said = re.sub(r" \(at .*\)$", "", str(error))
        message = f"This is not a TOML document: {said[0].lower()}{said[1:]}."
        given = text.splitlines()[line - 1].strip() if 0 < line <= len(text.splitlines()) else ""
        raise BuildProblems(name, [Problem(line, "", given, message, 'key = "value"', 'length = "5.4 m"')]) from None
    except RecursionError:
        raise BuildProblems(name, [Problem(None, "", "", "The document is nested too deeply.", "", "")]) from None


def _problems(item: Any, lines: Mapping[Loc, int]) -> Iterator[Problem]:
    """One pydantic error as problems people can read."""
    loc: Loc = _without_tags(tuple(item["loc"]))
    context = item.get("ctx") or {}
    if item["type"] == "sense":
        for wrong in context["wrongs"]:
            yield _of_wrong(loc, wrong, lines)
    elif item["type"] == "value":
        yield Problem(
            line_of(lines, loc),
            key_path(loc),
            context["given"],
            context["message"],
            context["allowed"],
            context["example"],
        )
    elif item["type"] == "extra_forbidden":
        yield _unknown_key(loc, lines)
    else:
        yield _plain(item, loc, lines)


def _of_wrong(loc: Loc, wrong: Wrong, lines: Mapping[Loc, int]) -> Problem:
    path = loc + wrong.path
    return Problem(line_of(lines, path), key_path(path), wrong.given, wrong.message, wrong.allowed, wrong.example)


def _unknown_key(loc: Loc, lines: Mapping[Loc, int]) -> Problem:
    names = _keys_at(loc[:-1])
    near = nearest(str(loc[-1]), names)
    message = "This key is not known here." + (f' Did you mean "{near}"?' if near else "")
    return Problem(line_of(lines, loc), key_path(loc), str(loc[-1]), message, ", ".join(names), near or "")


def _plain(item: Any, loc: Loc, lines: Mapping[Loc, int]) -> Problem:
    """Missing keys, wrong types, choices and bounds."""
    field = _field_at(loc)
    example = _example(field)
    if item["type"] in ("missing", "union_tag_not_found"):
        what = key_path((*loc, "shape")) if item["type"] == "union_tag_not_found" else key_path(loc)
        described = f": {field.description}" if field is not None and field.description else ""
        message = f"The key is missing{described}."
        return Problem(
            line_of(lines, loc[:-1] or loc), what, "", message, "", f"{_last(what)} = {example}" if example else ""
        )
    given = item.get("input")
    shown = "a table" if isinstance(given, Mapping) else "a list" if isinstance(given, list) else repr(given).strip("'")
    return Problem(line_of(lines, loc), key_path(loc), shown, _message(item), "", example)


def _message(item: Any) -> str:
    """What pydantic says, in our words."""
    kind, context = item["type"], item.get("ctx") or {}
    words = {
        "string_type": "This must be text in quotes.",
        "bool_type": "This must be true or false, without quotes.",
        "int_type": "This must be a whole number, without quotes.",
        "float_type": "This must be a number, without quotes.",
        "list_type": "This must be a list in square brackets.",
        "tuple_type": "This must be a pair of numbers [y, z].",
        "model_type": "This must be a table with keys of its own.",
        "model_attributes_type": "This must be a table with keys of its own.",
        "string_pattern_mismatch": "Text must stand on one line, without control characters.",
        "string_too_short": "The text is empty.",
    }
    if kind in ("literal_error", "union_tag_invalid"):
        return f"This must be one of {context.get('expected') or context.get('expected_tags')}."
    said = item["msg"]
    return words.get(kind) or f"{said[0].upper()}{said[1:]}".rstrip(".") + "."


def _last(path: str) -> str:
    return path.rsplit(".", 1)[-1]


def _without_tags(loc: Loc) -> Loc:
    """Places as the document has them: the tag of a union is no key."""
    out: list[str | int] = []
    for i, part in enumerate(loc):
        if i and loc[i - 1] == "section" and part in _TAGS:
            continue
        if isinstance(part, str) and (part.startswith(("function-", "list[", "literal[", "constrained-"))):
            continue
        out.append(part)
    return tuple(out)


_TAGS = ("circle", "ellipse", "super-ellipse", "rectangle", "rounded box", "outline")


def _model_at(loc: Loc) -> Sequence[type[BaseModel]]:
    """The tables that may stand at a place."""
    models: Sequence[type[BaseModel]] = (Build,)
    for part in loc:
        if isinstance(part, int):
            continue
        fields = [
            field for model in models for name, field in model.model_fields.items() if part in (name, field.alias)
        ]
        models = [model for field in fields for model in _tables_in(field.annotation)]
    return models


def _tables_in(annotation: Any) -> list[type[BaseModel]]:
    if isinstance(annotation, type) and issubclass(annotation, BaseModel):
        return [annotation]
    return [model for part in getattr(annotation, "__args__", ()) for model in _tables_in(part)]


def _keys_at(loc: Loc) -> list[str]:
    return sorted({field.alias or name for model in _model_at(loc) for name, field in model.model_fields.items()})


def _field_at(loc: Loc) -> FieldInfo | None:
    names = [part for part in loc if isinstance(part, str)]
    if not names:
        return None
    for model in _model_at(tuple(names[:-1])):
        for name, field in model.model_fields.items():
            if names[-1] in (name, field.alias):
                return field
    return None


def _example(field: FieldInfo | None) -> str:
    """How a value of a key would be typed."""
    if field is None:
        return ""
    extra = field.json_schema_extra
    if isinstance(extra, dict) and "x-example" in extra:
        return str(extra["x-example"])
    for item in field.metadata:
        schema = getattr(item, "json_schema", None)
        if schema and schema.get("examples"):
            return f'"{schema["examples"][0]}"'
    return ""


__all__ = ["FORMAT", "Document", "read_file", "read_text"]
