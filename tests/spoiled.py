"""Build files with faults: every sort of fault, and several put together."""

from __future__ import annotations

import copy
import datetime as dt
import random
import re
import tomllib
from functools import cache
from importlib.resources import files

import pytest

from spoiling import (
    AXLES,
    TANK,
    Broken,
    Doc,
    Fault,
    Where,
    adding,
    all_lifted,
    axles_out_of_order,
    choice_fault,
    double_brackets,
    first_axle_moved,
    lost,
    many_lifts,
    misspelt,
    nobody_drives,
    origin_fault,
    outlet_in_the_wrong_part,
    outline_fault,
    overlapping,
    put,
    round_tank_with_a_spike,
    sense,
    setting,
    single_brackets,
    swapped,
    two_recesses,
    typed_fault,
    value_fault,
)
from tunwright.build.edit import written
from tunwright.build.problems import BuildProblems, Problem
from tunwright.build.reading import read_text

DEMO = files("tunwright.demos").joinpath("quarry-carrier.toml").read_text("utf-8")
SEEDS = 500

JARGON = re.compile(
    r"Circle|SuperEllipse|RoundedBox|FreeOutline|\bdict\b|type=|input_value|pydantic|Traceback|datetime|NoneType|None\b"
    r"|Input should|[Vv]alidation|Quantity|Literal|object at|Error|\{'|\['|\('|\bTrue\b|\bFalse\b|\bstr\b|\bint\b"
)
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


def still(doc: Doc) -> list[Problem]:
    try:
        read_text(dumps(doc))
    except BuildProblems as caught:
        return caught.problems
    return []
