"""The fields a rule file may use. A field outside these lists is refused."""

from __future__ import annotations

import difflib
import math
from collections.abc import Iterable, Mapping
from typing import Any

from tunwright.tables.rule_types import Amount

MASS = {"kg": 1.0, "t": 1000.0, "lb": 0.45359237}
LENGTH = {"m": 1.0, "mm": 0.001, "in": 0.0254, "ft": 0.3048}
PER_METRE = {"kg_per_m": 1.0, "t_per_m": 1000.0}

QUANTITIES = ("all", "any", "some", "none")
QUANTITY_FIELDS = (
    "driven",
    "steered",
    "twin_tyres",
    "air_suspension",
    "load_sharing",
    "driven_twin_tyres",
    "driven_air_suspension",
)
WIDTH_FIELDS = ("tyre_width_from", "tyre_width_below")
SPREAD_FIELDS = ("spread_from", "spread_above", "spread_below", "spread_to")
COUNT_FIELDS = ("axles", "axles_from", "axles_to")
WORDS = ("key", "kind", "question", "document", "clause", "edition", "mark")
OF_AXLES = ("driven", "front steered")

VALUE_UNITS = {
    "axles": MASS,
    "gross": MASS,
    "gross_per_metre": PER_METRE,
    "share": {},
    "bridge": {},
    "length": LENGTH,
    "width": LENGTH,
    "height": LENGTH,
}
"""Kinds of limit, each with the units its value may have."""


class RuleFileError(ValueError):
    """A rule file says something that cannot be taken as meant."""


def spelled(bases: Iterable[str], units: Iterable[str]) -> set[str]:
    """Every base with every unit behind it: "spread_from_m", "spread_from_in" and so on.

    bases: names without a unit
    units: units
    """
    every = tuple(units)
    return {f"{base}_{unit}" for base in bases for unit in every}


def condition_fields() -> set[str]:
    """The fields of a case that say when it holds."""
    return {*QUANTITY_FIELDS, "steered_axles", *spelled(WIDTH_FIELDS, LENGTH)}


def refuse_unknown(table: Mapping[str, Any], known: set[str], where: str) -> None:
    """Refuse a table with a field that is not known.

    table: what was read
    known: the fields allowed here
    where: file and place, for the sentence
    RuleFileError: a field is not known
    """
    for field in table:
        if field not in known:
            near = difflib.get_close_matches(field, sorted(known), n=1)
            hint = f"did you mean '{near[0]}'? " if near else ""
            raise RuleFileError(
                f"{where}: the field '{field}' is not known here; {hint}Allowed are {', '.join(sorted(known))}."
            )


def text(table: Mapping[str, Any], field: str, where: str, *, default: str | None = None) -> str:
    """A text of a table.

    table: what was read
    field: its name
    where: file and place, for the sentence
    default: what holds without it; None makes the field a must
    RuleFileError: it is missing, empty or no text
    """
    given = table.get(field, default)
    if given is None:
        raise RuleFileError(f"{where}: the field '{field}' is missing; for example {field} = \"...\".")
    if not isinstance(given, str) or (not given.strip() and default is None):
        raise RuleFileError(f"{where}: '{field}' is {given!r}; a text is needed, for example {field} = \"...\".")
    return given


def choice(table: Mapping[str, Any], field: str, allowed: Iterable[str], where: str) -> str:
    """A text out of a list.

    table: what was read
    field: its name
    allowed: the texts allowed
    where: file and place, for the sentence
    RuleFileError: it is none of them
    """
    given, every = text(table, field, where), tuple(allowed)
    if given not in every:
        raise RuleFileError(f"{where}: '{field}' is '{given}'; allowed are {', '.join(every)}.")
    return given


def number(table: Mapping[str, Any], field: str, where: str) -> float:
    """A number above zero.

    table: what was read
    field: its name
    where: file and place, for the sentence
    RuleFileError: it is no number, not finite, or not above zero
    """
    given = table[field]
    if isinstance(given, bool) or not isinstance(given, (int, float)) or not math.isfinite(given) or given <= 0:
        raise RuleFileError(
            f"{where}: '{field}' is {given!r}; a number above zero is needed, for example {field} = 2.5."
        )
    return float(given)


def whole(table: Mapping[str, Any], field: str, where: str) -> int:
    """A whole number above zero.

    table: what was read
    field: its name
    where: file and place, for the sentence
    RuleFileError: it is no whole number above zero
    """
    given = number(table, field, where)
    if given != int(given):
        raise RuleFileError(f"{where}: '{field}' is {given}; a whole number is needed, for example {field} = 2.")
    return int(given)


def amount(table: Mapping[str, Any], base: str, units: Mapping[str, float], where: str) -> Amount | None:
    """A value whose unit stands in the field's name, `value_t = 11.5`, or None if it is not given.

    table: what was read
    base: the name without unit
    units: the units allowed, each with its size in SI
    where: file and place, for the sentence
    RuleFileError: it is given in two units, or is no number above zero
    """
    given = [unit for unit in units if f"{base}_{unit}" in table]
    if len(given) > 1:
        raise RuleFileError(f"{where}: '{base}' is given in {' and '.join(given)}; give it once.")
    if not given:
        return None
    unit = given[0]
    value = number(table, f"{base}_{unit}", where)
    shown = unit.replace("_per_", "/")
    return Amount(round(value * units[unit], 9), f"{table[f'{base}_{unit}']} {shown}", shown)
