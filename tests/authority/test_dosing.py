"""Doses of chlorine, its neutralising, and the pulses of a meter, against public tables and examples.

Left out: the table of 1 % stock gives 30 g of bleaching powder of 34 %, which is 29.4 rounded up to a handy number.
"""

from __future__ import annotations

import math

import numpy as np
import pytest

from tunwright.handbook.disinfection import (
    NEUTRALISERS,
    chlorine_mass,
    contact_value,
    liquid_volume,
    neutraliser_mass,
    residual,
)
from tunwright.handbook.instruments import calibrated_k, pulse_frequency
from tunwright.handbook.pipe_friction import mean_velocity

GALLON, OUNCE, INCH, FOOT = 231 * 0.0254**3, 231 * 0.0254**3 / 128, 0.0254, 0.3048


@pytest.mark.parametrize(("strength", "grams"), [(0.65, 769), (0.70, 714)])
def test_dose_for_a_tank(check, strength: float, grams: float) -> None:
    ours = chlorine_mass(volume=10.0, concentration=0.05, strength=strength)
    check(f"10 000 L at 50 mg/L, {strength:.0%} powder", expected=grams, ours=ours * 1e3, tol=0.5, unit="g",
          source="m = V C / p, AWWA C652-11 names 50 mg/L and 65 %; recomputed by hand")


def test_stock_of_one_percent(check) -> None:
    source = "public table for a stock of 1 %, 10 g of chlorine in 1 L"
    for strength, grams in ((0.70, 14), (0.25, 40)):
        check(f"powder of {strength:.0%} for 1 L", source=source, expected=grams, tol=0.5, unit="g",
              ours=chlorine_mass(volume=0.001, concentration=10.0, strength=strength) * 1e3)
    for percent, millilitres in ((10, 100), (5, 200)):
        check(f"liquid of {percent} % for 1 L", source=source, expected=millilitres, tol=0.5, unit="ml",
              ours=liquid_volume(volume=0.001, concentration=10.0, content=10.0 * percent) * 1e6)


@pytest.mark.parametrize(("litres", "millilitres"), [(1000, 67), (10_000, 667), (20_000, 1333)])
def test_bleach_for_a_tank(check, litres: float, millilitres: float) -> None:
    check(f"bleach of 5 % for {litres} L", source="public table of a health authority, 1 : 15 000, which is 3.33 mg/L",
          expected=millilitres, tol=0.5, unit="ml",
          ours=liquid_volume(volume=litres / 1e3, concentration=0.01 / 3, content=50.0) * 1e6)


def test_dose_while_filling(check) -> None:
    ours = liquid_volume(volume=1000 * GALLON, concentration=0.0012, content=52.5)
    check("bleach of 5.25 % for 1000 gal at 1.2 mg/L", source="rule of a US state for water haulers (read)",
          expected=3, ours=ours / OUNCE, tol=0.5, unit="fl oz")


def test_contact(check) -> None:
    check("CT of 0.5 mg/L for 30 min", source="WHO Guidelines for Drinking-water Quality; from memory", expected=15,
          ours=contact_value(concentration=0.0005, time=1800.0) / 0.06, tol=0.5, unit="mg min/L")


def test_neutralisers(check) -> None:
    """The fact sheet gives 1.46 for bisulphite: 104/71 = 1.4648 cut short; with 104.06 and 70.906 it is 1.468."""
    epa = "EPA 832-F-00-022, 2000, Dechlorination, theoretical mass for each mass of chlorine; from memory"
    check("metabisulphite", source=epa, expected=1.34, ours=NEUTRALISERS["sodium metabisulphite"], tol=0.005)
    check("sulphite", source=epa, expected=1.78, ours=NEUTRALISERS["sodium sulphite"], tol=0.005)
    check("bisulphite, with molar masses of 104 and 71", expected=1.465, tol=0.0005,
          source="Metcalf and Eddy, Wastewater Engineering, dechlorination; from memory",
          ours=NEUTRALISERS["sodium bisulphite"] * 70.906 / 71 * 104 / 104.06)
    check("thiosulphate crystals to tetrathionate", source="a test-kit maker's support note: 7.0 mg for each mg (read)",
          expected=7.0, ours=NEUTRALISERS["sodium thiosulphate to tetrathionate"], tol=0.05)
    guide = "AWWA, Disinfection of Pipelines and Storage Facilities Field Guide, 2006, Tables 7-2 and 7-5 (copy)"
    for agent, ratio, kilograms in (("thiosulphate", 1.9, 0.19), ("bisulphite", 1.61, 0.16)):
        check(f"{agent} for 100 m3 at 1 mg/L", source=guide, expected=kilograms, tol=0.005, unit="kg",
              ours=neutraliser_mass(chlorine=100 * 0.001, ratio=ratio))


