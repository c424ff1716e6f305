"""Five hundred build files with faults: every fault is named, with its line, its key and what is allowed, in one go."""

from __future__ import annotations

import copy
import datetime as dt
import random
import re
import tomllib
from collections.abc import Callable, Iterator
from dataclasses import dataclass, field
from functools import cache
from importlib.resources import files
from pathlib import Path
from typing import Any, Literal, get_args, get_origin

import pytest

from tunwright.build.base import Table
from tunwright.build.complaints import MOST
from tunwright.build.describe import reader_of
from tunwright.build.edit import written
from tunwright.build.model import Build
from tunwright.build.problems import BuildProblems, Problem, key_path
from tunwright.build.reading import LARGEST, read_file, read_text
from tunwright.build.sketch import annotated, bare, key_of, table_for, tables_in
from tunwright.build.units import parse

DEMO = files("tunwright.demos").joinpath("quarry-carrier.toml").read_text("utf-8")
SEEDS = 500

Where = tuple[str | int, ...]
Doc = dict[str, Any]

JARGON = re.compile(
    r"Circle|SuperEllipse|RoundedBox|FreeOutline|\bdict\b|type=|input_value|pydantic|Traceback|datetime|NoneType|None\b"
    r"|Input should|[Vv]alidation|Quantity|Literal|object at|Error|\{'|\['|\('|\bTrue\b|\bFalse\b|\bstr\b|\bint\b"
)


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


