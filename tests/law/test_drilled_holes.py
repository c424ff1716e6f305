"""The drawing of the holes is true to size: DXF in millimetres, opened again by another program's reader."""

from __future__ import annotations

from pathlib import Path

import numpy as np
import pytest
from ezdxf.document import Drawing as Document
from ezdxf.filemanagement import readfile

from framed import KNOWN, assessed, groups, known, with_mounts
from tunwright.checks.assess import Assessment
from tunwright.sheets.annotate import flatten
from tunwright.sheets.drawing import Text
from tunwright.sheets.dxf import write_dxf
from tunwright.sheets.frame.hole_sheets import hole_drawing, hole_sheets
from tunwright.sheets.frame.holes import holes, zones

MEDIUM = {
    "M8": 9.0, "M10": 11.0, "M12": 13.5, "M14": 15.5, "M16": 17.5, "M18": 20.0, "M20": 22.0, "M22": 24.0, "M24": 26.0,
}  # fmt: skip
"""Diameters of clearance holes, medium series, ISO 273:1979 [mm]; M18 and M22 from memory."""

MOUNT = '[[mount]]\nname = "{name}"\nat = "{at} m"\nkind = "{kind}"\nbolts = {{ {bolts} }}\n'
GRID = 'size = "M20", columns = 3, rows = 2, spacing = "75 mm", row_spacing = "90 mm"'


def opened(assessment: Assessment, folder: Path) -> Document:
    document = readfile(write_dxf(hole_drawing(assessment), folder / "holes.dxf"))
    report = document.audit()
    assert (len(report.errors), len(report.fixes)) == (0, 0)
    return document


def circles(document: Document) -> np.ndarray:
    """x, y and diameter of every hole [mm], front to rear and from above."""
    drilled = document.modelspace().query("CIRCLE[layer=='HOLE']")
    found = [(c.dxf.center.x, c.dxf.center.y, 2.0 * c.dxf.radius) for c in drilled]
    return np.array(sorted(found, key=lambda row: (round(row[0], 3), -row[1]))).reshape(-1, 3)


def test_holes_stand_where_the_pattern_says(tmp_path: Path) -> None:
    front = MOUNT.format(name="front", at="2.8", kind="plate", bolts=f'{GRID}, drop = "85 mm"')
    pair = 'size = "M16", columns = 1, rows = 2, row_spacing = "70 mm"'
    rear = MOUNT.format(name="rear", at="5.0", kind="bracket", bolts=pair)
    document = opened(assessed(with_mounts(front + rear)), tmp_path)
    assert document.units == 4  # millimetres
    high = 1000.0 * float(known("quarry-carrier").build.chassis.frame.rail_height or 0.0)
    wanted = [(2800.0 + dx, -85.0 - dy, 22.0) for dx in (-75.0, 0.0, 75.0) for dy in (0.0, 90.0)]
    wanted += [(5000.0, -0.5 * high + dy, 17.5) for dy in (35.0, -35.0)]
    assert circles(document) == pytest.approx(np.array(wanted), abs=1e-6)


@pytest.mark.parametrize("size", MEDIUM)
def test_diameters_are_those_of_the_medium_series(size: str, tmp_path: Path) -> None:
    bolts = f'size = "{size}", columns = 2, rows = 1, spacing = "90 mm", edge = "60 mm"'
    document = opened(assessed(with_mounts(MOUNT.format(name="one", at="4.2", kind="plate", bolts=bolts))), tmp_path)
    assert circles(document)[:, 2] == pytest.approx([MEDIUM[size]] * 2)


@pytest.mark.parametrize("name", KNOWN)
def test_the_web_and_its_edges_are_true_to_size(name: str, tmp_path: Path) -> None:
    assessment = known(name)
    frame = assessment.build.chassis.frame
    document = opened(assessment, tmp_path)
    edges = document.modelspace().query("LINE[layer=='OUTLINE']")
    ends = np.array([(end.x, end.y) for line in edges for end in (line.dxf.start, line.dxf.end)])
    low, high = ends.min(axis=0), ends.max(axis=0)
    assert low == pytest.approx((1000.0 * float(frame.front or 0.0), -1000.0 * float(frame.rail_height or 0.0)))
    assert high == pytest.approx((1000.0 * float(frame.rear or 0.0), 0.0), abs=1e-9)


def test_zones_are_hatched_where_no_hole_may_be(tmp_path: Path) -> None:
    assessment = known("quarry-carrier")
    document = opened(assessment, tmp_path)
    found = set()
    for hatch in document.modelspace().query("HATCH[layer=='HATCH']"):
        points = np.array([vertex[:2] for vertex in hatch.paths[0].vertices])
        (left, low), (right, high) = points.min(axis=0), points.max(axis=0)
        found.add((round(left), round(low), round(right), round(high)))
    frame = assessment.build.chassis.frame
    front, rear, deep = (round(1000.0 * float(one or 0.0)) for one in (frame.front, frame.rear, frame.rail_height))
    wanted = {(front, -38, rear, 0), (front, -deep, rear, 38 - deep)}
    for one in frame.cross_member:
        at = round(1000.0 * float(one.at))
        wanted.add((max(at - 200, front), 38 - deep, min(at + 200, rear), -38))
    assert found == wanted


@pytest.mark.parametrize(
    ("at", "drop", "why"),
    [
        ("4.2", "80 mm", ""),
        ("4.2", "37 mm", "near the upper flange"),
        ("4.2", "38 mm", ""),
        ("4.2", "195 mm", "near the lower flange"),
        ("4.5", "80 mm", "near cross-member 5"),
    ],
)
def test_a_hole_in_a_zone_is_ringed_as_the_findings_say(at: str, drop: str, why: str) -> None:
    bolts = f'size = "M16", columns = 1, rows = 2, row_spacing = "70 mm", drop = "{drop}"'
    assessment = assessed(with_mounts(MOUNT.format(name="one", at=at, kind="plate", bolts=bolts)))
    assert {one.barred for one in holes(assessment.build)} - {""} == ({why} - {""})
    keys = {"mount-clear": why.startswith("near cross"), "hole-flange": why.endswith("flange")}
    for key, fails in keys.items():
        assert (assessment.finding(key).verdict == "fails") == fails
    ringed = [one for one in groups(hole_drawing(assessment).entities, "hole") if len(one.entities) == 4]
    assert bool(ringed) == bool(why)
    texts = [part for sheet in hole_sheets(assessment) for part in flatten(sheet.entities, sheet.scale)]
    told = [part.text for part in texts if isinstance(part, Text) and part.text.startswith("Ringed")]
    assert [why in note for note in told] == ([True] if why else [])


def test_zones_end_with_the_rail() -> None:
    build = known("quarry-carrier").build
    front, rear = float(build.chassis.frame.front or 0.0), float(build.chassis.frame.rear or 0.0)
    assert all(front <= zone.left < zone.right <= rear for zone in zones(build))
