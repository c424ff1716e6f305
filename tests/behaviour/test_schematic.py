"""The schematic of the pipework: everything is on it once, nothing lies over a text, states do not need colour."""

from __future__ import annotations

from collections import Counter
from itertools import pairwise
from pathlib import Path
from xml.etree import ElementTree as ET

import numpy as np
import pytest
from ezdxf.filemanagement import readfile

from drawn import assessed, groups, texts
from framed import overlapping
from plumbed import PUMP, build, duty, point, run, spray
from tunwright.build.pipework import Device, Spray, Valve
from tunwright.checks.assess import Assessment
from tunwright.checks.pipework.worked import Worked
from tunwright.demos import demo_text
from tunwright.sheets.annotate import flatten
from tunwright.sheets.drawing import Drawing, Entity, Group, Line, Polyline, Text
from tunwright.sheets.dxf import write_dxf
from tunwright.sheets.geometry import flat_points
from tunwright.sheets.layout import extents
from tunwright.sheets.lettering import text_corners
from tunwright.sheets.pipework.flows import half
from tunwright.sheets.pipework.schematic import symbols, valve_symbols
from tunwright.sheets.pipework.schematic.drawing import SCALE, schematic, schematic_drawing
from tunwright.sheets.pipework.schematic.network import Network
from tunwright.sheets.pipework.schematic.planned import planned
from tunwright.sheets.pipework.schematic.spot import Spot
from tunwright.sheets.pipework.schematic.standing import Standing
from tunwright.sheets.placing import crosses, four_wide
from tunwright.sheets.svg import write_svg

LOOP = build(
    [
        *(point(name) for name in ("inlet", "outlet", "ring north", "ring south", "header")),
        point("sump", "outlet = 1"),
        run("suction", "sump", "inlet", ["V1"], "gate valve"),
        PUMP.format(start="inlet", end="outlet"),
        run("north one", "outlet", "ring north", ["V2"], "globe valve"),
        run("south one", "outlet", "ring south", ["V3"], "swing check"),
        run("across", "ring north", "ring south", ["V4"]),
        run("to the header", "ring south", "header"),
        run("back to the pump", "header", "inlet", ["V5"], "lift check"),
        spray("bar", "header", "spray bar", 'valve = "S1"'),
        spray("reel", "ring north", "hose reel", "count = 2"),
        duty("wet", ["V1", "V2", "S1"], 'engine = "1500 rpm"\nthrottled = [{ valve = "V4", open = "40 %" }]'),
    ]
)
NO_PUMP = build(
    [
        point("sump of the tank at its rear end", "outlet = 1"),
        point("drain"),
        point("left alone, joined to nothing"),
        run("a drain of a name that takes more than a line", "sump of the tank at its rear end", "drain", ["shut-off"]),
        spray("end", "drain", "open end"),
        duty("empty it", ["shut-off"]),
    ],
    units="us",
)
PARTS = """
[[pipework.relief]]
name = "bypass"
from = "outlet"
to = "return"
opens = "3 bar"
full = "4 bar"
flow = "800 L/min"
[[pipework.regulator]]
name = "holds down"
on = "coupling"
sets = "2 bar"
[[pipework.device]]
name = "meter"
on = "filling"
kind = "flow meter"
loses = "0.1 bar"
flow = "900 L/min"
[[pipework.device]]
name = "filter"
on = "filling"
kind = "filter"
loses = "0.1 bar"
flow = "900 L/min"
"""
TWO_SOURCES = build(
    [
        point("pond", "open_water = true"),
        point("hydrant", 'hydrant = { static = "5 bar", residual = "3 bar", flow = "1500 L/min" }'),
        point("sump", "outlet = 1"),
        *(point(name) for name in ("inlet", "outlet")),
        point("mouth", "mouth = true"),
        point("return", "mouth = true"),
        run("draw", "pond", "inlet", ["F1"], "foot valve with strainer"),
        run("coupling", "hydrant", "inlet", ["V1"]),
        run("suction", "sump", "inlet", ["V2"]),
        PUMP.format(start="inlet", end="outlet"),
        run("filling", "outlet", "mouth", ["V3"]),
        run("filling beside it", "outlet", "mouth", ["V4"]),
        run("balance", "sump", "return", ["V5"]),
        PARTS,
        duty("fill", ["V1", "V3"], 'engine = "2000 rpm"'),
    ]
)
MANY = build(
    [
        point("sump", "outlet = 1"),
        *(point(f"tee {i}") for i in range(16)),
        run("first", "sump", "tee 0", ["V0"]),
        *(run(f"line {i}", f"tee {(i - 1) // 2}", f"tee {i}", [f"V{i}"]) for i in range(1, 16)),
        *(run(f"bridge {i}", f"tee {i}", f"tee {i + 5}") for i in range(9)),
        *(spray(f"head {i}", f"tee {i}") for i in range(7, 16)),
        duty("all", [f"V{i}" for i in range(12)]),
    ]
)
NETWORKS = {"loop": LOOP, "no pump": NO_PUMP, "two sources": TWO_SOURCES, "25 runs": MANY}