A1, A2, A3 = (("chassis", "axle", i) for i in range(3))
SENSE: list[Fault] = [
    sense(axles_out_of_order, (*A3, "at"), needs=AXLES),
    sense(first_axle_moved, (*A1, "at"), needs=AXLES),
    setting((*A2, "at"), "390 mm", (*A2, "at"), needs=AXLES),
    setting(
        (*A2, "name"), "front", (*A2, "name"), ("chassis", "group", 0, "axles", 0), needs=[*AXLES, ("chassis", "group")]
    ),
    setting((*A1, "pair_spacing"), "340 mm", needs=[(*A1, "tyres")]),
    setting((*A1, "raised_when_weighed"), True, (*A1, "raised_when_weighed"), (*A1, "kerb_load"), needs=[A1]),
    setting((*A1, "kerb_load"), "0 kg"),
    setting(("chassis", "group", 0, "axles"), ["rear 1", "rear 9"], ("chassis", "group", 0, "axles", 1), needs=AXLES),
    setting(("chassis", "group", 0, "sharing"), ["60 %", "60 %"], needs=[("chassis", "group", 0, "axles")]),
    setting(("chassis", "group", 0, "sharing"), ["60 %", "zero"], ("chassis", "group", 0, "sharing", 1)),
    setting(("chassis", "gross_rating"), "8.0 t", needs=[*AXLES, ("chassis", "group")]),
    setting(("chassis", "persons_weighed"), 7, needs=[("crew",)]),
    setting(("chassis", "frame", "rear"), "-2 m", needs=[("chassis", "frame"), *AXLES]),
    setting(("chassis", "frame", "rail_thickness"), "200 mm", needs=[("chassis", "frame", "rail_height")]),
    setting(
        ("chassis", "cab", "front"),
        "1.4 m",
        ("chassis", "cab", "back"),
        ("chassis", "cab", "front"),
        needs=[("chassis", "cab")],
    ),
    setting(("chassis", "cg_height"), "9 m"),
    setting(("chassis", "fuel", "at"), "25 m", needs=AXLES),
    sense(
        overlapping,
        ("tank", "compartment", 1, "from"),
        ("tank", "compartment", 2, "to"),
        ("tank", "compartment", 2, "name"),
        needs=TANK,
    ),
    setting(("tank", "baffle", 1, "at"), "1.0 m", needs=[("tank", "baffle")]),
    setting(("tank", "baffle", 2, "at"), "25 m", needs=[*TANK, ("tank", "baffle")]),
    sense(
        lambda doc: put(doc, ("tank", "baffle", 0, "opening"), [{"diameter": "180 mm", "height": "80 mm"}]),
        ("tank", "baffle", 0, "opening", 0, "height"),
        needs=[*TANK, ("tank", "baffle", 0)],
    ),
    sense(
        lambda doc: put(doc, ("tank", "baffle", 0, "opening"), [{"diameter": "1 m", "height": "600 mm"}] * 2),
        ("tank", "baffle", 0, "opening", 1, "height"),
        needs=[*TANK, ("tank", "baffle", 0)],
    ),
    setting(("tank", "baffle", 0, "open"), "20 %", needs=[("tank", "baffle", 0)]),
    setting(("tank", "overflow_lip"), "3 m", needs=TANK),
    setting(("tank", "material"), "S999"),
    setting(("tank", "shell"), "300 mm"),
    setting(("tank", "dip_at"), "12 m", needs=TANK),
    setting(("tank", "outlet", 0, "compartment"), "rear", needs=[*TANK, ("tank", "compartment"), ("tank", "outlet")]),
    setting(("tank", "middle"), "-12 m", needs=AXLES),
    setting(("tank", "section", "top_corner"), "2 m", ("tank", "section", "top_corner"), needs=TANK),
    setting(
        ("tank", "section"), {"shape": "egg", "width": "2 m"}, ("tank", "section", "shape"), needs=[("tank", "section")]
    ),
    setting(("tank", "section"), {"width": "2 m"}, ("tank", "section", "shape"), needs=[("tank", "section")]),
    setting(
        ("tank", "section"),
        {"shape": "outline", "unit": "mm", "points": [[0, 0], [1, "a"], [2]]},
        ("tank", "section", "points", 1),
        ("tank", "section", "points", 2),
        needs=[("tank", "section")],
    ),
    setting(
        ("tank", "section"),
        {"shape": "super-ellipse", "width": "2 m", "height": "1 m", "exponent": float("nan")},
        ("tank", "section", "exponent"),
        needs=[("tank", "section")],
    ),
    setting(
        ("tank", "section"),
        {"shape": "outline", "unit": "mm", "points": [[0, 0], [900, 900], [900, 0], [0, 900]]},
        ("tank", "section", "points"),
        needs=[("tank", "section")],
    ),
    setting(("tank", "head"), {"shape": "torispherical"}, ("tank", "head"), needs=TANK),
    setting(("tank", "head"), {"shape": "conical"}, ("tank", "head", "depth"), needs=[("tank", "head")]),
    adding(
        ("tank", "pipe"),
        {"run": "along", "from": "0 m", "to": "2 m", "height": "1.9 m", "diameter": "100 mm"},
        ("height",),
        TANK,
    ),
    adding(
        ("tank", "pipe"),
        {"run": "up", "from": "1 m", "height": "10 mm", "top": "3 m", "diameter": "100 mm"},
        ("top",),
        TANK,
    ),
    adding(
        ("tank", "pipe"),
        {"run": "along", "from": "2 m", "to": "1 m", "height": "500 mm", "diameter": "100 mm"},
        ("to",),
    ),
    adding(("tank", "ring"), {"at": "1 m", "height": "8 mm", "thickness": "20 mm"}, ("thickness",)),
    adding(("tank", "ring"), {"at": "1 m", "height": "800 mm", "thickness": "5 mm"}, ("height",)),
    adding(("tank", "recess"), {"from": "0 m", "to": "1 m", "top": "3 m", "width": "3 m"}, ("top",), TANK),
    adding(("tank", "sump"), {"at": "1 m", "depth": "90 mm", "length": "300 mm"}, ("width",)),
    adding(("tank", "manhole"), {"at": "1 m", "y": "1.5 m", "diameter": "500 mm"}, ("y",), TANK),
    adding(("tank", "long_baffle"), {"y": "1.6 m"}, ("y",), TANK),
    adding(("item",), {"name": "far", "mass": "10 kg", "at": "30 m", "height": "1 m", "on": "frame"}, ("at",), AXLES),
    adding(("item",), {"name": "high", "mass": "10 kg", "at": "3 m", "height": "7 m", "on": "tank"}, ("height",), TANK),
    adding(("item",), {"name": "minus", "mass": "-10 kg", "at": "3 m", "height": "1 m", "on": "frame"}, ("mass",)),
    adding(("crew",), {"at": "25 m"}, ("at",), AXLES),
    setting(("subframe", "to"), "0.5 m", needs=[("subframe", "from")]),
    setting(("subframe", "material"), "steel"),
    setting(
        ("states",),
        {"emptying": [["rear"]]},
        ("states", "emptying", 0, 0),
        needs=[("tank", "compartment"), ("states",)],
    ),
    setting(("states",), {"ullage": "100 %"}, ("states", "ullage"), needs=[("states",)]),
    sense(round_tank_with_a_spike, ("tank", "head", "depth"), needs=[("tank",)]),
    sense(outlet_in_the_wrong_part, ("tank", "outlet", 0, "at"), needs=[("tank",)]),
    sense(nobody_drives, (*A3,), needs=AXLES),
    sense(lambda doc: put(doc, (*A1, "steered"), False), A1, needs=AXLES),
    setting((*A2, "kerb_load"), "2 t", ("chassis", "group", 0, "kerb_load"), needs=[*AXLES, ("chassis", "group")]),
    sense(all_lifted, ("chassis", "group", 0, "kerb_load"), ("chassis", "axle"), needs=[("chassis",)]),
    sense(many_lifts, ("chassis", "axle", 6, "lift"), needs=[("chassis",), ("subframe",), ("item",), ("crew",)]),
    setting(("tank", "outlet", 0, "height"), "2 m", needs=TANK),
    setting(("tank", "head", "crown_radius"), "2 m", needs=[("tank", "head")]),
    setting(("tank", "section", "side_radius"), "200 mm", needs=TANK),
    setting(("tank", "section"), 5, needs=[("tank", "section")]),
    setting(("chassis", "group", 0, "sharing"), ["40 %", "30 %", "30 %"], needs=[("chassis", "group", 0, "axles")]),
    setting(("subframe", "thickness"), "29 mm", needs=[("subframe",)]),
    outline_fault([[-900, 0], [900, 0], [0, 900]], "unit", unit="m"),
    outline_fault("three", "points"),
    outline_fault([[0, 0], [1, 1]], "points"),
    outline_fault([["a", 1]] * 30, ("points", 0), ("points", 4), "points"),
    outline_fault([[0, 0], [1, float("nan")], [5, 5]], ("points", 1)),
    *(
        adding(("tank", "sump"), {"at": "1 m", "depth": "90 mm", **more}, name, TANK)
        for more, name in (
            ({}, ()),
            ({"diameter": "300 mm", "length": "300 mm"}, ("length",)),
            ({"diameter": "300 mm", "depth": "2 m"}, ("depth",)),
            ({"diameter": "300 mm", "at": "4.85 m"}, ("diameter",)),
            ({"diameter": "300 mm", "y": "1.1 m"}, ("diameter",)),
            ({"diameter": "300 mm", "y": "2.1 m"}, ("y",)),
        )
    ),
    *(
        adding(("tank", "pipe"), {"from": "1 m", "height": "500 mm", "diameter": "100 mm", **more}, name, TANK)
        for more, name in (
            ({"run": "along"}, ("to",)),
            ({"run": "up"}, ("top",)),
            ({"run": "up", "top": "400 mm"}, ("top",)),
            ({"run": "up", "top": "1 m", "y": "1.5 m"}, ("y",)),
            ({"run": "up", "top": "1 m", "height": "-300 mm"}, ("height",)),
        )
    ),
    adding(("tank", "manhole"), {"at": "1 m", "diameter": "3 m"}, ("diameter",), TANK),
    adding(("tank", "manhole"), {"at": "1 m", "diameter": "500 mm", "neck": "1.5 m"}, ("neck",), TANK),
    adding(("tank", "recess"), {"from": "0 m", "to": "1 m", "top": "1 m", "width": "10 mm", "y": "2 m"}, (), TANK),
    adding(("tank", "recess"), {"from": "0 m", "to": "1 m", "height": "1 m", "top": "1 m", "width": "1 m"}, ("top",)),
    sense(two_recesses, ("tank", "recess", 1), needs=[*TANK, ("tank", "recess")]),
    sense(
        lambda doc: put(doc, ("tank", "baffle", 0, "opening"), [{"diameter": "1.4 m", "height": "600 mm"}]),
        ("tank", "baffle", 0, "opening", 0, "diameter"),
        needs=[*TANK, ("tank", "baffle", 0)],
    ),
    setting(("order", "rules"), ["eu-96-35"], ("order", "rules", 0)),
    setting(("order", "rules"), [5, "nowhere"], ("order", "rules", 0), ("order", "rules", 1)),
    setting(("order", "date"), dt.date(2026, 3, 9)),
    setting(("format",), True),
    setting(("format",), "1"),
    setting(("format",), 0),
]

