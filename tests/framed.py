"""Builds whose frame is known, for the tests of its drawings, and what these tests ask of a drawing."""

from __future__ import annotations

import re
from functools import cache
from itertools import combinations

import numpy as np
from shapely.geometry import Polygon

from tunwright.build.reading import read_text
from tunwright.checks.assess import Assessment
from tunwright.demos import demo_text
from tunwright.sheets.annotate import flatten
from tunwright.sheets.drawing import Drawing, Entity, Group, Polyline, Text
from tunwright.sheets.lettering import text_corners

KNOWN = ("quarry-carrier", "village-carrier", "brush-carrier")
"""Demos whose frame is known; the brush carrier is written in US units."""

MOUNTS = re.compile(r"(?s)\[\[mount\]\].*?(?=\[\[(?!mount\b)|\Z)")


@cache
def known(name: str) -> Assessment:
    """A demo, assessed once."""
    return Assessment(read_text(demo_text(name)).build)


def with_mounts(mounts: str, name: str = "quarry-carrier") -> str:
    """A demo with other mounts."""
    text, count = MOUNTS.subn(mounts + "\n", demo_text(name), count=1)
    assert count == 1
    return text


def assessed(text: str) -> Assessment:
    return Assessment(read_text(text).build)


def groups(entities: list[Entity] | tuple[Entity, ...], name: str) -> list[Group]:
    """Groups of a name, wherever they are."""
    found: list[Group] = []
    for one in entities:
        if isinstance(one, Group):
            found += [one] if one.name == name else groups(one.entities, name)
    return found


def line_of(group: Group) -> np.ndarray:
    """The points of a group's polyline."""
    (line,) = [part for part in group.entities if isinstance(part, Polyline)]
    return np.array(line.points)


def overlapping(drawing: Drawing) -> list[tuple[str, str]]:
    """Texts of a drawing that share more than an edge."""
    texts = [part for part in flatten(drawing.entities, drawing.scale) if isinstance(part, Text)]
    boxes = [Polygon(text_corners(part, drawing.scale)) for part in texts]
    edges = np.array([box.bounds for box in boxes])
    meets = (edges[:, None, :2] < edges[None, :, 2:]).all(axis=2)
    meets &= meets.T
    tiny = (0.05 * drawing.scale / 1000.0) ** 2
    return [
        (texts[i].text, texts[j].text)
        for i, j in combinations(range(len(texts)), 2)
        if meets[i, j] and boxes[i].intersection(boxes[j]).area > tiny
    ]


def outside(drawing: Drawing, left: float, low: float, right: float, high: float) -> list[str]:
    """Texts that leave a rectangle [mm of paper]."""
    mm = drawing.scale / 1000.0
    found = []
    for part in flatten(drawing.entities, drawing.scale):
        if isinstance(part, Text):
            us, vs = zip(*text_corners(part, drawing.scale), strict=True)
            if min(us) < left * mm or max(us) > right * mm or min(vs) < low * mm or max(vs) > high * mm:
                found.append(part.text)
    return found
