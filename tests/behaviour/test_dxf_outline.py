"""The tank section from a drawing: areas against closed forms, and every refusal in words."""

from __future__ import annotations

import hashlib
import math
import random
from collections.abc import Callable
from pathlib import Path
from typing import Any

import ezdxf
import numpy as np
import pytest

from tunwright.build.dxf_outline import ImportedOutline, OutlineRefused, outline_from_dxf
from tunwright.build.edit import section_text
from tunwright.build.section import FreeOutline
from tunwright.handbook.outline import crossing_edges, rounded_box

Fill = Callable[[Any], None]


@pytest.fixture
def drawn(tmp_path: Path) -> Callable[..., Path]:
    """A drawing, filled by a function that gets its model space."""

    def make(fill: Fill, *, units: int = 4, name: str = "section.dxf", version: str = "R2010") -> Path:
        drawing = ezdxf.new(version, units=units)
        fill(drawing.modelspace())
        drawing.saveas(tmp_path / name)
        return tmp_path / name

    return make


def area(outline: ImportedOutline) -> float:
    y, z = np.array(outline.points_mm).T
    return float(0.5 * np.sum(y * np.roll(z, -1) - np.roll(y, -1) * z))


def circle(space: Any) -> None:
    space.add_circle((0, 900), 900)


def box(space: Any) -> None:
    """A box of 2300 by 1300 with corners of 350, as a polyline with bulges."""
    w, h, r, b = 1150, 650, 350, math.tan(math.pi / 8)
    corners = [
        (-w + r, -h, 0),
        (w - r, -h, b),
        (w, -h + r, 0),
        (w, h - r, b),
        (w - r, h, 0),
        (-w + r, h, b),
        (-w, h - r, 0),
    ]
    space.add_lwpolyline([*corners, (-w, -h + r, b)], format="xyb", close=True)


def lines_and_arc(space: Any, *, gap: float = 0.0) -> None:
    """A rectangle of 2000 by 1000 under half a circle, in single pieces drawn any way round."""
    space.add_line((-1000, 0), (1000 - gap, 0))
    space.add_line((1000, 1000), (1000, 0))
    space.add_line((-1000, 1000), (-1000, 0))
    space.add_arc((0, 1000), 1000, 0, 180)


HALF_ROUND = 2000 * 1000 + math.pi * 1000**2 / 2
BOX = 2300 * 1300 - (4 - math.pi) * 350**2


@pytest.mark.parametrize(
    ("fill", "units", "exact"),
    [
        (circle, 4, math.pi * 900**2),
        (lambda s: s.add_circle((40, 9), 0.9), 6, math.pi * 900**2),
        (lambda s: s.add_circle((0, 0), 90), 5, math.pi * 900**2),
        (lambda s: s.add_circle((0, 0), 36), 1, math.pi * (36 * 25.4) ** 2),
        (lambda s: s.add_circle((0, 0), 3), 2, math.pi * (3 * 304.8) ** 2),
        (lambda s: s.add_ellipse((0, 0), (1150, 0), 0.55), 4, math.pi * 1150 * 1150 * 0.55),
        (lambda s: s.add_ellipse((0, 0), (0, 600), 0.9), 4, math.pi * 600 * 600 * 0.9),
        (box, 4, BOX),
        (lines_and_arc, 4, HALF_ROUND),
        (lambda s: s.add_lwpolyline([(0, 0), (2000, 0), (2000, 900), (0, 900)], close=True), 4, 2000 * 900),
        (lambda s: s.add_lwpolyline([(0, 0), (2000, 0), (2000, 900), (0, 900), (0, 0.05)]), 4, 2000 * 900),
        (lambda s: s.add_polyline2d([(0, 0, 1), (1800, 0, 1)], format="xyb", close=True), 4, math.pi * 900**2),
        (lambda s: s.add_lwpolyline([(0, 0, -1), (1800, 0, -1)], format="xyb", close=True), 4, math.pi * 900**2),
        (lambda s: s.add_polyline3d([(0, 0, 5), (2000, 0, 5), (2000, 900, 5), (0, 900, 5)], close=True), 4, 1.8e6),
        (
            lambda s: s.add_lwpolyline(
                [(0, 0, 1), (1800, 0, 1)], format="xyb", close=True, dxfattribs={"extrusion": (0, 0, -1)}
            ),
            4,
            math.pi * 900**2,
        ),
    ],
)
def test_the_area_is_that_of_the_drawing(drawn: Callable[..., Path], fill: Fill, units: int, exact: float) -> None:
    outline = outline_from_dxf(drawn(fill, units=units))
    assert area(outline) == pytest.approx(exact, rel=1e-6)
    assert len(outline.points_mm) <= 400
    assert crossing_edges(np.array(outline.points_mm)) is None