VALUES: list[Fault] = [
    value_fault("4,2 m", "length"),
    value_fault("4,2 kg", "mass"),
    value_fault("2200 gal", "volume"),
    value_fault("10 ga", "length"),
    value_fault("12 kg", "length"),
    value_fault("4.2 m", "mass"),
    value_fault("-4.2 kg", "mass"),
    value_fault("5 ton", "mass"),
    value_fault("4.2 meterz", "length"),
    value_fault("1.5 bar(a)", "length"),
    value_fault("1e300 m", "length"),
    value_fault("9" * 59 + "m", "length"),
    value_fault("1" + "0" * 400 + " m", "length"),
    *(value_fault(bad) for bad in ("", "abc", "nan m", "inf kg", "\u001b[31m4 m", "4 m; rm", "١٢ m")),
    *(value_fault(bad) for bad in (True, [1, 2], [], {"at": 1}, dt.date(2026, 1, 1), 10**80, -7, 1e308)),
    *(value_fault(bad) for bad in (float("nan"), float("inf"), float("-inf"))),
    origin_fault("from", "mesured"),
    origin_fault("from", 5),
    origin_fault("from", ["maker"]),
    origin_fault("form", "maker"),
    origin_fault("note", 12),
    *(choice_fault(bad) for bad in ("none of these", 7, "", ["x"], True)),
    *(typed_fault(bad, bool) for bad in ("yes", 1, {})),
    *(typed_fault(bad, int) for bad in ("0", 0.5, float("nan"), -3, 10**30)),
    *(typed_fault(bad, str) for bad in (5, "", "x" * 500, "bell\u0007", "two\nlines", [], {"a": 1}, dt.time(7, 30))),
    *(swapped(bad) for bad in (5, "text", True, [[]], [5], [], {}, float("nan"), dt.datetime(2026, 1, 1, 7, 0))),  # noqa: DTZ001
    double_brackets,
    single_brackets,
    misspelt,
    misspelt,
    lost,
    lost,
]


