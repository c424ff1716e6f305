"""SVG: well formed, true to scale, the same every time, and no text over another."""

from __future__ import annotations

import math
import re
from itertools import combinations
from xml.etree import ElementTree as ET

import pytest

from tunwright.sheets.chart import Axis, Band, Chart, Limit, Mark, Series, chart_svg
from tunwright.sheets.drawing import (
    Arc,
    CentreMark,
    Circle,
    Drawing,
    Entity,
    Gauge,
    Group,
    Leader,
    Line,
    LinearDimension,
    Polyline,
    Text,
    chain_dimension,
)
from tunwright.sheets.layers import LIGHT
from tunwright.sheets.layout import arrange, compose
from tunwright.sheets.lettering import CAP, text_width
from tunwright.sheets.pen import Pen, number, numbers
from tunwright.sheets.svg import write_svg

SVG = "{http://www.w3.org/2000/svg}"
Quad = list[complex]


def parse(svg: str) -> ET.Element:
    return ET.fromstring(svg)  # noqa: S314


def box(left: float, low: float, right: float, top: float, layer: str, fill: str | None = None) -> Polyline:
    return Polyline(((left, low), (right, low), (right, top), (left, top)), layer, closed=True, fill=fill)


def carrier() -> Drawing:
    """An invented carrier from the side and the rear: run of six dimensions, two of them very narrow."""
    us = (-1.35, 0.0, 0.56, 0.62, 0.69, 0.95, 6.35)
    texts = ["1 350", "560", "60", "70", "260", "tank 5 400"]
    wheels = [Circle((u, 0.5), 0.5, "tyre", "tyre") for u in (0.0, 3.9, 5.27)]
    side: list[Entity] = [
        Line((-1.9, 0.0), (7.6, 0.0), "ground"),
        box(-1.35, 0.48, 0.56, 2.9, "outline", "sheet"),
        box(-1.25, 0.76, 6.95, 1.04, "steel", "steel"),
        Group(
            "tank", (box(0.95, 1.27, 6.35, 2.72, "outline"), box(0.95, 1.27, 6.35, 2.1, "area", "water")), {"drag": "u"}
        ),
        *wheels,
        CentreMark((3.65, 1.64)),
        Leader((3.575, 1.0), "permitted 3 420 – 3 730 at ≤ 11 000 L", (-4.0, -9.0)),
        *chain_dimension([(u, 2.9) for u in us], texts, offset_mm=9.0),
        *chain_dimension([(u, 2.9) for u in (0.0, 3.9, 5.27)], ["3 900", "1 370"], offset_mm=18.0),
        LinearDimension((6.95, 0.76), (6.95, 1.04), 10.0, "280", "v"),
        LinearDimension((-1.35, 1.5), (-1.19, 2.78), 6.0, "1 290", "slope"),
        Gauge((0.0, 0.0), 0.825, "6 601 kg", "of 8 000", (0.0, -6.0)),
        Gauge((4.585, 0.0), 1.04, "16 120 kg", "of 15 500", (0.0, -6.0)),
    ]
    rear: list[Entity] = [box(-1.2, 1.27, 1.2, 2.72, "outline", "hatch"), Line((-1.5, 0.0), (1.5, 0.0), "ground")]
    views = arrange([Group("side", tuple(side)), Group("rear", tuple(rear))], scale=40.0)
    return compose("Side & rear <to scale>", views, scale=40.0, description="An invented carrier.")


def texts_of(svg: str) -> list[tuple[str, Quad]]:
    """Every text with the corners of its estimated box, as complex numbers in view box units."""
    found = []
    for text in parse(svg).iter(f"{SVG}text"):
        size, words = float(text.attrib["font-size"]), text.text or ""
        width = text_width(words, size * CAP, bold=text.get("font-weight") == "700")
        left = -width * {"start": 0.0, "middle": 0.5, "end": 1.0}[text.get("text-anchor", "start")]
        angle = re.match(r"rotate\((-?[\d.]+)", text.get("transform", "rotate(0"))
        assert angle
        turn = complex(math.cos(math.radians(float(angle[1]))), math.sin(math.radians(float(angle[1]))))
        at = complex(float(text.attrib["x"]), float(text.attrib["y"]))
        corners = [complex(x, y) for x, y in ((left, 0.2), (left + width, 0.2), (left + width, -0.75), (left, -0.75))]
        quad = [at + turn * complex(c.real, c.imag * (1.0 if abs(c.imag) > 1.0 else size)) for c in corners]
        found.append((words, quad))
    return found


