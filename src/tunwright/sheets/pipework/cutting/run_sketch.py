"""The isometric sketch of one run: its pipe, and words beside its legs, corners and ends [mm of paper]."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from itertools import pairwise

from tunwright.build.kind import System
from tunwright.build.shown import MINUS
from tunwright.sheets.drawing import Circle, Entity, Group, Line, Point, Polyline
from tunwright.sheets.layout import extents
from tunwright.sheets.pipework.cutting.beside_lines import BesideLines
from tunwright.sheets.pipework.cutting.lists import CUT
from tunwright.sheets.pipework.listing import said
from tunwright.sheets.pipework.lists import size_name
from tunwright.sheets.pipework.words_beside import PITCH, Words, named
from tunwright.shop.pipe_cuts import Bent, Piece, RunCuts
from tunwright.shop.pipe_turns import degrees

_COS, _SIN = math.cos(math.pi / 6.0), math.sin(math.pi / 6.0)
_LEAST, _ROOT = 14.0, 11.0  # a leg on paper: so much, and so much for the root of its length in metres [mm]
_ALONG = (0.5, 0.35, 0.65, 0.2, 0.8)  # where on a leg its words may point at [-]
_TICK, _DOT, _ROUND, _STEPS = 1.6, 0.7, 4.0, 6
_ASLANT = 0.005  # a leg that strays farther than this from an axis is told axis by axis [m]
_WAYS = (("forward", "back"), ("left", "right"), ("down", "up"))


def seen(point: Sequence[float]) -> Point:
    """A point of the vehicle, or a direction, on the sketch.

    point: back, right, up
    """
    back, right, up = point
    return (back + right) * _COS, (right - back) * _SIN + up


class RunSketch:
    """A sketch in the making, in millimetres of paper.

    one: the run in pieces
    system: "metric" or "us"
    part: its legs against their usual length on paper
    """

    def __init__(self, one: RunCuts, system: System, part: float) -> None:
        self.one, self.run, self.system = one, one.run, system
        self.at: list[Point] = [(0.0, 0.0)]
        for a, b in pairwise(self.run.points):
            self.at.append(_on_paper(self.at[-1], [q - p for p, q in zip(a, b, strict=True)], part))
        marks = [line for end, inside, count in self._end_marks() for line in _strokes(end, inside, count)]
        self.beside = BesideLines([*pairwise(self.at), *marks])

    def drawn(self, *, legs_first: bool) -> Group:
        """Pipe, marks and words.

        legs_first: the words of legs are placed before those of corners
        """
        words = [*self._ends(), *(self._legs() if legs_first else self._corners())]
        words += self._corners() if legs_first else self._legs()
        entities = (*self._pipe(), *words, *self._title(words))
        return Group("pipe", entities, {"mark": self.run.mark.lower()})

    # lines

    def _pipe(self) -> Iterator[Entity]:
        points = self.at if self.one.bent is None else _rounded(self.at)
        yield Polyline(tuple(metres(one) for one in points), "outline")
        dot = "ink" if self.one.bent is None else "sheet"
        middles = points[_STEPS // 2 + 1 :: _STEPS + 1] if self.one.bent is not None else points[1:-1]
        yield from (Circle(metres(one), _DOT / 1000.0, "thin", dot) for one in middles[: len(self.at) - 2])
        for end, inside, count in self._end_marks():
            yield from (Line(metres(a), metres(b), "outline") for a, b in _strokes(end, inside, count))

    def _end_marks(self) -> Iterator[tuple[Point, Point, int]]:
        """Each end, the corner before it, and how many strokes stand there: one, two for a flange."""
        for end, inside in ((0, 1), (-1, -2)):
            flanged = self.run.flanged[end] and self.run.drilling is not None
            yield self.at[end], self.at[inside], 2 if flanged else 1

    # words

    def _legs(self) -> Iterator[Entity]:
        """Each leg with the mark and the length of its piece, and how long it is from middle to middle."""
        for i, (a, b) in enumerate(pairwise(self.at)):
            spots = [(a[0] + part * (b[0] - a[0]), a[1] + part * (b[1] - a[1])) for part in _ALONG]
            yield from self.beside.put(self._leg_words(i), spots, _square(a, b))

    def _leg_words(self, number: int) -> list[Words]:
        a, b = self.run.points[number], self.run.points[number + 1]
        way = [q - p for p, q in zip(a, b, strict=True)]
        told = [Words(self._length(math.hypot(*way)), quiet=True)]
        if sorted(map(abs, way))[1] > _ASLANT:
            told += [Words(words, quiet=True) for words in _along(way, self.system)]
        if self.one.bent is None:
            return [Words(_piece_words(self.one.pieces[number], self.system), bold=True), *told]
        return told

    def _ends(self) -> Iterator[Entity]:
        for end, inside, name in ((0, 1, self.run.start), (-1, -2, self.run.end)):
            words = [*named(name)]
            if self.run.flanged[end] and self.run.drilling is not None:
                words.append(Words(f"flange {self.run.drilling}", quiet=True))
            yield from self.beside.put(words, [self.at[end]], _from(self.at[inside], self.at[end]))

    def _corners(self) -> Iterator[Entity]:
        """Each corner with its number and what stands there."""
        told = self._turned() if self.one.bent is None else self._bends(self.one.bent)
        for (before, at, behind), (first, second) in zip(_triples(self.at), told, strict=True):
            words = [Words(first), *named(second, quiet=True, signs=24)]
            yield from self.beside.put(words, [at], _outside(before, at, behind))

    def _turned(self) -> Iterator[tuple[str, str]]:
        for one in self.one.turns:
            yield f"{one.number}: {degrees(one.angle)}", one.what

    def _bends(self, bent: Bent) -> Iterator[tuple[str, str]]:
        bends = zip(bent.tube.angles, bent.tube.turns, bent.starts, strict=True)
        for i, (angle, turn, at) in enumerate(bends, start=1):
            turned = f", turned {degrees(turn).replace('-', MINUS)}" if i > 1 else ""
            yield f"{i}: {degrees(angle)}{turned}", f"begins at {self._length(at)}"

    def _title(self, words: Sequence[Entity]) -> Iterator[Entity]:
        """What run it is, over everything else."""
        room = extents([*self._pipe(), *words], 1.0)
        size = f"{self.run.size.series} {size_name(self.run.size, self.system)}"
        lines = [Words(f"{self.run.mark}  {self.run.name}", bold=True), Words(size, quiet=True)]
        if self.one.bent is not None:
            piece = self.one.pieces[0]
            told = f"{_piece_words(piece, self.system)}, bends of radius {self._length(self.one.bent.tube.radius)}"
            lines.append(Words(told, quiet=True))
        top = 1000.0 * room.top + 3.0 + PITCH * (len(lines) - 1)
        for i, one in enumerate(lines):
            yield one.at((room.left, (top - PITCH * i) / 1000.0), "start")

    def _length(self, value: float) -> str:
        return said(value, CUT, self.system)


def _piece_words(piece: Piece, system: System) -> str:
    if piece.length is None:
        return f"{piece.mark}: to fit"
    return f"{piece.mark}: {said(piece.length, CUT, system)}" if piece.length > 0.0 else f"{piece.mark}: none"


def _along(way: Sequence[float], system: System) -> list[str]:
    """How far a leg goes along each axis of the vehicle."""
    parts = [(value, names[value > 0.0]) for value, names in zip(way, _WAYS, strict=True)]
    return [f"{said(abs(value), CUT, system)} {name}" for value, name in parts if abs(value) > 5e-4]


def _on_paper(start: Point, way: Sequence[float], part: float) -> Point:
    """The end of a leg: its own direction, a length drawn together."""
    u, v = seen(way)
    size, length = math.hypot(u, v), math.hypot(*way)
    drawn = part * (_LEAST + _ROOT * math.sqrt(length))
    if size < 1e-3 * length:  # seen end on
        return start[0] + drawn, start[1]
    return start[0] + drawn * u / size, start[1] + drawn * v / size


def _rounded(points: Sequence[Point]) -> list[Point]:
    """A way whose corners are round."""
    found = [points[0]]
    for before, at, behind in _triples(points):
        a, b = _towards(at, before), _towards(at, behind)
        steps = [i / _STEPS for i in range(_STEPS + 1)]
        found += [
            (
                (1 - t) ** 2 * a[0] + 2 * t * (1 - t) * at[0] + t**2 * b[0],
                (1 - t) ** 2 * a[1] + 2 * t * (1 - t) * at[1] + t**2 * b[1],
            )
            for t in steps
        ]
    return [*found, points[-1]]


def _towards(at: Point, other: Point) -> Point:
    part = _ROUND / max(math.dist(at, other), 2.0 * _ROUND)
    return at[0] + part * (other[0] - at[0]), at[1] + part * (other[1] - at[1])


def _triples(points: Sequence[Point]) -> Iterator[tuple[Point, Point, Point]]:
    yield from zip(points, points[1:], points[2:], strict=False)


def _strokes(at: Point, inside: Point, count: int) -> Iterator[tuple[Point, Point]]:
    """Strokes across the end of a pipe."""
    along = _from(inside, at)
    u, v = math.cos(along), math.sin(along)
    for i in range(count):
        x, y = at[0] - i * u, at[1] - i * v
        yield (x - _TICK * v, y + _TICK * u), (x + _TICK * v, y - _TICK * u)


def _from(a: Point, b: Point) -> float:
    return math.atan2(b[1] - a[1], b[0] - a[0])


def _square(a: Point, b: Point) -> float:
    """The way square to a leg, upwards; to the right of one that stands upright."""
    turn = _from(a, b) + 0.5 * math.pi
    if abs(math.sin(turn)) < 1e-9:
        return 0.0
    return turn if math.sin(turn) > 0.0 else turn + math.pi


def _outside(before: Point, at: Point, behind: Point) -> float:
    """The way out of a corner."""
    a, b = _from(before, at), _from(behind, at)
    u, v = math.cos(a) + math.cos(b), math.sin(a) + math.sin(b)
    return math.atan2(v, u) if math.hypot(u, v) > 1e-6 else a + 0.5 * math.pi


def metres(point: Point) -> Point:
    """Millimetres of paper as a drawing has them.

    point: the point [mm]
    """
    return point[0] / 1000.0, point[1] / 1000.0