# ------------------------------------------------------------------------------------------------ putting it together


def related(one: Where, two: Where) -> bool:
    """Whether one path lies in the other."""
    short = min(len(one), len(two))
    return one[:short] == two[:short]


def meet(one: Broken, two: Broken) -> bool:
    """Whether two faults touch each other, so that not both can be seen."""
    mine, theirs = [*one.named, *one.also], [*two.named, *two.also]
    return any(related(a, b) for a in [*mine, *one.needs] for b in theirs) or any(
        related(a, b) for a in mine for b in two.needs
    )


def dumps(table: Doc, at: str = "") -> str:
    """A document as text: what a table holds itself, then the tables in it."""
    own, below = [], []
    for key, value in table.items():
        name = key if re.fullmatch(r"[\w-]+", key) else f'"{key}"'
        path = f"{at}.{name}".lstrip(".")
        if isinstance(value, dict) and "value" not in value:
            below.append(f"\n[{path}]\n{dumps(value, path)}")
        elif isinstance(value, list) and value and all(isinstance(one, dict) for one in value):
            below += [f"\n[[{path}]]\n{dumps(one, path)}" for one in value]
        else:
            own.append(f"{name} = {written(value)}\n")
    return "".join([*own, *below])


def plain(text: str) -> Doc:
    return tomllib.loads(text)


