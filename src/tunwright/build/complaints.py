"""What the validation says is wrong with a build file, as problems people can read."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import replace
from typing import Any

from pydantic import ValidationError

from tunwright.build.base import Table, Wrong
from tunwright.build.describe import allowed, choices, example, keys, reader_of
from tunwright.build.locate import line_of, locate
from tunwright.build.model import Build
from tunwright.build.problems import Problem, key_path, nearest
from tunwright.build.sketch import Sketch, annotated, bare, key_of, table_for, tables_in
from tunwright.build.trying import with_good_examples
from tunwright.build.typed import as_typed, printable, quoted

Path = tuple[str | int, ...]

MOST = 100
"""Problems of one file that are told; after so many the rest is only counted."""

_LONGEST_KEY = 40
_SECTION = ("tank", "section")  # the one place where the validation puts the chosen shape into a path
_MESSAGES = {
    "string_type": "This must be text in quotes.",
    "bool_type": "This must be true or false, without quotes.",
    "int_type": "This must be a whole number, without quotes.",
    "int_from_float": "This must be a whole number, without quotes.",
    "float_type": "This must be a number, without quotes.",
    "finite_number": "This is not a number that can be reckoned with.",
    "greater_than_equal": "The number is too small.",
    "less_than_equal": "The number is too large.",
    "list_type": "This must be a list.",
    "too_short": "The list has too few entries.",
    "too_long": "The list has too many entries.",
    "model_type": "This must be a table with keys of its own.",
    "model_attributes_type": "This must be a table with keys of its own.",
    "string_pattern_mismatch": "The text must stand on one line, without control characters.",
    "string_too_short": "The text is empty.",
    "string_too_long": "The text is too long.",
    "literal_error": "This is none of the choices.",
    "union_tag_invalid": "This is none of the choices.",
    "missing": "The key is missing",
    "union_tag_not_found": "The key is missing",
}


def problems(error: ValidationError, raw: Mapping[str, Any], text: str, context: dict[str, Any]) -> list[Problem]:
    """Everything wrong with a build file.

    error: what the validation of the document found
    raw: the document as parsed
    text: its text, for the lines
    context: context of the validation
    """
    sketch = Sketch(context)
    sketch.table(Build, raw)
    wrongs = [wrong for item in error.errors(include_url=False) for wrong in _wrongs(item, raw)]
    wrongs = list(dict.fromkeys([*wrongs, *sketch.found]))
    lines = locate(text)
    told = [_problem(wrong, lines) for wrong in with_good_examples(wrongs[:MOST], raw, context)]
    if len(wrongs) > MOST:
        more = f"There are {len(wrongs) - MOST} more problems; they are told once these are mended."
        told.append(Problem(None, "", "", more, "", ""))
    return told


def _problem(wrong: Wrong, lines: Mapping[Path, int]) -> Problem:
    """A wrong with its line and nothing in it that could harm a terminal."""
    path = tuple(_short(part) for part in wrong.path)
    texts = map(printable, (wrong.given, wrong.message, wrong.allowed, wrong.example))
    return Problem(line_of(lines, wrong.path), key_path(path), *texts)


def _short(part: str | int) -> str | int:
    if isinstance(part, int) or len(part) <= _LONGEST_KEY:
        return part
    return part[: _LONGEST_KEY - 1] + "…"


def _wrongs(item: Any, raw: Mapping[str, Any]) -> Iterator[Wrong]:
    """One error of the validation."""
    loc: Path = tuple(item["loc"])
    if loc[:2] == _SECTION and len(loc) > 2:
        loc = (*_SECTION, *loc[3:])
    kind = item["type"]
    if kind in ("value", "sense"):
        for wrong in item["ctx"]["wrongs"]:
            yield replace(wrong, path=(*loc, *wrong.path), example=_own_example(kind, loc, wrong.example, raw))
    elif kind == "extra_forbidden":
        yield _unknown_key(loc, raw)
    elif kind in ("union_tag_not_found", "union_tag_invalid"):
        yield from _shape(loc, item["input"])
    else:
        yield _plain(kind, loc, item["input"], raw)


def _own_example(kind: str, loc: Path, said: str, raw: Mapping[str, Any]) -> str:
    """The key's own example in place of that of its type."""
    if kind != "value" or isinstance(loc[-1], int):
        return said
    model, name = _place(loc, raw)
    reader = reader_of(annotated(model, name))
    own = example(model, name) if reader is not None else ""
    usual = quoted(reader.example) if reader is not None else ""
    return {usual: own, f"value = {usual}": f"value = {own}"}.get(said, said) if own else said


