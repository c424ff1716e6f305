"""Water in a tank: what stands below a tilted surface, and where the surface stands for a given volume.

The tank is a sequence of bodies (`bodies`). The surface is the plane z = c + a x + b y in the tank's own frame: a
comes from grade, pitch or braking, b from side slope. At each cut the wet area and its moments follow exactly from
`levels`; along x they are summed with Gauss points placed between the stations where the surface meets the floor, a
corner or the roof.
"""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np
from numpy.typing import NDArray

from tunwright.handbook.bodies import Body, Stations

Floats = NDArray[np.float64]

WET = 10
"""Wet moments, in this order: 1, x, y, z, xx, yy, zz, xy, xz, yz, each integrated over the wet volume."""

_COARSE = 25

Memo = dict[tuple[float, float], tuple[Floats, Floats, Floats]]
"""Coarse tables of one tank by slopes (a, b): levels, volumes and surface areas."""


def wet_volume(bodies: Sequence[Body], *, c: Floats, a: Floats, b: float = 0.0) -> tuple[Floats, Floats]:
    """Wetted volume [m3] and area of the surface in plan [m2] below each plane z = c + a x + b y.

    bodies: the tank
    c: height of the surface at x = y = 0 [m], (n,)
    a: slope of the surface along x [-], (n,)
    b: slope of the surface along y [-]
    """
    volume, plan = np.zeros(len(c)), np.zeros(len(c))
    for body in bodies:
        own, surface = body.volume(c, a, b)
        volume += body.sign * own
        plan += body.sign * surface
    return volume, plan


def wet_moments(bodies: Sequence[Body], *, c: Floats, a: Floats, b: float = 0.0) -> Floats:
    """Moments of the wetted volume below each plane, (n, 10): 1, x, y, z, xx, yy, zz, xy, xz, yz [m3 .. m5].

    bodies: the tank
    c: height of the surface at x = y = 0 [m], (n,)
    a: slope of the surface along x [-], (n,)
    b: slope of the surface along y [-]
    """
    total = np.zeros((len(c), WET))
    for body in bodies:
        for table, s in body.pieces(c, a, b):
            m = _placed(table.moments(s.level(c, a, b)), s)
            total += body.sign * np.einsum("sn,snk->sk", np.broadcast_to(s.weight, m.shape[:2]), m)
    return total


def _placed(m: Floats, s: Stations) -> Floats:
    """Moments of a section under y' = y0 + ky y, z' = z0 + kz z, carried to its x."""
    area, y, z, yy, yz, zz = np.moveaxis(m, -1, 0)
    x, ky, kz, y0, z0 = s.x, s.ky, s.kz, s.y0, s.z0
    scale = ky * kz
    one = scale * area
    my, mz = scale * (y0 * area + ky * y), scale * (z0 * area + kz * z)
    myy = scale * (y0 * y0 * area + 2 * y0 * ky * y + ky * ky * yy)
    mzz = scale * (z0 * z0 * area + 2 * z0 * kz * z + kz * kz * zz)
    myz = scale * (y0 * z0 * area + y0 * kz * z + z0 * ky * y + ky * kz * yz)
    return np.stack([one, x * one, my, mz, x * x * one, myy, mzz, x * my, x * mz, myz], axis=-1)


def span(bodies: Sequence[Body], *, a: Floats, b: float = 0.0) -> tuple[Floats, Floats]:
    """Lowest and highest c at which the plane z = c + a x + b y touches the tank [m].

    bodies: the tank
    a: slope of the surface along x [-], (n,)
    b: slope of the surface along y [-]
    """
    x, y, z = np.vstack([body.extremes for body in bodies if body.sign > 0]).T
    slopes, where = np.unique(a, return_inverse=True)
    c = (z - b * y)[None, :] - slopes[:, None] * x[None, :]
    return c.min(axis=1)[where], c.max(axis=1)[where]


