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

_COARSE = 33


def wet_volume(bodies: Sequence[Body], *, c: Floats, a: Floats, b: float = 0.0) -> tuple[Floats, Floats]:
    """Wetted volume [m3] and area of the surface in plan [m2] below each plane z = c + a x + b y.

    bodies: the tank
    c: height of the surface at x = y = 0 [m], (n,)
    a: slope of the surface along x [-], (n,)
    b: slope of the surface along y [-]
    """
    volume, plan = np.zeros(len(c)), np.zeros(len(c))
    for body in bodies:
        for table, s in body.pieces(c, a, b):
            area, width = table.area_and_width(s.level(c, a, b))
            reach = body.sign * s.weight * s.ky
            volume += np.sum(reach * s.kz * area, axis=1)
            plan += np.sum(reach * width, axis=1)
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
    x, y, z = np.vstack([body.extremes() for body in bodies if body.sign > 0]).T
    slopes, where = np.unique(a, return_inverse=True)
    c = (z - b * y)[None, :] - slopes[:, None] * x[None, :]
    return c.min(axis=1)[where], c.max(axis=1)[where]


def level_for_volume(
    bodies: Sequence[Body], *, volume: Floats, a: Floats, b: float = 0.0, tolerance: float = 1e-10
) -> Floats:
    """Height c of the surface z = c + a x + b y that holds each volume [m].

    A coarse table of each slope gives the bracket, Newton steps kept inside it the answer.

    bodies: the tank
    volume: volume to hold [m3], (n,), from 0 to the whole
    a: slope of the surface along x [-], (n,)
    b: slope of the surface along y [-]
    tolerance: error allowed in the volume, as a share of the whole [-]
    """
    bottom, top = span(bodies, a=a, b=b)
    c, low, high, whole = _first_guess(bodies, volume, a, b, bottom, top)
    dry, brim = volume <= 0.0, volume >= whole * (1 - 1e-13)
    for _ in range(60):
        held, plan = wet_volume(bodies, c=c, a=a, b=b)
        miss = held - volume
        if np.all((np.abs(miss) <= tolerance * whole) | dry | brim):
            break
        low, high = np.where(miss < 0, c, low), np.where(miss > 0, c, high)
        with np.errstate(divide="ignore", invalid="ignore"):
            step = c - miss / plan
        c = np.where((step > low) & (step < high), step, 0.5 * (low + high))
    return np.where(dry, bottom, np.where(brim, top, c))


def _first_guess(
    bodies: Sequence[Body], volume: Floats, a: Floats, b: float, bottom: Floats, top: Floats
) -> tuple[Floats, Floats, Floats, float]:
    """Guess and bracket for each level from a coarse table of volumes, and the whole volume."""
    slopes, first, where = np.unique(a, return_index=True, return_inverse=True)
    part = np.linspace(0.0, 1.0, _COARSE)
    levels = bottom[first, None] + (top - bottom)[first, None] * part
    held = wet_volume(bodies, c=levels.ravel(), a=np.repeat(slopes, _COARSE), b=b)[0].reshape(levels.shape)
    guess, low, high = np.empty(len(a)), np.empty(len(a)), np.empty(len(a))
    for i in range(len(slopes)):
        mine = where == i
        place = np.clip(np.searchsorted(held[i], volume[mine]), 1, _COARSE - 1)
        low[mine], high[mine] = levels[i, place - 1], levels[i, place]
        guess[mine] = np.interp(volume[mine], held[i], levels[i])
    return guess, low, high, float(held[0, -1])
