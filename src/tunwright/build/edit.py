"""Changes to the text of a build file that leave every comment, blank line and order of keys as they are.

The text is cut where the value stands and nothing else is touched. Each change is read back: what it yields must be
the document with that one change, or it is not made.
"""

from __future__ import annotations

import copy
import re
import tomllib
from collections.abc import Mapping, Sequence
from functools import lru_cache
from itertools import pairwise
from typing import TYPE_CHECKING, Any

import tomlkit

from tunwright.build.problems import key_path
from tunwright.build.spans import Path, Section, Span, Spans
from tunwright.build.toml import tables
from tunwright.build.units import Quantity

if TYPE_CHECKING:
    from tunwright.build.dxf_outline import ImportedOutline

_BARE_KEY = re.compile(r"[A-Za-z0-9_-]+")
_POINTS_A_LINE = 6


class NotEditable(ValueError):
    """A change that cannot be made to the text; the message says why."""


def with_value(text: str, path: Sequence[str | int], value: object) -> str:
    """The text with one key set; a value written as { value = ..., from = ... } keeps its origin and its note.

    text: a build file that is valid TOML
    path: keys, and list positions counted from 0; a key that is not there is added, with its table where needed
    value: text, number, true or false, a quantity (as it was typed), a list, or a mapping for an inline table
    NotEditable: the path leads through something that is no table, or names a table with a header of its own
    """
    return with_values(text, [(path, value)])


def with_values(text: str, changes: Sequence[tuple[Sequence[str | int], object]]) -> str:
    """The text with several keys set, see `with_value`.

    text: a build file that is valid TOML
    changes: paths and values, set one after the other
    NotEditable: a path leads through something that is no table, or names a table with a header of its own
    """
    if "\r\n" in text:
        return with_values(text.replace("\r\n", "\n"), changes).replace("\n", "\r\n")
    spans = _read(text)
    there = [(_stands(spans, tuple(path), value), value) for path, value in changes]
    if not _apart([where for where, _ in there if where in spans.values], len(there)):
        for path, value in changes:
            text = _with_value(text, tuple(path), value)
        return text
    new = [(where, value) for where, value in there if not _same(_at(spans, where), value)]
    for where, value in sorted(new, key=lambda one: spans.values[one[0]], reverse=True):
        text = _cut(text, spans.values[where], written(value))
    return _checked(spans, text, new) if new else text


def _stands(spans: Spans, where: Path, value: object) -> Path:
    """Where a value stands that is written there, or in a table with its origin."""
    old = _at(spans, where)
    return (
        (*where, "value") if isinstance(old, Mapping) and "value" in old and not isinstance(value, Mapping) else where
    )


def _apart(places: Sequence[Path], count: int) -> bool:
    """Whether all of so many places are there and none lies in another."""
    return len(places) == count and not any(
        one[: len(other)] == other for i, one in enumerate(places) for j, other in enumerate(places) if i != j
    )


def _with_value(text: str, path: Path, value: object) -> str:
    spans = _read(text)
    old, where = _at(spans, path), _stands(spans, path, value)
    if where in spans.values:
        if _same(_at(spans, where), value):
            return text
        return _checked(spans, _cut(text, spans.values[where], written(value)), [(where, value)])
    if old is not None:
        raise NotEditable(f"{key_path(where)} is a table with a header of its own; set its keys one by one.")
    try:
        return _checked(spans, _added(spans, where, value), [(where, value)])
    except IndexError:
        raise NotEditable(f"There is no {key_path(where[:-1])} to set it in; the list is shorter.") from None


def without(text: str, path: Sequence[str | int]) -> str:
    """The text without a key, an entry of a list or a table; comments outside of a table that goes stay.

    text: a build file that is valid TOML
    path: keys, and list positions counted from 0
    NotEditable: there is nothing at the path
    """
    if "\r\n" in text:
        return without(text.replace("\r\n", "\n"), path).replace("\n", "\r\n")
    spans, where = _read(text), tuple(path)
    if _at(spans, where) is None:
        raise NotEditable(f"There is no {key_path(where)} to take away.")
    if where in spans.values:
        cut = _pair_or_entry(spans, where)
        return _checked(spans, _cut(text, cut, ""), [(where, None)])
    gone = [_without_comments(spans, one) for one in spans.sections if one.path[: len(where)] == where]
    gone += [_pair_or_entry(spans, p) for p in spans.pairs if p[: len(where)] == where and _outside(spans, p, gone)]
    for span in sorted(gone, reverse=True):
        text = _cut(text, span, "")
    return _checked(spans, text, [(where, None)])


