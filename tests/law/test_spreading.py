"""Spraying: no water is lost between nozzles and ground, triangles side by side are even, and depths go both ways."""

from __future__ import annotations

import math
from itertools import pairwise

import numpy as np
import pytest
from scipy.integrate import quad

from tunwright.handbook.spreading import (
    Nozzle,
    application_depth,
    area_per_load,
    christiansen_uniformity,
    distance_per_load,
    distribution_uniformity,
    even_spacing,
    flow_for,
    pattern,
    profile,
    speed_for,
    time_per_load,
)

FAN = ((-1, 0.5), (-0.8, 1), (0, 0.3), (0.8, 1), (1, 0.5))
BARS = 60


def random_bar(rng: np.random.Generator) -> list[Nozzle]:
    shapes = ["triangle", "even", FAN, ((-0.4, 0), (-0.1, 2), (0.7, 0.3))]
    return [Nozzle(place=rng.uniform(-3, 3), half_width=rng.uniform(0.3, 3), shape=shapes[rng.integers(len(shapes))],
                   flow=rng.uniform(0.2, 2)) for _ in range(int(rng.integers(1, 7)))]


def test_no_water_is_lost(check) -> None:
    """On uneven strips that reach beyond every pattern."""
    worst = 0.0
    for seed in range(BARS):
        rng = np.random.default_rng(seed)
        edges = np.sort(np.concatenate([[-7.0, 7.0], rng.uniform(-7, 7, int(rng.integers(1, 60)))]))
        worst = max(worst, abs(pattern(edges, random_bar(rng)) @ np.diff(edges) - 1))
    check("water on all strips", source="the water of all nozzles", expected=0, ours=worst, tol=1e-12)


def test_strips_against_integration(check) -> None:
    """The pattern point by point, integrated over one strip."""
    worst = 0.0
    for seed in range(BARS):
        rng = np.random.default_rng(seed)
        bar = random_bar(rng)
        edges = np.sort(rng.uniform(-4, 4, 2))

        def share(y: float, bar: list[Nozzle] = bar) -> float:
            total = 0.0
            for nozzle in bar:
                across, water = nozzle.points.T
                at = np.interp((y - nozzle.place) / nozzle.half_width, across, water, left=0.0, right=0.0)
                total += nozzle.flow * at / (np.trapezoid(water, across) * nozzle.half_width)
            return total / sum(nozzle.flow for nozzle in bar)

        breaks = [x for nozzle in bar for x in nozzle.place + nozzle.half_width * nozzle.points[:, 0]
                  if edges[0] < x < edges[1]]
        pieces = [edges[0], *sorted(breaks), edges[1]]
        whole = sum(quad(share, low, high)[0] for low, high in pairwise(pieces))
        worst = max(worst, abs(pattern(edges, bar)[0] * (edges[1] - edges[0]) - whole))
    check("water on a strip", source="scipy.integrate.quad of the pattern", expected=0, ours=worst, tol=1e-9)


def test_the_line_across_is_the_pattern(check) -> None:
    """The area under each half of each piece of the line is what falls on that strip."""
    worst = loose = 0.0
    for seed in range(BARS):
        bar = random_bar(np.random.default_rng(seed))
        places, water = profile(bar)
        loose = max(loose, abs(np.trapezoid(water, places) - 1))
        for i in range(0, len(places), 2):
            (left, right), (first, last) = places[i : i + 2], water[i : i + 2]
            middle, there = 0.5 * (left + right), 0.5 * (first + last)
            halves = pattern([left, middle, right], bar)
            worst = max(worst, abs(halves[0] - 0.5 * (first + there)), abs(halves[1] - 0.5 * (there + last)))
    check("area under the line across", source="the water of all nozzles", expected=0, ours=loose, tol=1e-8)
    check("mean of each half of a piece", source="the pattern on that strip", expected=0, ours=worst, tol=1e-7)


@pytest.mark.parametrize("layers", [1, 2, 3])
def test_overlapped_triangles_are_even(check, layers: int) -> None:
    worst = 0.0
    for seed in range(BARS):
        rng = np.random.default_rng(seed)
        half_width = rng.uniform(0.4, 4)
        spacing = even_spacing(half_width, layers=layers)
        bar = [Nozzle(place=spacing * place, half_width=half_width) for place in range(12)]
        assert spacing * layers == pytest.approx(half_width, rel=1e-14)
        inner = np.linspace(half_width - spacing, 12 * spacing - half_width, int(rng.integers(5, 40)))
        depth = pattern(inner, bar)
        worst = max(worst, 1 - christiansen_uniformity(depth), 1 - distribution_uniformity(depth))
    check(f"1 - CU of triangles, spacing half-width / {layers}", source="closed form: neighbours add up to the same",
          expected=0, ours=worst, tol=1e-12)