def apart(one: Quad, other: Quad) -> bool:
    for quad in (one, other):
        for a, b in zip(quad, [*quad[1:], quad[0]], strict=True):
            normal = (b - a) * 1j
            here, there = ([(p * normal.conjugate()).real for p in box_] for box_ in (one, other))
            if max(here) <= min(there) or max(there) <= min(here):
                return True
    return False


def clashes(svg: str) -> list[tuple[str, str]]:
    return [(a, b) for (a, one), (b, other) in combinations(texts_of(svg), 2) if not apart(one, other)]


def axle_chart(limits: tuple[Limit, ...] | None = None) -> Chart:
    fill = tuple(float(i) for i in range(0, 101, 5))

    def line(name: str, a: float, b: float) -> Series:
        return Series(name, fill, tuple(a + (b - a) * x / 100.0 for x in fill))

    return Chart(
        "Axle loads over fill",
        Axis("fill", "%"),
        Axis("load", "kg", low=0.0),
        (line("drive", 6516, 16069), line("front", 5084, 7531), line("rear", 3300, 8034), line("second", 3216, 8035)),
        limits
        or (Limit(15500.0, "drive ≤ 15 500 kg"), Limit(8000.0, "front ≤ 8 000 kg"), Limit(4200.0, "20 %", "at least")),
        (Band(94.0, 100.0, "over the limit"),),
        (Mark(62.0, "62 % · 7 440 L"), Mark(64.0, "64 % as weighed")),
    )


@pytest.mark.parametrize("theme", ["paper", "css"])
def test_no_text_of_a_drawing_covers_another(theme: str) -> None:
    svg = write_svg(carrier(), theme=theme)  # type: ignore[arg-type]
    words = [word for word, _ in texts_of(svg)]
    assert {"60", "70", "280", "1 290", "6 601 kg", "permitted 3 420 – 3 730 at ≤ 11 000 L"} <= set(words)
    assert clashes(svg) == []


def test_a_clash_would_be_found() -> None:
    lines = [Text((0.0, 0.0), "one"), Text((0.02, 0.01), "other")]
    assert clashes(write_svg(compose("Clash", lines, scale=40.0))) == [("one", "other")]


@pytest.mark.parametrize("size", [(200.0, 90.0), (120.0, 60.0), (300.0, 150.0)])
def test_no_text_of_a_chart_covers_another(size: tuple[float, float]) -> None:
    assert clashes(chart_svg(axle_chart(), width_mm=size[0], height_mm=size[1])) == []


def test_limits_close_together_keep_their_labels_apart() -> None:
    close = tuple(Limit(value, f"limit {value:g}") for value in (8000.0, 8050.0, 8100.0))
    assert clashes(chart_svg(axle_chart(close), width_mm=160.0, height_mm=80.0)) == []


def test_the_picture_is_true_to_scale() -> None:
    drawing = compose("Line", [Line((0.0, 0.0), (8.0, 0.0), "ground")], scale=40.0, margin_mm=3.0)
    root = parse(write_svg(drawing))
    assert root.attrib["width"] == "206mm"
    assert root.attrib["viewBox"] == "0 0 206 6"
    (path,) = root.iter(f"{SVG}path")
    assert path.attrib["d"] == "M3 3 203 3"


def test_a_width_given_keeps_the_proportions() -> None:
    drawing = compose("Line", [Line((0.0, 0.0), (8.0, 0.0))], scale=40.0)
    root = parse(write_svg(drawing, theme="css", width_mm=103.0))
    assert (root.attrib["width"], root.attrib["height"]) == ("103mm", "3mm")
    assert "width" not in parse(write_svg(drawing, theme="css")).attrib


def test_the_picture_says_what_it_is() -> None:
    root = parse(write_svg(carrier()))
    assert root.attrib["role"] == "img"
    title, desc = root.find(f"{SVG}title"), root.find(f"{SVG}desc")
    assert title is not None
    assert desc is not None
    assert (title.text, desc.text) == ("Side & rear <to scale>", "An invented carrier.")
    assert root.attrib["aria-labelledby"] == f"{title.attrib['id']} {desc.attrib['id']}"


