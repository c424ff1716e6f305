"""Every unit against an independent units library (pint), and reading back what was printed."""

from __future__ import annotations

import math
import re
from collections.abc import Callable
from fractions import Fraction
from typing import Any

import pint
import pytest
from hypothesis import given
from hypothesis import strategies as st

from tunwright.build.kind import Unit
from tunwright.build.units import KINDS, parse, show

SOURCE = f"pint {pint.__version__}, an independent units library"

# kind -> SI unit, then our symbol -> the same unit in pint's words
PINT: dict[str, tuple[str, dict[str, str]]] = {
    "length": (
        "m",
        {
            "m": "m",
            "cm": "cm",
            "mm": "mm",
            "µm": "micrometer",
            "km": "km",
            "in": "inch",
            "ft": "foot",
            "yd": "yard",
            "mil": "thou",
        },
    ),
    "mass": (
        "kg",
        {
            "kg": "kg",
            "g": "gram",
            "t": "metric_ton",
            "lb": "pound",
            "klb": "kilopound",
            "oz": "ounce",
            "short ton": "short_ton",
            "long ton": "long_ton",
        },
    ),
    "volume": (
        "m^3",
        {
            "L": "liter",
            "mL": "milliliter",
            "m³": "m^3",
            "mm³": "mm^3",
            "US gal": "gallon",
            "imp gal": "imperial_gallon",
            "ft³": "foot^3",
            "in³": "inch^3",
        },
    ),
    "area": ("m^2", {"m²": "m^2", "cm²": "cm^2", "mm²": "mm^2", "ft²": "foot^2", "in²": "inch^2"}),
    "pressure": (
        "Pa",
        {
            "bar": "bar",
            "mbar": "mbar",
            "Pa": "Pa",
            "kPa": "kPa",
            "MPa": "MPa",
            "psi": "psi",
            "kgf/cm²": "kilogram_force/cm^2",
            "mH2O": "meter_H2O",
            "inH2O": "inch_H2O",
            "ftH2O": "foot_H2O",
        },
    ),
    "angle": ("rad", {"°": "degree", "rad": "rad", "mrad": "millirad"}),
    "ratio": ("", {"%": "percent", "‰": "permille"}),
    "slope": ("", {"%": "percent", "‰": "mm/m", "in/ft": "inch/foot", "°": "degree"}),
    "force": (
        "N",
        {"kN": "kN", "N": "N", "MN": "MN", "kgf": "kilogram_force", "lbf": "pound_force", "kip": "kip"},
    ),
    "stiffness": (
        "N/m",
        {
            "N/mm": "N/mm",
            "N/m": "N/m",
            "kN/m": "kN/m",
            "kN/mm": "kN/mm",
            "lbf/in": "pound_force/inch",
            "lbf/ft": "pound_force/foot",
        },
    ),
    "density": (
        "kg/m^3",
        {
            "kg/m³": "kg/m^3",
            "kg/L": "kg/liter",
            "g/cm³": "gram/cm^3",
            "t/m³": "metric_ton/m^3",
            "g/L": "gram/liter",
            "mg/L": "mg/liter",
            "lb/ft³": "pound/foot^3",
            "lb/in³": "pound/inch^3",
            "lb/US gal": "pound/gallon",
            "lb/imp gal": "pound/imperial_gallon",
        },
    ),
    "acceleration": ("m/s^2", {"g": "standard_gravity", "m/s²": "m/s^2", "ft/s²": "foot/s^2"}),
    "speed": (
        "m/s",
        {
            "km/h": "km/hour",
            "m/s": "m/s",
            "mm/s": "mm/s",
            "m/min": "m/minute",
            "mph": "mile/hour",
            "ft/s": "foot/s",
            "ft/min": "foot/minute",
        },
    ),
    "flow": (
        "m^3/s",
        {
            "L/min": "liter/minute",
            "L/s": "liter/s",
            "L/h": "liter/hour",
            "m³/h": "m^3/hour",
            "m³/min": "m^3/minute",
            "m³/s": "m^3/s",
            "US gpm": "gallon/minute",
            "US gph": "gallon/hour",
            "imp gpm": "imperial_gallon/minute",
            "imp gph": "imperial_gallon/hour",
            "ft³/min": "foot^3/minute",
            "ft³/s": "foot^3/s",
        },
    ),
    "laid": (
        "m",
        {
            "L/m²": "liter/m^2",
            "mm": "mm",
            "m³/ha": "m^3/hectare",
            "US gal/yd²": "gallon/yard^2",
            "imp gal/yd²": "imperial_gallon/yard^2",
        },
    ),
    "pulses": (
        "1/m^3",
        {
            "pulses/L": "1/liter",
            "pulses/m³": "1/m^3",
            "pulses/US gal": "1/gallon",
            "pulses/imp gal": "1/imperial_gallon",
        },
    ),
    "time": ("s", {"min": "minute", "s": "s", "ms": "ms", "h": "hour", "d": "day"}),
    "temperature": ("K", {"°C": "degC", "°F": "degF", "K": "K"}),
    "torque": (
        "N*m",
        {
            "N m": "N*m",
            "kN m": "kN*m",
            "N mm": "N*mm",
            "kgf m": "kilogram_force*m",
            "lbf ft": "pound_force*foot",
            "lbf in": "pound_force*inch",
        },
    ),
    "power": ("W", {"kW": "kW", "W": "W", "MW": "MW", "hp": "horsepower", "PS": "metric_horsepower"}),
    "rotation": ("rad/s", {"rpm": "revolutions_per_minute", "rev/s": "turn/s", "rad/s": "rad/s"}),
    "mass_per_length": (
        "kg/m",
        {
            "kg/m": "kg/m",
            "g/m": "gram/m",
            "kg/mm": "kg/mm",
            "t/m": "metric_ton/m",
            "lb/ft": "pound/foot",
            "lb/in": "pound/inch",
        },
    ),
    "stress": ("Pa", {"MPa": "MPa", "Pa": "Pa", "kPa": "kPa", "GPa": "GPa", "psi": "psi", "ksi": "ksi"}),
    "inertia": (
        "kg*m^2",
        {
            "kg m²": "kg*m^2",
            "kg mm²": "kg*mm^2",
            "t m²": "metric_ton*m^2",
            "lb ft²": "pound*foot^2",
            "lb in²": "pound*inch^2",
        },
    ),
}
NUMBERS = (1.0, 0.37, 12.5, 60.0, 7380.0, -3.25)


