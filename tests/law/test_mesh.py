"""The triangles of the 3-D view: closed where the thing is closed, and as large as the tank and its water."""

from __future__ import annotations

import math
from collections.abc import Callable
from typing import Any

import numpy as np
import pytest
from numpy.typing import NDArray

from tunwright.build.reading import read_text
from tunwright.checks.assess import Assessment
from tunwright.demos import demo_text
from tunwright.sheets.mesh import MOST, MeshPart, vehicle_mesh
from tunwright.sheets.mesh.hull import Hull
from tunwright.sheets.mesh.shapes import Shape, area, block, clip, joined, plate, prism, turned, volume
from tunwright.sheets.mesh.tank import Fineness, tank_mesh
from tunwright.sheets.mesh.water import body
from tunwright.sheets.views.surfaces import surfaces
from tunwright.truck.states import LoadState
from tunwright.truck.truck import Truck

Floats = NDArray[np.float64]
SOURCE = "volume of a closed surface by the divergence theorem, sum of det(p, q, r) / 6"
FINE = Fineness(112, 32, holes=True)
COARSE = Fineness(40, 12, holes=False)
DEMOS = ("quarry-carrier", "lane-carrier", "village-carrier")
TANK = '[tank]\nmiddle = "3 m"\nlength = "4 m"\nbottom = "1.2 m"\nshell = "4 mm"\n'
CIRCLE = '[tank.section]\nshape = "circle"\ndiameter = "1.7 m"\n'
ROUNDED = (
    '[tank.section]\nshape = "rounded box"\nwidth = "2.3 m"\nheight = "1.3 m"\ntop_radius = "4 m"\n'
    'side_radius = "2.2 m"\nbottom_radius = "4 m"\ntop_corner = "350 mm"\nbottom_corner = "350 mm"\n'
)
SLANTED = (
    '[tank.section]\nshape = "outline"\nunit = "mm"\n'
    "points = [[-700, 0], [700, 0], [1100, 500], [1100, 1000], [800, 1250], [-800, 1250], "
    "[-1100, 1000], [-1100, 500]]\n"
)
DISH = '[tank.head]\nshape = "dish"\ndepth = "150 mm"\n'
CASES = {
    "circle, torispherical": (CIRCLE, '[tank.head]\nshape = "torispherical"\n', ""),
    "circle, ellipsoidal, pitched": (CIRCLE, '[tank.head]\nshape = "ellipsoidal"\n', 'fall = "2 %"\n'),
    "circle, cone": (CIRCLE, '[tank.head]\nshape = "conical"\ndepth = "300 mm"\n', ""),
    "rounded box, dish": (ROUNDED, DISH, ""),
    "rounded box, dish, floor falls": (ROUNDED, DISH, 'fall = "2 %"\nfall_by = "floor"\n'),
    "free outline, dish, floor falls": (SLANTED, DISH, 'fall = "3 %"\nfall_by = "floor"\n'),
    "free outline, flat": (SLANTED, "", ""),
}


def made(tank_of: Callable[..., Truck], case: str) -> Truck:
    section, head, more = CASES[case]
    return tank_of(section, head, tank=TANK + 'dry_mass = "900 kg"\ndry_centre = "2 m"\n' + more)


def open_edges(shape: Shape) -> int:
    """Edges that are not run through once each way, points welded at a hundredth of a millimetre."""
    _, weld = np.unique(np.round(shape.points, 5), axis=0, return_inverse=True)
    corners = weld.ravel()[shape.triangles]
    runs = np.vstack([corners[:, [0, 1]], corners[:, [1, 2]], corners[:, [2, 0]]])
    runs = runs[runs[:, 0] != runs[:, 1]]
    there, back = (runs @ (len(shape.points), 1)), (runs[:, ::-1] @ (len(shape.points), 1))
    return int(np.sum(np.sort(there) != np.sort(back)))


def gap(shape: Shape) -> float:
    """Size of the sum of all areas with their directions: nothing, where a surface is closed [m2]."""
    p, q, r = (shape.points[shape.triangles[:, i]] for i in range(3))
    return float(np.linalg.norm(0.5 * np.cross(q - p, r - p).sum(axis=0)))