def _shape(loc: Path, given: Any) -> Iterator[Wrong]:
    """A section of no known shape."""
    kind = annotated(*_place(loc))
    words = [word for model in tables_in(kind) for word in choices(model.model_fields["shape"].annotation)]
    if not isinstance(given, Mapping):
        message = _MESSAGES["model_type"]
        yield Wrong(loc, message, as_typed(given), allowed(kind, key_path(loc)), "")
        return
    path, what = (*loc, "shape"), ", ".join(words)
    if "shape" not in given:
        yield Wrong(path, "The key is missing: shape of the section.", "", what, f"shape = {words[0]}")
    else:
        shown = as_typed(given["shape"])
        near = nearest(quoted(shown), words)
        message = _MESSAGES["literal_error"] + (f" Did you mean {near}?" if near else "")
        yield Wrong(path, message, shown, what, near or words[0])


def _unknown_key(loc: Path, raw: Mapping[str, Any]) -> Wrong:
    names = keys([_model_at(loc[:-1], raw)])
    near = nearest(str(loc[-1])[:_LONGEST_KEY], names)
    message = "This key is not known here." + (f' Did you mean "{near}"?' if near else "")
    return Wrong(loc, message, str(loc[-1]), ", ".join(names))


def _plain(kind: str, loc: Path, given: Any, raw: Mapping[str, Any]) -> Wrong:
    """Missing keys, wrong types, choices and bounds."""
    model, name = _place(loc, raw)
    what, shown = annotated(model, name), "" if kind == "missing" else _given(kind, given)
    entry = isinstance(loc[-1], int)
    path = key_path(tuple(part for part in loc if isinstance(part, str)))
    if entry:
        what = _entry(what, loc)
    words, like = allowed(what, path), "" if entry else example(model, name)
    message = _MESSAGES.get(kind, "This value cannot stand here.")
    if kind == "missing":
        described = model.model_fields[name].description
        return Wrong(loc, f"{message}: {described}.", shown, words, f"{loc[-1]} = {like}" if like else "")
    if kind == "literal_error":
        near = nearest(quoted(shown), choices(what))
        message, like = message + (f" Did you mean {near}?" if near else ""), near or like
    if kind == "string_type" and not isinstance(given, Mapping | list):
        like = quoted(shown)
    hint = "" if entry else _brackets(kind, given, what, path)
    return Wrong(loc, message + hint, shown, words, like)


def _given(kind: str, given: Any) -> str:
    if kind in ("too_short", "too_long") and isinstance(given, Sequence):
        return f"{len(given)} entries"
    return as_typed(given)


def _brackets(kind: str, given: Any, what: Any, path: str) -> str:
    """The usual slip: one pair of square brackets in place of two, or the other way round."""
    if kind == "list_type" and isinstance(given, Mapping):
        return f" Write [[{path}]] with double brackets."
    if kind in ("model_type", "model_attributes_type") and isinstance(given, list) and tables_in(what):
        return f" Write [{path}] with single brackets."
    return ""


def _entry(what: Any, loc: Path) -> Any:
    """The type of an entry of a list."""
    for _ in range(sum(1 for part in reversed(loc) if isinstance(part, int))):
        args = getattr(bare(what), "__args__", ())
        what = args[0] if args and not tables_in(what) else what
    return what


def _place(loc: Path, raw: Mapping[str, Any] | None = None) -> tuple[type[Table], str]:
    """The table a path ends in, and the field its last key names."""
    last = max(i for i, part in enumerate(loc) if isinstance(part, str))
    model = _model_at(loc[:last], raw)
    return model, next(name for name, f in model.model_fields.items() if key_of(name, f) == loc[last])


def _model_at(loc: Path, raw: Mapping[str, Any] | None) -> type[Table]:
    """The table that stands at a path."""
    model: type[Table] = Build
    here: Any = raw
    for part in loc:
        here = here[part] if here is not None else None
        if isinstance(part, str):
            name = next(name for name, f in model.model_fields.items() if key_of(name, f) == part)
            kind = annotated(model, name)
            if not tables_in(kind):
                (kind,) = [one for one in getattr(bare(kind), "__args__", ()) if tables_in(one)]
            model = table_for(kind, here) or tables_in(kind)[0]
    return model
