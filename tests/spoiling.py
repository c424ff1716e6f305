"""Ways to spoil a build file: walking through it, and making one fault."""

from __future__ import annotations

import copy
import random
from collections.abc import Callable, Iterator
from dataclasses import dataclass, field
from typing import Any, Literal, get_args, get_origin

from tunwright.build.base import Table
from tunwright.build.describe import reader_of
from tunwright.build.model import Build
from tunwright.build.sketch import annotated, bare, key_of, table_for, tables_in

Where = tuple[str | int, ...]
Doc = dict[str, Any]


@dataclass
class Broken:
    """What a fault did: where it must be named, where else it may be, and what it must not meet."""

    named: list[Where]
    also: list[Where] = field(default_factory=list)
    needs: list[Where] = field(default_factory=list)


Fault = Callable[[Doc, random.Random], Broken]


# ------------------------------------------------------------------------------------------- walking through a build


def leaves(model: type[Table], raw: Doc, at: Where = ()) -> Iterator[tuple[Where, type[Table], str]]:
    """Every key that is written, with its table and field; tables before what is in them."""
    for name, info in model.model_fields.items():
        key = key_of(name, info)
        if key not in raw:
            continue
        yield (*at, key), model, name
        kind = annotated(model, name)
        if tables_in(kind):
            inner = table_for(kind, raw[key])
            assert inner is not None
            yield from leaves(inner, raw[key], (*at, key))
        elif get_origin(bare(kind)) is list and tables_in(get_args(bare(kind))[0]):
            for i, one in enumerate(raw[key]):
                yield from leaves(tables_in(get_args(bare(kind))[0])[0], one, (*at, key, i))


def get(doc: Any, path: Where) -> Any:
    for part in path:
        doc = doc[part]
    return doc


def put(doc: Doc, path: Where, value: Any) -> None:
    get(doc, path[:-1])[path[-1]] = value


def drop(doc: Doc, path: Where) -> None:
    del get(doc, path[:-1])[path[-1]]


def pick(doc: Doc, rng: random.Random, wanted: Callable[[type[Table], str], bool]) -> tuple[Where, type[Table], str]:
    return rng.choice([one for one in leaves(Build, doc) if wanted(one[1], one[2])])


def kind_is(*names: str) -> Callable[[type[Table], str], bool]:
    def wanted(model: type[Table], name: str) -> bool:
        reader = reader_of(annotated(model, name))
        return reader is not None and (not names or reader.kind in names)

    return wanted


def bare_is(*kinds: Any) -> Callable[[type[Table], str], bool]:
    return lambda model, name: bare(annotated(model, name)) in kinds


def is_choice(model: type[Table], name: str) -> bool:
    return get_origin(bare(annotated(model, name))) is Literal


# ------------------------------------------------------------------------------------------------ faults of a value


def value_fault(bad: Any, *kinds: str) -> Fault:
    """A quantity replaced by something that is none; inside its table of value and origin half of the time."""

    def fault(doc: Doc, rng: random.Random) -> Broken:
        path, model, name = pick(doc, rng, kind_is(*kinds))
        if reader_of(annotated(model, name)).thick and bad == "10 ga":  # type: ignore[union-attr]
            path, model, name = ("tank", "length"), Build, "tank"
        inside = isinstance(get(doc, path), dict) and rng.random() < 0.7 and not isinstance(bad, dict)
        where = (*path, "value") if inside else path
        put(doc, where, copy.deepcopy(bad))
        return Broken([(*where, "value"), (*where, next(iter(bad)))] if isinstance(bad, dict) else [where])

    return fault


def origin_fault(key: str, value: Any) -> Fault:
    def fault(doc: Doc, rng: random.Random) -> Broken:
        path, _, _ = pick(doc, rng, kind_is())
        old = get(doc, path)
        put(doc, path, {"value": old["value"] if isinstance(old, dict) else old, key: value})
        return Broken([(*path, key)])

    return fault


def typed_fault(bad: Any, *kinds: Any) -> Fault:
    def fault(doc: Doc, rng: random.Random) -> Broken:
        path, _, _ = pick(doc, rng, bare_is(*kinds))
        put(doc, path, copy.deepcopy(bad))
        return Broken([path], also=list(echoes(path)))

    return fault


def echoes(path: Where) -> Iterator[Where]:
    """Where a name that is changed may be missed."""
    if path[0] == "chassis" and path[-1] == "name":
        yield ("chassis", "group")


def choice_fault(bad: Any) -> Fault:
    def fault(doc: Doc, rng: random.Random) -> Broken:
        path, _, _ = pick(doc, rng, is_choice)
        put(doc, path, bad)
        return Broken([path])

    return fault


def misspelt(doc: Doc, rng: random.Random) -> Broken:
    path, model, name = pick(doc, rng, lambda *_: True)
    key = str(path[-1])
    i = rng.randrange(len(key))
    wrong = key[:i] + rng.choice("qxz") + key[i:]
    table = get(doc, path[:-1])
    table[wrong] = table.pop(key)
    missing = [path] if model.model_fields[name].is_required() else []
    return Broken([(*path[:-1], wrong), *missing], also=[path, *after_loss(path)])


def lost(doc: Doc, rng: random.Random) -> Broken:
    path, _, _ = pick(doc, rng, lambda model, name: model.model_fields[name].is_required())
    drop(doc, path)
    return Broken([path], also=list(after_loss(path)))


def after_loss(path: Where) -> Iterator[Where]:
    """What is missed with a key that is gone: the other half of what belongs together."""
    yield from echoes(path)
    if path[0] == "chassis" and path[-1] in ("kerb_load", "group", "axles", "steered", "driven", "tyres"):
        yield ("chassis", "axle")
    if path[-1] in ("crew", "cab", "frame", "head", "depth", "tyres", "sump", "diameter", "on", "fall"):
        yield path[:1]


