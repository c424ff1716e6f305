"""Long rows of numbers and flags: unbroken stretches, rises, running medians."""

from __future__ import annotations

import math

import numpy as np

from tunwright.proof.log import Flags, Floats

_TINY = 1e-9  # water that is none [m3]


def stretches(flags: Flags) -> list[tuple[int, int]]:
    """First and past-the-last position of every unbroken stretch.

    flags: row by row
    """
    edges = np.flatnonzero(np.diff(np.concatenate([[False], flags, [False]]).astype(int)))
    return list(zip(edges[::2].tolist(), edges[1::2].tolist(), strict=True))


def rises(water: Floats, least: float) -> list[tuple[int, int]]:
    """Rises by at least so much, from a low to the next high; falls of less in between belong to them.

    water: content of the tank, row by row [m3]
    least: smallest rise that counts [m3]
    """
    found: list[tuple[int, int]] = []
    low = high = 0
    for i in range(1, len(water)):
        climbed = water[high] - water[low] >= least
        if water[i] > water[high]:
            high = i
        elif climbed and water[high] - water[i] >= least:
            found.append((low, high))
            low = high = i
        elif not climbed and water[i] <= water[low]:
            low = high = i
    if water[high] - water[low] >= least:
        found.append((low, high))
    return [(_last_low(water, low, high), high) for low, high in found]


def _last_low(water: Floats, low: int, high: int) -> int:
    """The last row at the low, so that time at rest before a filling does not count as part of it."""
    same = np.flatnonzero(water[low : high + 1] <= water[low] + _TINY)
    return low + int(same[-1])


def smooth(values: Floats, jitter: float) -> Floats:
    """Running median over so many rows that the jitter goes down to 1, but no more than a twentieth of them.

    values: row by row, in any unit
    jitter: standard deviation of the values over the one wanted [-]
    """
    half = min(math.ceil(0.5 * jitter**2), len(values) // 40)
    if half < 1:
        return values
    padded = np.concatenate([np.repeat(values[:1], half), values, np.repeat(values[-1:], half)])
    made: Floats = np.median(np.lib.stride_tricks.sliding_window_view(padded, 2 * half + 1), axis=1)
    return made


def shortest(values: Floats, rise: float) -> tuple[int, int]:
    """Ends of the shortest stretch over which values rise by so much.

    values: row by row, in any unit
    rise: by how much, in the same unit
    """
    top = np.maximum.accumulate(values)
    best, first = (0, len(values) - 1), 0
    for last in range(len(values)):
        while first < last and top[last] - top[first + 1] >= rise:
            first += 1
        if top[last] - top[first] >= rise and last - first < best[1] - best[0]:
            best = (first, last)
    return best
