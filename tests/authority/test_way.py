"""Distances over the earth against published examples."""

from __future__ import annotations

import math

import pytest

from tunwright.proof.way import RADIUS, central_angle, distances


def test_haversine_of_the_radians(check) -> None:
    """Los Angeles to New York; the formulary prints 0.623585 rad and 2144 nautical miles of a minute of arc."""
    lat = [math.radians(33 + 57 / 60), math.radians(40 + 38 / 60)]
    lon = [math.radians(-118 - 24 / 60), math.radians(-73 - 47 / 60)]
    source = "E. Williams, Aviation Formulary, example of great circle distance (copies)"
    ours = float(central_angle(lat, lon)[0])
    check("LAX to JFK", source=source, expected=0.623585, ours=ours, tol=0.5e-6, unit="rad")
    check("LAX to JFK, in minutes of arc", source=source, expected=2144, ours=math.degrees(ours) * 60, tol=0.5,
          unit="nm")  # fmt: skip


def test_haversine_in_kilometres(check) -> None:
    """Nashville to Los Angeles with a radius of 6371.0 km, the example of many collections of code."""
    ours = float(distances([36.12, 33.94], [-86.67, -118.40])[0]) / RADIUS * 6371.0
    source = "haversine formula, worked example of public collections (copies): 2886.44444283798 km"
    check("BNA to LAX", source=source, expected=2886.44444283798, ours=ours, tol=0.5e-10, unit="km")


def test_mean_radius(check) -> None:
    """(2 a + b) / 3 with a = 6 378 137 m and 1 / f = 298.257 223 563."""
    a = 6378137.0
    b = a * (1 - 1 / 298.257223563)
    source = "WGS 84 (NIMA TR 8350.2): semi-axes, mean radius R1 = 6 371 008.7714 m"
    check("mean radius of the earth", source=source, expected=6371008.7714, ours=(2 * a + b) / 3, tol=0.5e-4, unit="m")
    assert pytest.approx((2 * a + b) / 3, abs=0.05) == RADIUS