@pytest.fixture(scope="module")
def registry() -> pint.UnitRegistry[Any]:
    return pint.UnitRegistry()


def oracle(registry: pint.UnitRegistry[Any], kind: str, symbol: str, number: float) -> float:
    si, units = PINT[kind]
    value = float(
        registry.Quantity(number, units[symbol]).to(registry.Unit(si) if si else registry.dimensionless).magnitude
    )
    return math.tan(value) if kind == "slope" and symbol == "°" else value


def test_every_unit_of_every_kind_has_its_counterpart() -> None:
    assert {kind: set(units) for kind, (_, units) in PINT.items()} == {
        name: set(kind.symbols) for name, kind in KINDS.items()
    }


@pytest.mark.parametrize("kind", PINT)
def test_units_agree_with_an_independent_library(
    kind: str, registry: pint.UnitRegistry[Any], check: Callable[..., None]
) -> None:
    least = KINDS[kind].least
    worst = 1.0
    for symbol in KINDS[kind].symbols:
        for number in NUMBERS:
            expected = oracle(registry, kind, symbol, number)
            if expected < least or (kind == "slope" and symbol == "°" and abs(number) >= 90):
                continue
            ours = parse(f"{number} {symbol}", kind)
            worst = max(worst, ours / expected, key=lambda ratio: abs(ratio - 1))
            assert ours == pytest.approx(expected, rel=1e-12, abs=0), symbol
    check(f"units of {kind}: our SI value over the library's, worst", source=SOURCE, expected=1, ours=worst, tol=1e-12)


UNITS = [(name, unit) for name, kind in KINDS.items() for unit in dict.fromkeys(kind.units.values())]
FLOATS = st.floats(-1e7, 1e7, allow_nan=False)


def half_last_digit(text: str) -> Fraction:
    """Half of the last printed decimal place."""
    decimals = re.match(r"[^.]*\d\.(\d+)", text)
    return Fraction(1, 2 * 10 ** (len(decimals[1]) if decimals else 0))


def close(read: float, value: float, unit: Unit, allowed: Fraction) -> bool:
    back, asked = unit.from_si(read), unit.from_si(value)
    noise = 1e-12 * max(1.0, abs(asked), abs(float(unit.shift)))
    return abs(back - asked) <= float(allowed) + noise


def in_range(kind: str, unit: Unit, number: float) -> float:
    """A number of the unit turned into an SI value that can exist."""
    if unit.tangent:
        number = math.remainder(number, 178.0)  # degrees, short of the vertical
    return max(unit.to_si(Fraction(number)), KINDS[kind].least)


@given(choice=st.sampled_from(UNITS), number=FLOATS, digits=st.integers(0, 6))
def test_what_is_printed_in_a_unit_reads_back(choice: tuple[str, Unit], number: float, digits: int) -> None:
    kind, unit = choice
    value = in_range(kind, unit, number)
    text = show(value, kind, unit=unit.symbol, digits=digits)
    allowed = half_last_digit(text)
    assert allowed == Fraction(1, 2 * 10**digits)
    if unit.tangent and abs(unit.from_si(value)) + allowed >= 90:
        return  # rounding may reach the vertical
    if kind == "temperature" and value < float(allowed) + 1e-9:
        return  # rounding may reach below absolute zero
    assert close(parse(text, kind), value, unit, allowed)


@given(kind=st.sampled_from(sorted(KINDS)), system=st.sampled_from(["metric", "us"]), number=FLOATS)
def test_what_is_printed_as_usual_reads_back(kind: str, system: str, number: float) -> None:
    plan = KINDS[kind]
    value = max(number, plan.least + 1)
    text = show(value, kind, system=system)  # type: ignore[arg-type]  # one of the two systems
    unit = next(
        unit
        for unit in plan.units.values()
        if text.endswith(unit.symbol) and text.removesuffix(unit.symbol)[-1] in " 0123456789"
    )
    places = max(step.digits for step in plan.steps["metric"] + plan.steps["us"] if step.unit == unit.symbol)
    decimals = re.search(r"\.(\d+)", text)
    assert len(decimals[1] if decimals else "") <= places
    coarsest = Fraction(1, 2)  # of the unit: no kind prints coarser than whole units
    assert close(parse(text, kind), value, unit, min(coarsest, half_last_digit(text)))


@given(inches=st.floats(-1e5, 1e5), digits=st.integers(0, 4))
def test_feet_and_inches_read_back(inches: float, digits: int) -> None:
    value = inches * 0.0254
    read = parse(show(value, "length", unit="ft in", digits=digits).replace("\u2009", ""), "length")
    assert abs(read - value) <= 0.0254 * (0.5 / 10**digits) + 1e-9
