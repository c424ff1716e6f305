"""Reading and printing trade units: what is accepted, what is refused and with which words."""

from __future__ import annotations

import copy
import math
import pickle

import pytest
from hypothesis import given
from hypothesis import strategies as st

from tunwright.build.units import KINDS, Quantity, UnitError, parse, parse_thickness, show, show_number

THIN, NARROW, HARD, MINUS = "\u2009", "\u202f", "\u00a0", "\u2212"
GAUGE = {10: 0.003416, 12: 0.002657}  # invented table: gauge -> m


@pytest.mark.parametrize(
    ("text", "metres"),
    [
        ("4.2 m", 4.2),
        ("165in", 4.191),
        ("165 in", 4.191),
        ("165 in.", 4.191),
        ("4 200 mm", 4.2),
        (f"4{HARD}200{HARD}mm", 4.2),
        (f"4{THIN}200 mm", 4.2),
        (f"4{NARROW}200{NARROW}mm", 4.2),
        ("1 234 567.5 mm", 1234.5675),
        ("13 ft 6 in", 4.1148),
        ("13' 6\"", 4.1148),
        ("13′ 6″", 4.1148),
        ("13’6”", 4.1148),
        ("13'6''", 4.1148),
        (f"13{HARD}ft{HARD}6{HARD}in", 4.1148),
        ("-13 ft 6 in", -4.1148),
        ("13 ft 6 1/2 in", 4.1275),
        ("13'", 3.9624),
        ('6"', 0.1524),
        ("3/16 in", 0.0047625),
        ("1 1/2 in", 0.0381),
        ("1-1/2 in", 0.0381),
        ("-1.25 m", -1.25),
        (f"{MINUS}1.25 m", -1.25),
        ("+3 mm", 0.003),
        ("1e3 mm", 1.0),
        ("1.5E-3 m", 0.0015),
        (".5 m", 0.5),
        ("  4.2 m\t", 4.2),
        ("80 µm", 80e-6),
        ("80 \u03bcm", 80e-6),
        ("3 mil", 76.2e-6),
    ],
)
def test_lengths_are_read_exactly(text: str, metres: float) -> None:
    assert parse(text, "length") == metres


@pytest.mark.parametrize(
    ("text", "kind", "expected"),
    [
        ("1100 kg", "mass", 1100.0),
        ("4.7 t", "mass", 4700.0),
        ("1 lb", "mass", 0.45359237),
        ("2 lbs", "mass", 0.90718474),
        ("26 klb", "mass", 11793.40162),
        ("1 short ton", "mass", 907.18474),
        ("1 long ton", "mass", 1016.0469088),
        ("10 m3", "volume", 10.0),
        ("10 m³", "volume", 10.0),
        ("10 m^3", "volume", 10.0),
        ("10 m**3", "volume", 10.0),
        ("12000 L", "volume", 12.0),
        ("12000 l", "volume", 12.0),
        ("12 000 L", "volume", 12.0),
        ("2200 US gal", "volume", 8.3279059248),
        ("2200 U.S. gal", "volume", 8.3279059248),
        ("1830 imp gal", "volume", 8.3193447),
        ("1.5 bar", "pressure", 150_000.0),
        ("1.5 bar(g)", "pressure", 150_000.0),
        ("1.5 bar (g)", "pressure", 150_000.0),
        ("1.5 barg", "pressure", 150_000.0),
        ("-20 kPa", "pressure", -20_000.0),
        ("2 mH₂O", "pressure", 19_613.3),
        ("3°", "angle", math.radians(3)),
        ("12 %", "ratio", 0.12),
        ("12%", "ratio", 0.12),
        ("150 %", "ratio", 1.5),
        ("0.2", "ratio", 0.2),
        ("0", "ratio", 0.0),
        (0.2, "ratio", 0.2),
        ("12 %", "slope", 0.12),
        ("-45 deg", "slope", -1.0),
        ("1000 lb/in", "stiffness", 175126.83524647637),
        ("8.34 lb/US gal", "density", 8.34 * 0.45359237 / 0.003785411784),
        ("0.5 g", "acceleration", 4.903325),
        ("4 m/s2", "acceleration", 4.0),
        ("72 km/h", "speed", 20.0),
        ("1200 L/min", "flow", 0.02),
        ("36 m3 / h", "flow", 0.01),
        ("20 °C", "temperature", 293.15),
        ("20 C", "temperature", 293.15),
        ("68 °F", "temperature", 293.15),
        ("-40 °F", "temperature", 233.15),
        ("293.15 K", "temperature", 293.15),
        ("210 N·m", "torque", 210.0),
        ("210 Nm", "torque", 210.0),
        ("1 450 1/min", "rotation", 1450 * math.tau / 60),
        ("5200 kg·m²", "inertia", 5200.0),
    ],
)
def test_other_kinds_are_read(text: object, kind: str, expected: float) -> None:
    assert parse(text, kind) == pytest.approx(expected, rel=1e-9, abs=0)


