"""What a shop types as a quantity: read right, or refused with a question."""

from __future__ import annotations

from typing import Any

import pytest

from spoiled import DEMO, JARGON, dumps, plain, still
from spoiling import Where, put
from tunwright.build.problems import Problem, key_path
from tunwright.build.reading import read_text
from tunwright.build.units import parse

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