@pytest.mark.parametrize("fill", [circle, box, lines_and_arc])
def test_an_outline_begins_in_the_middle_of_its_bottom_and_runs_anticlockwise(
    drawn: Callable[..., Path], fill: Fill
) -> None:
    points = outline_from_dxf(drawn(fill)).points_mm
    assert points[0] == (pytest.approx(0.0, abs=0.01), pytest.approx(0.0, abs=0.01))
    assert points[1][0] > points[0][0]
    assert min(z for _, z in points) == 0.0


def test_no_chord_stands_farther_than_a_twentieth_of_a_millimetre_off(drawn: Callable[..., Path]) -> None:
    points = np.array(outline_from_dxf(drawn(circle)).points_mm)
    for share in np.linspace(0, 1, 11):
        between = points + share * (np.roll(points, -1, axis=0) - points)
        assert np.abs(np.hypot(*(between - (0, 900)).T) - 900).max() < 0.05


def test_corners_stay_where_they_are_drawn(drawn: Callable[..., Path]) -> None:
    points = outline_from_dxf(drawn(lines_and_arc)).points_mm
    assert (1000.0, 0.0) in points
    assert (-1000.0, 0.0) in points
    straight = outline_from_dxf(drawn(lambda s: s.add_lwpolyline([(0, 0), (800, 0), (0, 600)], close=True)))
    assert set(straight.points_mm) == {(0.0, 0.0), (-400.0, 0.0), (400.0, 0.0), (-400.0, 600.0)}


def test_a_spline_keeps_the_area_of_its_finest_reading(drawn: Callable[..., Path]) -> None:
    frame = [(0, 0), (1000, 200), (1200, 900), (0, 1300), (-1200, 900), (-1000, 200), (0, 0)]
    path = drawn(lambda s: s.add_spline([(*p, 0) for p in frame]))
    spline: Any = next(iter(ezdxf.readfile(path).modelspace()))
    y, z = np.array([tuple(v)[:2] for v in spline.flattening(1e-5, 64)]).T
    exact = abs(0.5 * np.sum(y * np.roll(z, -1) - np.roll(y, -1) * z))
    assert area(outline_from_dxf(path)) == pytest.approx(exact, rel=1e-6)


def test_a_box_of_arcs_agrees_with_the_handbook(drawn: Callable[..., Path]) -> None:
    ours = rounded_box(
        width=2.3, height=1.3, top_radius=4.0, side_radius=2.2, bottom_radius=4.0, top_corner=0.3, bottom_corner=0.3
    )
    rows = [(1000 * y, 1000 * z, bulge) for y, z, bulge in ours.drawn]
    outline = outline_from_dxf(drawn(lambda s: s.add_lwpolyline(rows, format="xyb", close=True)))
    assert area(outline) == pytest.approx(1e6 * ours.area, rel=1e-6)
    read = FreeOutline.model_validate(
        {"shape": "outline", "unit": "mm", "points": [list(p) for p in outline.points_mm]}
    )
    assert read.outline().area == pytest.approx(ours.area, rel=1e-6)
    assert read.outline().centroid == pytest.approx(ours.centroid, abs=1e-5)


@pytest.mark.parametrize("seed", range(8))
def test_pieces_in_any_order_and_direction_make_the_same_outline(drawn: Callable[..., Path], seed: int) -> None:
    rng = random.Random(seed)  # noqa: S311  # a shuffle of test pieces
    corners = [(900 * math.cos(a), 900 * math.sin(a)) for a in np.linspace(0, 2 * math.pi, 37)[:-1]]
    pieces = [(corners[i], corners[(i + 1) % 36]) for i in range(36)]
    rng.shuffle(pieces)

    def fill(space: Any) -> None:
        for one, two in pieces:
            jitter = [rng.uniform(-0.02, 0.02) for _ in range(4)]
            ends = [(one[0] + jitter[0], one[1] + jitter[1]), (two[0] + jitter[2], two[1] + jitter[3])]
            space.add_line(*(ends if rng.random() < 0.5 else ends[::-1]))

    exact = 0.5 * 36 * 900**2 * math.sin(2 * math.pi / 36)
    assert area(outline_from_dxf(drawn(fill))) == pytest.approx(exact, rel=5e-5)  # the jitter moves the corners