@pytest.mark.parametrize(
    ("text", "kind", "words"),
    [
        ("4,2 m", "length", ["comma", 'write "4.2 m"']),
        ("12,000 L", "volume", ["comma", '"12000 L"', '"12 000 L"', '"12.000 L" for decimals']),
        ("1,234.5 mm", "length", ['"1234.5 mm"']),
        ("1.234,5 mm", "length", ['write "1234.5 mm"']),
        ("4 m, 5 m", "length", ["comma"]),
        ("2200 gal", "volume", ["which gallon", "US gal", "3.785", "imp gal", "4.546"]),
        ("400 gpm", "flow", ["which gallon", '"US gpm"']),
        ("8.3 lb/gal", "density", ["which gallon", '"lb/US gal"']),
        ("9 ton", "mass", ["which ton", '"t"', '"short ton"', '"long ton"']),
        ("9 tons", "mass", ["which ton"]),
        ("5", "length", ['needs a unit: write "5 m"']),
        (5, "length", ['needs a unit: write "5 m"']),
        ("12000", "volume", ['needs a unit: write "12000 L"']),
        ("3", "angle", ['needs a unit: write "3°"']),
        ("20", "ratio", ['needs a unit: write "20 %"', "a plain number from 0 up to"]),
        ("1", "ratio", ['write "1 %" or "100 %"']),
        ("0.12", "slope", ['write "0.12 %" or "12 %"']),
        ("1100 kg", "length", ["'1100 kg' is a mass, expected a length such as \"4.2 m\""]),
        ("12 %", "length", ["is a ratio or a slope, expected a length"]),
        ("2200 gal", "length", ["is a volume, expected a length"]),
        ("500 lb", "force", ["is a mass, expected a force"]),
        ("13 ft 6 in", "mass", ["is a length, expected a mass"]),
        ("5 KG", "mass", ['unit "KG"', 'did you mean "kg"?']),
        ("5 M", "length", ['did you mean "m"?']),
        ("5 metrs", "length", ['did you mean "m"?']),
        ("200 mPa", "stress", ['did you mean "MPa"?']),
        ("5 furlong", "length", ['unit "furlong"', "m, cm, mm"]),
        ("nan m", "length", ["not a number that can be measured"]),
        ("-inf m", "length", ["not a number that can be measured"]),
        (math.nan, "length", ["not a number that can be measured"]),
        ("1e999 m", "length", ["too large"]),
        ("", "length", ["is empty"]),
        ("   ", "length", ["is empty"]),
        ("about 4 m", "length", ["does not begin with a number"]),
        ("0.2 -", "ratio", ["not known"]),
        ("m", "length", ["does not begin with a number"]),
        ("9" * 61 + " m", "length", ["longer than 60"]),
        ("2 bar(a)", "pressure", ["absolute", "gauge"]),
        ("2 bara", "pressure", ["absolute"]),
        ("30 psia", "pressure", ["absolute"]),
        ("10 ga", "length", ["sheet gauge", "depends on the metal"]),
        ("4 20 mm", "length", ["more than one number", "groups of exactly three"]),
        ("4 2000 mm", "length", ["more than one number"]),
        ("4 2001/min", "rotation", ["more than one number"]),
        ("4  200 mm", "length", ["more than one number"]),
        ("0 500 m", "length", ["more than one number"]),
        ("4.2.3 m", "length", ["more than one number"]),
        ("4 m 20 cm", "length", ["more than one number"]),
        ("13.5 ft 6 in", "length", ["more than one number"]),
        ("13 ft 12 in", "length", ["twelve inches or more"]),
        ("13 ft 14 in", "length", ["twelve inches or more"]),
        ("5/4 in", "length", ["fraction of one or more"]),
        ("95°", "slope", ["between -90° and 90°"]),
        ("-90 deg", "slope", ["between -90° and 90°"]),
        ("-300 °C", "temperature", ["below absolute zero"]),
        (True, "ratio", ["neither text nor a number"]),
        ([4, "m"], "length", ["neither text nor a number"]),
    ],
)
def test_what_is_refused_is_refused_with_the_reason(text: object, kind: str, words: list[str]) -> None:
    with pytest.raises(UnitError) as caught:
        parse(text, kind)
    error = caught.value
    assert [word for word in words if word not in error.message] == []
    assert error.message == str(error)
    assert error.given[:60] == str(text)[:60]
    assert error.allowed.startswith(KINDS[kind].label)
    parse(error.example, kind)  # the example must itself be readable


