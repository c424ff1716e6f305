"""Dimension figures that do not fit are moved out, with a leader, so that no two texts overlap.

A figure stays over the middle of its line when it is narrower than the line and free of other texts. Otherwise the
nearest free place is taken: beside the line when nothing runs there, else a row further out (or in), with a leader;
crossing lines of the drawing is allowed but avoided. The result depends on the scale: settle after choosing it.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import replace
from itertools import pairwise

from tunwright.sheets.annotate import (
    ARROW_MM,
    dimension_figure,
    dimension_frame,
    figure_leader,
    flatten,
)
from tunwright.sheets.drawing import End, Entity, Group, Line, LinearDimension, Point, Polyline, Text
from tunwright.sheets.geometry import flat_points
from tunwright.sheets.lettering import text_corners
from tunwright.sheets.search_place import Obstacles, figure_fits, figure_shift, span_mm


def _obstacles(entities: tuple[Entity, ...], scale: float) -> Obstacles:
    """What stands on the sheet before any figure is placed: texts, lines, figures placed earlier."""
    found = Obstacles()
    for dim in _dimensions(entities):
        bare = flatten([replace(dim, text="", text_shift_mm=None)], scale)
        found.lines.extend((part.start, part.end) for part in bare if isinstance(part, Line))
        if dim.text_shift_mm is not None:
            _add_figure(found, dim, scale)
    for part in flatten(_without_dimensions(entities), scale):
        if isinstance(part, Text):
            found.boxes.append(text_corners(part, scale))
        elif isinstance(part, Line):
            found.lines.append((part.start, part.end))
        elif isinstance(part, Polyline):
            found.lines.extend(pairwise(flat_points(part)))
    return found


def _add_figure(found: Obstacles, dim: LinearDimension, scale: float) -> None:
    found.boxes.append(text_corners(dimension_figure(dim, scale), scale))
    found.leaders.extend(pairwise(figure_leader(dim, scale)))


def settle(entities: Iterable[Entity], scale: float) -> tuple[Entity, ...]:
    """The entities with every dimension figure placed and every dimension's ends chosen for 1:scale.

    Figures already placed (`text_shift_mm` not None) stay where they are.
    """
    tree = tuple(entities)
    found = list(_dimensions(tree))
    if all(dim.text_shift_mm is not None for dim in found):
        return tree
    obstacles = _obstacles(tree, scale)
    done: dict[int, LinearDimension] = {i: dim for i, dim in enumerate(found) if dim.text_shift_mm is not None}
    waiting = [i for i in range(len(found)) if i not in done]
    waiting.sort(key=lambda i: not figure_fits(found[i], scale))  # those that fit take their places first
    ends = _choose_ends(found, scale)
    for i in waiting:
        dim = replace(found[i], ends=ends[i])
        done[i] = replace(dim, text_shift_mm=figure_shift(dim, obstacles, scale))
        _add_figure(obstacles, done[i], scale)
    return _rebuilt(tree, iter([done[i] for i in range(len(found))]))


def _dimensions(entities: Iterable[Entity]) -> Iterator[LinearDimension]:
    for entity in entities:
        if isinstance(entity, Group):
            yield from _dimensions(entity.entities)
        elif isinstance(entity, LinearDimension):
            yield entity


def _without_dimensions(entities: Iterable[Entity]) -> Iterator[Entity]:
    for entity in entities:
        if isinstance(entity, Group):
            yield from _without_dimensions(entity.entities)
        elif not isinstance(entity, LinearDimension):
            yield entity


def _rebuilt(entities: tuple[Entity, ...], dims: Iterator[LinearDimension]) -> tuple[Entity, ...]:
    def one(entity: Entity) -> Entity:
        if isinstance(entity, Group):
            return replace(entity, entities=_rebuilt(entity.entities, dims))
        return next(dims) if isinstance(entity, LinearDimension) else entity

    return tuple(one(entity) for entity in entities)


def _choose_ends(dims: list[LinearDimension], scale: float) -> list[tuple[End, End]]:
    """Arrows where there is room; between narrow neighbours a dot stands for both arrows; a lone one points inwards."""
    keys = [[_key(p, scale) for p in dimension_frame(dim, scale)[:2]] for dim in dims]
    narrow = [span_mm(dim, scale) < 2.0 * ARROW_MM + 1.0 for dim in dims]
    uses: dict[tuple[int, int], int] = {}
    dotted: set[tuple[int, int]] = set()
    for pair in keys:
        for key in pair:
            uses[key] = uses.get(key, 0) + 1
    for pair, is_narrow in zip(keys, narrow, strict=True):
        if is_narrow and max(uses[key] for key in pair) > 1:
            dotted.update(pair)

    free: dict[bool, End] = {True: "out", False: "arrow"}
    return [
        ("dot" if a in dotted else free[is_narrow], "dot" if b in dotted else free[is_narrow])
        for (a, b), is_narrow in zip(keys, narrow, strict=True)
    ]


def _key(point: Point, scale: float) -> tuple[int, int]:
    return (round(point[0] * 1e4 / scale), round(point[1] * 1e4 / scale))  # tenths of a millimetre of paper