def test_lines_drawn_twice_count_once(drawn: Callable[..., Path]) -> None:
    def fill(space: Any) -> None:
        lines_and_arc(space)
        lines_and_arc(space)

    assert area(outline_from_dxf(drawn(fill))) == pytest.approx(HALF_ROUND, rel=1e-6)


def test_a_gap_below_a_tenth_of_a_millimetre_is_closed(drawn: Callable[..., Path]) -> None:
    assert area(outline_from_dxf(drawn(lambda s: lines_and_arc(s, gap=0.09)))) == pytest.approx(HALF_ROUND, rel=1e-4)


def test_blocks_are_looked_into(drawn: Callable[..., Path]) -> None:
    def fill(space: Any) -> None:
        block = space.doc.blocks.new("SHELL")
        block.add_circle((0, 0), 450)
        space.add_blockref("SHELL", (100, 100), dxfattribs={"xscale": 2, "yscale": 1, "layer": "tank"})

    outline = outline_from_dxf(drawn(fill), layer="tank")
    assert area(outline) == pytest.approx(math.pi * 900 * 450, rel=1e-6)
    assert outline.layer == "tank"


def test_a_layer_chooses_and_hidden_layers_do_not_count(drawn: Callable[..., Path]) -> None:
    def fill(space: Any) -> None:
        space.doc.layers.add("help").off()
        space.add_circle((0, 0), 900, dxfattribs={"layer": "inside"})
        space.add_circle((0, 0), 905, dxfattribs={"layer": "Outside"})
        space.add_circle((0, 0), 100, dxfattribs={"layer": "help"})
        space.add_text("section", dxfattribs={"layer": "inside"})

    path = drawn(fill)
    assert area(outline_from_dxf(path, layer="inside")) == pytest.approx(math.pi * 900**2, rel=1e-6)
    assert area(outline_from_dxf(path, layer="OUTSIDE")) == pytest.approx(math.pi * 905**2, rel=1e-6)
    with pytest.raises(OutlineRefused, match=r'2 closed outlines.*1 on layer "inside" and 1 on layer "Outside"'):
        outline_from_dxf(path)


def test_a_centre_line_is_left_out_and_said(drawn: Callable[..., Path]) -> None:
    def fill(space: Any) -> None:
        lines_and_arc(space)
        space.add_line((0, -50), (0, 2100))

    outline = outline_from_dxf(drawn(fill))
    assert area(outline) == pytest.approx(HALF_ROUND, rel=1e-6)
    assert outline.warnings == ("An open line besides the outline was left out.",)


def test_the_place_of_the_drawing_does_not_matter_but_is_said(drawn: Callable[..., Path]) -> None:
    near = outline_from_dxf(drawn(lambda s: s.add_circle((5, 0), 900)))
    assert near.warnings == ()
    assert sum(y for y, _ in near.points_mm) / len(near.points_mm) == pytest.approx(5, abs=0.1)
    far = outline_from_dxf(drawn(lambda s: s.add_circle((5000, -700), 900)))
    assert "moved 5000.0 mm sideways" in far.warnings[0]
    assert max(y for y, _ in far.points_mm) == pytest.approx(900, abs=0.05)


def test_an_outline_remembers_its_drawing(drawn: Callable[..., Path]) -> None:
    path = drawn(circle, name="Section 7.dxf")
    outline = outline_from_dxf(path)
    assert outline.sha256 == hashlib.sha256(path.read_bytes()).hexdigest()
    assert (outline.file_name, outline.unit, outline.layer) == ("Section 7.dxf", "mm", "0")
    assert 'drawn_in = "Section 7.dxf"' in section_text(outline)


def test_the_unit_asked_for_is_stronger_than_that_of_the_drawing(drawn: Callable[..., Path]) -> None:
    path = drawn(lambda s: s.add_circle((0, 0), 36), units=6)
    outline = outline_from_dxf(path, unit="in")
    assert area(outline) == pytest.approx(math.pi * (36 * 25.4) ** 2, rel=1e-6)
    assert outline.warnings == ("The drawing says it is drawn in m; it was read in in, as asked.",)


