"""The order and the data: everything the build file says, as typed, in trade units, with where it comes from."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from pydantic import BaseModel

from tunwright.build.model import Build
from tunwright.build.problems import key_path
from tunwright.build.shown import MINUS, THIN_SPACE
from tunwright.build.units import Quantity
from tunwright.checks.assess import Assessment
from tunwright.checks.assumed import Path, quantities
from tunwright.sheets.dossier.amounts import Amounts
from tunwright.sheets.dossier.blocks import (
    Block,
    Cell,
    Part,
    cell,
    column,
    head,
    legend,
    origin_cell,
    row,
    table,
    words,
)
from tunwright.sheets.input_words import called, label, short
from tunwright.tables.read import shop_values

_WIDEST = 9  # keys that fit side by side on a portrait page
_ABREAST = 5  # tables that stand side by side where they have more keys
_LIST_COLUMNS = (
    column("as typed", "31mm"),
    column("in trade units", "27mm"),
    column("origin", "22mm"),
    column("note", "30mm"),
)


@dataclass(frozen=True)
class Entry:
    """One value of the build file.

    path: where it stands
    text: what it is, from the description of its key
    typed: as typed
    value: in trade units, empty for what is no quantity
    origin: measured, maker, assumed or chosen
    note: what was noted beside it
    """

    path: Path
    text: str
    typed: str
    value: str
    origin: str
    note: str = ""

    @property
    def differs(self) -> bool:
        """Whether the value in trade units reads other than it was typed."""
        return bool(self.value) and _plain(self.value) != _plain(self.typed)


def record_part(assessment: Assessment, amounts: Amounts) -> Part:
    """The part with the order, the data and what is still assumed.

    assessment: the assessment
    amounts: how quantities are printed
    """
    build = assessment.build
    entries = _Entries(build, amounts)
    blocks = [
        words(
            "Every value of the build file as it was typed, the same in trade units, and where it comes from. "
            "A fact of the chassis for which nobody stated an origin counts as assumed."
        ),
        legend(),
        *_assumed(assessment, amounts),
        head("The build file"),
        *entries.blocks(build, (), ""),
        head("Values of the shop"),
        *_shop(),
    ]
    return Part("The order and the data", blocks)


def _assumed(assessment: Assessment, amounts: Amounts) -> Iterator[Block]:
    """What has to be measured before release, and how many findings rest on it."""
    yield head("Still assumed, to be measured before release")
    build = assessment.build
    found = [(path, value) for path, value, origin in quantities(build) if origin == "assumed"]
    if not found:
        yield words("Nothing: every value that has to be measured has a stated origin.")
        return
    resting = [set(finding.assumed) for finding in assessment.findings]
    rows = []
    for path, value in found:
        key = key_path(path)
        count = sum(key in rests for rests in resting)
        rows.append(row([label(build, key), origin_cell(value.text, "assumed"), _shown(value, amounts), str(count)]))
    columns = (
        column("input", "1fr"),
        column("as typed", "31mm"),
        column("in trade units", "27mm"),
        column("findings that rest on it", "22mm", right=True),
    )
    yield table(columns, rows)


def _shown(value: Quantity, amounts: Amounts) -> str:
    return amounts.full(float(value), value.kind)


class _Entries:
    """The tables of a build as blocks.

    build: the build
    amounts: how quantities are printed
    """

    def __init__(self, build: Build, amounts: Amounts) -> None:
        self.build, self.amounts = build, amounts
        self.origins = {path: origin for path, _, origin in quantities(build)}

    def blocks(self, at: BaseModel, path: Path, title: str) -> Iterator[Block]:
        """A table, then the tables below it, in the order of the document."""
        own = list(self.entries(at, path))
        if own and path:
            yield self._list(title, own)
        for key, value in _below(at):
            if isinstance(value, BaseModel):
                yield from self.blocks(value, (*path, key), _title((*path, key)))
            else:
                yield from self._several(value, (*path, key), _title((*path, key)))

    def entries(self, at: BaseModel, path: Path) -> Iterator[Entry]:
        """The plain values of a table that were typed."""
        for name, field in type(at).model_fields.items():
            value = getattr(at, name)
            if name in at.model_fields_set and not _is_below(value):
                key = field.alias or name
                yield self._entry((*path, key), field.description or key, value)

    def _entry(self, path: Path, text: str, value: object) -> Entry:
        if isinstance(value, Quantity):
            return Entry(path, text, value.text, _shown(value, self.amounts), self.origins[path], value.note)
        return Entry(path, text, _typed(value), "", self.origins.get((*path, 0), "chosen"))

    def _list(self, title: str, entries: Sequence[Entry]) -> Block:
        rows = [row([short(e.text), *_both(e), _origin(e), e.note]) for e in entries]
        return table((column(title, "1fr", title=True), *_LIST_COLUMNS), rows)

    def _several(self, tables: Sequence[BaseModel], path: Path, title: str) -> Iterator[Block]:
        """Tables of one sort, side by side or one a row, then the tables inside them."""
        names = [getattr(one, "name", "") or called(one, str(path[-1]), i) for i, one in enumerate(tables)]
        yield from self._matrix(title, names, [list(self.entries(one, (*path, i))) for i, one in enumerate(tables)])
        inner: dict[str, list[tuple[str, BaseModel, Path]]] = {}
        for i, one in enumerate(tables):
            for key, value in _below(one):
                many = value if isinstance(value, list) else [value]
                for j, part in enumerate(many):
                    at = (*path, i, key, j) if isinstance(value, list) else (*path, i, key)
                    inner.setdefault(key, []).append((f"{names[i]}, {called(part, key, j)}", part, at))
        for key, parts in inner.items():
            found = [list(self.entries(part, at)) for _, part, at in parts]
            yield from self._matrix(f"{title}, {key.replace('_', ' ')}", [name for name, _, _ in parts], found)

    def _matrix(self, title: str, names: Sequence[str], found: Sequence[Sequence[Entry]]) -> Iterator[Block]:
        """One row for each table where it has few keys, else one column."""
        keys = {str(e.path[-1]): e.text for entries in found for e in entries if e.path[-1] != "name"}
        if not keys:
            return
        heads = {key: short(text) for key, text in keys.items()}
        cells = [{str(e.path[-1]): _cell(e) for e in entries} for entries in found]
        foot = _foot(names, found, keys)
        if len(keys) <= _WIDEST:
            columns = (column(title, "1.3fr", title=True), *(column(text, "1fr") for text in heads.values()))
            rows = [row([name, *(c.get(key, "") for key in keys)]) for name, c in zip(names, cells, strict=True)]
            yield table(columns, rows, size=7.5, foot=foot)
            return
        for start in range(0, len(names), _ABREAST):
            part = slice(start, start + _ABREAST)
            columns = (column(title, "50mm", title=True), *(column(name, "1fr") for name in names[part]))
            rows = [row([text, *(c.get(key, "") for c in cells[part])]) for key, text in heads.items()]
            yield table(columns, rows, size=7.5, foot=foot if start + _ABREAST >= len(names) else "")


def _foot(names: Sequence[str], found: Sequence[Sequence[Entry]], keys: dict[str, str]) -> str:
    """Under a matrix: what its headings leave out, and what was noted beside its values."""
    said = [f"{short(text)}: {text.split(';', 1)[1].strip()}" for text in keys.values() if ";" in text]
    for name, entries in zip(names, found, strict=True):
        said += [f"{name}, {short(e.text)}: {e.note}" for e in entries if e.note]
    return "; ".join(said) + "." if said else ""


def _both(entry: Entry) -> list[Cell]:
    """A value as typed and in trade units; what is no quantity takes the room of both."""
    return [entry.typed, entry.value] if entry.value else [cell(entry.typed, span=2)]


def _origin(entry: Entry) -> Cell:
    return origin_cell(entry.origin, entry.origin) if entry.value else ""


def _cell(entry: Entry) -> Cell:
    if not entry.value:
        return cell(entry.typed)
    return origin_cell(entry.typed, entry.origin, below=entry.value if entry.differs else "")


def _below(at: BaseModel) -> Iterator[tuple[str, BaseModel | list[BaseModel]]]:
    """The tables below a table that were typed."""
    for name, field in type(at).model_fields.items():
        value = getattr(at, name)
        if name in at.model_fields_set and value and _is_below(value):
            yield field.alias or name, value


def _is_below(value: object) -> bool:
    """Whether a value is a table or a list of tables."""
    return isinstance(value, BaseModel) or (isinstance(value, list) and any(isinstance(v, BaseModel) for v in value))


def _title(path: Path) -> str:
    """Heading of a table: "frame", "tank section"."""
    steps = [str(step).replace("_", " ") for step in path if isinstance(step, str)]
    kept = [step for step in steps if step != "chassis"] or steps
    text = " ".join(kept)
    return text[0].upper() + text[1:]


def _typed(value: object) -> str:
    """A value that is no quantity, as a person reads it."""
    if isinstance(value, Quantity):
        return value.text
    if isinstance(value, bool):
        return "yes" if value else "no"
    if isinstance(value, float):
        return f"{value:g}"
    if isinstance(value, list | tuple):
        if any(isinstance(one, list | tuple) for one in value):
            return _nested(value)
        return ", ".join(map(_typed, value)) or "none"
    return str(value)


def _nested(value: Sequence[object]) -> str:
    """Orders of names in full, points by their number."""
    orders = [one for one in value if isinstance(one, list | tuple) and one and all(isinstance(n, str) for n in one)]
    if len(orders) < len(value):
        return f"{len(value)} points"
    return "; ".join(" then ".join(map(str, one)) for one in orders)


def _plain(text: str) -> str:
    return text.replace(THIN_SPACE, "").replace(" ", "").replace(MINUS, "-").casefold()


def _shop() -> Iterator[Block]:
    """The values the shop may set, with their sources."""
    yield words("Where the build file says nothing, these are used. A shop may set its own; it then stands here.")
    columns = (
        column("value", "1fr"),
        column("is", "14mm", right=True),
        column("unit", "28mm"),
        column("how it is known", "55mm"),
    )
    rows = [
        row([v.meaning, f"{v.value:g}", v.unit, v.source if v.mark != "shop" else f"set by the shop: {v.source}"])
        for v in shop_values().values()
    ]
    yield table(columns, rows, size=7.5)