@cache
def broken_build(seed: int) -> tuple[str, list[Broken]]:
    """A build file with faults that do not touch each other: each fault once alone, then two to five at once."""
    rng = random.Random(seed)  # noqa: S311  # a choice of test cases
    every = [*SENSE, *VALUES]
    pool = [every[seed]] if seed < len(every) else SENSE if seed % 3 == 0 else every
    wished = 1 if seed < len(every) else rng.randint(2, 5)
    doc, done = plain(DEMO), []
    for _ in range(40):
        if len(done) == wished:
            break
        trial = copy.deepcopy(doc)
        try:
            made = rng.choice(pool)(trial, rng)
        except (KeyError, IndexError, TypeError, AttributeError, AssertionError):
            continue  # an earlier fault took away what this one would change
        if not any(meet(made, other) for other in done):
            doc, done = trial, [*done, made]
    return dumps(doc), done


def problems_of(text: str) -> list[Problem]:
    with pytest.raises(BuildProblems) as caught:
        read_text(text, name="bad.toml")
    return caught.value.problems


def assert_readable(problem: Problem, rows: list[str]) -> None:
    """A sentence with line, key and what is allowed, in plain words."""
    sentence = problem.sentence("bad.toml")
    assert problem.message.endswith((".", "?")), sentence
    assert not JARGON.search(sentence.replace(problem.given[:60] or "\0", "")), sentence
    assert sentence.isprintable() or all(c.isprintable() or c == "\u2009" for c in sentence), sentence
    assert problem.allowed, sentence
    assert problem.path, sentence
    if problem.line is None:
        assert "." not in problem.path, sentence
        assert "missing" in problem.message, sentence
    else:
        words = re.findall(r"[A-Za-z_-]+", problem.path)
        assert any(word in rows[problem.line - 1] for word in words) or "[" in problem.path, sentence


@pytest.mark.parametrize("seed", range(SEEDS))
def test_every_fault_is_named_and_nothing_else(seed: int) -> None:
    text, done = broken_build(seed)
    found = problems_of(text)
    paths = [problem.path for problem in found]
    for broken in done:
        for where in broken.named:
            assert key_path(where) in paths, f"{key_path(where)} is not named in\n{found}"
    known = [key_path(one) for broken in done for one in (*broken.named, *broken.also)]
    for problem in found:
        assert any(problem.path.startswith(one) or one.startswith(problem.path) for one in known), f"false: {problem}"
        assert_readable(problem, text.split("\n"))


def test_each_fault_comes_alone_and_then_with_others() -> None:
    counts = [len(broken_build(seed)[1]) for seed in range(SEEDS)]
    alone = len(SENSE) + len(VALUES)
    assert counts[:alone] == [1] * alone
    assert set(counts[alone:]) == {2, 3, 4, 5}
    assert SEEDS - alone > 300


# ------------------------------------------------------------------------------------------------- examples are right


