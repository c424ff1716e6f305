"""A new build file to start from: every key explained, every fact of the chassis assumed until it is measured."""

from __future__ import annotations

import re
from fractions import Fraction
from importlib.resources import files
from string import Template
from typing import Literal

from tunwright.build.edit import written
from tunwright.build.starter_layouts import LAYOUTS, AxleStart, Layout
from tunwright.build.units import KINDS

LayoutName = Literal["4x2", "6x4", "8x4"]
System = Literal["metric", "us"]

_LONGEST_TITLE = 200
_US = {
    "mass": ("lb", 10.0),
    "volume": ("US gal", 5.0),
    "stress": ("ksi", 5.0),
    "stiffness": ("lbf/in", 50.0),
    "force": ("lbf", 50.0),
}
_METRIC = {
    "mass": ("kg", 10.0),
    "volume": ("L", 10.0),
    "stress": ("MPa", 10.0),
    "stiffness": ("N/mm", 10.0),
    "force": ("N", 100.0),
}
_COLUMN = 56
_SHOWN_OFF: dict[str, tuple[float, str]] = {
    "cross_at": (0.8, "length"),
    "cross_height": (0.2, "length"),
    "cross_flange": (0.06, "length"),
    "cross_thickness": (0.006, "length"),
    "mount_at": (1.45, "length"),
    "mount_rate": (120e3, "stiffness"),
    "mount_preload": (2000.0, "force"),
    "mount_travel": (0.03, "length"),
}
"""Values in the remarks that show how frame and mounts are written."""
_RULE_FRACTIONS = 16  # plate of less than an inch is written in sixteenths of an inch


def starter_text(*, layout: LayoutName, units: System, title: str) -> str:
    """The text of a new build file.

    layout: 4x2, 6x4 or 8x4
    units: metric or us, in which the values are written
    title: title of the order, on one line
    """
    plan = LAYOUTS[layout]
    line = " ".join(title.split())[:_LONGEST_TITLE].strip() or "New water carrier"
    shown = {name: _written(value, kind, units) for name, (value, kind) in plan.values.items()}
    shown |= {name: _written(value, kind, units) for name, (value, kind) in _SHOWN_OFF.items()}
    shown |= {
        "title": written("".join(c for c in line if c.isprintable()) or "New water carrier"),
        "units": units,
        "layout": layout,
        "chassis_name": written(plan.name),
        "material": "S235" if units == "metric" else "A36",
        "rules_hint": "eu-96-53 or au-general" if units == "metric" else "us-federal",
        "axles": "\n".join(_axle(plan, axle, units) for axle in plan.axles),
        "groups": "\n".join(_group(plan, name, units) for name in plan.groups),
        "baffles": "\n".join(_baffle(plan, i, units) for i in range(plan.baffles)),
    }
    page = files("tunwright.build").joinpath("starter.toml").read_text("utf-8")
    return _aligned(Template(page).substitute(shown))


def _aligned(text: str) -> str:
    """The text with the remarks behind values in one column."""
    return re.sub(r"(?m)^([^#\n][^\n]*?) +# (?=[^\"\n]*$)", lambda found: f"{found[1]:<{_COLUMN}} # ", text)


def _written(value: float, kind: str, units: System) -> str:
    """A value in SI as a shop would write it, without quotes."""
    if kind == "length":
        return _length(value, units)
    symbol, step = (_US if units == "us" else _METRIC)[kind]
    number = KINDS[kind].units[symbol.replace("³", "3")].from_si(value)
    return f"{round(number / step) * step:.0f} {symbol}"


def _length(value: float, units: System) -> str:
    if units == "metric":
        return f"{value:.2f} m" if abs(value) >= 1.0 or value == 0.0 else f"{1000 * value:.0f} mm"
    inches = value / 0.0254
    if 0 < inches < 1:
        return f"{Fraction(max(1, round(inches * _RULE_FRACTIONS)), _RULE_FRACTIONS)} in"
    return f"{round(2 * inches) / 2:g} in"


def _fact(key: str, value: float, kind: str, units: System, note: str = "") -> str:
    """A key with an assumed value, and what to measure."""
    text = f'{key} = {{ value = "{_written(value, kind, units)}", from = "assumed" }}'
    return f"{text} # {note}" if note else text


def _axle(plan: Layout, axle: AxleStart, units: System) -> str:
    """One axle."""
    weighed = "as weighed, level, fuel noted, nobody in the cab"
    lines = [
        "[[chassis.axle]]",
        f'name = "{axle.name}"',
        f'at = "{_length(0.0, units)}"' + "  # all places count from here"
        if axle.at == 0
        else _fact("at", axle.at, "length", units, "centre to centre from the first axle, both sides"),
    ]
    if axle.kerb_load:
        lines.append(_fact("kerb_load", axle.kerb_load, "mass", units, weighed))
    lines += [
        _fact("rating", axle.rating, "mass", units, "the plate: technical or legal, the lower"),
        "steered = true" if axle.steered else "driven = true",
        f"tyres = {axle.tyres}",
        _fact("tyre_rating", axle.tyre_rating, "mass", units, "load index on the side wall, single or twin as fitted"),
        _fact("tyre_radius", plan.tyre_radius, "length", units, "from the ground to the middle of the hub, standing"),
        _fact("track", axle.track, "length", units, "between the middles of the wheels or pairs"),
    ]
    if axle.tyres == 4:
        lines.append(_fact("pair_spacing", plan.pair_spacing, "length", units, "between the middles of twin tyres"))
    return "\n".join([*lines, 'suspension = "leaf"', ""])


def _group(plan: Layout, name: str, units: System) -> str:
    """Axles that share their load, weighed as one."""
    members = [axle for axle in plan.axles if axle.group == name]
    kerb, rating = plan.groups[name]
    lines = [
        "[[chassis.group]]",
        f'name = "{name}"',
        f"axles = {written([axle.name for axle in members])}",
        'sharing = "equal" # or the part of each, such as 55 % and 45 %',
        _fact("rating", rating, "mass", units, "rating of the whole group"),
        _fact("kerb_load", kerb, "mass", units, "the whole group on the scale at once"),
    ]
    return "\n".join([*lines, ""])


def _baffle(plan: Layout, i: int, units: System) -> str:
    """A plate across the tank, evenly spaced."""
    place = plan.values["tank_length"][0] * (i + 1) / (plan.baffles + 1)
    return f'[[tank.baffle]]\nat = "{_length(place, units)}"\nopen = "25 %"\n'