def test_measured_doses_lie_where_the_reactions_allow() -> None:
    assert NEUTRALISERS["sodium bisulphite"] < 1.61
    assert NEUTRALISERS["sodium thiosulphate to sulphate"] < 1.9 < NEUTRALISERS["sodium thiosulphate to tetrathionate"]


def test_a_weaker_product_is_needed_in_greater_mass() -> None:
    pure = neutraliser_mass(chlorine=[0.1, 0.5], ratio=1.47)
    assert neutraliser_mass(chlorine=[0.1, 0.5], ratio=1.47, purity=0.5) == pytest.approx(2 * pure, rel=1e-14)


def test_decay_halves_again_and_again() -> None:
    days = 86400 * np.arange(4.0)
    left = residual(start=0.002, rate=math.log(2) / 86400, time=days)
    assert left == pytest.approx([0.002, 0.001, 0.0005, 0.00025], rel=1e-14)
    assert residual(start=left, rate=math.log(2) / 86400, time=86400.0)[:-1] == pytest.approx(left[1:], rel=1e-14)


def test_meter(check) -> None:
    source = "public manual of a flow meter, K factors explained, examples 2 and 3"
    gallons = GALLON / 60
    check("pulses at 85 gpm, 458.82 for each gallon", source=source, expected=650, tol=0.5, unit="Hz",
          ours=pulse_frequency(k_factor=458.82 / GALLON, flow=85 * gallons))
    check("velocity of 99.1 gpm in 3.068 in", source=source, expected=4.3, tol=0.05, unit="ft/s",
          ours=mean_velocity(flow=99.1 * gallons, diameter=3.068 * INCH) / FOOT)


@pytest.mark.parametrize(("name", "counts", "volumes", "slope", "error"), [
    ("NoInt1", range(130, 141), range(60, 71), 2.07438016529, 0.0165289256198),
    ("NoInt2", (3, 4, 4), (4, 5, 6), 0.727272727273, 0.0420827318078),
])
def test_line_through_the_origin(check, name: str, counts, volumes, slope: float, error: float) -> None:
    """The certified values have 15 digits; the last three are left to rounding."""
    ours = calibrated_k(counts=list(counts), volumes=list(volumes))
    source = f"NIST Statistical Reference Datasets, {name}, certified values (copies)"
    digits = -math.floor(math.log10(slope)) + 11
    check(f"slope of {name}", source=source, expected=slope, ours=ours.k_factor, tol=0.5 * 10.0**-digits)
    check(f"its standard error, {name}", source=source, expected=error, ours=ours.standard_error, tol=0.5e-13)


@pytest.mark.parametrize(("call", "words"), [
    (lambda: chlorine_mass(volume=10.0, concentration=0.05, strength=65.0), "0.65"),
    (lambda: chlorine_mass(volume=0.0, concentration=0.05, strength=0.65), "10 m3"),
    (lambda: chlorine_mass(volume=[1.0, math.nan], concentration=0.05, strength=0.65), "10 m3"),
    (lambda: liquid_volume(volume=10.0, concentration=0.05, content=5e4), "which is 5 %"),
    (lambda: contact_value(concentration=-0.1, time=60.0), "0 or more"),
    (lambda: residual(start=0.001, rate=-1.0, time=60.0), "1e-5 1/s"),
    (lambda: neutraliser_mass(chlorine=0.1, ratio=0.0), "sodium bisulphite"),
    (lambda: neutraliser_mass(chlorine=0.1, ratio=1.5, purity=97.0), "0.97"),
])
def test_what_is_no_dose_is_refused(call, words: str) -> None:
    with pytest.raises(ValueError, match=words):
        call()
