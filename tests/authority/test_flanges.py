"""Flanges, weld fittings and bolts: each table against a second copy, in inches or millimetres, and its own rule."""

from __future__ import annotations

import math
from collections.abc import Callable
from fractions import Fraction
from itertools import pairwise

import pytest

from tunwright.tables.elbows import fittings_of, weld_fittings
from tunwright.tables.flanges import flange, flange_bolts, flanges
from tunwright.tables.pipes import pipe_size
from tunwright.tables.rule_types import MARKS

Check = Callable[..., None]

MM, INCH = 1e-3, 0.0254
EN_SIZES = [15, 20, 25, 32, 40, 50, 65, 80, 100, 125, 150, 200, 250, 300]
ASME_SIZES = [15, 20, 25, 32, 40, 50, 65, 80, 90, 100, 125, 150, 200, 250, 300]
NOMINAL = [float(sum(map(Fraction, one.split()))) for one in
           ["1/2", "3/4", "1", "1 1/4", "1 1/2", "2", "2 1/2", "3", "3 1/2", "4", "5", "6", "8", "10", "12"]]


def numbers(text: str) -> list[float]:
    return [float(sum(map(Fraction, one.split("-")))) for one in text.split()]


# EN 1092-1. The table was entered from the makers' tables named in it; these are other copies.

ISO = "public table of flange standards, ISO 7005 (DIN) rows"
DRILLING = {
    "PN 10": {15: (95, 65, 4, 14), 20: (105, 75, 4, 14)},
    "PN 16": {15: (95, 65, 4, 14), 20: (105, 75, 4, 14)},
}
PUBLIC = "public table of EN 1092-1 PN 16 drilling: outside, circle, bolts, thread, pipe"
PN16 = {
    15: (95, 65, 4, 12, 21.3), 20: (105, 75, 4, 12, 26.9), 25: (115, 85, 4, 12, 33.7), 32: (140, 100, 4, 16, 42.4),
    40: (150, 110, 4, 16, 48.3), 50: (165, 125, 4, 16, 60.3), 80: (200, 160, 8, 16, 88.9),
    100: (220, 180, 8, 16, 114.3), 125: (250, 210, 8, 16, 139.7), 150: (285, 240, 8, 20, 168.3),
    200: (340, 295, 12, 20, 219.1), 250: (405, 355, 12, 24, 273.0), 300: (460, 410, 12, 24, 323.9),
}  # fmt: skip
METERS = "public table of flanged water meters, EN 1092-2 PN 16: outside, circle, bolts, thread"
PN16_METERS = {
    65: (185, 145, 16), 80: (200, 160, 16), 100: (220, 180, 16), 125: (250, 210, 16), 150: (285, 240, 20),
    200: (340, 295, 20), 250: (405, 355, 24), 300: (460, 410, 24),
}  # fmt: skip


def test_drilling_of_pn_16(check: Check) -> None:
    for size, (outside, circle, holes, thread, pipe) in PN16.items():
        ours, name = flange("PN 16", f"DN{size}"), f"PN 16, DN{size}"
        check(f"{name}, outside", source=PUBLIC, expected=outside, ours=ours.outside / MM, tol=1e-9, unit="mm")
        check(f"{name}, bolt circle", source=PUBLIC, expected=circle, ours=ours.circle / MM, tol=1e-9, unit="mm")
        check(f"{name}, holes", source=PUBLIC, expected=holes, ours=ours.holes, tol=0)
        check(f"{name}, bolt", source=PUBLIC, expected=thread, ours=ours.bolt.diameter / MM, tol=1e-9, unit="mm")
        check(f"{name}, pipe", source=PUBLIC, expected=pipe, ours=ours.pipe / MM, tol=1e-9, unit="mm")
    for size, (outside, circle, thread) in PN16_METERS.items():
        ours, name = flange("PN 16", f"DN{size}"), f"PN 16, DN{size}"
        check(f"{name}, outside", source=METERS, expected=outside, ours=ours.outside / MM, tol=1e-9, unit="mm")
        check(f"{name}, bolt circle", source=METERS, expected=circle, ours=ours.circle / MM, tol=1e-9, unit="mm")
        check(f"{name}, bolt", source=METERS, expected=thread, ours=ours.bolt.diameter / MM, tol=1e-9, unit="mm")