@pytest.fixture(scope="module", params=["quarry-carrier", *NETWORKS])
def plumbed_build(request: pytest.FixtureRequest) -> Assessment:
    return assessed(NETWORKS.get(request.param) or demo_text(request.param))


def drawings(assessment: Assessment) -> list[Drawing]:
    work = assessment.build.pipework
    assert work is not None
    return [schematic_drawing(assessment, name) for name in (None, *(one.name for one in work.duty))]


def named(entities: list[Entity] | tuple[Entity, ...], group: str) -> list[str]:
    return sorted(one.data["name"] for one in groups(entities, group))


def crossed(drawing: Drawing) -> list[str]:
    """Texts that a line runs through."""
    found = list(flatten(drawing.entities, drawing.scale))
    words = [part for part in found if isinstance(part, Text)]
    lines = [(*part.start, *part.end) for part in found if isinstance(part, Line)]
    outlines = [part for part in found if isinstance(part, Polyline)]
    lines += [(*a, *b) for part in outlines for a, b in pairwise(flat_points(part)) if a != b]
    corners = np.array([text_corners(part, drawing.scale) for part in words])
    boxes = np.hstack([corners.min(axis=1), corners.max(axis=1)])
    meets = crosses(four_wide(lines)[None], boxes[:, None]).any(axis=1)
    return [part.text for part, one in zip(words, meets, strict=True) if one]


def test_everything_is_there_once(plumbed_build: Assessment) -> None:
    work = plumbed_build.build.pipework
    assert work is not None
    valves = [one.name for one in work.valve] + [one.valve for one in work.spray if one.valve is not None]
    for drawing in drawings(plumbed_build):
        shown = drawing.entities
        assert named(shown, "run") == sorted(one.name for one in work.run)
        assert named(shown, "valve") == sorted(valves)
        assert named(shown, "point") == sorted(one.name for one in work.point)
        assert named(shown, "spray") == sorted(one.name for one in work.spray)
        assert named(shown, "relief") == sorted(one.name for one in work.relief)
        assert named(shown, "device") == sorted(one.name for one in work.device)
        assert named(shown, "regulator") == sorted(one.name for one in work.regulator)
        assert len(groups(shown, "pump")) == (work.pump is not None)


def test_no_text_lies_over_a_text_or_a_line(plumbed_build: Assessment) -> None:
    for drawing in drawings(plumbed_build):
        assert overlapping(drawing) == [], drawing.title
        assert crossed(drawing) == [], drawing.title


def test_a_line_through_a_text_would_be_found() -> None:
    at = (Text((0.0, 0.0), "delivery"), Line((-5.0, 1.0), (40.0, 1.0)))
    assert crossed(Drawing("", at, extents(at, SCALE), SCALE)) == ["delivery"]


