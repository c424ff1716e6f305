"""A second look at a build file with faults: what can be read is read, and what fits together is checked as far as it
is known, so that all that is wrong comes in one go.
"""

from __future__ import annotations

import types
from collections.abc import Mapping
from contextlib import suppress
from dataclasses import dataclass, field, replace
from functools import cache
from typing import Annotated, Any, Union, get_args, get_origin

from pydantic import BaseModel, ConfigDict, TypeAdapter, ValidationError
from pydantic.fields import FieldInfo
from pydantic.functional_validators import PlainValidator

from tunwright.build.base import UNKNOWN, NotKnown, Table, Unknown, Wrong
from tunwright.build.problems import nearest

Path = tuple[str | int, ...]
_LONGEST = 40  # letters of a key that are looked at


@dataclass
class Sketch:
    """Reads a table as far as it can be read.

    context: context of the validation
    found: what does not fit together, with paths from the table it was begun at
    unread: paths of what could not be read
    """

    context: dict[str, Any]
    found: list[Wrong] = field(default_factory=list)
    unread: set[Path] = field(default_factory=set)

    def table(self, model: type[Table], raw: Mapping[str, Any], at: Path = ()) -> Table:
        """A table whose unreadable values are unknown; what does not fit together in it and below it is noted.

        model: what the table should be
        raw: the table as written
        at: its path
        """
        own = self.context
        if "material" in model.model_fields:
            self.context = {**own, "tank_material": raw.get("material", model.model_fields["material"].default)}
        values = {key_of(name, f): self._value(model, name, raw, at) for name, f in model.model_fields.items()}
        self.context = own
        made = model.model_construct(**values)
        with suppress(NotKnown):
            for wrong in made.wrongs():
                self.found.append(replace(wrong, path=(*at, *wrong.path)))
        return made

    def _value(self, model: type[Table], name: str, raw: Mapping[str, Any], at: Path) -> Any:
        info = model.model_fields[name]
        key = key_of(name, info)
        if key in raw:
            return self._part(annotated(model, name), raw[key], (*at, key))
        if info.is_required() or _misspelt(model, key, raw):
            return self._none((*at, key))
        return info.get_default(call_default_factory=False)

    def _none(self, at: Path) -> Unknown:
        self.unread.add(at)
        return UNKNOWN

    def _part(self, kind: Any, raw: Any, at: Path) -> Any:
        """A value, a table, or a list of them."""
        if tables_in(kind):
            model = table_for(kind, raw)
            return self.table(model, raw, at) if model is not None and isinstance(raw, Mapping) else self._none(at)
        whole = any(isinstance(mark, PlainValidator) for mark in marks(kind))  # it has a reader of its own
        if get_origin(bare(kind)) is list and isinstance(raw, list) and not whole:
            (inner,) = get_args(bare(kind))
            least, most = lengths(kind)
            parts = [self._part(inner, one, (*at, i)) for i, one in enumerate(raw[: most or None])]
            return parts if least <= len(raw) <= (most or len(raw)) else self._none(at)
        try:
            return adapter(kind).validate_python(raw, context=self.context)
        except ValidationError:
            return self._none(at)


def _misspelt(model: type[Table], key: str, raw: Mapping[str, Any]) -> bool:
    """Whether a key that is not there seems to have been written with a slip of the pen."""
    keys = [key_of(name, info) for name, info in model.model_fields.items()]
    return any(nearest(word[:_LONGEST], keys) == key for word in raw if word not in keys)


@cache
def lengths(kind: Any) -> tuple[int, int]:
    """The least and the greatest number of entries of a list; 0 where there is no greatest.

    kind: a type, annotated or not
    """
    least = max((getattr(mark, "min_length", None) or 0 for mark in marks(kind)), default=0)
    return least, max((getattr(mark, "max_length", None) or 0 for mark in marks(kind)), default=0)


def key_of(name: str, info: FieldInfo) -> str:
    """The key of a field as the document has it.

    name: name of the field
    info: the field
    """
    return info.alias or name


@cache
def annotated(model: type[BaseModel], name: str) -> Any:
    """The type of a field with all that is said about it.

    model: the table
    name: name of the field
    """
    info = model.model_fields[name]
    return Annotated[(info.annotation, *info.metadata)] if info.metadata else info.annotation


@cache
def marks(kind: Any) -> tuple[Any, ...]:
    """What is said about a type besides the type.

    kind: a type, annotated or not
    """
    if get_origin(kind) is Annotated:
        return get_args(kind)[1:]
    return next((marks(one) for one in _choices(kind) if get_origin(one) is Annotated), ())


@cache
def bare(kind: Any) -> Any:
    """A type without what is said about it, and without None.

    kind: a type, annotated or not
    """
    if get_origin(kind) is Annotated:
        return bare(get_args(kind)[0])
    choices = [one for one in _choices(kind) if one is not type(None)]
    return bare(choices[0]) if len(choices) == 1 else kind


def _choices(kind: Any) -> tuple[Any, ...]:
    return get_args(kind) if get_origin(kind) in (Union, types.UnionType) else ()


@cache
def tables_in(kind: Any) -> tuple[type[Table], ...]:
    """The tables that may stand for a type, not those in a list of it.

    kind: a type, annotated or not
    """
    inner = bare(kind)
    if isinstance(inner, type) and issubclass(inner, Table):
        return (inner,)
    return tuple(one for one in _choices(inner) if isinstance(one, type) and issubclass(one, Table))


def table_for(kind: Any, raw: Any) -> type[Table] | None:
    """The table a type stands for; of several the one of the shape that is written, None where there is none.

    kind: a type, annotated or not
    raw: what is written
    """
    found = tables_in(kind)
    if len(found) < 2:
        return found[0] if found else None
    shape = raw.get("shape") if isinstance(raw, Mapping) else None
    return next((one for one in found if shape in get_args(one.model_fields["shape"].annotation)), None)


@cache
def adapter(kind: Any) -> TypeAdapter[Any]:
    """What validates a value of a type.

    kind: a type that is no table
    """
    return TypeAdapter(kind, config=ConfigDict(strict=True))