def test_drilling_of_the_smallest_sizes(check: Check) -> None:
    for drilling, rows in DRILLING.items():
        for size, row in rows.items():
            ours = flange(drilling, f"DN{size}")
            found = (ours.outside / MM, ours.circle / MM, ours.holes, ours.hole / MM)
            for what, expected, value in zip(("outside", "bolt circle", "holes", "hole"), row, found, strict=True):
                check(f"{drilling}, DN{size}, {what}", source=ISO, expected=expected, ours=value, tol=1e-9, unit="mm")


MAKER = "a flange maker's table of type 11, thickness and length"
THICKNESS = {
    "PN 10": [18, 18, 20, 20, 22, 22, 24, 26, 26],
    "PN 16": [18, 18, 20, 20, 22, 22, 24, 26, 28],
    "PN 40, small sizes": [16, 18, 18, 18, 18],
}
LENGTH = {
    "PN 10": [45, 45, 50, 52, 55, 55, 62, 68, 68],
    "PN 16": [45, 45, 50, 52, 55, 55, 62, 70, 78],
    "PN 40, small sizes": [38, 40, 40, 42, 45],
}


@pytest.mark.parametrize("rows", list(THICKNESS))
def test_weld_necks(check: Check, rows: str) -> None:
    """DN15 to DN40 are those of PN 40; the maker lists them by DIN 2633 too, 2 mm thinner and 2 to 3 mm shorter."""
    sizes = EN_SIZES[:5] if rows.startswith("PN 40") else EN_SIZES[5:]
    for size, thick, length in zip(sizes, THICKNESS[rows], LENGTH[rows], strict=True):
        for drilling in ("PN 10", "PN 16") if rows.startswith("PN 40") else (rows,):
            ours, name = flange(drilling, f"DN{size}"), f"{drilling}, DN{size}"
            check(f"{name}, thickness", source=MAKER, expected=thick, ours=ours.neck / MM, tol=1e-9, unit="mm")
            check(f"{name}, neck", source=MAKER, expected=length, ours=ours.length / MM, tol=1e-9, unit="mm")


def test_raised_faces_of_two_sizes(check: Check) -> None:
    source = "public table of DIN 2633 flanges: raised face, thickness of DN100"
    for name, face in (("DN80", 138), ("DN100", 158)):
        ours = flange("PN 16", name).face / MM
        check(f"PN 16, {name}, raised face", source=source, expected=face, ours=ours, tol=1e-9, unit="mm")
    ours = flange("PN 16", "DN100").neck / MM
    check("PN 16, DN100, thickness", source=source, expected=20, ours=ours, tol=1e-9, unit="mm")


# ASME B16.5 class 150: the table in millimetres against the older one in inches.

TABLE = "ASME B16.5, class 150, a maker's copy of the table in inches (1999)"
OUTSIDE = "3.50 3.88 4.25 4.62 5.00 6.00 7.00 7.50 8.50 9.00 10.00 11.00 13.50 16.00 19.00"
THICK = "0.44 0.50 0.56 0.62 0.69 0.75 0.88 0.94 0.94 0.94 0.94 1.00 1.12 1.19 1.25"
FACE = "1.38 1.69 2.00 2.50 2.88 3.62 4.12 5.00 5.50 6.19 7.31 8.50 10.62 12.75 15.00"
NECK = "1.88 2.06 2.19 2.25 2.44 2.50 2.75 2.75 2.81 3.00 3.50 3.50 4.00 4.00 4.50"


@pytest.mark.parametrize(
    ("what", "column", "get", "tol"),
    [
        # The metric edition rounds outside diameters to 5 mm.
        ("outside", OUTSIDE, lambda one: one.outside, 2.5),
        # The older tables hold the raised face of 1/16 in; ours is 2 mm as the metric edition says.
        ("thickness with face", THICK, lambda one: one.neck, 0.5 + 0.005 * 25.4),
        ("neck with face", NECK, lambda one: one.length, 0.5 + 0.5 + 0.005 * 25.4),
        ("raised face", FACE, lambda one: one.face, 0.05 + 0.005 * 25.4),
    ],
)
def test_class_150_in_inches(check: Check, what: str, column: str, get: Callable[..., float], tol: float) -> None:
    for size, inches in zip(ASME_SIZES, numbers(column), strict=True):
        ours = get(flange("class 150", f"DN{size}")) / MM
        check(f"class 150, DN{size}, {what}", source=TABLE, expected=25.4 * inches, ours=ours, tol=tol, unit="mm")


