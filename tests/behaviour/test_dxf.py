"""DXF: millimetres at 1:1, real dimensions, readable by others without a repair."""

from __future__ import annotations

import math
from pathlib import Path
from typing import Any

import pytest
from ezdxf.document import Drawing as Document
from ezdxf.filemanagement import readfile

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
from tunwright.sheets.dxf import write_dxf
from tunwright.sheets.layers import LAYERS
from tunwright.sheets.layout import compose

QUARTER = math.tan(math.pi / 8.0)


def part() -> Drawing:
    """A plate with round corners, a hole, fills of every kind, and dimensions every way."""
    plate = Polyline(
        ((0.05, 0.0), (0.95, 0.0), (1.0, 0.05), (1.0, 0.5), (0.0, 0.5), (0.0, 0.05)),
        "outline",
        (0.0, QUARTER, 0.0, 0.0, 0.0, QUARTER),
        closed=True,
        fill="steel",
    )
    entities: list[Entity] = [
        Group(
            "plate", (plate, Circle((0.5, 0.25), 0.1, "outline", "sheet"), Arc((0.5, 0.25), 0.15, 0.0, 1.0, "centre"))
        ),
        Polyline(((0.1, 0.1), (0.2, 0.1), (0.2, 0.2)), "hatch", closed=True, fill="hatch"),
        Line((0.5, -0.1), (0.5, 0.6), "centre"),
        Text((0.1, 0.4), "gap ≤ 3 mm, Ø 89 – 5 °C", turn=0.2),
        Text((0.1, 0.3), "bold", bold=True, anchor="end"),
        *chain_dimension([(0.0, 0.5), (0.4, 0.5), (0.41, 0.5), (1.0, 0.5)], ["400", "10", "590"], offset_mm=10.0),
        LinearDimension((1.0, 0.0), (1.0, 0.5), 10.0, "500", "v"),
        LinearDimension((0.0, 0.0), (0.3, 0.4), 8.0, "{500}", "slope"),
        LinearDimension((0.0, 0.0), (0.95, 0.05), -12.0, "≤ 950", reach_mm=3.0),
        LinearDimension((0.5, 0.0), (0.504, 0.0), -22.0, "4"),
        CentreMark((0.5, 0.25)),
        Gauge((0.5, -0.3), 1.1, "over", "of all"),
        Leader((0.9, 0.4), "mark ≥ 2 mm"),
    ]
    return compose("Plate", entities, scale=10.0)


@pytest.fixture
def document(tmp_path: Path) -> Document:
    return readfile(write_dxf(part(), tmp_path / "plate.dxf"))


def found(document: Document, kind: str) -> list[Any]:
    """Entities of a kind; ezdxf types them all alike."""
    return list(document.modelspace().query(kind))


def test_the_file_needs_no_repair(document: Document) -> None:
    report = document.audit()
    assert (len(report.errors), len(report.fixes)) == (0, 0)


def test_the_unit_is_the_millimetre(document: Document) -> None:
    assert document.dxfversion == "AC1024"
    assert (document.header["$INSUNITS"], document.header["$MEASUREMENT"]) == (4, 1)
    (centre,) = [line for line in found(document, "LINE") if line.dxf.layer == "CENTRE"]
    assert tuple(centre.dxf.start) == pytest.approx((500.0, -100.0, 0.0))
    assert tuple(centre.dxf.end) == pytest.approx((500.0, 600.0, 0.0))


def test_dimensions_are_real_and_true(document: Document) -> None:
    expected = {"400": 400.0, "10": 10.0, "590": 590.0, "500": 500.0, "\\{500\\}": 500.0, "≤ 950": 950.0, "4": 4.0}
    measured = {dim.dxf.text: dim.get_measurement() for dim in found(document, "DIMENSION")}
    assert measured == pytest.approx(expected)


