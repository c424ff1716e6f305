"""Distances and plane places of positions logged in degrees."""

from __future__ import annotations

import numpy as np
from numpy.typing import ArrayLike, NDArray

Floats = NDArray[np.float64]

RADIUS = 6_371_008.8
"""Mean radius of the WGS 84 ellipsoid, (2 a + b) / 3 [m]; a sphere of it is off by at most 0.6 % on any way."""


def central_angle(latitude: ArrayLike, longitude: ArrayLike) -> Floats:
    """Angles at the middle of the earth between each place and the next, by the haversine [rad].

    hav c = hav(dlat) + cos(lat1) cos(lat2) hav(dlon), hav x = sin^2(x / 2); exact on a sphere, and steady for places
    that lie close together, unlike the law of cosines.

    latitude: (n,) [rad], north positive
    longitude: (n,) [rad], east positive

    Source: R. W. Sinnott, Virtues of the Haversine, Sky and Telescope 68, 1984 (from memory).
    """
    lat, lon = np.asarray(latitude, dtype=float), np.asarray(longitude, dtype=float)
    haversine = np.sin(0.5 * np.diff(lat)) ** 2 + np.cos(lat[:-1]) * np.cos(lat[1:]) * np.sin(0.5 * np.diff(lon)) ** 2
    angle: Floats = 2.0 * np.arcsin(np.sqrt(np.minimum(haversine, 1.0)))
    return angle


def distances(latitude: ArrayLike, longitude: ArrayLike) -> Floats:
    """Distances from each place to the next [m].

    latitude: (n,) [deg], north positive
    longitude: (n,) [deg], east positive
    """
    angle: Floats = RADIUS * central_angle(np.radians(latitude), np.radians(longitude))
    return angle


def plane(latitude: ArrayLike, longitude: ArrayLike) -> tuple[Floats, Floats]:
    """Places on a plane that touches the earth in their midst: east and north of it [m].

    For drawing only: what is 10 km from north to south is true to scale within 0.1 % below 50 degrees of latitude.

    latitude: (n,) [deg], north positive; not a number where not known
    longitude: (n,) [deg], east positive; not a number where not known
    """
    lat, lon = np.radians(np.asarray(latitude, dtype=float)), np.radians(np.asarray(longitude, dtype=float))
    known = np.isfinite(lat) & np.isfinite(lon)
    if not known.any():
        return np.full_like(lat, np.nan), np.full_like(lon, np.nan)
    first = lon[known][0]
    turned = (lon - first + np.pi) % (2.0 * np.pi) - np.pi  # ways across the date line stay whole
    middle_lat = 0.5 * (lat[known].min() + lat[known].max())
    middle_lon = 0.5 * (turned[known].min() + turned[known].max())
    return RADIUS * np.cos(middle_lat) * (turned - middle_lon), RADIUS * (lat - middle_lat)