TABLE_7 = "ASME B16.5-2009, Table 7 (copy of the table)"
CIRCLE = "60.3 69.9 79.4 88.9 98.4 120.7 139.7 152.4 177.8 190.5 215.9 241.3 298.5 362.0 431.8"
HOLES = "4 4 4 4 4 4 4 4 8 8 8 8 8 12 12"
HOLE = "5/8 5/8 5/8 5/8 5/8 3/4 3/4 3/4 3/4 3/4 7/8 7/8 7/8 1 1"
BOLT = "1/2 1/2 1/2 1/2 1/2 5/8 5/8 5/8 5/8 5/8 3/4 3/4 3/4 7/8 7/8"
MACHINE = "50 50 55 55 65 70 75 75 75 75 85 85 90 100 100"


def test_drilling_of_class_150(check: Check) -> None:
    columns = zip(ASME_SIZES, numbers(CIRCLE), numbers(HOLES), numbers(HOLE), numbers(BOLT), strict=True)
    for size, circle, holes, hole, bolt in columns:
        ours, name = flange("class 150", f"DN{size}"), f"class 150, DN{size}"
        check(f"{name}, bolt circle", source=TABLE_7, expected=circle, ours=ours.circle / MM, tol=1e-9, unit="mm")
        check(f"{name}, holes", source=TABLE_7, expected=holes, ours=ours.holes, tol=0)
        check(f"{name}, hole", source=TABLE_7, expected=25.4 * hole, ours=ours.hole / MM, tol=0.05 + 1e-9, unit="mm")
        check(f"{name}, bolt", source=TABLE_7, expected=25.4 * bolt, ours=ours.bolt.diameter / MM, tol=1e-6, unit="mm")


def test_machine_bolts_of_class_150(check: Check) -> None:
    """Its bolts have no washers. It prints them in steps of a quarter of an inch, rounded to 5 mm."""
    for size, printed in zip(ASME_SIZES, numbers(MACHINE), strict=True):
        needed = flange("class 150", f"DN{size}").bolt_needed(gasket=2 * MM, washers=0) / MM
        assert needed <= printed + 2.5, size
        check(f"class 150, DN{size}, machine bolt", source=TABLE_7, expected=printed, ours=needed, tol=6.35 + 2.5,
              unit="mm")


def test_ring_gaskets(check: Check) -> None:
    """The outside of a ring lies against the bolts, or where their holes begin."""
    source = "EN 1514-1 form IBC, PN 16, outside diameter (from memory)"
    for size, printed in {15: 51, 25: 71, 50: 107, 80: 142, 100: 162, 150: 218, 200: 273}.items():
        ours = flange("PN 16", f"DN{size}").gasket / MM
        check(f"ring gasket, PN 16, DN{size}", source=source, expected=printed, ours=ours, tol=0.5, unit="mm")
    source = "ASME B16.21 class 150 flat ring, outside diameter in inches (1/2 in seen in a copy, the rest from memory)"
    for size, inches in {15: 1.88, 50: 4.12, 80: 5.38, 100: 6.88, 150: 8.75, 200: 11.0}.items():
        ours = flange("class 150", f"DN{size}").gasket / MM
        name = f"ring gasket, class 150, DN{size}"
        check(name, source=source, expected=25.4 * inches, ours=ours, tol=0.005 * 25.4 + 0.05 + 1e-9, unit="mm")


def test_flanges_are_made_for_pipes_of_their_size(check: Check) -> None:
    for size in ASME_SIZES:
        pipe, ours = pipe_size("sch 40", f"DN{size}"), flange("class 150", f"DN{size}")
        check(f"class 150, DN{size}, pipe", source="table of pipes, sch 40", expected=pipe.outside / MM,
              ours=ours.pipe / MM, tol=1e-9, unit="mm")


# Weld fittings.