def winding(shape: Shape, points: Floats) -> Floats:
    """How often a surface runs round each point: once inside, never outside, no whole number where it is open.

    Sum of the solid angles of its triangles over 4 pi; van Oosterom and Strackee, The solid angle of a plane triangle,
    IEEE Transactions on Biomedical Engineering 30 (1983) 125 (formula from memory).
    """
    a, b, c = (shape.points[shape.triangles[:, i]] - points[:, None] for i in range(3))
    la, lb, lc = (np.linalg.norm(one, axis=-1) for one in (a, b, c))
    up = np.sum(a * np.cross(b, c), axis=-1)
    dot = [np.sum(one * other, axis=-1) for one, other in ((a, b), (b, c), (c, a))]
    turns = 2.0 * np.arctan2(up, la * lb * lc + dot[0] * lc + dot[1] * la + dot[2] * lb)
    return np.asarray(turns.sum(axis=-1) / (4.0 * math.pi))


def beside(shape: Shape, count: int, by: float) -> tuple[Floats, Floats]:
    """Points just before and just behind some of the triangles, along their normals."""
    p, q, r = (shape.points[shape.triangles[:: max(1, len(shape.triangles) // count), i]] for i in range(3))
    normal = np.cross(q - p, r - p)
    normal /= np.linalg.norm(normal, axis=1)[:, None]
    middle = (p + q + r) / 3.0
    return middle + by * normal, middle - by * normal


def hull_of(parts: dict[str, MeshPart]) -> Shape:
    return joined(parts[key].shape for key in ("tank.head.front", "tank.shell", "tank.head.rear"))


@pytest.mark.parametrize("fineness", [FINE, COARSE], ids=["fine", "coarse"])
@pytest.mark.parametrize("case", CASES)
def test_the_closed_tank_holds_its_gross_volume(
    tank_of: Callable[..., Truck], check: Callable[..., None], case: str, fineness: Fineness
) -> None:
    truck = made(tank_of, case)
    hull = hull_of({one.key: one for one in tank_mesh(truck, fineness)})
    gross = float(truck.volumes.gross.sum())
    what = f"volume of the triangles of a closed tank, {case}, {fineness.around} points around"
    check(what, source=SOURCE, expected=gross, ours=volume(hull), tol=1e-3 * gross, unit="m3")
    assert gap(hull) < 1e-5
    assert open_edges(hull) == 0


@pytest.mark.parametrize("demo", DEMOS)
def test_a_demo_holds_its_gross_volume_less_its_plates(check: Callable[..., None], demo: str) -> None:
    assessment = Assessment(read_text(demo_text(demo)).build)
    tank = assessment.build.tank
    parts = {one.key: one for one in vehicle_mesh(assessment)}
    held = volume(hull_of(parts)) + sum(volume(one.shape) for key, one in parts.items() if ".sump." in key)
    for i, baffle in enumerate(tank.baffle):
        thickness = float(baffle.thickness or tank.shell) * (1.0 - float(baffle.open or 0.0))
        held -= thickness * area(parts[f"tank.baffle.{i + 1}"].shape)
    held -= float(tank.bulkhead or tank.shell) * sum(area(p.shape) for key, p in parts.items() if ".bulkhead." in key)
    gross = float(assessment.truck.volumes.gross.sum())
    what = f"triangles of the tank and sump less those of its plates, {demo}"
    check(what, source=SOURCE, expected=gross, ours=held, tol=1e-3 * gross, unit="m3")


@pytest.mark.parametrize("case", CASES)
def test_the_normals_of_a_tank_and_its_water_look_outwards(tank_of: Callable[..., Truck], case: str) -> None:
    truck = made(tank_of, case)
    (surface,) = surfaces(truck, LoadState("even", 0.6, (0.6,), grade=0.12, slope=0.05))
    whole = Hull(truck.solid, FINE.around).whole
    for shape in (whole, joined(body(whole, surface))):
        outside, inside = beside(shape, 80, 1e-4)
        assert winding(shape, outside) == pytest.approx(np.zeros(len(outside)), abs=5e-3)
        assert winding(shape, inside) == pytest.approx(np.ones(len(inside)), abs=5e-3)


@pytest.mark.parametrize("demo", [*DEMOS, "brush-carrier"])
def test_what_is_filled_where_it_is_cut_is_closed(demo: str) -> None:
    """Only round a closed surface is every winding number whole; below nothing it would be turned inside out."""
    assessment = Assessment(read_text(demo_text(demo)).build)
    state = LoadState("even", 0.6, (0.6,) * len(assessment.truck.solid.compartments), braking=0.5, surface="braked")
    parts = vehicle_mesh(assessment, state=state)
    closed = {one.key: one.shape for one in parts if one.cut in ("face", "room") and one.role != "ground"}
    closed["water"] = joined(one.shape for one in parts if one.cut == "water")
    assert {one.cut for one in parts if one.role in ("shell", "water", "tyre")} == {"line", "water", "face"}
    for key, shape in closed.items():
        found = winding(shape, np.vstack(beside(shape, 30, 2e-4)))
        assert np.abs(found - np.round(found)).max() < 0.02, key
        assert found.min() > -0.5, key
        assert found.max() > 0.5, key


@pytest.mark.parametrize("fill", [0.05, 0.62, 1.0])
@pytest.mark.parametrize("demo", [*DEMOS, "brush-carrier"])
def test_the_water_of_a_demo_is_as_much_as_the_state_says(check: Callable[..., None], demo: str, fill: float) -> None:
    """With its sumps; less the room of the plates and pipes that stand in it, since the triangles run through them."""
    assessment = Assessment(read_text(demo_text(demo)).build)
    truck, tank = assessment.truck, assessment.build.tank
    state = LoadState("even", fill, (fill,) * len(truck.solid.compartments))
    parts = {one.key: one for one in vehicle_mesh(assessment, state=state)}
    levels = [one.vertices.astype(float) for one in parts.values() if one.role == "surface"]
    up = np.array([0.0, 0.0, 1.0])

    def wet(key: str, size: Callable[[Shape], float]) -> float:
        shape = parts[key].shape
        at = shape.points[:, 0].mean()
        over = [one[:, 2].mean() for one in levels if one[:, 0].min() - 0.05 < at < one[:, 0].max() + 0.05]
        # seen from a point of the surface, the flat side a body is cut along counts nothing
        held = [clip(shape.moved(shape.points - z * up), up, 0.0).shape for z in over]
        return sum(map(size, held)) / max(1, len(held))  # between two compartments half of a plate counts to each

    ours = volume(joined(one.shape for one in parts.values() if one.cut == "water"))
    for i, baffle in enumerate(tank.baffle):
        ours -= (
            float(baffle.thickness or tank.shell)
            * (1.0 - float(baffle.open or 0.0))
            * wet(f"tank.baffle.{i + 1}", area)
        )
    for i, along in enumerate(tank.long_baffle):
        ours -= (
            float(along.thickness or tank.shell) * (1.0 - float(along.open)) * wet(f"tank.long_baffle.{i + 1}", area)
        )
    ours -= float(tank.bulkhead or tank.shell) * sum(wet(key, area) for key in parts if ".bulkhead." in key)
    ours -= sum(wet(key, volume) for key, one in parts.items() if one.cut == "room")
    net, gross = float(truck.volumes.net.sum()), float(truck.volumes.gross.sum())
    what = f"triangles of the water less the plates and pipes in it, {demo}, {100 * fill:g} % full"
    check(what, source=SOURCE, expected=fill * net, ours=ours, tol=1e-3 * gross, unit="m3")


@pytest.mark.parametrize("road", [{}, {"grade": 0.12}, {"slope": 0.05}, {"grade": -0.12, "slope": -0.05}], ids=str)
@pytest.mark.parametrize("fill", [0.03, 0.5, 0.9])
@pytest.mark.parametrize(
    "case", ["circle, ellipsoidal, pitched", "rounded box, dish, floor falls", "free outline, flat"]
)
def test_the_water_is_as_much_as_the_state_says(
    tank_of: Callable[..., Truck], check: Callable[..., None], case: str, fill: float, road: dict[str, float]
) -> None:
    truck = made(tank_of, case)
    (surface,) = surfaces(truck, LoadState("even", fill, (fill,), **road))  # type: ignore[arg-type]
    water = joined(body(Hull(truck.solid, FINE.around).whole, surface))
    asked, gross = fill * float(truck.volumes.net.sum()), float(truck.volumes.gross.sum())
    check(
        f"volume of the triangles of the water, {case}, {100 * fill:g} % full, {road or 'level'}",
        source=SOURCE,
        expected=asked,
        ours=volume(water),
        tol=1e-3 * gross,
        unit="m3",
    )
    assert gap(water) < 1e-6


def test_braked_water_stays_in_its_bays() -> None:
    assessment = Assessment(read_text(demo_text("quarry-carrier")).build)
    truck = assessment.truck
    whole = Hull(truck.solid, FINE.around).whole
    state = LoadState("even", 0.5, (0.5,), braking=0.5, surface="braked")
    found = [(one, joined(body(whole, one))) for one in surfaces(truck, state)]
    assert len(found) == 1 + len(assessment.build.tank.baffle)
    for surface, water in found:
        assert gap(water) < 1e-6
        used = water.points[np.unique(water.triangles)]
        assert used[:, 0].min() >= surface.start - 1e-9
        assert used[:, 0].max() <= surface.end + 1e-9
    net = float(truck.volumes.net.sum())
    assert sum(volume(water) for _, water in found) == pytest.approx(0.5 * net, rel=5e-3)  # with the plates' own room


HOLLOW = np.array([(0.0, 0.0), (2.0, 0.0), (2.0, 2.0), (1.0, 1.0), (0.0, 2.0)])
DRUM = [(0.0, 0.0), (0.5, 0.0), (0.5, 0.0), (0.5, 2.0), (0.5, 2.0), (0.0, 2.0)]
CONE = [(0.0, 0.0), (1.0, 0.0), (1.0, 0.0), (0.0, 3.0)]
SOLIDS: list[tuple[str, Shape, float, float]] = [
    ("box 1 x 2 x 3 m", block((0.0, -1.0, 1.0), (1.0, 1.0, 4.0)), 6.0, 1e-12),
    ("hollow-sided prism", prism(HOLLOW, axis=1, start=0.0, end=2.0), 6.0, 1e-12),
    ("cylinder r 0.5 m, 2 m", turned(DRUM, axis=2, centre=(1.0, 2.0, 3.0), count=720), math.pi / 2, 1e-4),
    ("cone r 1 m, 3 m, across", turned(CONE, axis=1, centre=(0.0, 0.0, 0.0), count=720), math.pi, 1e-4),
]


@pytest.mark.parametrize(("what", "shape", "expected", "tol"), SOLIDS, ids=[one[0] for one in SOLIDS])
def test_plain_solids(check: Callable[..., None], what: str, shape: Shape, expected: float, tol: float) -> None:
    check(f"triangles of a {what}", source="closed form", expected=expected, ours=volume(shape), tol=tol, unit="m3")
    assert gap(shape) < 1e-12


def test_a_plate_with_holes_has_the_area_shapely_gives(check: Callable[..., None]) -> None:
    import shapely

    angle = np.arange(24) * 2 * np.pi / 24
    circle = np.column_stack([np.cos(angle), np.sin(angle)])
    outer = np.array([(0, 0), (3, 0), (3, 2), (1.7, 1.4), (0.0, 2.2)])
    holes = [(0.7, 0.7) + 0.3 * circle, (2.2, 0.8) + 0.2 * circle]
    ours = area(plate([outer, *holes], axis=0, at=1.0))
    expected = shapely.Polygon(outer, holes).area
    check(
        "plate with two holes", source="shapely, polygon with holes", expected=expected, ours=ours, tol=1e-6, unit="m2"
    )


def test_a_cut_leaves_two_halves_of_one_volume() -> None:
    rng = np.random.default_rng(3)
    ball = turned(
        [(math.sin(t), -math.cos(t)) for t in np.linspace(0, math.pi, 40)], axis=2, centre=(0, 0, 0), count=64
    )
    for _ in range(10):
        normal = rng.normal(size=3)
        normal /= np.linalg.norm(normal)
        bound = float(rng.uniform(-0.8, 0.8))
        one, other = clip(ball, normal, bound), clip(ball, -normal, -bound)
        assert area(one.shape) + area(other.shape) == pytest.approx(area(ball), rel=1e-9)
        assert np.abs(one.cut @ normal - bound).max() < 1e-9
        cap = math.pi * (1 + bound) ** 2 * (2 - bound) / 3  # a ball below a plane
        # seen from a point of the plane the flat side counts nothing
        seen = one.shape.moved(one.shape.points - bound * normal)
        assert volume(seen) == pytest.approx(cap, abs=0.02)


def crowded() -> dict[str, Any]:
    plates = "".join(
        f'[[tank.baffle]]\nat = "{0.1 + 0.095 * i:.3f} m"\nopening = ['
        + ", ".join(f'{{ diameter = "100 mm", y = "{150 * k - 540 + 13 * n} mm", height = "{250 + 130 * n} mm" }}'
                    for k in range(8) for n in range(5))
        + "]\n"
        for i in range(40)
    )  # fmt: skip
    return {"section": ROUNDED, "more": DISH + plates}


def test_the_fullest_tank_stays_under_the_most_triangles(tank_of: Callable[..., Truck]) -> None:
    truck = tank_of(**crowded())
    count = sum(len(one.triangles) for one in tank_mesh(truck, FINE))
    assert count > MOST
    parts = vehicle_mesh(Assessment(truck.build), state=LoadState("even", 0.5, (0.5,), braking=0.5, surface="braked"))
    assert sum(len(one.triangles) for one in parts) < MOST
    assert all(one.see_through for one in parts if ".baffle." in one.key)


@pytest.mark.parametrize("demo", [*DEMOS, "brush-carrier"])
def test_every_part_is_sound(demo: str) -> None:
    parts = vehicle_mesh(Assessment(read_text(demo_text(demo)).build))
    assert len({one.key for one in parts}) == len(parts)
    assert sum(len(one.triangles) for one in parts) < MOST
    for one in parts:
        assert one.vertices.dtype == np.float32
        assert np.isfinite(one.vertices).all()
        for numbers in (one.triangles, one.edges):
            assert not len(numbers) or int(numbers.max()) < len(one.vertices)
        assert len(one.triangles) or one.role == "ground"
        if one.role in ("tyre", "rim", "cab", "item", "fitting", "frame"):
            assert volume(one.shape) > 0.0  # faces look outwards


def test_parts_stand_where_the_build_says() -> None:
    assessment = Assessment(read_text(demo_text("quarry-carrier")).build)
    parts = {one.key: one for one in vehicle_mesh(assessment)}

    def box(key: str) -> Floats:
        points = parts[key].vertices.astype(float)
        return np.array([points.min(axis=0), points.max(axis=0)])

    assert box("chassis.axle.1.tyres") == pytest.approx(np.array([[-0.5, -1.2175, 0.0], [0.5, 1.2175, 1.0]]), abs=1e-6)
    assert box("chassis.frame")[:, 0] == pytest.approx([-1.25, 6.95], abs=1e-6)
    assert box("chassis.frame")[1, 2] == pytest.approx(1.04, abs=1e-6)
    assert box("chassis.cab")[:, 0] == pytest.approx([-1.40, 0.58], abs=1e-6)
    assert box("item.1") == pytest.approx(np.array([[2.0, 0.05, 0.625], [2.7, 0.55, 1.075]]), abs=1e-6)
    size = assessment.truck.frame.point(np.array([[2.45, 0.0, 0.0]]))[0]
    middle = box("tank.baffle.2").mean(axis=0)
    assert middle[0] == pytest.approx(size[0], abs=0.02)
    assert middle[1] == pytest.approx(0.0, abs=1e-6)
