"""The page of the manual that lists every key of a build file, made from the tables themselves."""

from __future__ import annotations

import json
from collections.abc import Iterator, Sequence
from typing import Any, Literal, NamedTuple, get_args, get_origin

from tunwright.build.base import Table
from tunwright.build.describe import choices, example, reader_of
from tunwright.build.model import Build, schema
from tunwright.build.sketch import annotated, bare, key_of, lengths, marks, tables_in
from tunwright.build.typed import listed, quoted
from tunwright.build.units import KINDS, Quantity

_HEAD = """# The build file

Every key of a build file, table by table. Made from the program itself; do not edit. The same for editors, as JSON
Schema: `docs/build-file.schema.json`, or `tunwright schema`. A file to start from: `tunwright new`.

A build file is written in TOML: `[table]` begins a table, `[[table]]` an entry of a list of tables, `#` a remark. Keys
without a default must be there.

- A quantity is text with its unit: `"4.2 m"`, `"165 in"`, `"13 ft 6 in"`, `"26000 kg"`, `"3170 US gal"`, `"3/16 in"`. A
  decimal point, never a comma. What could mean two things is refused with a question: a bare `gal` or `ton`, a number
  without a unit. A plate thickness may be a sheet gauge, `"10 ga"`, read by the scale of its material.
- A quantity may say where it comes from: `{ value = "4700 kg", from = "measured", note = "ticket 5512" }`, with `from`
  one of `measured`, `maker` or `assumed`. Facts about the delivered chassis (marked F) count as assumed until they say.
- Places count from the middle of the first axle rearwards, heights from the ground, `y` from the middle to the right.
  Inside the tank, places count from its front tangent line, heights from its lowest inside point.
"""


def keys_page() -> str:
    """The page, in Markdown."""
    return "\n".join([_HEAD, *map(_table, _tables(Build, ""))])


def schema_page() -> str:
    """The JSON Schema of a build file, as text."""
    return json.dumps(schema(), indent=2, ensure_ascii=False) + "\n"


class _Place(NamedTuple):
    """A place for a table: its path, the tables that may stand there, and whether several may."""

    path: str
    models: Sequence[type[Table]]
    many: bool


def _tables(model: type[Table], path: str) -> Iterator[_Place]:
    """A table, and all those it holds after it."""
    yield _Place(path, [model], many=False)
    yield from _inner(model, path)


def _inner(model: type[Table], path: str) -> Iterator[_Place]:
    for name, info in model.model_fields.items():
        kind = annotated(model, name)
        entry = get_args(bare(kind))[0] if get_origin(bare(kind)) is list else None
        many = entry is not None and bool(tables_in(entry))
        models = tables_in(entry) if many else tables_in(kind)
        if models and name not in _ALIKE:
            below = f"{path}.{key_of(name, info)}".lstrip(".")
            yield _Place(below, models, many)
            for one in models:
                yield from _inner(one, below)


_ALIKE = {"front_head": "tank.head", "rear_head": "tank.head"}
"""Keys whose table is that of another key."""


def _table(place: _Place) -> str:
    """The section of the page about one table."""
    path, models, many = place
    title = "Above all tables" if not path else f"`[[{path}]]`" if many else f"`[{path}]`"
    lines = [f"## {title}", ""]
    for model in models:
        lines += [*_said(model), "", "| key | meaning | what may stand | default | example |", "|---|---|---|---|---|"]
        lines += [_row(model, name, path) for name in model.model_fields]
        lines.append("")
    return "\n".join(lines)


def _said(model: type[Table]) -> list[str]:
    return [" ".join((model.__doc__ or "").split())]


def _row(model: type[Table], name: str, path: str) -> str:
    info = model.model_fields[name]
    extra = info.json_schema_extra if isinstance(info.json_schema_extra, dict) else {}
    meaning = (info.description or "") + (" (F)" if extra.get("x-fact") else "")
    default = "" if info.is_required() else _default(info.get_default(call_default_factory=True))
    shown = example(model, name)
    where = f"{path}.{key_of(name, info)}".lstrip(".")
    cells = [f"`{key_of(name, info)}`", meaning, _may(model, name, where), default, f"`{shown}`" if shown else ""]
    return "| " + " | ".join(cell.replace("|", "\\|") for cell in cells) + " |"


def _may(model: type[Table], name: str, path: str) -> str:
    """Unit, bounds or choices of a key."""
    kind = annotated(model, name)
    reader, inner = reader_of(kind), bare(kind)
    if reader is not None:
        gauge = ", or a sheet gauge" if reader.thick else ""
        return f"{KINDS[reader.kind].label}, {reader.bounds}{gauge}"
    if tables_in(kind):
        return f"a table: see `[{_ALIKE.get(name, path)}]`"
    if get_origin(inner) is list:
        return _list(kind, path)
    if get_origin(inner) is Literal:
        return listed([f"`{word}`" for word in choices(inner)])
    return _plain(kind)


def _list(kind: Any, path: str) -> str:
    (entry,) = get_args(bare(kind))
    least, most = lengths(kind)
    count = f"{least} to {most}" if least and most else f"{least} or more" if least else f"up to {most}" if most else ""
    if tables_in(entry):
        return f"{count} tables `[[{path}]]`".strip()
    return f"a list{f' of {count}' if count else ''}"


def _plain(kind: Any) -> str:
    words = {bool: "`true` or `false`", int: "a whole number", float: "a number", str: "text"}
    least = next((m.ge for m in marks(kind) if getattr(m, "ge", None) is not None), None)
    most = next((m.le for m in marks(kind) if getattr(m, "le", None) is not None), None)
    span = "" if least is None else f", {least}" if least == most else f" from {least} to {most}"
    return words.get(bare(kind), "a list, or one of the words in the example") + span


def _default(value: object) -> str:
    """A default as it would be typed, empty where nothing is taken."""
    if value is None:
        return "none"
    if isinstance(value, Quantity):
        return f"`{value.text}`"
    if isinstance(value, Table):
        said = ", ".join(f'{name} = "{getattr(value, name)}"' for name in sorted(value.model_fields_set))
        return f"`{said}`" if said else "its defaults"
    if isinstance(value, bool):
        return f"`{str(value).lower()}`"
    if isinstance(value, list):
        return "`" + json.dumps(value) + "`" if value else "none"
    return f"`{quoted(value)}`" if isinstance(value, str) else f"`{value}`"
