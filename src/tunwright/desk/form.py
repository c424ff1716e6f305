"""The form of a build: every key of the document with its present value, by part of the build."""

from __future__ import annotations

import tomllib
from collections.abc import Iterator, Mapping
from types import NoneType, UnionType
from typing import Annotated, Any, Literal, Union, get_args, get_origin

from pydantic import BaseModel
from pydantic.fields import FieldInfo

from tunwright.build.model import Build
from tunwright.build.units import Quantity

Path = tuple[str | int, ...]

PARTS: tuple[tuple[str, str], ...] = (
    ("order", "Order"),
    ("chassis", "Chassis"),
    ("tank", "Tank"),
    ("subframe", "Subframe"),
    ("mount", "Mounts"),
    ("lifting", "Lifting"),
    ("crew", "Crew"),
    ("item", "Fittings"),
    ("states", "States"),
)
"""Parts of the build in the order a job meets them."""


def form(text: str) -> list[dict[str, Any]]:
    """The form of a draft; empty where the draft is no TOML at all.

    text: the draft
    """
    try:
        raw = tomllib.loads(text)
    except (tomllib.TOMLDecodeError, RecursionError):
        return []
    return [{"key": key, "title": title, **_part(key, raw)} for key, title in PARTS]


def _part(key: str, raw: Mapping[str, Any]) -> dict[str, Any]:
    field = Build.model_fields[key]
    value = raw.get(key)
    models = _models(field.annotation)
    if _is_list(field.annotation):
        return _list_of(models[0], (key,), value, field)
    there = value if isinstance(value, Mapping) else {}
    return {**_table(models[0], (key,), there), "given": isinstance(value, Mapping)}


def _table(model: type[BaseModel], path: Path, raw: Mapping[str, Any]) -> dict[str, Any]:
    """Fields of a table, and the tables below it."""
    fields, tables = [], []
    for name, field in model.model_fields.items():
        key = field.alias or name
        below = _models(field.annotation)
        if not below:
            fields.append(_field((*path, key), field, raw.get(key)))
        elif _is_list(field.annotation):
            tables.append({"title": key.replace("_", " "), **_list_of(below[0], (*path, key), raw.get(key), field)})
        else:
            inner = raw.get(key)
            there = inner if isinstance(inner, Mapping) else {}
            chosen = _chosen(below, there)
            shapes = _shapes(below)
            table = _table(chosen, (*path, key), there)
            for one in table["fields"]:
                if shapes and one["path"][-1] == "shape":
                    one["choices"] = shapes
            tables.append({"title": key.replace("_", " "), "given": isinstance(inner, Mapping), **table})
    return {"path": list(path), "fields": fields, "tables": tables}


def _list_of(model: type[BaseModel], path: Path, raw: Any, field: FieldInfo) -> dict[str, Any]:
    """A list of tables: its entries, and an empty one to add."""
    entries = raw if isinstance(raw, list) else []
    made = [
        {"title": _called(path, entry, i), **_table(model, (*path, i), entry if isinstance(entry, Mapping) else {})}
        for i, entry in enumerate(entries)
    ]
    required = {f.alias or n: _example(f) for n, f in model.model_fields.items() if f.is_required()}
    return {"path": list(path), "help": field.description, "entries": made, "new": required}


def _called(path: Path, entry: Any, index: int) -> str:
    name = entry.get("name") if isinstance(entry, Mapping) else None
    return str(name) if name else f"{str(path[-1]).replace('_', ' ')} {index + 1}"


def _chosen(models: list[type[BaseModel]], raw: Mapping[str, Any]) -> type[BaseModel]:
    """The table of a union whose shape is written."""
    return next((m for m in models if raw.get("shape") in _literals(m.model_fields.get("shape"))), models[0])


def _shapes(models: list[type[BaseModel]]) -> list[str]:
    return [shape for m in models for shape in _literals(m.model_fields.get("shape"))] if len(models) > 1 else []


def _literals(field: FieldInfo | None) -> list[Any]:
    return (
        []
        if field is None
        else [v for part in _flat(field.annotation) if get_origin(part) is Literal for v in get_args(part)]
    )


def _field(path: Path, field: FieldInfo, raw: Any) -> dict[str, Any]:
    """One key with its present value and what may be written."""
    opened = raw if isinstance(raw, Mapping) and "value" in raw else {"value": raw}
    extra = field.json_schema_extra if isinstance(field.json_schema_extra, dict) else {}
    kind = _kind(field)
    default = field.default if not field.is_required() else None
    return {
        "path": list(path),
        "label": (field.description or str(path[-1])),
        "key": str(path[-1]),
        "value": _typed(opened.get("value")),
        "kind": kind,
        "choices": [str(choice) for choice in _literals(field) if choice is not None],
        "source": opened.get("from"),
        "note": opened.get("note", ""),
        "fact": bool(extra.get("x-fact")),
        "required": field.is_required(),
        "default": _typed(default.text if isinstance(default, Quantity) else default),
        "example": _example(field),
    }


def _typed(value: Any) -> str:
    """A value as it would be typed in the form."""
    if value is None or isinstance(value, Mapping):
        return ""
    if isinstance(value, bool):
        return "true" if value else "false"
    if isinstance(value, list):
        return ", ".join("/".join(map(str, v)) if isinstance(v, list) else _typed(v) for v in value)
    return str(value)


def _kind(field: FieldInfo) -> str:
    """What sort of value a key takes: quantity, flag, number, choice, list or text."""
    parts = [part for part in _flat(field.annotation) if part is not NoneType]
    if any(part is Quantity for part in parts) or any(_schema(item) for item in field.metadata):
        return "quantity"
    if any(part is bool for part in parts):
        return "flag"
    if any(get_origin(part) is Literal for part in parts):
        return "choice" if all(get_origin(part) is Literal for part in parts) else "list"
    if _is_list(field.annotation):
        return "list"
    return "number" if any(part in (int, float) for part in parts) else "text"


def _schema(item: Any) -> dict[str, Any] | None:
    schema = getattr(item, "json_schema", None)
    return schema if isinstance(schema, dict) and "x-kind" in schema else None


def _example(field: FieldInfo) -> str:
    """A value as it would be typed, without the quotes of the file."""
    extra = field.json_schema_extra if isinstance(field.json_schema_extra, dict) else {}
    if "x-example" in extra:
        return str(extra["x-example"]).strip('"')
    for item in (*field.metadata, *_annotations(field.annotation)):
        schema = _schema(item)
        if schema and schema.get("examples"):
            return str(schema["examples"][0])
    return ""


def _annotations(annotation: Any) -> Iterator[Any]:
    """Everything said about the types of an annotation."""
    if get_origin(annotation) is Annotated:
        yield from get_args(annotation)[1:]
    for part in get_args(annotation):
        yield from _annotations(part)


def _flat(annotation: Any) -> Iterator[Any]:
    """The plain types an annotation allows."""
    origin = get_origin(annotation)
    if origin is Annotated:
        yield from _flat(get_args(annotation)[0])
    elif origin in (Union, UnionType):
        for part in get_args(annotation):
            yield from _flat(part)
    else:
        yield annotation


def _is_list(annotation: Any) -> bool:
    return any(get_origin(part) is list for part in _flat(annotation))


def _models(annotation: Any) -> list[type[BaseModel]]:
    """The tables an annotation allows, itself or as entries of a list."""
    found: list[type[BaseModel]] = []
    for part in _flat(annotation):
        inner = get_args(part) if get_origin(part) is list else (part,)
        found += [m for one in inner for m in _flat(one) if isinstance(m, type) and issubclass(m, BaseModel)]
    return found
