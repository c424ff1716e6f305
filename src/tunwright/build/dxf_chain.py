"""Lines and arcs joined end to end into closed outlines."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray
from scipy.sparse import coo_array
from scipy.sparse.csgraph import connected_components
from scipy.spatial import cKDTree

from tunwright.build.dxf_curves import JOIN, Piece
from tunwright.build.dxf_refused import OutlineRefused

Floats = NDArray[np.float64]


_CROWDED = 30  # ends at one place, on average, from which on no outline can be told


@dataclass(frozen=True, eq=False)
class Open:
    """An open end, or a place where more than two lines meet.

    here: the end [mm]
    there: the nearest other open end [mm]
    gap: distance between them [mm]
    branch: more than two lines meet here
    """

    here: Floats
    there: Floats
    gap: float
    branch: bool = False


def chained(pieces: Sequence[Piece]) -> tuple[list[Piece], list[Open]]:
    """The closed outlines, and where chains stay open.

    pieces: lines and curves
    """
    outlines = [piece for piece in pieces if piece.closed and len(piece.points) > 2]
    loose = _once([piece for piece in pieces if not piece.closed])
    if not loose:
        return outlines, []
    ends = np.array([end for piece in loose for end in (piece.points[0], piece.points[-1])])
    knots = _knots(ends)
    at: dict[int, list[int]] = {}
    for end, knot in enumerate(knots):
        at.setdefault(knot, []).append(end)
    done: set[int] = set()
    stopped: list[list[int]] = []
    for first in range(len(loose)):
        if first not in done:
            entered, closes = _walk(first, knots, at)
            done.update(end // 2 for end in entered)
            if closes:
                outlines.append(_joined(loose, entered))
            else:
                stopped.append(entered)
    return outlines, _gaps(ends, knots, at, stopped)


def _once(pieces: list[Piece]) -> list[Piece]:
    """Pieces less those drawn twice, one upon the other."""
    kept: dict[tuple[float, ...], Piece] = {}
    for piece in pieces:
        inner = piece.points[len(piece.points) // 2] if len(piece.points) > 2 else piece.points.mean(axis=0)
        both = sorted([tuple(np.round(piece.points[0] / JOIN)), tuple(np.round(piece.points[-1] / JOIN))])
        kept.setdefault((*both[0], *both[1], *np.round(inner / JOIN)), piece)
    return list(kept.values())


def _knots(ends: Floats) -> list[int]:
    """For every end the number of the knot it belongs to: ends within JOIN of each other are one knot."""
    tree = cKDTree(ends)
    if tree.count_neighbors(tree, JOIN) > _CROWDED * len(ends):
        raise OutlineRefused(
            "Very many lines begin or end at one place of the drawing. Put the section on a layer of its own and "
            "choose it with --layer."
        )
    one, two = tree.query_pairs(JOIN, output_type="ndarray").T
    links = coo_array((np.ones(len(one)), (one, two)), shape=(len(ends), len(ends)))
    return [int(knot) for knot in connected_components(links, directed=False)[1]]


def _walk(first: int, knots: list[int], at: dict[int, list[int]]) -> tuple[list[int], bool]:
    """The ends at which the pieces of a chain are entered, and whether the chain closes.

    Forwards from the piece, then backwards from it where the chain is open.
    """
    ahead, closed = _onward(2 * first, knots, at)
    if closed:
        return ahead, True
    back, _ = _onward(2 * first + 1, knots, at)
    return [end ^ 1 for end in reversed(back[1:])] + ahead, False


def _onward(enter: int, knots: list[int], at: dict[int, list[int]]) -> tuple[list[int], bool]:
    """The ends entered one after the other, going on as long as exactly two ends meet."""
    chain = [enter]
    while True:
        leave = chain[-1] ^ 1
        here = at[knots[leave]]
        if len(here) != 2:
            return chain, False
        entered = here[0] if here[1] == leave else here[1]
        if entered == enter:
            return chain, len(chain) > 1
        chain.append(entered)


def _joined(pieces: Sequence[Piece], entered: Sequence[int]) -> Piece:
    """One outline from pieces entered at given ends; where two meet the point is said once."""
    runs = [pieces[end // 2].points[:: -1 if end % 2 else 1] for end in entered]
    layers = ", ".join(dict.fromkeys(pieces[end // 2].layer for end in entered))
    return Piece(layers, np.vstack([run[:-1] for run in runs]), closed=True)


def _gaps(ends: Floats, knots: list[int], at: dict[int, list[int]], chains: Sequence[Sequence[int]]) -> list[Open]:
    """Where chains are open: the branch they end in, or the nearest other open end."""
    lonely = [here[0] for here in at.values() if len(here) == 1]
    tree = cKDTree(ends[lonely]) if lonely else None
    found = []
    for entered in chains:
        first, last = entered[0], entered[-1] ^ 1
        branch = next((end for end in (first, last) if len(at[knots[end]]) > 2), None)
        if branch is not None or tree is None or len(lonely) < 2:
            here = ends[last if branch is None else branch]
            found.append(Open(here, here, 0.0, branch=branch is not None))
        else:
            far, which = tree.query(ends[last], k=2)
            found.append(Open(ends[last], ends[lonely[which[1]]], float(far[1])))
    return found
