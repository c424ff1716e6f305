"""What may be written for a key, in words: for error sentences and for the manual."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any, Literal, get_args, get_origin

from pydantic import WithJsonSchema
from pydantic.fields import FieldInfo
from pydantic.functional_validators import PlainValidator

from tunwright.build.base import Table
from tunwright.build.fields import Reader
from tunwright.build.sketch import annotated, bare, key_of, lengths, marks, tables_in
from tunwright.build.typed import listed, quoted

_PLAIN = {bool: "true or false", int: "a whole number", float: "a number", str: "text in quotes"}


def reader_of(kind: Any) -> Reader | None:
    """What reads a quantity of a type, None for other types.

    kind: type of a key
    """
    found = (m.func for m in marks(kind) if isinstance(m, PlainValidator))
    return next((one for one in found if isinstance(one, Reader)), None)


def allowed(kind: Any, path: str = "") -> str:
    """What may be written for a type.

    kind: type of a key
    path: the key, for tables
    """
    reader, inner = reader_of(kind), bare(kind)
    if reader is not None:
        return reader.label
    if tables_in(kind):
        return f"a table [{path}] with the keys {listed(keys(tables_in(kind)), 'and')}"
    if get_origin(inner) is Literal:
        return listed(choices(inner))
    if any(isinstance(m, WithJsonSchema) for m in marks(kind)):
        return "a list in square brackets, or a word" if "Literal" in str(inner) else "a list in square brackets"
    if get_origin(inner) is list:
        return _list(kind, path)
    return _PLAIN.get(inner, "another value") + _range(kind)


def _list(kind: Any, path: str) -> str:
    """A list of tables, or of values."""
    (entry,) = get_args(bare(kind))
    count = _count(kind)
    if tables_in(entry):
        return f"{count}tables, each under a line [[{path}]] of its own, with the keys " + listed(
            keys(tables_in(entry)), "and"
        )
    return f"a list in square brackets; each entry is {allowed(entry)}"


def _count(kind: Any) -> str:
    least, most = lengths(kind)
    if least and most:
        return f"{least} to {most} "
    return f"{least} or more " if least else f"up to {most} " if most else ""


def _range(kind: Any) -> str:
    """The bounds of a number or the greatest length of a text."""
    least = next((m.ge for m in marks(kind) if getattr(m, "ge", None) is not None), None)
    most = next((m.le for m in marks(kind) if getattr(m, "le", None) is not None), None)
    if least is not None and most is not None:
        return f" from {least} to {most}" if least != most else f", {least}"
    _, length = lengths(kind)
    return f", 1 to {length} characters on one line" if length else ""


def choices(kind: Any) -> list[str]:
    """The choices of a type, as they are typed.

    kind: type of a key
    """
    return [quoted(one) if isinstance(one, str) else str(one) for one in get_args(bare(kind))]


def keys(models: Sequence[type[Table]]) -> list[str]:
    """The keys of tables, those that must be there first.

    models: the tables
    """
    found = [(not f.is_required(), key_of(n, f)) for m in models for n, f in m.model_fields.items()]
    return list(dict.fromkeys(name for _, name in sorted(found, key=lambda one: one[0])))


def example(model: type[Table], name: str) -> str:
    """A value of a key as it would be typed, empty where none is short enough.

    model: the table
    name: name of the field
    """
    info: FieldInfo = model.model_fields[name]
    extra = info.json_schema_extra
    if isinstance(extra, dict) and "x-example" in extra:
        return str(extra["x-example"])
    kind = annotated(model, name)
    reader = reader_of(kind)
    if reader is not None:
        return quoted(reader.example)
    return choices(kind)[0] if get_origin(bare(kind)) is Literal else ""