@pytest.mark.parametrize(("factor", "christiansen", "quarter"), [(1.5, 7 / 9, 3 / 4), (2.0, 1 / 2, 1 / 4)])
def test_triangles_too_far_apart(check, factor: float, christiansen: float, quarter: float) -> None:
    """At 1.5 half-widths a third of the way is wetted once and less, a third twice and evenly; at 2 none overlap."""
    spacing = factor * 2.4
    bar = [Nozzle(place=spacing * place, half_width=2.4) for place in range(5)]
    depth = pattern(np.linspace(spacing, 3 * spacing, 6001), bar)
    check(f"CU of triangles, spacing {factor} half-widths", source="closed form", expected=christiansen, tol=1e-6,
          ours=christiansen_uniformity(depth))
    check(f"DU of triangles, spacing {factor} half-widths", source="closed form", expected=quarter, tol=1e-6,
          ours=distribution_uniformity(depth))


@pytest.mark.parametrize("factor", [0.9, 1.1])
def test_a_little_off_is_a_little_uneven(factor: float) -> None:
    spacing = factor * even_spacing(3.0)
    bar = [Nozzle(place=spacing * place, half_width=3.0) for place in range(12)]
    assert 0.95 < christiansen_uniformity(pattern(np.linspace(3, 11 * spacing - 3, 200), bar)) < 0.99


def test_one_triangle_alone(check) -> None:
    """Mean half the peak, mean deviation a quarter of it; the driest quarter has an eighth of the peak."""
    depth = pattern(np.linspace(-2, 2, 4001), [Nozzle(place=0.0, half_width=2.0)])
    check("CU of one triangle", source="closed form", expected=0.5, ours=christiansen_uniformity(depth), tol=1e-6)
    check("DU of one triangle", source="closed form", expected=0.25, ours=distribution_uniformity(depth), tol=1e-6)
    assert depth.max() == pytest.approx(1 / 2, rel=1e-3)


def test_flat_fans_edge_to_edge_are_even() -> None:
    bar = [Nozzle(place=float(place), half_width=0.5, shape="even") for place in range(6)]
    assert pattern(np.linspace(-0.5, 5.5, 50), bar) == pytest.approx(1 / 6, rel=1e-12)


def test_uniformity_is_a_ratio() -> None:
    depths = np.random.default_rng(3).uniform(0, 1, 37)
    for measure in (christiansen_uniformity, distribution_uniformity):
        assert measure(1000 * depths) == pytest.approx(measure(depths), rel=1e-12)
        assert measure(np.full(9, 0.4)) == pytest.approx(1.0, rel=1e-15)
    assert christiansen_uniformity([0.2, 0.6]) == pytest.approx(1 - 0.4 / 0.8)
    assert distribution_uniformity([0, 1, 1, 1]) == 0


def test_depth_both_ways() -> None:
    speed, width = np.array([2.0, 4.0, 8.0]), 6.0
    depth = application_depth(flow=0.02, speed=speed, width=width)
    assert flow_for(depth=depth, speed=speed, width=width) == pytest.approx(0.02, rel=1e-13)
    assert speed_for(flow=0.02, depth=depth, width=width) == pytest.approx(speed, rel=1e-13)


def test_a_load_covers_what_its_depth_says() -> None:
    volume, flow, width, speed = 12.0, 0.018, 7.0, 5.0
    depth = application_depth(flow=flow, speed=speed, width=width)
    way = distance_per_load(volume=volume, depth=depth, width=width)
    assert way * width == pytest.approx(area_per_load(volume=volume, depth=depth), rel=1e-13)
    assert way == pytest.approx(speed * time_per_load(volume=volume, flow=flow), rel=1e-13)
    assert area_per_load(volume=volume, depth=depth) * depth == pytest.approx(volume, rel=1e-13)


@pytest.mark.parametrize(("call", "words"), [
    (lambda: Nozzle(place=0.0, half_width=0.0), "3 m"),
    (lambda: Nozzle(place=0.0, half_width=1.0, shape="fan"), "'triangle'"),
    (lambda: Nozzle(place=0.0, half_width=1.0, shape=[(0.0, 1.0)]), "two or more points"),
    (lambda: Nozzle(place=0.0, half_width=1.0, shape=[(-1.0, 1.0), (-1.0, 2.0)]), "further than the last"),
    (lambda: Nozzle(place=0.0, half_width=1.0, shape=[(-2.0, 1.0), (1.0, 1.0)]), "from -1 to 1"),
    (lambda: Nozzle(place=0.0, half_width=1.0, shape=[(-1.0, 0.0), (1.0, 0.0)]), "not all 0"),
    (lambda: pattern([0.0, 1.0], []), "one nozzle"),
    (lambda: pattern([1.0, 0.0], [Nozzle(place=0.0, half_width=1.0)]), "two or more edges"),
    (lambda: even_spacing(3.0, layers=0), "for example 1"),
    (lambda: christiansen_uniformity([0.0, 0.0]), "not all 0"),
    (lambda: distribution_uniformity([]), "one or more"),
    (lambda: christiansen_uniformity([1.0, math.nan]), "not all 0"),
    (lambda: application_depth(flow=0.02, speed=[4.0, 0.0], width=6.0), "4 m/s"),
])
def test_what_cannot_be_sprayed_is_refused(call, words: str) -> None:
    with pytest.raises(ValueError, match=words):
        call()