def test_the_same_drawing_gives_the_same_text() -> None:
    assert write_svg(carrier()) == write_svg(carrier())
    assert chart_svg(axle_chart(), width_mm=200.0, height_mm=90.0) == chart_svg(
        axle_chart(), width_mm=200.0, height_mm=90.0
    )


def test_paper_stands_alone_and_css_can_be_recoloured() -> None:
    paper, css = write_svg(carrier()), write_svg(carrier(), theme="css")
    assert "var(" not in paper
    assert "class=" not in paper
    bare = re.sub(r"var\(--[a-z]+,#[0-9a-f]{6}\)", "", css)
    assert not re.search(r"#[0-9a-f]{6}", bare)  # every colour is a variable with a value to fall back on
    assert f"var(--accent,{LIGHT['accent']})" in css
    assert 'class="outline"' in css
    assert not re.search(r"<style|style=|<script|href", paper + css)


def test_groups_carry_their_data_in_a_page() -> None:
    root = parse(write_svg(carrier(), theme="css"))
    parts = {part.attrib["data-part"]: part for part in root.iter(f"{SVG}g") if "data-part" in part.attrib}
    assert set(parts) == {"side", "rear", "tank"}
    assert parts["tank"].attrib["data-drag"] == "u"
    assert parts["tank"] in list(parts["side"])


def test_a_page_can_come_back_from_picture_to_thing() -> None:
    drawing = compose("Spot", [Circle((2.0, 1.5), 0.5)], scale=25.0)
    root = parse(write_svg(drawing, theme="css"))
    (spot,) = root.iter(f"{SVG}circle")
    scale = float(root.attrib["data-scale"]) / 1000.0
    assert float(root.attrib["data-left"]) + float(spot.attrib["cx"]) * scale == pytest.approx(2.0)
    assert float(root.attrib["data-top"]) - float(spot.attrib["cy"]) * scale == pytest.approx(1.5)


@pytest.mark.parametrize(
    ("line", "expected"),
    [
        (Polyline(((0.0, 0.0), (1.0, 0.0)), bulges=(1.0, 0.0)), "M3 3A50 50 0 0 0 103 3"),  # hangs below
        (Polyline(((0.0, 0.0), (1.0, 0.0)), bulges=(-1.0, 0.0)), "M3 53A50 50 0 0 1 103 53"),  # stands above
        (Polyline(((0.0, 0.0), (1.0, 0.0)), bulges=(2.0, 0.0)), "M15.5 3A62.5 62.5 0 1 0 115.5 3"),  # the longer way
        (Polyline(((0.0, 0.0), (1.0, 0.0), (1.0, 1.0)), closed=True), "M3 103L103 103 103 3Z"),
    ],
)
def test_arcs_and_lines_are_written_as_paths(line: Polyline, expected: str) -> None:
    svg = write_svg(compose("Path", [line], scale=10.0))
    (path,) = parse(svg).iter(f"{SVG}path")
    assert path.attrib["d"] == expected


def test_an_arc_runs_counter_clockwise() -> None:
    svg = write_svg(compose("Arc", [Arc((0.0, 0.0), 1.0, 0.0, math.pi / 2.0)], scale=10.0))
    (path,) = parse(svg).iter(f"{SVG}path")
    assert path.attrib["d"] == "M103 103A100 100 0 0 0 3 3"


def test_a_line_shared_by_two_dimensions_is_drawn_once() -> None:
    chain = chain_dimension([(0.0, 0.0), (2.0, 0.0), (4.0, 0.0)], ["2 000", "2 000"], offset_mm=8.0)
    lines = [path.attrib["d"] for path in parse(write_svg(compose("Run", chain, scale=40.0))).iter(f"{SVG}path")]
    assert len(lines) == len(set(lines))


def test_an_unknown_theme_is_refused() -> None:
    with pytest.raises(ValueError, match="theme 'dark' is not known; allowed are 'paper' and 'css'"):
        Pen("dark", "p")  # type: ignore[arg-type]


@pytest.mark.parametrize(
    ("value", "text"), [(0.5, ".5"), (-0.25, "-.25"), (-0.001, "0"), (10.0, "10"), (100.0, "100"), (1.005, "1")]
)
def test_numbers_are_compact(value: float, text: str) -> None:
    assert number(value) == text


def test_numbers_are_told_apart() -> None:
    assert numbers((1.0, -2.5, 0.5, 10.0)) == "1-2.5 .5 10"