def with_example(doc: Doc, where: Where, problem: Problem) -> Doc | None:
    """The document with the example in place of what was wrong, None where the problem shows none."""
    if not problem.example:
        return None
    tried = copy.deepcopy(doc)
    try:
        value = tomllib.loads(f"x = {problem.example}")["x"]
    except tomllib.TOMLDecodeError:
        ((key, value),) = tomllib.loads(problem.example).items()
        here = where if where and isinstance(maybe(tried, where), dict) and key != where[-1] else where[:-1]
        get(tried, here)[key] = value
    else:
        put(tried, where, value)
    return tried


def maybe(doc: Any, path: Where) -> Any:
    try:
        return get(doc, path)
    except (KeyError, IndexError, TypeError):
        return None


def place(path: str) -> Where:
    """ "chassis.axle[2].at" as keys and positions counted from 0."""
    parts = re.findall(r'"(?:[^"\\]|\\.)*"|[^.\[\]"]+|\[\d+\]', path)
    return tuple(int(p[1:-1]) - 1 if p.startswith("[") else str(p) for p in parts)


def still(doc: Doc) -> list[Problem]:
    try:
        read_text(dumps(doc))
    except BuildProblems as caught:
        return caught.problems
    return []


@pytest.mark.parametrize("seed", range(0, SEEDS, 5))
def test_an_example_put_in_place_is_accepted(seed: int) -> None:
    text, _ = broken_build(seed)
    doc = plain(text)
    for problem in problems_of(text):
        mended = with_example(doc, place(problem.path), problem)
        if mended is not None:
            after = [(one.path, one.message) for one in still(mended)]
            assert (problem.path, problem.message) not in after, problem
            assert problem.path not in [path for path, _ in after], (problem, after)


# ------------------------------------------------------------------------------------------------ how it is written


def rows_with_text() -> list[int]:
    return [i for i, row in enumerate(DEMO.split("\n")) if re.fullmatch(r'\w+ = "[^"]*"', row)]


@pytest.mark.parametrize("seed", range(20))
def test_writing_faults_come_together_with_the_others(seed: int) -> None:
    rng = random.Random(seed)  # noqa: S311  # a choice of test cases
    rows = DEMO.split("\n")
    at = sorted(rng.sample(rows_with_text(), 3))
    rows[at[0]] = rows[at[0]].replace('"', "", 2)  # quotes forgotten
    rows[at[1]] = rows[at[1]] + "\n" + rows[at[1]]  # written twice
    rows[at[2]] = rows[at[2]][:-1]  # a quote not closed
    rows = "\n".join([*rows, "[states]", 'brakes = "0.4 g"']).split("\n")
    found = problems_of("\n".join(rows))
    assert [one.line for one in found] == [at[0] + 1, at[1] + 2, at[2] + 2, len(rows)], found
    for problem, i in zip(found, at, strict=False):
        assert problem.path.rsplit(".", 1)[-1] == DEMO.split("\n")[i].partition(" ")[0]
        assert_readable(problem, rows)
    assert found[-1].path == "states.brakes"


@pytest.mark.parametrize(
    ("text", "line", "path", "word"),
    [
        ("format = 1\nformat = 1", 2, "format", "twice"),
        ("[order]\n[chassis]\n[order]", 3, "order", "twice"),
        ("a = [1, 2", 1, "a", "closed"),
        ('[tank]\nlength = "5.4 m\n', 2, "tank.length", "quotation mark"),
        ("[tank]\nlength = 5.4 m", 2, "tank.length", "quotes"),
        ("[[chassis.axle]]\n[[chassis.axle]]\nat = 3.9 m", 3, "chassis.axle[2].at", "quotes"),
        ("[tank\nlength = 1", 1, "", "brackets"),
        ("just some words", 1, "", "read"),
        ("length = ", 1, "length", "missing"),
        ('a = "b\\q"', 1, "a", "backslash"),
        ("a = 1\x00", 1, "a", "control"),
        ('a = "\x1b[31m"', 1, "a", "control"),
        ("a = 2026-13-45", 1, "a", ""),
        ("format = " + "1" * 5000, 1, "format", "digits"),
        ("a" + ".a" * 20_000 + " = 1", 1, "", "dots"),
        ("[a" + ".a" * 20_000 + "]", 1, "", "dots"),
        ("a = " + "[" * 100_000, None, "", "deep"),
        ("a = " + "{a=" * 5_000, None, "", "deep"),
    ],
)
def test_what_is_not_toml_is_said_in_plain_words(text: str, line: int | None, path: str, word: str) -> None:
    first = next(one for one in problems_of(text) if one.line == line)
    assert first.path == path, first
    assert word in first.message
    assert first.allowed
    assert not JARGON.search(first.sentence("bad.toml").replace(first.given or "\0", "")), first
    assert all(c.isprintable() or c == "\u2009" for c in first.sentence("bad.toml"))


