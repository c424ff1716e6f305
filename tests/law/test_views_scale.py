"""The drawings are true: water as the solid holds it, places and sizes to scale on paper and in DXF."""

from __future__ import annotations

import re
from collections.abc import Callable, Iterable
from dataclasses import replace
from pathlib import Path

import numpy as np
import pytest
from ezdxf import bbox
from ezdxf.filemanagement import readfile
from shapely.geometry import Polygon

from tunwright.build.reading import read_text
from tunwright.checks.assess import Assessment
from tunwright.demos import NAMES, demo_text
from tunwright.handbook.levels import level_table
from tunwright.sheets.drawing import Entity, Group, Polyline
from tunwright.sheets.dxf import write_dxf
from tunwright.sheets.geometry import flat_points
from tunwright.sheets.output import view_drawing
from tunwright.sheets.svg import write_svg
from tunwright.sheets.views import rear_view, side_view
from tunwright.sheets.views.surfaces import full_state, surfaces, water_volumes
from tunwright.truck.size import outer_size
from tunwright.truck.states import LoadState
from tunwright.truck.truck import Truck

Check = Callable[..., None]
GEOMETRY = ("OUTLINE", "THIN", "STEEL", "HIDDEN", "TYRE", "WATER")

LOFTED = (
    demo_text("quarry-carrier")
    .replace('fall = "1 %"', 'fall = "3 %"')
    .replace('fall_by = "pitch"', 'fall_by = "floor"')
)


@pytest.fixture(scope="module", params=[*NAMES, "lofted"])
def named(request: pytest.FixtureRequest) -> tuple[str, Assessment]:
    text = LOFTED if request.param == "lofted" else demo_text(request.param)
    return request.param, Assessment(read_text(text).build)


def wet(entities: Iterable[Entity], name: str) -> list[Polyline]:
    """Filled water areas in groups of a name, sumps left out."""
    found: list[Polyline] = []
    for entity in entities:
        if isinstance(entity, Group):
            found += [
                part
                for part in entity.entities
                if entity.name == name and isinstance(part, Polyline) and part.fill == "water"
            ]
            found += wet(entity.entities, name)
    return found


def part_full(truck: Truck, part: float, **more: float) -> LoadState:
    full = full_state(truck)
    return replace(full, fill=part, parts=tuple(part for _ in full.parts), **more)  # type: ignore[arg-type]


def contour(truck: Truck) -> Polygon:
    """The longitudinal section of the tank through its middle plane, on the vehicle, worked out afresh."""
    solid, length = truck.solid, float(truck.build.tank.length)
    places = np.linspace(0.0, length, 7)
    low = [(x, solid.floor(float(x))) for x in places]
    high = [(x, solid.roof()) for x in places]
    for head, at, outward in ((solid.rear, length, 1.0), (solid.front, 0.0, -1.0)):
        middle = solid.middle_of_section(at)[1]
        distance, scale = head.meridian(points=400)
        for edge, side in ((solid.floor(at), low), (solid.roof(), high)):
            points = [(at + outward * d, middle + k * (edge - middle)) for d, k in zip(distance, scale, strict=True)]
            side[:] = side + points if outward > 0 else points[::-1] + side
    ring = np.array([*low, *high[::-1]])
    three = np.column_stack([ring[:, 0], np.zeros(len(ring)), ring[:, 1]])
    return Polygon(truck.frame.point(three)[:, [0, 2]]).buffer(0.0)


@pytest.mark.parametrize("part", [0.15, 0.6, 1.0])
@pytest.mark.parametrize("grade", [0.0, 0.12, -0.12])
def test_water_in_the_side_view_is_the_wet_part_of_the_section(
    check: Check, named: tuple[str, Assessment], part: float, grade: float
) -> None:
    name, assessment = named
    truck = assessment.truck
    state = part_full(truck, part, grade=grade)
    drawn = sum(Polygon(flat_points(line)).area for line in wet(side_view(assessment, state=state), "water"))
    far, whole, expected = 50.0, contour(truck), 0.0
    for water in surfaces(truck, state):
        ends = [max(water.start, -5.0), min(water.end, float(truck.build.tank.length) + 5.0)]
        below = np.array([(ends[0], 0.0, -far), (ends[1], 0.0, -far), *((x, 0.0, water.height(x)) for x in ends[::-1])])
        expected += whole.intersection(Polygon(truck.frame.point(below)[:, [0, 2]])).area
    check(
        "water area in the side view",
        source=f"clipping of the section by an independent geometry library; worst of {name}",
        expected=expected,
        ours=drawn,
        tol=2e-4 * whole.area,  # the drawn heads have 14 points a piece
        unit="m2",
    )