def test_symbols_stand_apart(plumbed_build: Assessment) -> None:
    kinds = ("valve", "device", "pump", "relief", "regulator", "spray", "vent", "overflow")
    found = [one for kind in kinds for one in groups(list(schematic(plumbed_build)), kind)]
    rooms = [extents([one], SCALE) for one in found]
    for i, a in enumerate(rooms):
        for b in rooms[:i]:
            apart = a.right <= b.left or b.right <= a.left or a.top <= b.bottom or b.top <= a.bottom
            assert apart, (a, b)


def test_lines_lead_from_point_to_point(plumbed_build: Assessment) -> None:
    """Every run's line begins on the header of its first point and ends on that of its second."""
    shown = schematic(plumbed_build)
    work = plumbed_build.build.pipework
    assert work is not None
    at = {one.data["name"]: extents(_lines(one), SCALE) for one in groups(list(shown), "point")}
    for one in groups(list(shown), "run"):
        run_ = next(each for each in work.run if each.name == one.data["name"])
        own = [part for part in one.entities if isinstance(part, Line)]
        ends = [own[0].start, own[-1].end]
        for (u, v), name in zip(ends, (run_.start, run_.end), strict=True):
            room = at[name].grown(1e-6)
            there = room.left <= u <= room.right and room.bottom <= v <= room.top
            assert there, (run_.name, name)


def _lines(group: Group) -> list[Entity]:
    return [part for part in group.entities if not isinstance(part, Text)]


def fills(group: Group) -> list[str | None]:
    """Fills of the two triangles of a valve."""
    return [part.fill for part in group.entities if isinstance(part, Polyline) and len(part.points) == 3 and part.fill]


def test_a_valve_shows_how_it_stands_without_colour() -> None:
    shown = schematic(assessed(LOOP), duty="wet")
    valves = {one.data["name"]: one for one in groups(shown, "valve")}
    assert {name: one.data["state"] for name, one in valves.items() if name in ("V2", "V4", "S1")} == {
        "V2": "open", "V4": "part", "S1": "open",
    }  # fmt: skip
    assert fills(valves["V2"]) == ["sheet", "sheet"]
    assert fills(valves["V4"]) == ["ink", "sheet"]
    words = [part.text for part in valves["V4"].entities if isinstance(part, Text)]
    assert words == ["V4 · 40 %"]
    shut = {one.data["name"]: one for one in groups(schematic(assessed(LOOP)), "valve")}
    assert fills(shut["V2"]) == ["ink", "ink"]
    assert shut["V2"].data["state"] == "shut"


def test_the_normal_position_shows_no_figures(plumbed_build: Assessment) -> None:
    words = texts(schematic_drawing(plumbed_build))
    assert not [word for word in words if "L/min" in word or "US gpm" in word or "m/s" in word or "rpm" in word]


def test_figures_are_those_of_the_duty() -> None:
    quarry = assessed(demo_text("quarry-carrier"))
    worked = quarry.pipes.worked[0]
    state = half(worked)
    words = texts(schematic_drawing(quarry, worked.duty.name))
    assert f"{60_000 * state.flow('delivery'):.0f} L/min" in words
    assert f"{state.velocity('delivery'):.2f} m/s" in words
    assert f"{state.pressure('manifold') / 1e5:.2f} bar" in words
    assert state.pump is not None
    assert f"{state.pump.head:.1f} m head" in words
    us = assessed(demo_text("quarry-carrier").replace("[order]\n", '[order]\nunits = "us"\n', 1))
    assert any(word.endswith("US gpm") for word in texts(schematic_drawing(us, worked.duty.name)))


def test_what_carries_water_is_heavy_and_what_is_cut_off_dashed() -> None:
    shown = schematic(assessed(LOOP), duty="wet")
    runs = {one.data["name"]: one for one in groups(shown, "run")}
    layers = {name: {part.layer for part in one.entities if isinstance(part, Line)} for name, one in runs.items()}
    assert runs["north one"].data["state"] == "flows"
    assert layers["north one"] == {"outline"}
    assert layers["suction"] == {"outline"}
    empty = schematic(assessed(NO_PUMP.replace('open = ["shut-off"]', "open = []")), duty="empty it")
    (drain,) = groups(empty, "run")
    assert [part.layer for part in drain.entities if isinstance(part, Line)] == ["steel", "hidden"]
    states = {one.data["name"]: one.data["state"] for one in groups(empty, "point")}
    assert states["drain"] == "cut-off"