@given(
    st.text("0123456789 .,-+/'\"eE%°²³·*^()agilmnprstubfkKMPNL\u2009\u2212", max_size=14),
    st.sampled_from(sorted(KINDS)),
)
def test_any_text_is_read_or_refused_in_a_sentence(text: str, kind: str) -> None:
    try:
        value: float = parse(text, kind)
    except UnitError as refusal:
        message = refusal.message
        value = 0.0
    else:
        message = "Allowed: "
    assert math.isfinite(value)
    assert message.count("Allowed: ") == 1


def test_every_example_and_every_spelling_is_read() -> None:
    for name, kind in KINDS.items():
        parse(kind.example, name)
        for written, unit in kind.units.items():
            assert parse(f"2 {written}", name) == parse(f"2 {unit.symbol}", name), (name, written)
        assert not set(kind.units) & set(kind.refused), name


def test_every_refused_spelling_says_why() -> None:
    for name, kind in KINDS.items():
        for written, why in kind.refused.items():
            with pytest.raises(UnitError) as caught:
                parse(f"2 {written}", name)
            assert why in caught.value.message, (name, written)


def test_an_unknown_kind_is_a_mistake_of_the_program() -> None:
    with pytest.raises(KeyError):
        parse("4 m", "lenght")


def test_a_quantity_remembers_how_it_was_written() -> None:
    quantity = parse("165 in", "length", source="measured", note="tape")
    assert (quantity.text, quantity.kind, quantity.source, quantity.note) == ("165 in", "length", "measured", "tape")
    pickled = [pickle.loads(pickle.dumps(quantity, protocol)) for protocol in range(6)]  # noqa: S301  # our own bytes
    for twin in (copy.copy(quantity), copy.deepcopy(quantity), *pickled):
        assert type(twin) is Quantity
        kept = (float(twin), twin.text, twin.kind, twin.source, twin.note)
        assert kept == (4.191, "165 in", "length", "measured", "tape")


def test_arithmetic_with_quantities_gives_plain_floats() -> None:
    quantity = parse("165 in", "length")
    results = (quantity + 1, 1 - quantity, quantity * quantity, quantity / 2, -quantity, +quantity, abs(quantity))
    assert {type(result) for result in (*results, sum([quantity, quantity]))} == {float}
    assert f"{quantity:.2f} {quantity}" == "4.19 4.191"


def test_zero_has_no_sign() -> None:
    assert math.copysign(1, parse("-0 m", "length")) == 1
    assert math.copysign(1, parse("-0 ft 0 in", "length")) == 1


def test_a_unit_error_survives_a_process_pool() -> None:
    with pytest.raises(UnitError) as caught:
        parse("2200 gal", "volume")
    assert pickle.loads(pickle.dumps(caught.value)).message == caught.value.message  # noqa: S301  # our own bytes


@pytest.mark.parametrize("text", ["10 ga", "10ga", "10 gauge", " 10 gage "])
def test_sheet_gauges_come_from_the_table_of_the_metal(text: str) -> None:
    quantity = parse_thickness(text, gauge=GAUGE, metal="mild steel", source="maker")
    assert (quantity, quantity.text, quantity.kind, quantity.source) == (0.003416, text, "length", "maker")


def test_a_thickness_may_be_a_length() -> None:
    assert parse_thickness("3/16 in", gauge=None, metal="mild steel") == 0.0047625


@pytest.mark.parametrize(
    ("text", "gauge", "words"),
    [
        ("10 ga", None, ["no gauge table for aluminium"]),
        ("11 ga", GAUGE, ["not in the gauge table for aluminium", "10, 12"]),
        ("0 mm", GAUGE, ["more than zero"]),
        ("-3 mm", GAUGE, ["more than zero"]),
        ("3 kg", GAUGE, ["is a mass"]),
        (10, GAUGE, ["needs a unit"]),
    ],
)
def test_thicknesses_that_are_refused(text: object, gauge: dict[int, float] | None, words: list[str]) -> None:
    with pytest.raises(UnitError) as caught:
        parse_thickness(text, gauge=gauge, metal="aluminium")
    assert [word for word in words if word not in caught.value.message] == []