def swapped(bad: Any) -> Fault:
    """A table, or a list of tables, where something else stands."""

    def fault(doc: Doc, rng: random.Random) -> Broken:
        path, model, name = pick(doc, rng, lambda model, name: isinstance_of_tables(annotated(model, name)))
        kind = annotated(model, name)
        named = [path]
        if isinstance(bad, dict) and tables_in(kind):
            fields = tables_in(kind)[0].model_fields
            named = [(*path, key_of(n, f)) for n, f in fields.items() if f.is_required()]
            named = [(*path, "shape")] if path[-1] == "section" else named
        elif isinstance(bad, list) and not tables_in(kind):
            named = [(*path, 0)] if bad else [path] if model.model_fields[name].is_required() else []
        if not named:
            raise KeyError("nothing would be wrong with it")
        put(doc, path, copy.deepcopy(bad))
        return Broken(named, also=[path, *after_loss(path)])

    return fault


def isinstance_of_tables(kind: Any) -> bool:
    inner = bare(kind)
    return bool(tables_in(kind)) or (get_origin(inner) is list and bool(tables_in(get_args(inner)[0])))


def double_brackets(doc: Doc, rng: random.Random) -> Broken:
    path, _, _ = pick(doc, rng, lambda model, name: bool(tables_in(annotated(model, name))))
    put(doc, path, [get(doc, path)])
    return Broken([path], also=list(after_loss(path)))


def single_brackets(doc: Doc, rng: random.Random) -> Broken:
    path, _, _ = pick(doc, rng, lambda m, n: isinstance_of_tables(annotated(m, n)) and not tables_in(annotated(m, n)))
    put(doc, path, get(doc, path)[0])
    return Broken([path], also=list(after_loss(path)))


# ------------------------------------------------------------------------------------------- faults of sense

TANK = [("tank", "length"), ("tank", "section")]
AXLES = [("chassis", "axle")]


def sense(
    change: Callable[[Doc], None], *named: Where, needs: list[Where] | None = None, also: list[Where] | None = None
) -> Fault:
    def fault(doc: Doc, rng: random.Random) -> Broken:
        change(doc)
        return Broken(list(named), also=also or [], needs=needs or [])

    return fault


def setting(path: Where, value: Any, *named: Where, needs: list[Where] | None = None) -> Fault:
    return sense(lambda doc: put(doc, path, copy.deepcopy(value)), *(named or (path,)), needs=needs)


def adding(key: Where, entry: Doc, name: Where, needs: list[Where] | None = None) -> Fault:
    """An entry more at the end of a list of tables, with a fault."""

    def fault(doc: Doc, rng: random.Random) -> Broken:
        parts = get(doc, key[:-1]).setdefault(key[-1], [])
        parts.append(copy.deepcopy(entry))
        entry_at = (*key, len(parts) - 1)
        return Broken([(*entry_at, *name)], needs=[entry_at, *(needs or [])])

    return fault


def axles_out_of_order(doc: Doc) -> None:
    axles = doc["chassis"]["axle"]
    axles[1]["at"], axles[2]["at"] = axles[2]["at"], axles[1]["at"]


def overlapping(doc: Doc) -> None:
    doc["tank"]["compartment"] = [
        {"name": "a", "from": "0 m", "to": "2 m"},
        {"name": "b", "from": "1.5 m", "to": "4 m"},
        {"name": "a", "from": "4 m", "to": "4 m"},
    ]


def first_axle_moved(doc: Doc) -> None:
    doc["chassis"]["axle"][0]["at"] = "100 mm"


def round_tank_with_a_spike(doc: Doc) -> None:
    tank = doc["tank"]
    doc["tank"] = {key: tank[key] for key in ("middle", "length", "bottom", "shell")} | {
        "section": {"shape": "circle", "diameter": "1.5 m"},
        "head": {"shape": "conical", "depth": "2 m"},
        "outlet": [{"at": "1 m", "height": "0 m"}],
    }


def outlet_in_the_wrong_part(doc: Doc) -> None:
    ends = ("0 m", "2 m", doc["tank"]["length"])
    doc["tank"]["compartment"] = [{"name": n, "from": ends[i], "to": ends[i + 1]} for i, n in enumerate("ab")]
    doc["tank"]["outlet"] = [{"at": "1 m", "height": "0 m", "compartment": "b"}]


def nobody_drives(doc: Doc) -> None:
    for axle in doc["chassis"]["axle"]:
        axle.pop("driven", None)


def many_lifts(doc: Doc) -> None:
    for i in range(4):
        axle = {"name": f"lift {i}", "at": f"{7 + i} m", "kerb_load": "500 kg", "rating": "7500 kg", "lift": True}
        doc["chassis"]["axle"].append(axle)
    doc["chassis"]["frame"]["rear"] = "11 m"


def all_lifted(doc: Doc) -> None:
    for axle in doc["chassis"]["axle"][1:]:
        axle |= {"lift": True, "raised_when_weighed": True}


def two_recesses(doc: Doc) -> None:
    box = {"from": "0 m", "to": "1 m", "top": "300 mm", "width": "600 mm"}
    doc["tank"]["recess"] = [box, {**box, "from": "0.5 m", "to": "1.5 m"}]


def outline_fault(points: Any, *names: str | Where, unit: str = "mm") -> Fault:
    at = ("tank", "section")
    named = [(*at, *((name,) if isinstance(name, str) else name)) for name in names]
    section = {"shape": "outline", "unit": unit, "points": points}
    return sense(lambda doc: put(doc, at, copy.deepcopy(section)), *named, needs=[("tank",)])