def test_the_arrow_points_where_water_flows() -> None:
    """In the ring water goes round as the heads say, not as the file writes its runs."""
    loop = assessed(LOOP)
    state = half(loop.pipes.worked[0])
    for one in groups(schematic(loop, duty="wet"), "run"):
        flow = state.flow(one.data["name"])
        heads = [part for part in one.entities if isinstance(part, Polyline) and part.fill == "ink"]
        assert len(heads) == (abs(flow) > 1e-5)
        if heads:
            lines = [part for part in one.entities if isinstance(part, Line)]
            along = np.sign(lines[-1].end[0] - lines[0].start[0]) * np.sign(flow)
            assert np.sign(heads[0].points[0][0] - heads[0].points[1][0]) == along


def test_all_duties_are_drawn_alike() -> None:
    """So that nothing jumps when a page turns a valve."""
    quarry = assessed(demo_text("quarry-carrier"))

    def places(duty: str | None) -> list[tuple[float, ...]]:
        found = [one for one in groups(schematic(quarry, duty=duty), "valve") if one.data["kind"] == "butterfly valve"]
        return [tuple(np.round(_lines(one)[-1].centre, 6)) for one in found]  # type: ignore[union-attr]

    duties = [worked.duty.name for worked in quarry.pipes.worked]
    assert places(duties[0]) == places(duties[1]) == places(None)


def test_what_is_reached() -> None:
    two = assessed(TWO_SOURCES)
    plumbing = two.pipes.plumbing
    assert plumbing is not None
    standing = Standing(plumbing, two.pipes.worked[0])
    assert {"hydrant", "inlet", "outlet", "mouth"} <= standing.reached
    assert standing.valve("F1") == ("open" if standing.flow(plumbing.runs["draw"]) else "shut")


def test_layers_lead_from_left_to_right() -> None:
    for text in (*NETWORKS.values(), demo_text("quarry-carrier")):
        work = assessed(text).build.pipework
        assert work is not None
        network = Network(work)
        plan = planned(network)
        assert all(plan.column[way.start] != plan.column[way.end] for way in network.ways)
        pumps = [i for i, way in enumerate(network.ways) if way.item is work.pump]
        assert not any(plan.mirrored(i) for i in pumps)


def test_a_tree_is_drawn_without_crossings() -> None:
    text = build(
        [
            point("sump", "outlet = 1"),
            *(point(f"tee {i}") for i in range(15)),
            run("first", "sump", "tee 0"),
            *(run(f"line {i}", f"tee {(i * 7 % i if i > 1 else 0) or (i - 1) // 2}", f"tee {i}") for i in range(1, 15)),
        ]
    )
    work = assessed(text).build.pipework
    assert work is not None
    network = Network(work)
    plan = planned(network)
    for i, way in enumerate(network.ways):
        left, right = (plan.column[end] for end in plan.ends(i))
        row = plan.rows.of_way[i]
        crossing = [p for p in plan.covering(row) if left < plan.column[p] < right and p not in (way.start, way.end)]
        assert crossing == [], i


def test_the_largest_pipework_is_drawn() -> None:
    more = [(f"point {i * 2}", f"point {(i * 17 + 5) % 59}") for i in range(20)]
    text = build(
        [
            point("sump", "outlet = 1"),
            *(point(f"point {i}") for i in range(59)),
            run("first", "sump", "point 0"),
            *(run(f"run {i}", f"point {(i * 13) % i}", f"point {i}", [f"V{i}"]) for i in range(1, 59)),
            *(run(f"more {i}", start, end) for i, (start, end) in enumerate(more) if start != end),
        ]
    )
    drawing = schematic_drawing(assessed(text))
    assert overlapping(drawing) == []
    assert len(groups(drawing.entities, "point")) == 60