def test_dimension_figures_are_readable_at_the_scale(document: Document) -> None:
    style = document.dimstyles.get("SHEET")
    assert style.dxf.dimscale == 10.0
    for dim in found(document, "DIMENSION"):
        drawn = [text for text in dim.virtual_entities() if text.dxftype() == "MTEXT"]
        assert [text.dxf.char_height for text in drawn] == pytest.approx([25.0])  # 2.5 mm at 1:10


def test_figures_stand_where_the_drawing_puts_them(document: Document) -> None:
    settled = {dim.text: dim for dim in part().entities if isinstance(dim, LinearDimension)}
    (narrow,) = [dim for dim in found(document, "DIMENSION") if dim.dxf.text == "10"]
    shift = settled["10"].text_shift_mm
    assert shift is not None
    assert shift != (0.0, 0.0)
    middle = (405.0 + shift[0] * 10.0, 600.0 + (shift[1] + 0.8 + 1.25) * 10.0)
    assert (narrow.dxf.text_midpoint.x, narrow.dxf.text_midpoint.y) == pytest.approx(middle)


def test_texts_survive(document: Document) -> None:
    texts = {text.dxf.text: text for text in found(document, "TEXT")}
    assert {"gap ≤ 3 mm, Ø 89 – 5 °C", "bold", "mark ≥ 2 mm", "over", "of all"} == set(texts)
    sloped = texts["gap ≤ 3 mm, Ø 89 – 5 °C"]
    assert (sloped.dxf.height, sloped.dxf.rotation) == pytest.approx((25.0, math.degrees(0.2)))
    assert document.styles.get(texts["bold"].dxf.style).dxf.font == "LiberationSans-Bold.ttf"


def test_arcs_of_a_polyline_stay_arcs(document: Document) -> None:
    (plate,) = [line for line in found(document, "LWPOLYLINE") if line.dxf.layer == "OUTLINE"]
    assert plate.closed
    points = plate.get_points("xyb")
    assert points[1] == pytest.approx((950.0, 0.0, QUARTER))
    assert [bulge for _, _, bulge in points] == pytest.approx([0.0, QUARTER, 0.0, 0.0, 0.0, QUARTER])


def test_layers_carry_weights_and_patterns(document: Document) -> None:
    for name, layer in LAYERS.items():
        entry = document.layers.get(name.upper())
        assert entry.dxf.lineweight == (round(layer.weight_mm * 100.0) or -3)
        pattern = document.linetypes.get(entry.dxf.linetype).simplified_line_pattern()
        assert tuple(pattern) == pytest.approx(layer.dash_mm)
    assert document.header["$LTSCALE"] == 10.0


def test_fills_become_areas(document: Document) -> None:
    hatches = {hatch.dxf.layer: hatch for hatch in found(document, "HATCH")}
    assert hatches["OUTLINE"].rgb == (201, 206, 210)
    assert hatches["OUTLINE"].dxf.solid_fill == 1
    assert hatches["HATCH"].dxf.solid_fill == 0
    assert {area.dxf.layer for area in found(document, "WIPEOUT")} >= {"OUTLINE"}


def test_a_file_of_the_same_drawing_is_the_same_file(tmp_path: Path) -> None:
    one, other = (write_dxf(part(), tmp_path / name).read_bytes() for name in ("one.dxf", "other.dxf"))
    assert one == other


def test_a_failed_write_leaves_the_old_file(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    path = tmp_path / "plate.dxf"
    path.write_text("old", encoding="utf-8")

    def fail(*_: object) -> None:
        raise OSError("disk full")

    monkeypatch.setattr(Document, "saveas", fail)
    with pytest.raises(OSError, match="disk full"):
        write_dxf(part(), path)
    assert [entry.name for entry in tmp_path.iterdir()] == ["plate.dxf"]
    assert path.read_text(encoding="utf-8") == "old"


def test_a_written_file_leaves_nothing_beside_it(tmp_path: Path) -> None:
    write_dxf(part(), tmp_path / "plate.dxf")
    write_dxf(part(), tmp_path / "plate.dxf")
    assert [entry.name for entry in tmp_path.iterdir()] == ["plate.dxf"]