CATALOGUE = "a maker's table of ASME B16.9 elbows in tenths of a mm"
HUNDREDTHS = 0.5 + 0.005 * 25.4 + 0.05  # ours are whole millimetres, its own are hundredths of an inch turned into mm
LONG_90 = "38.1 38.1 38.1 47.8 57.2 76.2 95.2 114.3 133.4 152.4 190.5 228.6 304.8 381.0 457.2"
LONG_45 = "15.7 19.1 22.4 25.4 28.4 35.1 44.4 50.8 57.2 63.5 79.2 95.2 127.0 158.8 190.5"
SHORT_90 = "25.4 31.8 38.1 50.8 63.5 76.2 88.9 101.6 127.0 152.4 203.2 254.0 304.8"
RETURNS = "a public table of ASME B16.9 returns, middle to middle, halved"
RETURN = "76 76 76 95 114 152 190 229 267 305 381 457 610 762 914"
TEES = "a public table of ASME B16.9 straight tees"
TEE = "25 29 38 48 57 64 76 86 95 105 124 143 178 216 254"


def test_elbows_and_tees_of_asme(check: Check) -> None:
    rows = list(zip(ASME_SIZES, weld_fittings()["ASME B16.9"], strict=True))
    for what, column, get, source, part, tol in (
        ("long 90", LONG_90, lambda one: one.long_90, CATALOGUE, 1.0, HUNDREDTHS),
        ("long 45", LONG_45, lambda one: one.long_45, CATALOGUE, 1.0, HUNDREDTHS),
        ("long 90", RETURN, lambda one: one.long_90, RETURNS, 0.5, 0.5 + 0.25),
        ("tee", TEE, lambda one: one.tee, TEES, 1.0, 1e-9),
    ):
        for (size, ours), printed in zip(rows, numbers(column), strict=True):
            name = f"{what}, ASME, DN{size}"
            check(name, source=source, expected=part * printed, ours=get(ours) / MM, tol=tol, unit="mm")
    for (size, ours), printed in zip(rows[2:], numbers(SHORT_90), strict=True):
        name = f"short 90, ASME, DN{size}"
        check(name, source=CATALOGUE, expected=printed, ours=(ours.short_90 or 0.0) / MM, tol=HUNDREDTHS, unit="mm")
    assert [ours.short_90 for _, ours in rows[:2]] == [None, None]


def test_long_radius_is_one_and_a_half_nominal_sizes(check: Check) -> None:
    """From 1 in on. 1/2 and 3/4 have the radius of 1 in."""
    for inches, ours in zip(NOMINAL, weld_fittings()["ASME B16.9"], strict=True):
        rule = 1.5 * max(inches, 1.0)
        check(f"long 90, ASME, {ours.name}", source="1.5 nominal sizes, at least 1.5 in", expected=25.4 * rule,
              ours=ours.long_90 / MM, tol=0.5 + 1e-9, unit="mm")
        if ours.short_90 is not None:
            check(f"short 90, ASME, {ours.name}", source="1 nominal size", expected=25.4 * inches,
                  ours=ours.short_90 / MM, tol=0.5 + 1e-9, unit="mm")


def test_a_45_is_as_long_as_its_radius_asks_for(check: Check) -> None:
    """R tan 22.5 degrees to the next eighth of an inch, from 4 in on; smaller ones are longer, by 9 mm at most."""
    for inches, one in zip(NOMINAL, weld_fittings()["ASME B16.9"], strict=True):
        rule, long = 1.5 * inches * math.tan(math.pi / 8), one.long_45 / MM
        if inches >= 4:
            check(f"long 45, ASME, {one.name}", source="R tan 22.5 degrees to an eighth of an inch",
                  expected=25.4 * round(8 * rule) / 8, ours=long, tol=0.5 + 1e-9, unit="mm")
        elif inches >= 1:
            assert 25.4 * rule < long < 25.4 * rule + 9.0


EN = "a maker's table of EN 10253-1 elbows 3D: F and H"
F = "29 29 38 48 57 76 95 114 152 190 229 305 381 457"
H = "12 12 16 20 24 35 44 47 63 79 95 127 159 190"
EN_SHORT = "a maker's copy of EN 10253-2, Table 10, elbows 2D"
SHORT = "25 25 25 32 38 51 63 76 102 127 152 203 254 305"


