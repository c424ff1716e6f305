"""The drawings on their sheets: nothing overlaps, everything fits, files are written whole."""

from __future__ import annotations

from dataclasses import replace
from itertools import combinations
from pathlib import Path

import numpy as np
import pytest
from ezdxf.filemanagement import readfile

from drawn import groups, texts
from tunwright.checks.assess import Assessment
from tunwright.sheets.annotate import flatten
from tunwright.sheets.drawing import (
    Drawing,
    Group,
    Point,
    Text,
)
from tunwright.sheets.layout import extents
from tunwright.sheets.lettering import SPARE, text_corners, text_width
from tunwright.sheets.output import view_drawing, write_drawings
from tunwright.sheets.views import general_arrangement
from tunwright.sheets.views.paper import BINDING, EDGE, fitted, note_lines
from tunwright.sheets.views.surfaces import full_state
from tunwright.truck.states import LoadState


def apart(one: tuple[Point, ...], other: tuple[Point, ...]) -> bool:
    """Whether two convex quadrangles have a line between them (separating axis)."""
    for quad in (one, other):
        for (au, av), (bu, bv) in zip(quad, (*quad[1:], quad[0]), strict=True):
            nu, nv = bv - av, au - bu
            here, there = ([u * nu + v * nv for u, v in box] for box in (one, other))
            if max(here) <= min(there) + 1e-9 or max(there) <= min(here) + 1e-9:
                return True
    return False


def overlapping(drawing: Drawing) -> list[tuple[str, str]]:
    found = [part for part in flatten(drawing.entities, drawing.scale) if isinstance(part, Text)]
    corners = [text_corners(part, drawing.scale) for part in found]
    low, high = (end(np.array(corners), axis=1) for end in (np.min, np.max))
    near = ((low[:, None] < high[None]) & (low[None] < high[:, None])).all(axis=2)  # a first sieve
    pairs = [(i, j) for i, j in combinations(range(len(found)), 2) if near[i, j]]
    return [(found[i].text, found[j].text) for i, j in pairs if not apart(corners[i], corners[j])]


def states(assessment: Assessment) -> list[LoadState]:
    full = full_state(assessment.truck)
    half = replace(full, fill=0.5, parts=tuple(0.5 for _ in full.parts))
    return [
        full,
        replace(full, brim=True),
        replace(half, grade=0.12),
        replace(half, braking=0.5, surface="braked"),
        replace(half, slope=-0.1),
        replace(full, fill=0.0, parts=tuple(0.0 for _ in full.parts), crew=False),
    ]


def test_no_two_texts_overlap_on_a_sheet(every: Assessment) -> None:
    for state in states(every):
        assert overlapping(general_arrangement(every, state=state)) == [], state.words


@pytest.mark.parametrize("name", ["side", "rear", "plan"])
def test_no_two_texts_overlap_on_a_view_alone(every: Assessment, name: str) -> None:
    assert overlapping(view_drawing(every, name)) == []


def test_everything_stands_inside_the_frame_of_the_sheet(every: Assessment) -> None:
    drawing = general_arrangement(every)
    mm = drawing.scale / 1000.0
    room = extents([entity for entity in drawing.entities if isinstance(entity, Group)], drawing.scale)
    assert room.left / mm >= BINDING
    assert room.bottom / mm >= EDGE - 1e-6
    assert room.right / mm <= 420.0 - EDGE + 1e-6
    assert room.top / mm <= 297.0 - EDGE


def test_no_lettering_is_smaller_than_can_be_read(every: Assessment) -> None:
    drawing = general_arrangement(every)
    assert min(part.height_mm for part in flatten(drawing.entities, drawing.scale) if isinstance(part, Text)) >= 1.8


def test_every_demo_fills_its_sheet_at_a_standard_scale(every: Assessment) -> None:
    drawing = general_arrangement(every)
    room = extents(groups(drawing.entities, "side"), drawing.scale)
    assert room.width > 0.45 * drawing.bounds.width


def test_the_title_block_says_what_it_must(quarry: Assessment) -> None:
    order = quarry.build.order
    said = texts(general_arrangement(quarry, build_hash="0123456789abcdef" * 4))
    joined = " ".join(said)
    assert {order.number, order.customer, order.date, "0123456789ab", "1:40", "A3"} <= set(said)
    assert "Site water carrier, Marrow Hollow quarry" in joined
    assert "Drawn by the program from the build file; check before use." in joined


def test_other_papers_and_unknown_ones(quarry: Assessment) -> None:
    assert general_arrangement(quarry, paper="A2").scale < general_arrangement(quarry, paper="A3").scale
    assert general_arrangement(quarry, paper="11x17").bounds.width == pytest.approx(0.4318 * 40.0)
    with pytest.raises(ValueError, match="paper 'B9' is not known; allowed are A4, A3"):
        general_arrangement(quarry, paper="B9")


def test_drawings_are_written_whole_and_the_same_each_time(quarry: Assessment, tmp_path: Path) -> None:
    first = write_drawings(quarry, tmp_path / "one", build_hash="ab" * 32)
    names = [f"{name}.{kind}" for name in ("side", "rear", "plan", "arrangement") for kind in ("svg", "dxf")]
    assert [path.name for path in first] == names
    assert sorted(path.name for path in (tmp_path / "one").iterdir()) == sorted(names)
    again = write_drawings(quarry, tmp_path / "two", build_hash="ab" * 32)
    assert [a.read_bytes() == b.read_bytes() for a, b in zip(first, again, strict=True)] == [True] * 8


def test_dxf_files_need_no_repair(every: Assessment, tmp_path: Path) -> None:
    for path in write_drawings(every, tmp_path):
        if path.suffix == ".dxf":
            report = readfile(path).audit()
            assert (len(report.errors), len(report.fixes)) == (0, 0), path.name


@pytest.mark.parametrize("words", ["short", "a title that is much too long for the room it has been given " * 3])
def test_lettering_keeps_within_its_room(words: str) -> None:
    text, height = fitted(words, 3.5, 60.0, bold=True)
    assert SPARE * text_width(text, height, bold=True) <= 60.0 + 1e-9
    assert height >= 1.8
    assert text.endswith("…") == (len(words) > 60)


def test_notes_are_broken_and_indented() -> None:
    lines = note_lines(["one two three four five six seven", "20 % full"], 20.0)
    assert lines[0][0] == 0.0
    assert all(indent > 0.0 for indent, _ in lines[1:-1])
    assert lines[-1] == (0.0, "20\u00a0% full")
    assert all(indent + SPARE * text_width(line, 2.2) <= 20.0 for indent, line in lines)
