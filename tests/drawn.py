"""Builds that are drawn in tests, and what is read out of a drawing."""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator

from tunwright.build.reading import read_text
from tunwright.checks.assess import Assessment
from tunwright.sheets.annotate import flatten
from tunwright.sheets.drawing import (
    Drawing,
    Entity,
    Group,
    LinearDimension,
    Text,
)

BARE = """
format = 1
[order]
title = "First talk"
[chassis]
gross_rating = "15000 kg"
[[chassis.axle]]
name = "front"
at = "0 m"
kerb_load = "3000 kg"
rating = "6000 kg"
steered = true
[[chassis.axle]]
name = "rear"
at = "3.4 m"
kerb_load = "1800 kg"
rating = "10000 kg"
driven = true
tyres = 4
[tank]
middle = "2.6 m"
length = "3.0 m"
bottom = "1.2 m"
shell = "4 mm"
[tank.section]
shape = "ellipse"
width = "2.0 m"
height = "1.3 m"
"""

FOUR_AXLES = """
format = 1
[order]
title = "Potable water, four compartments, delivered to the villages of the upper valley and back, the second of three"
rules = ["eu-96-53"]
[chassis]
gross_rating = "32000 kg"
[[chassis.axle]]
name = "front 1"
at = "0 m"
kerb_load = "2900 kg"
rating = "7500 kg"
steered = true
[[chassis.axle]]
name = "front 2"
at = "1.94 m"
kerb_load = "2800 kg"
rating = "7500 kg"
steered = true
[[chassis.axle]]
name = "rear 1"
at = "5.1 m"
kerb_load = "2000 kg"
rating = "9500 kg"
driven = true
tyres = 4
[[chassis.axle]]
name = "rear 2"
at = "6.45 m"
kerb_load = "2000 kg"
rating = "9500 kg"
driven = true
tyres = 4
[[chassis.group]]
name = "steering"
axles = ["front 1", "front 2"]
[[chassis.group]]
name = "bogie"
axles = ["rear 1", "rear 2"]
rating = "18000 kg"
[chassis.cab]
front = "-1.45 m"
back = "0.62 m"
roof = "3.1 m"
[tank]
middle = "4.35 m"
length = "6.6 m"
bottom = "1.25 m"
shell = "4 mm"
fall = "2 %"
fall_by = "floor"
[tank.section]
shape = "super-ellipse"
width = "2.4 m"
height = "1.35 m"
exponent = 3.0
[tank.head]
shape = "dish"
depth = "160 mm"
[[tank.compartment]]
name = "A"
from = "0 m"
to = "1.9 m"
[[tank.compartment]]
name = "B"
from = "1.9 m"
to = "3.3 m"
[[tank.compartment]]
name = "C"
from = "3.4 m"
to = "5.0 m"
[[tank.compartment]]
name = "D"
from = "5.0 m"
to = "6.6 m"
[[tank.manhole]]
at = "0.9 m"
diameter = "500 mm"
[[tank.manhole]]
at = "2.6 m"
diameter = "500 mm"
[[tank.long_baffle]]
y = "0 mm"
[[tank.ring]]
at = "1.0 m"
height = "60 mm"
thickness = "8 mm"
[[tank.recess]]
from = "5.2 m"
to = "5.8 m"
top = "300 mm"
width = "600 mm"
[[tank.pipe]]
run = "along"
diameter = "100 mm"
from = "0.2 m"
to = "1.6 m"
height = "200 mm"
[[tank.pipe]]
run = "up"
diameter = "100 mm"
from = "2.0 m"
height = "0.1 m"
top = "1.2 m"
[[item]]
name = "metering cabinet with a very long name indeed"
mass = "180 kg"
at = "3.5 m"
y = "-0.95 m"
height = "0.75 m"
on = "frame"
length = "1200 mm"
width = "500 mm"
tall = "500 mm"
[[item]]
name = "beacon"
mass = "10 kg"
at = "1.0 m"
height = "1.6 m"
on = "tank"
length = "300 mm"
width = "300 mm"
tall = "300 mm"
"""

LIFTED = BARE.replace(
    '[[chassis.axle]]\nname = "rear"',
    '[[chassis.axle]]\nname = "pusher"\nat = "2.3 m"\nkerb_load = "0 kg"\nrating = "5000 kg"\nlift = true\n'
    'raised_when_weighed = true\n\n[[chassis.axle]]\nname = "rear"',
)


def assessed(text: str) -> Assessment:
    return Assessment(read_text(text).build)


def opened(entities: Iterable[Entity], within: str = "") -> Iterator[tuple[str, Entity]]:
    """Every entity with the path of the groups it stands in."""
    for entity in entities:
        if isinstance(entity, Group):
            yield from opened(entity.entities, f"{within}/{entity.name}")
        else:
            yield within, entity


def groups(entities: Iterable[Entity], name: str) -> list[Group]:
    found = []
    for entity in entities:
        if isinstance(entity, Group):
            found += ([entity] if entity.name == name else []) + groups(entity.entities, name)
    return found


def dimensions(entities: Iterable[Entity]) -> list[LinearDimension]:
    return [entity for _, entity in opened(entities) if isinstance(entity, LinearDimension)]


def length_of(dim: LinearDimension) -> float:
    axis = 0 if dim.along == "u" else 1
    return abs(dim.p2[axis] - dim.p1[axis])


def texts(drawing: Drawing) -> list[str]:
    return [part.text for part in flatten(drawing.entities, drawing.scale) if isinstance(part, Text)]


def read_length(text: str) -> float:
    """The figure of a metric dimension [m]."""
    found = re.search(r"−?[\d\u00a0]+$", text)
    assert found, text
    return float(found.group().replace("\u00a0", "").replace("−", "-")) / 1000.0