@pytest.mark.parametrize(
    ("raw", "line", "word"),
    [
        (b'format = 1\ntitle = "\xff\xfe"', 2, "UTF-8"),
        ("format = 1".encode("utf-16"), 1, "UTF-8"),
        (b"#" * (LARGEST + 1), None, "MB"),
        (b"\x00" * 50, 1, "control"),
        (bytes(range(256)), 9, "UTF-8"),
    ],
)
def test_what_is_no_text_is_refused(tmp_path: Path, raw: bytes, line: int | None, word: str) -> None:
    file = tmp_path / "bad.toml"
    file.write_bytes(raw)
    with pytest.raises(BuildProblems, match=word) as caught:
        read_file(file)
    if line != 9:
        assert caught.value.problems[0].line == line
    assert all(one.allowed for one in caught.value.problems)


def test_a_file_of_a_newer_format_is_not_guessed_at() -> None:
    (problem,) = problems_of(DEMO.replace("format = 1", "format = 2") + "[new]\nkey = 1\n")
    assert (problem.path, problem.given) == ("format", "2")
    assert "newer program" in problem.message
    assert DEMO.split("\n")[(problem.line or 0) - 1] == "format = 1"


def test_a_table_in_braces_that_cannot_be_read_says_what_it_needs() -> None:
    found = problems_of(DEMO.replace('top = { value = "1.04 m", from', 'top = { value = "1.04 m" from'))
    assert [(one.path, "commas" in one.allowed) for one in found] == [("chassis.frame.top", True)]


@pytest.mark.parametrize("name", ["", "gone.toml", "a\0b.toml"])
def test_what_is_no_file_is_refused(tmp_path: Path, name: str) -> None:
    with pytest.raises(BuildProblems, match=r"folder|no such file|no name|cannot be read"):
        read_file(tmp_path / name)


def test_a_mark_at_the_beginning_and_foreign_line_ends_do_no_harm(tmp_path: Path) -> None:
    file = tmp_path / "demo.toml"
    file.write_bytes(b"\xef\xbb\xbf" + DEMO.replace("\n", "\r\n").encode())
    assert read_file(file).build == read_text(DEMO).build
    assert read_text(DEMO.replace("\n", "\r\n")).build == read_text(DEMO).build


def test_thousands_of_faults_are_counted() -> None:
    text = "\n".join(f"k{i} = 1" for i in range(60_000))
    found = problems_of(text)
    assert len(found) == MOST + 1
    assert "more problems" in found[-1].message


# ------------------------------------------------------------------------------------------------- trade quantities


def tried(path: Where, text: Any, **more: Any) -> list[Problem]:
    doc = plain(DEMO)
    put(doc, path, text)
    for key, value in more.items():
        doc["tank"][key] = value
    return still(doc)


