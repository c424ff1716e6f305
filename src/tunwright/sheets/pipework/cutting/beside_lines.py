"""Words beside lines: each in the nearest place where it covers no line and no other words [mm of paper]."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np

from tunwright.sheets.drawing import Entity, Line, Point
from tunwright.sheets.pipework.words_beside import PITCH, Words, widest
from tunwright.sheets.placing import Numbers, crosses, four_wide, meet, overlaps

_ASCENT, _DESCENT = 2.8, 0.9
_CLEAR = 0.6  # room kept around words
_NEAR, _STEP, _RINGS, _WAYS = 1.5, 2.0, 30, 24
_LEADER = 3.0  # words farther off than this get a line to what they belong to
_OVER_LINE, _OVER_WORDS = 1e3, 1e6  # what a leader costs that crosses a line, or words


class BesideLines:
    """What lies on a sketch already.

    lines: the lines of the sketch, as starts and ends [mm]
    """

    def __init__(self, lines: Sequence[tuple[Point, Point]]) -> None:
        self.lines = [(*start, *end) for start, end in lines]
        self.boxes: list[tuple[float, ...]] = []
        self.crammed = 0  # words whose leader runs over other words

    def put(self, words: Sequence[Words], spots: Sequence[Point], away: float) -> list[Entity]:
        """Words in the nearest free place, with a line to their spot where that is far.

        words: their lines, the first at the top
        spots: where they may point at, the best first [mm]
        away: the way they go from it first, from the u axis [rad]
        """
        wide, high = widest(words), _ASCENT + _DESCENT + PITCH * (len(words) - 1)
        box, leader = self._place(*_boxes(wide, high, spots, away))
        self.boxes.append(box)
        drawn: list[Entity] = []
        if leader is not None:
            self.lines.append(leader)
            drawn.append(Line(_metres(leader[:2]), _metres(leader[2:]), "dimension"))
        for i, one in enumerate(words):
            foot = (box[0] + _CLEAR, box[3] - _CLEAR - _ASCENT - PITCH * i)
            drawn.append(one.at(_metres(foot), "start"))
        return drawn

    def _place(
        self, spots: Numbers, boxes: Numbers
    ) -> tuple[tuple[float, ...], tuple[float, float, float, float] | None]:
        """The first box that covers nothing and whose leader crosses nothing, else lines, else words."""
        taken, lines = four_wide(self.boxes), four_wide(self.lines)
        free = ~overlaps(boxes[:, None, :], taken[None, :, :]).any(axis=1)
        free &= ~crosses(lines[None, :, :], boxes[:, None, :]).any(axis=1)
        spots, boxes = spots[free], boxes[free]
        leaders = np.hstack([spots, np.clip(spots, boxes[:, :2], boxes[:, 2:])])
        needed = np.hypot(*(leaders[:, 2:] - leaders[:, :2]).T) >= _LEADER
        over_words = needed & crosses(leaders[:, None, :], taken[None, :, :]).any(axis=1)
        over_lines = needed & meet(leaders[:, None, :], lines[None, :, :]).any(axis=1)
        best = int(np.argmin(_OVER_WORDS * over_words + _OVER_LINE * over_lines + np.arange(len(boxes)) * 1e-3))
        self.crammed += int(over_words[best])
        x0, y0, x1, y1 = leaders[best].tolist()
        return tuple(boxes[best].tolist()), (x0, y0, x1, y1) if needed[best] else None


def _boxes(wide: float, high: float, spots: Sequence[Point], away: float) -> tuple[Numbers, Numbers]:
    """Spots and boxes beside them (n, 2) and (n, 4), ring by ring, first the way that is wanted."""
    half = np.array([0.5 * wide + _CLEAR, 0.5 * high + _CLEAR])
    k = np.arange(_WAYS)
    turn = away + (1 - 2 * (k % 2)) * ((k + 1) // 2) * 2.0 * np.pi / _WAYS
    out = np.stack([np.cos(turn), np.sin(turn)], axis=1)
    edge = (half / np.maximum(np.abs(out), 1e-9)).min(axis=1)
    reach = edge + (_NEAR + _STEP * np.arange(_RINGS))[:, None]  # (rings, ways)
    at = np.array(spots)
    middles = at[None, :, None, :] + (reach[:, :, None] * out)[:, None, :, :]  # (rings, spots, ways, 2)
    owners = np.broadcast_to(at[None, :, None, :], middles.shape).reshape(-1, 2)
    middles = middles.reshape(-1, 2)
    return owners, np.hstack([middles - half, middles + half])


def _metres(point: Sequence[float]) -> Point:
    return point[0] / 1000.0, point[1] / 1000.0
