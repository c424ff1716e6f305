"""Links that only push: which of them have lifted, found by trying.

With all links at work a frame answers in proportion. A link that should pull is opened by a pair of forces on its
touches that cancels what it carries; how the pairs work on each other is the compliance of the links, a small matrix.
The set of open links is changed until none pulls and none that is open would press.
"""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from tunwright.handbook.grillage import Grillage

Floats = NDArray[np.float64]
Truths = NDArray[np.bool_]
_ROUNDS = 80
_BOLD = 20  # rounds in which all that is wrong is changed at once; then the worst alone, which cannot go in circles
_HAIR = 1e-9  # of the largest force


class Lifted(ValueError):
    """No set of open links gives equilibrium: nothing holds the frame any more."""


def push_only(frame: Grillage, before: Floats, loads: Floats) -> tuple[Floats, Floats]:
    """Displacements (freedoms, cases) and forces of all links (links, cases), links that only push never pulling.

    The force of a link is what was in it before, plus its stiffness times its stretch; an open link carries nothing.
    Raises Lifted where no equilibrium is found and Mechanism where the frame is not held at all.

    frame: the frame
    before: forces in the links before anything moves (links, cases) [N], pulling positive
    loads: generalised forces (freedoms, cases) [N, N m, N m2], those of `before` not among them
    """
    whole = loads - frame.rows.T @ before
    moved = frame.solve(whole)
    force = before + frame.pulls(moved)
    can = np.array([link.pushes for link in frame.links], dtype=bool)
    if not pulling(force[can]).any():
        return moved, force
    give = frame.solve(frame.rows[can].T)
    opened, lost = stand_ins(force[can], frame.springs[can], frame.rows[can] @ give)
    if lost.any():
        raise Lifted("the supports that can only push lift one after another: nothing holds the frame any more")
    moved = moved + give @ opened
    force = before + frame.pulls(moved)
    force[can] -= opened
    return moved, force


def pulling(force: Floats, kept: Truths | None = None) -> Truths:
    """Which links that can only push pull (links, cases).

    force: forces of these links with all at work (links, cases) [N], pulling positive
    kept: links that hold both ways all the same in a case (links, cases) [-], None for none
    """
    found: Truths = force > _HAIR * np.abs(force).max(initial=1.0)
    return found if kept is None else found & ~kept


def stand_ins(
    force: Floats, springs: Floats, compliance: Floats, kept: Truths | None = None
) -> tuple[Floats, Truths]:
    """Forces (links, cases) that stand in for links that have opened, 0 for the others [N]; and which cases (cases,)
    have no equilibrium, because nothing is left to hold the frame.

    With p for the forces, an open link carries F + k C p - p = 0.

    force: F, of the links with all at work (links, cases) [N], pulling positive
    springs: k, their stiffness (links,) [N/m]
    compliance: C, stretch of each for a unit pair at each other (links, links) [m/N]
    kept: links that hold both ways all the same in a case (links, cases) [-], None for none
    """
    count, cases = force.shape
    share = springs[:, None] * compliance - np.eye(count)
    is_open = np.zeros((count, cases), dtype=bool)
    hair = _HAIR * np.abs(force).max(initial=1.0)
    standing, found = np.arange(cases), np.zeros_like(force)
    for turn in range(_ROUNDS):
        mine = is_open[:, standing]
        put = _put(share, mine, force[:, standing])
        carried = np.where(mine, 0.0, force[:, standing] + share @ put)
        pressed = np.where(mine, put, 0.0)  # an open link whose stand-in pulls would press if it were closed
        wrong_shut, wrong_open = carried > hair, pressed < -hair
        if kept is not None:
            wrong_shut &= ~kept[:, standing]
        if turn >= _BOLD:
            worst = np.maximum(carried, -pressed) >= np.maximum(carried, -pressed).max(axis=0)
            wrong_shut, wrong_open = wrong_shut & worst, wrong_open & worst
        found[:, standing] = put
        changed = (wrong_shut | wrong_open).any(axis=0) & np.isfinite(put).all(axis=0)
        is_open[:, standing] = (mine | wrong_shut) & ~wrong_open
        standing = standing[changed]
        if not standing.size:
            break
    lost: Truths = np.logical_not(np.isfinite(found).all(axis=0))
    lost[standing] = True
    found[:, lost] = 0.0
    return found, lost


def _put(share: Floats, is_open: Truths, force: Floats) -> Floats:
    """For each case p with (share p + force) = 0 in the open links and p = 0 in the others (links, cases); NaN where
    there is none.
    """
    packed = np.ascontiguousarray(np.packbits(is_open, axis=0).T)
    keys = packed.view(np.dtype((np.void, packed.shape[1]))).ravel()
    _, first, which = np.unique(keys, return_index=True, return_inverse=True)
    put = np.zeros_like(force)
    for i, one in enumerate(first):
        pattern, cases = is_open[:, one], np.flatnonzero(which.ravel() == i)
        if pattern.any():
            try:
                part = np.linalg.solve(share[np.ix_(pattern, pattern)], -force[np.ix_(pattern, cases)])
            except np.linalg.LinAlgError:
                part = np.full((int(pattern.sum()), len(cases)), np.nan)
            put[np.ix_(pattern, cases)] = part
    return put
