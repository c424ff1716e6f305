"""Ways of pipes: what does not make sense is a sentence; sketches show every piece, and no word lies over another."""

from __future__ import annotations

import math
from itertools import pairwise

import numpy as np
import pytest

from drawn import texts
from framed import outside, overlapping
from plumbed import plumbing
from quarry import FILLING, FRONT, MONITOR, QUARRY, REAR, corners, shaped, with_run
from tunwright.build.kind import System
from tunwright.build.problems import BuildProblems
from tunwright.build.reading import read_text
from tunwright.sheets.annotate import flatten
from tunwright.sheets.drawing import Drawing, Line, Polyline, Text
from tunwright.sheets.lettering import text_corners
from tunwright.sheets.pipework.cutting.isometric import HIGH, WIDE, isometric_drawings, isometric_part
from tunwright.sheets.pipework.cutting.run_sketch import seen
from tunwright.sheets.placing import crosses, four_wide
from tunwright.shop.pipe_cuts import pipe_cuts

BENT = 'bend_radius = "250 mm"'


def problems(text: str) -> dict[str, str]:
    with pytest.raises(BuildProblems) as caught:
        read_text(text)
    return {one.path: f"{one.message} Allowed: {one.allowed} Example: {one.example}" for one in caught.value.problems}


def test_ways_that_make_sense_are_read() -> None:
    assert read_text(shaped()).build.pipework is not None


@pytest.mark.parametrize(
    ("text", "path", "words"),
    [
        (
            with_run(QUARRY, "front line", corners(*FRONT) + BENT, "4.9 m"),
            "pipework.run[5].length",
            "Bent with 250 mm, the corners make a tube of 4.51 m, and the length says 4.9 m",
        ),
        (
            with_run(QUARRY, "front line", corners(*FRONT) + 'bend_radius = "600 mm"', "4.35 m"),
            "pipework.run[5].bend_radius",
            "Leg 1 is 500 mm long, and its bends, of radius 600 mm, take 600 mm of it",
        ),
        (
            with_run(QUARRY, "front line", corners(FRONT[0], FRONT[1]) + BENT, "0.5 m"),
            "pipework.run[5].bend_radius",
            "A radius of bends needs the corners that are bent",
        ),
        (
            with_run(QUARRY, "rear line", corners(*REAR), "5.2 m"),
            "pipework.run[4].length",
            "The corners of the way make 4.65 m, and the length says 5.2 m",
        ),
        (
            with_run(QUARRY, "rear line", corners(*REAR[:3], (6900, 400, 900)), "4.65 m"),
            "pipework.run[4].corner[4].height",
            'The way ends at another height than the point "rear header". Allowed: about 0.80 m',
        ),
        (
            with_run(QUARRY, "rear line", corners(*reversed(REAR)), "4.65 m"),
            "pipework.run[4].corner[1].height",
            "corners go from the first point of the run to its last",
        ),
        (
            with_run(QUARRY, "rear line", corners(*REAR[:3], (5900, 400, 800)), "3.65 m"),
            "pipework.run[4].corner[4].at",
            'The way does not reach the point "rear header". Allowed: about 6.90 m',
        ),
        (
            with_run(shaped(), "delivery", corners((2200, 0, 1000), (2900, 0, 1000), (2900, 900, 1050)), "1.6 m"),
            "pipework.run[4].corner[1]",
            'Another way ends 0.90 m from here at the point "manifold"',
        ),
        (
            with_run(QUARRY, "tank filling", corners(FILLING[0], FILLING[1], FILLING[0], (2900, 0, 2800)), "2.35 m"),
            "pipework.run[7].corner[2]",
            "The way turns straight back here",
        ),
        (
            with_run(QUARRY, "tank filling", corners(FILLING[0], FILLING[0], FILLING[2]), "2.05 m"),
            "pipework.run[7].corner[2]",
            "The corner stands where the last one stands",
        ),
        (with_run(QUARRY, "tank filling", corners(FILLING[0])), "pipework.run[7].corner", "One corner is no way"),
    ],
)
def test_each_fault_of_a_way_is_a_sentence(text: str, path: str, words: str) -> None:
    found = problems(text)
    assert path in found, found
    assert words in found[path], found[path]


def test_a_way_may_stand_a_little_off_the_height_of_its_point() -> None:
    for off, fits in ((45, True), (55, False)):
        way = [(x, y, z + off) if i == 0 else (x, y, z) for i, (x, y, z) in enumerate(REAR)]
        text = with_run(QUARRY, "rear line", corners(*way), "4.65 m")
        if fits:
            read_text(text)
        else:
            assert list(problems(text)) == ["pipework.run[4].corner[1].height"]