def with_outline(text: str, outline: ImportedOutline) -> str:
    """The text with an imported outline as the section of the tank; other measures of the section are taken out.

    text: a build file that is valid TOML
    outline: the outline, with the name and hash of the drawing it came from
    """
    path, section = ("tank", "section"), _section(outline)
    old = _at(_read(text), path)
    if old is not None and _read(text).own_section(path) is None:
        text, old = without(text, path), None
    for key in old if isinstance(old, Mapping) else ():
        if key not in section:
            text = without(text, (*path, key))
    for key, value in section.items():
        text = with_value(text, (*path, key), value)
    return text


def section_text(outline: ImportedOutline) -> str:
    """The table of the tank's section with an imported outline, as it stands in a build file.

    outline: the outline
    """
    return "[tank.section]\n" + "".join(f"{key} = {written(value)}\n" for key, value in _section(outline).items())


def _section(outline: ImportedOutline) -> dict[str, object]:
    return {
        "shape": "outline",
        "unit": "mm",
        "drawn_in": outline.file_name,
        "sha256": outline.sha256,
        "points": [list(point) for point in outline.points_mm],
    }


def written(value: object) -> str:
    """A value as TOML, on one line but for long lists of points.

    value: see `with_value`
    """
    if isinstance(value, Quantity):
        return written(value.text)
    if isinstance(value, Mapping):
        return "{ " + ", ".join(f"{_key(str(k))} = {written(v)}" for k, v in value.items()) + " }" if value else "{}"
    if isinstance(value, list | tuple):
        parts = [written(one) for one in value]
        if len(parts) <= _POINTS_A_LINE or not isinstance(value[0], list | tuple):
            return f"[{', '.join(parts)}]"
        rows = [", ".join(parts[i : i + _POINTS_A_LINE]) for i in range(0, len(parts), _POINTS_A_LINE)]
        return "[\n  " + ",\n  ".join(rows) + ",\n]"
    if value is None:
        raise NotEditable("Nothing cannot be written; take the key away instead.")
    return tomlkit.item(value).as_string()


@lru_cache(maxsize=8)
def _read(text: str) -> Spans:
    """The spans of a text, kept: one text is changed again and again while something is dragged."""
    try:
        return Spans(text)
    except (tomllib.TOMLDecodeError, RecursionError) as error:
        raise NotEditable(f"The text is not TOML, so nothing in it can be set: {error}.") from None


def _at(spans: Spans, path: Path) -> Any:
    """What stands at a path, None where nothing does."""
    try:
        return spans.at_path(path)
    except (LookupError, TypeError):
        return None


def _same(old: object, new: object) -> bool:
    """Whether a value is there already, type and all."""
    new = new.text if isinstance(new, Quantity) else new
    return type(old) is type(new) and old == new


def _cut(text: str, span: Span, new: str) -> str:
    return text[: span.start] + new + text[span.end :]


def _key(name: str) -> str:
    return name if _BARE_KEY.fullmatch(name) else tomlkit.item(name).as_string()


def _checked(before: Spans, text: str, changes: Sequence[tuple[Path, object]]) -> str:
    """The changed text, if it says what it should."""
    wanted: Any = before.data
    for path, value in changes:
        wanted = _changed(wanted, path, value)
    said = " and ".join(key_path(path) for path, _ in changes)
    try:
        got = tables(text)
    except tomllib.TOMLDecodeError as error:
        raise NotEditable(f"{said} cannot be changed here: {error}.") from None
    if got != wanted and _pruned(got) != _pruned(wanted):
        raise NotEditable(f"{said} cannot be changed without changing more; edit the file by hand.")
    return text


def _changed(data: Any, path: Path, value: object) -> Any:
    """A document with one key set, or taken away where the value is None; the document given stays as it is."""
    changed: Any = copy.copy(data)
    here = changed
    for part, follows in pairwise(path):
        if isinstance(here, dict) and part not in here:
            here[part] = [] if isinstance(follows, int) else {}
        here[part] = copy.copy(here[part])
        here = here[part]
    if value is None:
        del here[path[-1]]
    elif isinstance(here, list) and path[-1] == len(here):
        here.append(_plain(value))
    else:
        here[path[-1]] = _plain(value)
    return changed