@pytest.mark.parametrize("kind", Valve.model_fields["kind"].annotation.__args__)  # type: ignore[union-attr]
@pytest.mark.parametrize("state", ["open", "shut", "part"])
def test_valve_symbols(kind: str, state: valve_symbols.State) -> None:
    drawn = {}
    for works in ("hand", "air", "electric", "itself"):
        for way in (1, -1):
            drawn[works, way] = valve_symbols.valve_symbol(Spot((0.0, 0.0), way), kind, state, works)
            room = extents(drawn[works, way], SCALE)
            assert -8.0 < room.left < 0.0 < room.right < 8.0
            assert room.top <= valve_symbols.REACH + 0.01
    assert drawn["itself", 1] != drawn["itself", -1] or kind == "gate valve"


def test_every_symbol_can_be_told_from_the_others() -> None:
    spot = Spot((0.0, 0.0))
    ends = Spray.model_fields["kind"].annotation.__args__  # type: ignore[union-attr]
    devices = Device.model_fields["kind"].annotation.__args__  # type: ignore[union-attr]
    kinds = Valve.model_fields["kind"].annotation.__args__  # type: ignore[union-attr]
    every = [
        *(symbols.end_symbol(spot, kind) for kind in ends),
        *(symbols.device_symbol(spot, kind) for kind in devices),
        *(valve_symbols.valve_symbol(spot, kind, state) for kind in kinds for state in ("open", "shut")),
        valve_symbols.relief_symbol(spot, "shut"),
        valve_symbols.relief_symbol(spot, "open"),
        valve_symbols.regulator_symbol(spot),
        symbols.pump_symbol(spot, turns=True),
        symbols.pump_symbol(spot, turns=False),
        symbols.hydrant_symbol(spot),
        symbols.open_water_symbol(spot),
        symbols.vent_symbol(spot),
        symbols.outflow_symbol(spot),
        symbols.arrow_symbol(spot),
        symbols.dot_symbol(spot),
        symbols.tank_symbol(spot, 100.0, 20.0, 0.0),
        symbols.tank_symbol(spot, 100.0, 20.0, 12.0),
    ]
    assert max(Counter(map(repr, every)).values()) == 1


def test_files_are_written(plumbed_build: Assessment, tmp_path: Path) -> None:
    for i, drawing in enumerate(drawings(plumbed_build)[:2]):
        for theme in ("paper", "css"):
            svg = write_svg(drawing, theme=theme)  # type: ignore[arg-type]
            ET.fromstring(svg)  # noqa: S314  our own text
            assert ("data-part" in svg) == (theme == "css")
        path = write_dxf(drawing, tmp_path / f"{i}.dxf")
        document = readfile(path)
        assert not document.audit().errors
        written = {entity.dxf.text for entity in document.modelspace().query("TEXT")}
        assert set(texts(drawing)) <= written


def test_a_page_finds_a_valve_by_its_name() -> None:
    svg = write_svg(schematic_drawing(assessed(LOOP), "wet"), theme="css")
    assert 'data-part="valve" data-kind="ball valve" data-name="V4" data-state="part"' in svg


def test_what_cannot_be_drawn_is_said() -> None:
    with pytest.raises(ValueError, match="no pipework"):
        schematic(assessed(demo_text("quarry-carrier").split("[pipework]")[0]))
    with pytest.raises(ValueError, match="There is no duty"):
        schematic(assessed(LOOP), duty="nothing of the kind")


def test_a_duty_that_was_not_solved_shows_its_valves_and_says_so() -> None:
    loop = assessed(LOOP)
    trouble = "No flow was found with which every pipe agrees."
    loop.pipes.__dict__["worked"] = (Worked(loop.pipes.worked[0].duty, None, trouble),)
    drawing = schematic_drawing(loop, "wet")
    assert f"No figures: {trouble}" in texts(drawing)
    assert {one.data["state"] for one in groups(drawing.entities, "valve")} == {"open", "shut", "part"}
    assert not [word for word in texts(drawing) if "L/min" in word]
    assert overlapping(drawing) == []
