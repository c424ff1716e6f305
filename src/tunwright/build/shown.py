"""Quantities in print: SI floats to the trade's usual units, with thin spaces and a true minus sign."""

from __future__ import annotations

import math

from tunwright.build.factors import INCH
from tunwright.build.kind import Kind, Step, System, Unit, spelling
from tunwright.build.kinds import KINDS

THIN_SPACE = "\u2009"
MINUS = "\u2212"
FEET_AND_INCHES = "ft in"
NO_VALUE = "no value"
_FIGURES = 4  # significant figures shown in a unit that was asked for without a number of decimals
_MOST_DECIMALS = 9


def show_number(value: float, digits: int = 0) -> str:
    """A number as printed: "7 380" with a thin space from four digits on, "−1.25" with a true minus, never "−0".

    value: any number; not-a-number prints as "no value", infinity as "∞"
    digits: decimals, 0 or more; the last one is rounded to the nearest, exact halves to the even digit
    """
    if math.isnan(value):
        return NO_VALUE
    text = "∞" if math.isinf(value) else f"{abs(value):,.{digits}f}".replace(",", THIN_SPACE)
    negative = value < 0 and any(mark not in f"0.{THIN_SPACE}" for mark in text)
    return MINUS + text if negative else text


def show(
    value: float, kind: str, *, system: System = "metric", digits: int | None = None, unit: str | None = None
) -> str:
    """A quantity as printed, such as "3 900 mm", "7 380 kg", "1.5 bar", "153.5 in".

    value: the quantity [SI]; not-a-number prints as "no value"
    kind: name in `KINDS`; KeyError when there is no such kind
    system: "metric" or "us", the usual units of the kind in that system
    digits: decimals to print, always that many, for columns; without it up to the usual number, idle zeros dropped
    unit: print in this unit of the kind instead; for lengths also "ft in"; ValueError when the kind has no such unit
    """
    plan = KINDS[kind]
    if math.isnan(value):
        return NO_VALUE
    if unit == FEET_AND_INCHES and kind == "length":
        return _feet_and_inches(value, 1 if digits is None else digits)
    if unit is None:
        step = _step(plan, value, system)
        chosen, usual, fixed = plan.units[spelling(step.unit)], step.digits, step.fixed
    else:
        chosen = _asked_for(plan, unit)
        usual, fixed = _decimals(_in_unit(value, chosen)), False
    number = show_number(_in_unit(value, chosen), usual if digits is None else digits)
    if digits is None and not fixed:
        number = _without_idle_zeros(number)
    return number + ("" if chosen.symbol == "°" else " ") + chosen.symbol


def _step(plan: Kind, value: float, system: System) -> Step:
    """The printing step for a value's size."""
    steps = plan.steps[system]
    return next((step for step in steps if abs(value) < step.below), steps[-1])


def _asked_for(plan: Kind, unit: str) -> Unit:
    """The unit of the kind with that spelling."""
    found = plan.units.get(spelling(unit))
    if found is None:
        raise ValueError(f"{unit!r} is not a unit for {plan.label}; allowed: {', '.join(plan.symbols)}.")
    return found


def _in_unit(value: float, unit: Unit) -> float:
    """How many of `unit` the value is, infinities included."""
    return unit.from_si(value) if math.isfinite(value) else value


def _decimals(number: float) -> int:
    """Decimals that show a number with the usual significant figures."""
    if number == 0 or math.isinf(number):
        return 0
    return min(max(0, _FIGURES - 1 - math.floor(math.log10(abs(number)))), _MOST_DECIMALS)


def _without_idle_zeros(number: str) -> str:
    """The number less noughts that say nothing: "1.50" -> "1.5", "20.0" -> "20"; whole numbers stay as they are."""
    return number.rstrip("0").rstrip(".") if "." in number else number


def _feet_and_inches(value: float, digits: int) -> str:
    """A length such as "13 ft 6 in"; inches are rounded first, so that 11.96 in carries into the feet.

    value: length [m]
    digits: most decimals of the inch; idle zeros are dropped
    """
    if math.isinf(value):
        return f"{show_number(value)} ft"
    inches = round(abs(value) / float(INCH), digits)
    feet, rest = divmod(inches, 12)
    sign = MINUS if value < 0 and inches > 0 else ""
    tail = show_number(rest, digits)
    return f"{sign}{show_number(feet)} ft {_without_idle_zeros(tail)} in"