def _plain(value: object) -> Any:
    """A value as the reader of TOML gives it back."""
    return tomllib.loads(f"x = {written(value)}")["x"]


def _pruned(value: Any) -> Any:
    """A document without empty tables and lists, which may come and go with what was in them."""
    if isinstance(value, dict):
        return {k: _pruned(v) for k, v in value.items() if v not in ({}, [])}
    return [_pruned(one) for one in value] if isinstance(value, list) else value


def _added(spans: Spans, path: Path, value: object) -> str:
    """The text with a key that was not there."""
    *parent, name = path
    around = _at(spans, tuple(parent))
    if tuple(parent) in spans.values:
        return _added_inside(spans, tuple(parent), name, value)
    if isinstance(name, int):
        return _added_entry(spans, tuple(parent), name, value)
    line = f"{_key(name)} = {written(value)}\n"
    section = spans.own_section(tuple(parent))
    if section is not None and (around is not None or not parent):
        return _put_line(spans, section, line)
    return _put_line(spans, _last_of(spans, tuple(parent)), f"\n[{_name(tuple(parent))}]\n{line}")


def _added_inside(spans: Spans, parent: Path, name: str | int, value: object) -> str:
    """A key more in an inline table, or an entry more at the end of a list in brackets."""
    span, inner = spans.values[parent], _at(spans, parent)
    entry = isinstance(inner, list) and name == len(inner)
    if not entry and not (isinstance(inner, Mapping) and isinstance(name, str)):
        raise NotEditable(
            f"{key_path(parent)} cannot hold {name}: it is {'a list' if isinstance(inner, list) else 'one value'}."
        )
    new = written(value) if isinstance(name, int) else f"{_key(name)} = {written(value)}"
    inside = [one for path, one in spans.values.items() if path[:-1] == parent]
    if not inside:
        return _cut(spans.text, span, f"[{new}]" if entry else f"{{ {new} }}")
    last = max(one.end for one in inside)
    return spans.text[:last] + f", {new}" + spans.text[last:]


def _added_entry(spans: Spans, parent: Path, position: int, value: object) -> str:
    """A table more in a list of tables."""
    count = len(_at(spans, parent) or [])
    if position != count or not isinstance(value, Mapping):
        raise NotEditable(f"{key_path(parent)} has {count} entries; the next one is a table with position {count}.")
    lines = "".join(f"{_key(str(k))} = {written(v)}\n" for k, v in value.items())
    return _put_line(spans, _last_of(spans, parent), f"\n[[{_name(parent)}]]\n{lines}")


def _last_of(spans: Spans, path: Path) -> Section:
    """The section behind which a new table belongs: the last one of the nearest table around it."""
    for end in range(len(path), 0, -1):
        found = [one for one in spans.sections if one.path[:end] == path[:end]]
        if found:
            return found[-1]
    return spans.sections[-1]


def _name(path: Path) -> str:
    """A table as its header names it: positions in lists are not written."""
    return ".".join(_key(part) for part in path if isinstance(part, str))


def _put_line(spans: Spans, section: Section, line: str) -> str:
    """The text with a line more behind the last key of a section."""
    before, after = spans.text[: section.content], spans.text[section.content :]
    return before + ("" if not before or before.endswith("\n") else "\n") + line + after


def _pair_or_entry(spans: Spans, path: Path) -> Span:
    """What to cut for a key or an entry: its whole line, or in brackets itself and one comma."""
    span = spans.pairs.get(path, spans.values[path])
    text = spans.text
    if not any(path[:end] in spans.values for end in range(1, len(path))):
        return Span(spans.line_start(span.start), spans.line_end(span.end))
    behind = re.compile(r"[ \t\n]*,[ \t\n]*").match(text, span.end)
    if behind:
        return Span(span.start, behind.end())
    start = len(text[: span.start].rstrip())
    return Span(start - 1, span.end) if text[start - 1] == "," else span


def _without_comments(spans: Spans, section: Section) -> Span:
    """A section up to its last key, with the blank line above or below it."""
    end = section.content
    if spans.text[end : end + 1] == "\n":
        end += 1
    return Span(section.start, end)


def _outside(spans: Spans, path: Path, gone: list[Span]) -> bool:
    """Whether a key is to be cut for itself: not in a section that goes, nor in an inline table that does."""
    span = spans.pairs[path]
    inner = any(path[:end] in spans.values for end in range(1, len(path)))
    return not inner and not any(one.start <= span.start < one.end for one in gone)