@pytest.mark.parametrize("version", ["R12", "R2000", "R2018"])
def test_drawings_of_any_year_are_read(drawn: Callable[..., Path], version: str) -> None:
    path = drawn(circle, version=version)
    assert area(outline_from_dxf(path, unit="mm")) == pytest.approx(math.pi * 900**2, rel=1e-6)


def test_a_binary_drawing_is_read(tmp_path: Path) -> None:
    drawing = ezdxf.new(units=4)
    circle(drawing.modelspace())
    drawing.saveas(tmp_path / "b.dxf", fmt="bin")
    assert area(outline_from_dxf(tmp_path / "b.dxf")) == pytest.approx(math.pi * 900**2, rel=1e-6)


# ------------------------------------------------------------------------------------------------------- refusals


def branching(space: Any) -> None:
    lines_and_arc(space)
    space.add_line((1000, 0), (1500, 0))


def saw(space: Any) -> None:
    rows = [(900 + 20 * (i % 2), i * 2 * math.pi / 1000) for i in range(1000)]
    space.add_lwpolyline([(r * math.cos(a), r * math.sin(a)) for r, a in rows], close=True)


def crowd(space: Any) -> None:
    for i in range(400):
        space.add_line((0.0001 * i, 0), (1000, i))


REFUSED: list[tuple[str, Fill, list[str]]] = [
    ("open", lambda s: lines_and_arc(s, gap=5), ["open", "5.00 mm", "(995, 0)", "(1000, 0)", "0.1 mm", "join"]),
    ("two ends", lambda s: s.add_line((0, 0), (1000, 0)), ["open", "1000.00 mm"]),
    ("arc", lambda s: s.add_arc((0, 0), 900, 0, 350), ["open", "gap"]),
    ("branch", branching, ["More than two lines", "(1000, 0)", "layer"]),
    ("crossing", lambda s: s.add_lwpolyline([(0, 0), (900, 900), (900, 0), (0, 900)], close=True), ["crosses", "mend"]),
    (
        "touching",
        lambda s: s.add_lwpolyline([(0, 0), (900, 0), (450, 500), (900, 900), (0, 900), (450, 500)], close=True),
        ["touches"],
    ),
    (
        "two on one layer",
        lambda s: [s.add_circle((0, 0), r) for r in (900, 950)],
        ["2 closed outlines", '2 on layer "0"', "leave only"],
    ),
    ("nothing", len, ["no outline", "empty", "polyline"]),
    ("text only", lambda s: s.add_text("x"), ["no outline", "1 TEXT"]),
    ("point circle", lambda s: s.add_circle((0, 0), 0), ["no outline"]),
    (
        "solid face",
        lambda s: s.add_3dface([(0, 0, 0), (900, 0, 0), (900, 900, 0), (0, 900, 0)]),
        ["three dimensions", "3DFACE"],
    ),
    ("mesh", lambda s: s.add_polymesh((3, 3)), ["three dimensions", "POLYLINE"]),
    ("tilted", lambda s: s.add_circle((0, 0), 900, dxfattribs={"extrusion": (0, 1, 1)}), ["not flat", "x-y plane"]),
    (
        "climbing",
        lambda s: s.add_polyline3d([(0, 0, 0), (900, 0, 0), (900, 900, 400)], close=True),
        ["not flat", "400.0 mm"],
    ),
    ("tiny", lambda s: s.add_circle((0, 0), 1), ["0.002 m across", "50 mm to 10 m", "--unit"]),
    ("huge", lambda s: s.add_circle((0, 0), 1e12), ["m across", "--unit"]),
    ("huge arc", lambda s: s.add_lwpolyline([(0, 0, 0.5), (1e14, 0, 0.5)], format="xyb", close=True), ["m across"]),
    ("saw", saw, ["1000 corners", "400 points"]),
    ("crowd", crowd, ["one place", "--layer"]),
]


@pytest.mark.parametrize(("fill", "words"), [case[1:] for case in REFUSED], ids=[case[0] for case in REFUSED])
def test_what_is_no_outline_is_refused_in_words(drawn: Callable[..., Path], fill: Fill, words: list[str]) -> None:
    with pytest.raises(OutlineRefused) as caught:
        outline_from_dxf(drawn(fill))
    said = str(caught.value)
    for word in words:
        assert word in said
    assert said.endswith(".")
    assert said[0].isupper()