@pytest.mark.parametrize("part", [0.2, 1.0])
@pytest.mark.parametrize("slope", [0.0, 0.1])
def test_water_in_the_rear_view_is_the_wet_area_of_the_section(
    check: Check, named: tuple[str, Assessment], part: float, slope: float
) -> None:
    name, assessment = named
    truck = assessment.truck
    state = part_full(truck, part, slope=slope)
    middle = 0.5 * float(truck.build.tank.length)
    water = next(one for one in surfaces(truck, state) if one.start <= middle <= one.end)
    expected = 0.0
    for half in truck.solid.halves:
        k = truck.solid.stretch(half.growth, middle)
        table = level_table(half.outline, water.b / k)
        level = truck.solid.seat + (water.height(middle) - truck.solid.seat) / k
        expected += k * float(table.area_and_width(np.array([level]))[0][0])
    (area,) = wet(rear_view(assessment, state=state), "tank")
    check(
        "water area in the rear view",
        source=f"exact integrals of the section's levels; worst of {name}",
        expected=expected,
        ours=Polygon(area.points).area,
        tol=1e-9 * expected,
        unit="m2",
    )


@pytest.mark.parametrize("grade", [0.0, 0.12])
def test_the_drawn_surface_holds_the_volume_of_the_state(
    check: Check, named: tuple[str, Assessment], grade: float
) -> None:
    name, assessment = named
    truck = assessment.truck
    state = part_full(truck, 0.7, grade=grade)
    lines = [line for line in _lines(side_view(assessment, state=state)) if line.layer == "water"]
    a = float(truck.frame.surface(np.array(grade), 0.0)[0])
    back = truck.frame.turn.T
    for compartment, volume, line in zip(
        truck.solid.compartments, water_volumes(truck, state).tolist(), lines, strict=True
    ):
        u, v = line.points[0]
        x, _, z = back @ (np.array([u, float(truck.build.tank.y), v]) - truck.frame.origin)
        check(
            "volume under the surface drawn",
            source=f"the tank's own volume below that line; worst of {name}",
            expected=volume,
            ours=compartment.whole.below(float(x), float(z), a),
            tol=1e-9 * volume,
            unit="m3",
        )
        slope = (line.points[1][1] - v) / (line.points[1][0] - u)
        assert slope == pytest.approx(grade, abs=1e-9)


def _lines(entities: Iterable[Entity]) -> list[Polyline]:
    found: list[Polyline] = []
    for entity in entities:
        if isinstance(entity, Group):
            found += _lines(entity.entities)
        elif isinstance(entity, Polyline):
            found.append(entity)
    return found


def test_dxf_has_the_outer_size_in_millimetres(check: Check, named: tuple[str, Assessment], tmp_path: Path) -> None:
    name, assessment = named
    size = outer_size(assessment.truck)
    for view, wanted in (
        ("side", {"front": size.front, "rear": size.rear, "height": size.height}),
        ("rear", {"height": size.height}),
        ("plan", {"front": size.front, "rear": size.rear}),
    ):
        space = readfile(write_dxf(view_drawing(assessment, view), tmp_path / f"{view}.dxf")).modelspace()
        on = [e for e in space if e.dxf.layer in GEOMETRY and e.dxftype() in ("LWPOLYLINE", "LINE", "CIRCLE", "ARC")]
        box = bbox.extents(on, fast=True)
        ours = {"front": box.extmin.x, "rear": box.extmax.x, "height": box.extmax.y}
        for what, value in wanted.items():
            check(
                f"{what} of the {view} view in DXF",
                source=f"outer size of the vehicle, {name}",
                expected=1000.0 * value,
                ours=ours[what],
                tol=0.01,
                unit="mm",
            )


def test_paper_is_to_scale(check: Check, named: tuple[str, Assessment]) -> None:
    name, assessment = named
    drawing = view_drawing(assessment, "side")
    svg = write_svg(drawing)
    width = float(re.findall(r'<svg[^>]* width="([\d.]+)mm"', svg)[0])
    assert width == pytest.approx(drawing.bounds.width * 1000.0 / drawing.scale, abs=0.006)
    axles = assessment.build.chassis.axle
    tyres = re.findall(r'<g[^>]*><circle cx="([\d.]+)"[^>]*r="([\d.]+)"[^>]*fill="#2b343b"', svg)
    assert len(tyres) == len(axles)
    base = (float(tyres[-1][0]) - float(tyres[0][0])) * drawing.scale
    check(
        "wheelbase on paper times the scale",
        source=f"the build, {name}",
        expected=1000.0 * float(axles[-1].at),
        ours=base,
        tol=0.01 * drawing.scale,  # the file has hundredths of a millimetre
        unit="mm",
    )