def level_for_volume(
    bodies: Sequence[Body],
    *,
    volume: Floats,
    a: Floats,
    b: float = 0.0,
    tolerance: float = 1e-9,
    memo: Memo | None = None,
) -> Floats:
    """Height c of the surface z = c + a x + b y that holds each volume [m].

    A coarse table of each slope gives the bracket and a first guess, Newton steps kept inside it the answer.

    bodies: the tank
    volume: volume to hold [m3], (n,), from 0 to the whole
    a: slope of the surface along x [-], (n,)
    b: slope of the surface along y [-]
    tolerance: error allowed in the volume, as a share of the whole [-]
    memo: keeps the coarse tables of these bodies from one call to the next
    """
    slopes, where = np.unique(a, return_inverse=True)
    tables = _coarse_tables(bodies, slopes, b, {} if memo is None else memo)
    whole = tables[0][1][-1]
    c, low, high = _first_guess(tables, where, volume)
    rows = np.flatnonzero((volume > 0.0) & (volume < whole * (1 - 1e-13)))
    for _ in range(60):
        if not rows.size:
            break
        at, (held, plan) = c[rows], wet_volume(bodies, c=c[rows], a=a[rows], b=b)
        miss = held - volume[rows]
        low[rows], high[rows] = np.where(miss < 0, at, low[rows]), np.where(miss > 0, at, high[rows])
        done = np.abs(miss) <= tolerance * whole
        c[rows] = np.where(done, at, _next_level(at, miss, plan, low[rows], high[rows]))
        rows = rows[~done]
    return c


def _next_level(c: Floats, miss: Floats, plan: Floats, low: Floats, high: Floats) -> Floats:
    """A Newton step, stopped at the ends of the bracket; halved where it would not move."""
    step = np.clip(c - miss / np.maximum(plan, 1e-12), low, high)
    return np.where(step == c, 0.5 * (low + high), step)


def _coarse_tables(bodies: Sequence[Body], slopes: Floats, b: float, memo: Memo) -> list[tuple[Floats, Floats, Floats]]:
    """Levels, volumes and surface areas of each slope, from touching the tank to filling it."""
    new = np.array([slope for slope in slopes if (slope, b) not in memo])
    if new.size:
        bottom, top = span(bodies, a=new, b=b)
        levels = bottom[:, None] + (top - bottom)[:, None] * np.linspace(0.0, 1.0, _COARSE)
        volume, plan = wet_volume(bodies, c=levels.ravel(), a=np.repeat(new, _COARSE), b=b)
        for slope, c, v, p in zip(new, levels, volume.reshape(levels.shape), plan.reshape(levels.shape), strict=True):
            memo[float(slope), b] = (c, np.maximum.accumulate(v), p)
    return [memo[float(slope), b] for slope in slopes]


def _first_guess(
    tables: list[tuple[Floats, Floats, Floats]], where: NDArray[np.intp], volume: Floats
) -> tuple[Floats, Floats, Floats]:
    """Guess (a cubic through heights and slopes of the coarse table, inverted) and bracket for each level."""
    guess, low, high = np.empty(len(volume)), np.empty(len(volume)), np.empty(len(volume))
    for i, (level, held, plan) in enumerate(tables):
        mine = where == i
        wanted = volume[mine]
        place = np.clip(np.searchsorted(held, wanted), 1, _COARSE - 1)
        c0, c1, v0, v1 = level[place - 1], level[place], held[place - 1], held[place]
        t = np.clip((wanted - v0) / np.maximum(v1 - v0, 1e-300), 0.0, 1.0)
        m0, m1 = ((v1 - v0) / np.maximum(p, 1e-9) for p in (plan[place - 1], plan[place]))
        cubic = c0 + (t**3 - 2 * t**2 + t) * m0 + (3 * t**2 - 2 * t**3) * (c1 - c0) + (t**3 - t**2) * m1
        tame = np.maximum(m0, m1) < 4.0 * (c1 - c0)
        guess[mine] = np.clip(np.where(tame, cubic, c0 + t * (c1 - c0)), c0, c1)
        low[mine], high[mine] = c0, c1
    return guess, low, high