def test_a_drawing_without_a_unit_asks_for_one(drawn: Callable[..., Path]) -> None:
    path = drawn(circle, units=0)
    with pytest.raises(OutlineRefused, match=r"does not say its unit\. .*--unit mm, cm, m or in"):
        outline_from_dxf(path)
    assert area(outline_from_dxf(path, unit="mm")) == pytest.approx(math.pi * 900**2, rel=1e-6)


def test_a_unit_no_tank_is_measured_in_is_refused(drawn: Callable[..., Path]) -> None:
    with pytest.raises(OutlineRefused, match="no tank is measured in"):
        outline_from_dxf(drawn(circle, units=3))
    with pytest.raises(OutlineRefused, match='"furlong" is no unit'):
        outline_from_dxf(drawn(circle), unit="furlong")


def test_a_layer_that_is_not_there_lists_those_that_are(drawn: Callable[..., Path]) -> None:
    with pytest.raises(OutlineRefused, match=r'layer "walls".* on "0"'):
        outline_from_dxf(drawn(circle), layer="walls")


@pytest.mark.parametrize(
    ("raw", "word"),
    [
        (b"", "empty"),
        (b"hello\nworld\n", "cannot be read as a DXF"),
        (b"AC1032" + bytes(200), "DWG"),
        (bytes(range(256)) * 20, "cannot be read as a DXF"),
        (b"0\nSECTION\n2\nENTITIES\n0\nLINE\n10\nabc\n", "cannot be read as a DXF"),
        (b"#" * 30_000_001, "MB"),
    ],
)
def test_what_is_no_drawing_is_refused(tmp_path: Path, raw: bytes, word: str) -> None:
    path = tmp_path / "x.dxf"
    path.write_bytes(raw)
    with pytest.raises(OutlineRefused, match=word):
        outline_from_dxf(path)


@pytest.mark.parametrize(("name", "word"), [("gone.dxf", "no file gone.dxf"), ("", "is no file")])
def test_what_is_not_there_is_refused(tmp_path: Path, name: str, word: str) -> None:
    with pytest.raises(OutlineRefused, match=word):
        outline_from_dxf(tmp_path / name)


def told_or_read(path: Path) -> tuple[str, int]:
    """What is said of a drawing, or how many points its outline has."""
    try:
        return "", len(outline_from_dxf(path, unit="mm").points_mm)
    except OutlineRefused as refused:
        return str(refused), 0


@pytest.mark.parametrize("seed", range(60))
def test_a_damaged_drawing_gives_an_outline_or_a_sentence(drawn: Callable[..., Path], seed: int) -> None:
    rng = random.Random(seed)  # noqa: S311  # damage to try
    path = drawn(box)
    lines = path.read_bytes().split(b"\n")
    begin = next(i for i, line in enumerate(lines) if line.strip() == b"ENTITIES") if seed % 2 else 0
    for _ in range(rng.randint(1, 4)):
        at = rng.randrange(begin, len(lines))
        lines[at] = rng.choice([b"", b"nan", b"-1", b"1e400", b"9" * 30, b"LWPOLYLINE", b"\xff\xfe", lines[at] + b"7"])
    path.write_bytes(b"\n".join(lines[: rng.choice([len(lines), rng.randrange(begin, len(lines))])]))
    said, points = told_or_read(path)
    assert said.endswith(".") or points >= 3


def test_blocks_in_blocks_without_end_are_refused(drawn: Callable[..., Path]) -> None:
    def fill(space: Any) -> None:
        for level in range(8):
            block = space.doc.blocks.new(f"B{level}")
            for i in range(30):
                if level:
                    block.add_blockref(f"B{level - 1}", (i, 0))
                else:
                    block.add_point((i, 0))
        space.add_blockref("B7", (0, 0))

    with pytest.raises(OutlineRefused, match="more than 20000 things"):
        outline_from_dxf(drawn(fill))


def test_a_drawing_of_very_many_points_is_refused(drawn: Callable[..., Path]) -> None:
    def fill(space: Any) -> None:
        for i in range(100):
            space.add_circle((10 * i, 0), 900)

    with pytest.raises(OutlineRefused, match="more than 400000 points"):
        outline_from_dxf(drawn(fill))