def test_elbows_of_en(check: Check) -> None:
    rows = zip(weld_fittings()["EN 10253"], numbers(F), numbers(H), numbers(SHORT), strict=True)
    for ours, f, h, short in rows:
        if ours.name != "DN15":  # 28 mm in EN 10253-4, and in the radius of a second maker
            check(f"long 90, EN, {ours.name}", source=EN, expected=f, ours=ours.long_90 / MM, tol=1e-9, unit="mm")
        check(f"long 45, EN, {ours.name}", source=EN, expected=h, ours=ours.long_45 / MM, tol=1e-9, unit="mm")
        ours_short = (ours.short_90 or 0.0) / MM
        check(f"short 90, EN, {ours.name}", source=EN_SHORT, expected=short, ours=ours_short, tol=1e-9, unit="mm")
    source = "a second maker's table, EN 10253-4 model 3D"
    for name, f in (("DN15", 28), ("DN20", 29), ("DN25", 38)):
        ours = next(one.long_90 for one in weld_fittings()["EN 10253"] if one.name == name) / MM
        check(f"long 90, EN, {name}", source=source, expected=f, ours=ours, tol=1e-9, unit="mm")


def test_where_the_two_standards_of_elbows_are_the_same() -> None:
    asme = {one.name: one for one in weld_fittings()["ASME B16.9"]}
    differ: dict[str, list[str]] = {}
    for one in weld_fittings()["EN 10253"]:
        other = asme[one.name]
        for key in ("long_90", "long_45", "short_90"):
            if getattr(one, key) != getattr(other, key) and None not in (getattr(one, key), getattr(other, key)):
                differ.setdefault(key, []).append(one.name)
    assert differ == {
        "long_90": ["DN15", "DN20"],
        "long_45": ["DN15", "DN20", "DN25", "DN32", "DN40", "DN80", "DN100"],
        "short_90": ["DN65"],
    }


# Shape of the tables, and what they refuse.


def test_flanges_grow_with_their_pipe() -> None:
    for drilling, rows in flanges().items():
        for small, large in pairwise(rows):
            assert small.outside < large.outside, (drilling, small.name)
            assert small.circle < large.circle
            assert small.neck <= large.neck
            assert small.length <= large.length
        for one in rows:
            assert one.pipe < one.face < one.gasket < one.circle < one.outside
            assert one.face <= one.circle - one.hole
            assert one.circle + one.hole < one.outside
            assert one.bolt.diameter + 0.0015 <= one.hole <= one.bolt.diameter + 0.0036
            assert one.holes % 4 == 0
            assert one.mark in MARKS
            assert one.source


def test_pn_10_and_pn_16_are_drilled_alike_up_to_dn150() -> None:
    for ten, sixteen in zip(flanges()["PN 10"], flanges()["PN 16"], strict=True):
        same = (ten.circle, ten.holes, ten.hole) == (sixteen.circle, sixteen.holes, sixteen.hole)
        assert same == (int(ten.name[2:]) <= 150), ten.name


def test_bolts_are_rounded_up_to_what_is_sold() -> None:
    metric, inch = flange_bolts()["M16"], flange_bolts()["5/8 in"]
    assert metric.usual(0.0650) == 0.065
    assert metric.usual(0.0651) == 0.070
    assert metric.usual(0.0701) == 0.080
    assert inch.usual(0.0635) == pytest.approx(2.5 * INCH)
    assert inch.usual(0.0636) == pytest.approx(2.75 * INCH)
    with pytest.raises(ValueError, match="tabled up to 200 mm; 201 mm is needed"):
        metric.usual(0.201)


def test_what_is_not_in_the_tables_is_refused() -> None:
    with pytest.raises(ValueError, match="EN 1092-1 PN 16 has no flange DN90 in the table; it has DN15, DN20"):
        flange("PN 16", "DN90")
    with pytest.raises(ValueError, match="no flanges 'PN 25' in the table; known are PN 10, PN 16, class 150"):
        flange("PN 25", "DN80")
    assert fittings_of("hose", "102 mm") is None
    assert fittings_of("SDR 11", "DN110") is None
    fittings = fittings_of("EN 10255 medium", "DN50")
    assert fittings is not None
    assert fittings.standard == "EN 10253"
    assert fittings.takes("elbow 90") is None