@pytest.mark.parametrize(
    ("value", "digits", "expected"),
    [
        (7380, 0, f"7{THIN}380"),
        (999.4, 0, "999"),
        (999.6, 0, f"1{THIN}000"),
        (1234567.891, 2, f"1{THIN}234{THIN}567.89"),
        (-1.25, 2, f"{MINUS}1.25"),
        (-0.04, 1, "0.0"),
        (-0.0, 0, "0"),
        (-0.05001, 1, f"{MINUS}0.1"),
        (-0.4, 0, "0"),
        (math.nan, 1, "no value"),
        (math.inf, 1, "∞"),
        (-math.inf, 1, f"{MINUS}∞"),
    ],
)
def test_numbers_in_print(value: float, digits: int, expected: str) -> None:
    assert show_number(value, digits) == expected


@pytest.mark.parametrize(
    ("value", "kind", "options", "expected"),
    [
        (3.9, "length", {}, f"3{THIN}900 mm"),
        (0.00418, "length", {}, "4.18 mm"),
        (0.006, "length", {}, "6 mm"),
        (0.0483, "length", {}, "48.3 mm"),
        (-0.14, "length", {}, f"{MINUS}140 mm"),
        (-1e-9, "length", {}, "0 mm"),
        (120.0, "length", {}, "120 m"),
        (3.9, "length", {"digits": 1}, f"3{THIN}900.0 mm"),
        (3.9, "length", {"unit": "m"}, "3.9 m"),
        (3.9137, "length", {"unit": "m"}, "3.914 m"),
        (12345.6, "length", {"unit": "m"}, f"12{THIN}346 m"),
        (1.23456e-5, "length", {"unit": "m"}, "0.00001235 m"),
        (1.23456e-8, "length", {"unit": "m"}, "0.000000012 m"),
        (1e-15, "length", {"unit": "m"}, "0 m"),
        (80e-6, "length", {"unit": "µm"}, "80 µm"),
        (4.191, "length", {"system": "us"}, "165.0 in"),
        (4.1148, "length", {"unit": "ft in"}, "13 ft 6 in"),
        (-4.1148, "length", {"unit": "ft in"}, f"{MINUS}13 ft 6 in"),
        (4.2670, "length", {"unit": "ft in"}, "14 ft 0 in"),
        (4.2670, "length", {"unit": "ft in", "digits": 2}, "13 ft 11.99 in"),
        (0.0, "length", {"unit": "ft in"}, "0 ft 0 in"),
        (7380.0, "mass", {}, f"7{THIN}380 kg"),
        (7380.0, "mass", {"system": "us"}, f"16{THIN}270 lb"),
        (2.5, "mass", {}, "2.5 kg"),
        (10.95, "volume", {}, f"10{THIN}950 L"),
        (8.3279059248, "volume", {"system": "us"}, f"2{THIN}200 US gal"),
        (150_000.0, "pressure", {}, "1.5 bar"),
        (150_000.0, "pressure", {"digits": 2}, "1.50 bar"),
        (150_000.0, "pressure", {"system": "us"}, "21.8 psi"),
        (0.2, "ratio", {}, "20 %"),
        (0.12, "slope", {}, "12 %"),
        (1.0, "slope", {"unit": "deg"}, "45°"),
        (math.radians(3), "angle", {}, "3°"),
        (293.15, "temperature", {}, "20 °C"),
        (293.15, "temperature", {"system": "us"}, "68 °F"),
        (273.15, "temperature", {"digits": 0}, "0 °C"),
        (4.903325, "acceleration", {}, "0.5 g"),
        (0.02, "flow", {}, f"1{THIN}200 L/min"),
        (math.nan, "length", {}, "no value"),
        (math.nan, "length", {"unit": "ft in"}, "no value"),
        (math.inf, "mass", {}, "∞ kg"),
        (-math.inf, "slope", {"unit": "deg"}, f"{MINUS}∞°"),
        (math.inf, "length", {"unit": "ft in"}, "∞ ft"),
    ],
)
def test_quantities_in_print(value: float, kind: str, options: dict[str, object], expected: str) -> None:
    assert show(value, kind, **options) == expected  # type: ignore[arg-type]  # each option has its own type


def test_printing_in_a_unit_of_another_kind_is_refused() -> None:
    with pytest.raises(ValueError, match="'kg' is not a unit for a length; allowed: m, cm, mm"):
        show(1.0, "length", unit="kg")
    with pytest.raises(ValueError, match="'ft in' is not a unit for a mass"):
        show(1.0, "mass", unit="ft in")