@pytest.mark.parametrize(
    ("path", "text", "word", "example"),
    [
        (("tank", "length"), "4,2 m", 'write "4.2 m"', '"4.2 m"'),
        (("tank", "length"), "4,200 mm", "thousands", None),
        (("tank", "length"), 4.9, "unit", '"4.9 m"'),
        (("tank", "length"), 4900, "unit", '"4900 mm"'),
        (("tank", "length"), "4900", "unit", '"4900 mm"'),
        (("tank", "shell"), 4, "unit", '"4 mm"'),
        (("tank", "coating", "inside"), "300", "unit", '"300 µm"'),
        (("order", "volume"), "2200 gal", "which gallon", None),
        (("tank", "length"), "10 ga", "sheet gauge", None),
        (("tank", "length"), "1.5 bar(g)", "a pressure, expected a length", None),
        (("chassis", "gross_rating"), "26 ton", "which ton", None),
        (("chassis", "gross_rating"), 26000, "unit", '"26000 kg"'),
        (("tank", "shell"), "99 ga", "not in the gauge table for S235", None),
        (("chassis", "fuel", "level"), "40", "needs a unit", None),
        (("chassis", "fuel", "level"), 1.5, "needs a unit", None),
    ],
)
def test_what_the_shop_types_is_refused_with_a_question(path: Where, text: Any, word: str, example: str | None) -> None:
    (problem,) = tried(path, text)
    assert problem.path == key_path(path)
    assert word in problem.message
    assert example in (None, problem.example)


def quantity(path: Where, text: Any, **more: Any) -> float:
    doc = plain(DEMO)
    put(doc, path, text)
    doc["tank"].update(more)
    here: Any = read_text(dumps(doc)).build
    for part in path:
        here = here[part] if isinstance(part, int) else getattr(here, part)
    return float(here)


@pytest.mark.parametrize(
    ("path", "text", "value"),
    [
        (("tank", "length"), "16.5 ft", 16.5 * 0.3048),
        (("tank", "length"), "193in", 193 * 0.0254),
        (("tank", "length"), "16' 4\"", (16 * 12 + 4) * 0.0254),
        (("order", "volume"), "10 m3", 10.0),
        (("order", "volume"), "2200 US gal", 2200 * 231 * 0.0254**3),
        (("order", "volume"), "2200 imp gal", 2200 * 4.54609e-3),
        (("chassis", "fuel", "level"), 0.4, 0.4),
        (("chassis", "fuel", "level"), "40 %", 0.4),
    ],
)
def test_what_the_shop_types_is_read_right(path: Where, text: Any, value: float) -> None:
    assert quantity(path, text) == pytest.approx(value, rel=1e-12)


def test_165in_is_a_length_and_bar_g_a_pressure() -> None:
    assert float(parse("165in", "length")) == pytest.approx(4.191, rel=1e-12)
    assert float(parse("1.5 bar(g)", "pressure")) == 150_000.0


@pytest.mark.parametrize(("metal", "inch"), [("S235", 0.1345), ("1.4301", 0.1406), ("5083", 0.1019)])
def test_a_gauge_is_read_by_the_scale_of_its_metal(metal: str, inch: float) -> None:
    assert quantity(("tank", "shell"), "10 ga", material=metal) == pytest.approx(inch * 0.0254, rel=1e-9)


def test_a_gauge_of_steel_is_3_416_mm() -> None:
    assert quantity(("tank", "shell"), "10 ga") == pytest.approx(3.416e-3, abs=0.5e-6)


def test_the_subframe_reads_a_gauge_by_its_own_metal() -> None:
    doc = plain(DEMO)
    doc["tank"]["material"] = "5083"
    doc["subframe"].update(material="1.4301", thickness="7 ga")
    sub = read_text(dumps(doc)).build.subframe
    assert sub is not None
    assert float(sub.thickness) == pytest.approx(0.1875 * 0.0254, rel=1e-9)


@pytest.mark.parametrize("metal", ["unobtainium", 5, ["S235"]])
def test_a_gauge_of_no_metal_is_a_question(metal: Any) -> None:
    found = tried(("tank", "shell"), "10 ga", material=metal)
    assert {one.path for one in found} == {"tank.material", "tank.shell"}
    assert not any(JARGON.search(one.sentence("bad.toml")) for one in found)
