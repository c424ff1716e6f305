"""Names on a view: in their box where they fit, else beside it with a leader, never over another text.

Places are judged in millimetres of paper for one scale; crossing a line or a filled area costs, crossing a text or
another leader is not done while any other place is left.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from functools import cached_property
from itertools import pairwise, product

import numpy as np

from tunwright.sheets.annotate import SHELF_MM, flatten
from tunwright.sheets.drawing import Circle, Entity, Line, Point, Polyline, Primitive, Text
from tunwright.sheets.lettering import SPARE, text_corners, text_width
from tunwright.sheets.placing import Numbers, crosses, four_wide, meet, overlaps
from tunwright.sheets.views.shapes import coarse

LABEL_MM = 2.2
_LAYER = "dimension"
_ROW = 1.7  # distance of lines of one name, in letter heights
_ACROSS = (2.0, 4.5, 8.0, 13.0, 20.0, 30.0)
_AWAY = (4.0, 6.5, 9.0, 12.0, 16.0, 21.0, 28.0, 36.0)
_LONG = 19  # letters; a longer name takes two lines
_DOT_MM = 0.45
_FILLED = {"steel": 12.0, "ink": 40.0, "tyre": 40.0, "water": 2.0, "hatch": 3.0, "bad": 40.0, "sheet": 0.6}
_DARK = 20.0
_AT_ONCE = 24  # places looked at together
_LINE, _LEADER_LINE, _CROSSED, _COVERED = 7.0, 0.8, 60.0, 600.0


@dataclass(frozen=True)
class Label:
    """A name to be placed.

    at: what it points at [m]
    box: width and height of the box about `at` it may stand in [m], None where it needs a leader
    sides: which way a leader may go: 1 up, -1 down
    """

    at: Point
    text: str
    box: Point | None = None
    sides: tuple[int, ...] = (1, -1)


class Board:
    """What stands on a view already, in millimetres of paper."""

    def __init__(self, entities: Iterable[Entity], scale: float) -> None:
        self.mm = 1000.0 / scale
        self.scale = scale
        self.texts: list[tuple[float, ...]] = []
        self.leaders: list[tuple[float, ...]] = []
        self.lines: list[tuple[float, ...]] = []
        self.fills: list[tuple[float, ...]] = []
        self.weights: list[float] = []
        self.covers: list[tuple[tuple[float, ...], int]] = []  # what hides lines, and how many lines come before it
        for part in flatten(entities, scale):
            self._add(part)

    def _add(self, part: Primitive) -> None:
        if isinstance(part, Text):
            self.texts.append(self._rectangle(text_corners(part, self.scale)))
        elif isinstance(part, Line):
            self.lines.append(self._row(part.start, part.end))
        elif isinstance(part, Circle):
            self._add_circle(part)
        elif isinstance(part, Polyline):
            points = coarse(part)
            if part.layer != "area":
                self.lines.extend(self._row(p, q) for p, q in pairwise(points))
            self._add_fill(self._rectangle(points), part.fill)
            if part.fill == "sheet":
                self.covers.append((self._rectangle(points), len(self.lines)))

    def _add_circle(self, part: Circle) -> None:
        (u, v), r = part.centre, part.radius
        turn = [i * math.pi / 8.0 for i in range(17)]
        ring = [(u + r * math.cos(t), v + r * math.sin(t)) for t in turn]
        self.lines.extend(self._row(p, q) for p, q in pairwise(ring))
        self._add_fill(self._rectangle([(u - 0.8 * r, v - 0.8 * r), (u + 0.8 * r, v + 0.8 * r)]), part.fill)

    def _add_fill(self, rectangle: tuple[float, ...], fill: str | None) -> None:
        if fill in _FILLED:
            self.fills.append(rectangle)
            self.weights.append(_FILLED[fill])

    def _row(self, p: Point, q: Point) -> tuple[float, ...]:
        return (p[0] * self.mm, p[1] * self.mm, q[0] * self.mm, q[1] * self.mm)

    def _rectangle(self, points: Sequence[Point]) -> tuple[float, ...]:
        us, vs = [p[0] * self.mm for p in points], [p[1] * self.mm for p in points]
        return (min(us), min(vs), max(us), max(vs))

    def place(self, labels: Iterable[Label]) -> list[Entity]:
        """The labels as texts and leaders; those with a box first, then the others in their order."""
        placed: list[Entity] = []
        waiting: list[Label] = []
        for label in labels:
            inside = self._inside(label)
            placed.extend(inside)
            if not inside:
                waiting.append(label)
        for label in waiting:
            placed.extend(self._led(label))
        return placed

    def _inside(self, label: Label) -> list[Text]:
        """The name in its box, on up to three lines; empty where it does not fit or would cover something."""
        if label.box is None:
            return []
        width, height = label.box[0] * self.mm - 1.0, label.box[1] * self.mm - 1.0
        before = self._hidden_by(self._about(label.at, width + 1.0, height + 0.2))
        for lines in _broken(label.text):
            wide = max(SPARE * text_width(line, LABEL_MM) for line in lines)
            tall = LABEL_MM * (1.0 + _ROW * (len(lines) - 1))
            rectangle = self._about(label.at, wide, tall)
            if wide <= width and tall <= height and self._free(rectangle, before):
                self.texts.append(rectangle)
                return self._lines(label, lines, tall)
        return []

    def _about(self, at: Point, wide: float, tall: float) -> tuple[float, ...]:
        x, y = at[0] * self.mm, at[1] * self.mm
        return (x - wide / 2.0, y - tall / 2.0 - 0.4, x + wide / 2.0, y + tall / 2.0 + 0.4)

    def _hidden_by(self, rectangle: tuple[float, ...]) -> int:
        """How many of the lines the box of a label hides, it being drawn over them."""
        found = [count for cover, count in self.covers if np.allclose(cover, rectangle, atol=0.01)]
        return max(found, default=0)

    def _free(self, rectangle: tuple[float, ...], before: int) -> bool:
        rect = np.asarray(rectangle)
        if overlaps(rect, four_wide(self.texts)).any() or crosses(self._segments[before:], rect).any():
            return False
        fills, weights = self._areas
        return not overlaps(rect, fills[weights > _DARK]).any()

    def _lines(self, label: Label, lines: list[str], tall: float) -> list[Text]:
        first = tall / 2.0 - LABEL_MM
        rows = [first - i * _ROW * LABEL_MM for i in range(len(lines))]
        return [
            Text(label.at, line, _LAYER, LABEL_MM, "middle", shift_mm=(0.0, row))
            for line, row in zip(lines, rows, strict=True)
        ]

    def _led(self, label: Label) -> list[Entity]:
        """The name at the cheapest elbow."""
        lines = _shelved(label.text)
        for grid in (_GRID, _FAR_GRID):
            rect, arm, cost = self._best(label, lines, _elbows(label.sides, grid))
            if cost < _COVERED:
                break
        self.texts.append(tuple(rect.tolist()))
        self.leaders.append(tuple(arm.tolist()))
        return self._drawn(lines, arm.tolist(), halo=bool(crosses(self._segments, rect).any()))

    def _best(self, label: Label, lines: list[str], elbows: Numbers) -> tuple[Numbers, Numbers, float]:
        """Box, arm and cost of the cheapest of the elbows."""
        back, out = self._foot(label)
        elbows, back = np.tile(elbows, (len(back), 1)), np.repeat(back, len(elbows))
        foot = np.asarray(label.at) * self.mm + np.sign(elbows) * np.column_stack([back, np.full(len(back), out)])
        wide = max(SPARE * text_width(line, LABEL_MM) for line in lines) + 1.0
        turns = elbows + foot
        rects, arms = _text_boxes(turns, elbows[:, 0], wide, len(lines)), np.hstack([foot, turns])
        best, cost = self._cheapest(rects, arms, 0.35 * np.abs(elbows[:, 0]) + 0.8 * np.abs(elbows[:, 1]))
        return rects[best], arms[best], cost

    def _foot(self, label: Label) -> tuple[Numbers, float]:
        """Where a leader may begin in its box: across, against its own direction, and towards its edge [mm]."""
        if label.box is None:
            return np.zeros(1), 0.0
        wide, tall = (side * self.mm / 2.0 for side in label.box)
        return np.asarray([0.0, -0.7 * wide]), max(0.0, tall - 1.5)

    def _drawn(self, lines: list[str], arm: list[float], *, halo: bool) -> list[Entity]:
        u, v, turn_u, turn_v = (x / self.mm for x in arm)
        side, anchor = (1.0, "start") if turn_u >= u else (-1.0, "end")
        mm = 1.0 / self.mm
        wide = max(text_width(line, LABEL_MM) for line in lines) + 1.0
        turn = (turn_u, turn_v)
        shelf = (turn_u + side * wide * mm, turn_v)
        rows = (SHELF_MM, -LABEL_MM - 1.0)
        texts = [
            Text(turn, line, _LAYER, LABEL_MM, anchor, shift_mm=(side * 0.5, row), halo=halo)  # type: ignore[arg-type]
            for line, row in zip(lines, rows, strict=False)
        ]
        return [Polyline(((u, v), turn, shelf), _LAYER), Circle((u, v), _DOT_MM * mm, _LAYER, "ink"), *texts]

    def _cheapest(self, rects: Numbers, arms: Numbers, way: Numbers) -> tuple[int, float]:
        """The cheapest place and its cost; lines are looked at until a place costs more without them."""
        before = way + self._over_texts(rects, arms)
        order = np.argsort(before, kind="stable")
        best, least = int(order[0]), math.inf
        for some in (order[i : i + _AT_ONCE] for i in range(0, len(order), _AT_ONCE)):
            if before[some[0]] >= least:
                break
            cost = before[some] + self._over_lines(rects[some], arms[some])
            if cost.min() < least:
                best, least = int(some[cost.argmin()]), float(cost.min())
        return best, least

    def _over_texts(self, rects: Numbers, arms: Numbers) -> Numbers:
        """What places cost for the texts, leaders and areas they cover or cross."""
        texts, leaders = four_wide(self.texts), four_wide(self.leaders)
        covered = overlaps(rects[:, None], texts[None]).sum(axis=1)
        taken = crosses(arms[:, None], texts[None]).sum(axis=1)
        taken += meet(arms[:, None], leaders[None]).sum(axis=1) + crosses(leaders[None], rects[:, None]).sum(axis=1)
        fills, weights = self._areas
        dark = crosses(arms[:, None], fills[weights > _DARK][None]).sum(axis=1)
        cost = _COVERED * covered + _CROSSED * (taken + 0.25 * dark) + overlaps(rects[:, None], fills[None]) @ weights
        return np.asarray(cost)

    def _over_lines(self, rects: Numbers, arms: Numbers) -> Numbers:
        """What places cost for the lines they cross."""
        low, high, every = rects[:, :2].min(axis=0), rects[:, 2:].max(axis=0), self._segments
        ends = np.minimum(every[:, :2], every[:, 2:]), np.maximum(every[:, :2], every[:, 2:])
        near = every[(ends[0] < high).all(axis=1) & (ends[1] > low).all(axis=1)]
        lettered = crosses(near[None], rects[:, None]).sum(axis=1)
        return np.asarray(_LINE * lettered + _LEADER_LINE * meet(arms[:, None], near[None]).sum(axis=1))

    @cached_property
    def _segments(self) -> Numbers:
        """The lines, once all of them stand."""
        return four_wide(self.lines)

    @cached_property
    def _areas(self) -> tuple[Numbers, Numbers]:
        """The filled areas and what covering each of them costs, once all of them stand."""
        return four_wide(self.fills), np.asarray(self.weights, dtype=float)


def _elbows(sides: tuple[int, ...], grid: Sequence[Point]) -> Numbers:
    return np.asarray([(k * across, side * away) for side in sides for k in (1, -1) for across, away in grid])


_GRID = tuple(product(_ACROSS, _AWAY))
_FAR_GRID = tuple(product((*_ACROSS, 45.0, 65.0), (*_AWAY, 48.0, 64.0, 84.0)))  # for a crowded view


def _text_boxes(turns: Numbers, side: Numbers, wide: float, rows: int) -> Numbers:
    """Boxes of a name on its shelf, from each elbow outwards; a second row stands under the shelf."""
    left = np.where(side >= 0.0, turns[:, 0], turns[:, 0] - wide)
    low = turns[:, 1] - (0.3 if rows == 1 else 1.35 * LABEL_MM + 1.0)
    high = turns[:, 1] + SHELF_MM + 1.2 * LABEL_MM
    return np.stack([left, low, left + wide, high], axis=-1)


def _shelved(text: str) -> list[str]:
    """The name on one line, or a long one over and under its shelf."""
    return list(_broken(text))[1] if len(text) > _LONG and " " in text else [text]


def _broken(text: str) -> Iterator[list[str]]:
    """The name on one, two and three lines, broken between words as evenly as it goes."""
    words = [word for word in text.split(" ") if word]  # what a no-break space joins stays together
    for count in range(1, min(3, len(words)) + 1):
        cuts = [tuple(sorted(c)) for c in product(range(1, len(words)), repeat=count - 1)]
        ways = [[" ".join(words[i:j]) for i, j in pairwise((0, *c, len(words)))] for c in cuts]
        yield min(ways, key=lambda lines: max(map(len, lines)))