def test_an_outlet_without_a_height_and_open_water_are_not_compared() -> None:
    text = with_run(QUARRY, "draw hose", corners((3000, 1500, -2700), (3000, 1500, 850), (2550, 0, 850)), "5.2 m")
    read_text(text)


# Sketches.


def crossed(drawing: Drawing) -> list[str]:
    """Texts that a line runs through."""
    found = list(flatten(drawing.entities, drawing.scale))
    words = [part for part in found if isinstance(part, Text)]
    lines = [(*part.start, *part.end) for part in found if isinstance(part, Line)]
    lines += [(*a, *b) for part in found if isinstance(part, Polyline) for a, b in pairwise(part.points)]
    edges = np.array([text_corners(part, drawing.scale) for part in words])
    boxes = np.hstack([edges.min(axis=1), edges.max(axis=1)])
    meets = crosses(four_wide(lines)[None], boxes[:, None]).any(axis=1)
    return [part.text for part, one in zip(words, meets, strict=True) if one]


MANY = [
    (2900, 0, 1050), (2900, 300, 1050), (2000, -100, 1400), (1200, -100, 1400), (1200, -100, 800), (1200, -400, 800),
    (900, -400, 800), (900, -400, 1100), (900, 200, 1100), (300, 200, 1100), (300, 200, 700), (300, 0, 700),
    (0, 0, 700), (-1200, 0, 600),
]  # fmt: skip


def winding() -> str:
    """A build with a run of many short legs, some of them before others."""
    length = sum(math.dist(a, b) for a, b in pairwise(MANY)) / 1000
    return with_run(shaped().replace(corners(*FRONT) + BENT, ""), "front line", corners(*MANY), f"{length:.2f} m")


@pytest.mark.parametrize("system", ["metric", "us"])
@pytest.mark.parametrize("text", [shaped(), winding()], ids=["shaped", "winding"])
def test_no_word_of_a_sketch_lies_over_another_or_a_line(text: str, system: System) -> None:
    drawings = isometric_drawings(plumbing(text), system)
    assert drawings
    for one in drawings:
        assert overlapping(one) == []
        assert crossed(one) == []
        assert outside(one, 0.0, -HIGH, WIDE, 0.0) == []
        assert (one.bounds.width, one.bounds.height) == pytest.approx((WIDE / 1000, HIGH / 1000))


def test_a_word_over_a_line_would_be_found() -> None:
    drawing = isometric_drawings(plumbing(shaped()), "metric")[0]
    line = Line((0.0, -HIGH / 1000), (WIDE / 1000, 0.0))
    assert crossed(Drawing("", (*drawing.entities, line), drawing.bounds, 1.0))


def test_every_piece_of_a_known_way_is_on_the_sketches() -> None:
    found = [word for one in isometric_drawings(plumbing(shaped()), "metric") for word in texts(one)]
    for one in pipe_cuts(plumbing(shaped())):
        shown = [word for word in found if word.startswith(f"{one.run.mark}-")]
        assert len(shown) == (len(one.pieces) if one.run.points else 0), one.run.name
        assert any(word.startswith(f"{one.run.mark}  {one.run.name}") for word in found) == bool(one.run.points)
    assert "2: 6.8°, turned −45.7°" in found
    assert "37° cut from an elbow 90" in found
    assert found.count("flange PN 16") == 3
    assert found.count("flange class 150") == 1


def test_axes_stand_as_in_every_isometric_view() -> None:
    """120 degrees apart, each as long as it is; up is up."""
    ends = [complex(*seen(one)) for one in np.eye(3)]
    assert [abs(one) for one in ends] == pytest.approx([1.0, 1.0, 1.0])
    assert sum(ends[:2]).imag == pytest.approx(0.0)
    assert ends[2] == pytest.approx(1j)
    assert ends[0].imag < 0.0 < ends[0].real


def test_a_build_without_ways_has_no_sketches() -> None:
    assert isometric_drawings(plumbing(QUARRY), "metric") == ()
    assert isometric_part(plumbing(QUARRY), "metric") is None
    part = isometric_part(plumbing(shaped()), "metric")
    assert part is not None
    assert part["sheets"][0]["page"] == [297.0, 210.0]
    assert "<svg" in part["sheets"][0]["svg"]


def test_a_long_way_is_drawn_smaller_and_many_go_on_a_second_sheet() -> None:
    text = shaped()
    for name, way, length in (("suction", MONITOR, None), ("hydrant filling", FILLING, "2.05 m")):
        if length is not None:
            raised = [(3400, 0, z - 150) if i < 1 else (x, y, z) for i, (x, y, z) in enumerate(way)]
            text = with_run(text, name, corners(*raised), "2.57 m")
    drawings = isometric_drawings(plumbing(text), "metric")
    assert len(drawings) == 2
    assert drawings[0].title.endswith("sheet 1 of 2")
