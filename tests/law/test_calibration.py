"""Runs of a flow meter: closed forms, refits, an independent library."""

from __future__ import annotations

import numpy as np
import pytest
from scipy import stats

from tunwright.handbook import water
from tunwright.handbook.instruments import calibrated_k, studentised
from tunwright.proof.calibration import BUOYANCY, COLUMNS, Calibration, calibration
from tunwright.proof.calibration_findings import calibration_findings
from tunwright.proof.rows import rows_of


def runs(head: str, *lines: str, k: float | None = None) -> Calibration:
    return calibration(rows_of("\n".join([head, *lines]).encode(), COLUMNS, file="runs.csv"), k)


def made(rng: np.random.Generator, many: int, *, scatter: float = 2e-3) -> tuple[np.ndarray, np.ndarray]:
    volumes = rng.uniform(0.1, 0.6, many)
    return np.round(120e3 * volumes * (1 + scatter * rng.standard_normal(many))), volumes


def text(counts: np.ndarray, volumes: np.ndarray, flows: np.ndarray | None = None) -> list[str]:
    flows = np.full(len(counts), np.nan) if flows is None else flows
    rows = zip(counts, volumes, flows, strict=True)
    return [f"{n:.0f},{float(1000 * v)!r},{'' if np.isnan(q) else float(q)}" for n, v, q in rows]


HEAD = "pulses,volume_l,flow_l_min"


def test_the_line_through_the_origin_is_that_of_numpy(check) -> None:
    rng = np.random.default_rng(1)
    for many in (2, 3, 7, 40):
        counts, volumes = made(rng, many)
        slope, rest, *_ = np.linalg.lstsq(volumes[:, None], counts, rcond=None)
        error = np.sqrt(rest[0] / (many - 1) / (volumes @ volumes))
        ours = runs(HEAD, *text(counts, volumes))
        check("K-factor of random runs", source="numpy.linalg.lstsq", expected=slope[0], ours=ours.k_factor,
              tol=1e-9 * slope[0], unit="1/m3")  # fmt: skip
        check("its standard error", source="numpy.linalg.lstsq", expected=error, ours=ours.error, tol=1e-6 * error,
              unit="1/m3")  # fmt: skip


def test_the_residuals_do_not_see_the_runs_they_judge(check) -> None:
    """Each run against a line fitted without it, the spread of its forecast worked out by hand."""
    rng = np.random.default_rng(2)
    counts, volumes = made(rng, 9)
    ours = studentised(counts=counts, volumes=volumes)
    for i in range(len(counts)):
        rest = np.delete(np.arange(len(counts)), i)
        k = calibrated_k(counts=counts[rest], volumes=volumes[rest]).k_factor
        squares = volumes[rest] @ volumes[rest]
        s2 = ((counts[rest] - k * volumes[rest]) ** 2).sum() / (len(rest) - 1)
        by_hand = (counts[i] - k * volumes[i]) / np.sqrt(s2 * (1 + volumes[i] ** 2 / squares))
        check("run against the line of all others", source="line fitted without the run", expected=by_hand,
              ours=ours[i], tol=1e-6 * abs(by_hand))  # fmt: skip


def test_a_run_that_strays_is_named_and_stays_in() -> None:
    rng = np.random.default_rng(3)
    counts, volumes = made(rng, 8)
    assert runs(HEAD, *text(counts, volumes)).strays == ()
    counts[5] = round(counts[5] * 1.05)
    found = runs(HEAD, *text(counts, volumes))
    assert found.strays == (5,)
    assert found.k_factor == pytest.approx(counts @ volumes / (volumes @ volumes), rel=1e-12)
    kept = np.delete(np.arange(8), 5)
    assert found.without == pytest.approx(counts[kept] @ volumes[kept] / (volumes[kept] @ volumes[kept]), rel=1e-12)


def test_chance_names_as_many_strays_as_it_says(check) -> None:
    """Of runs with which nothing is wrong 0.27 % are named, whether there are few or many."""
    rng = np.random.default_rng(4)
    for many in (5, 20):
        named = total = 0
        for _ in range(20_000 // many):
            volumes = rng.uniform(0.1, 0.6, many)
            far = np.abs(studentised(counts=1e5 * volumes + 50 * rng.standard_normal(many), volumes=volumes))
            named += int((far > stats.t.ppf(1 - 0.00135, many - 2)).sum())
            total += many
        check(f"strays among {many} good runs", source="three standard deviations of a normal distribution",
              expected=0.0027, ours=named / total, tol=4 * np.sqrt(0.0027 / total))  # fmt: skip


def test_the_trend_is_the_t_test_of_scipy() -> None:
    rng = np.random.default_rng(5)
    seen = set()
    for shift in (0.0, 0.001, 0.003, 0.01):
        for _ in range(10):
            flows = np.sort(rng.uniform(100, 1000, 8))
            counts, volumes = made(rng, 8)
            counts = np.round(counts * (1 + shift * (flows > np.median(flows))))
            found = runs(HEAD, *text(counts, volumes, flows))
            assert found.trend is not None
            left = np.array(found.left)
            p = stats.ttest_ind(left[:4], left[4:]).pvalue
            assert found.trend.seen == (p < 0.05)
            assert found.trend.difference == pytest.approx(left[4:].mean() - left[:4].mean(), abs=1e-15)
            seen.add(found.trend.seen)
    assert seen == {True, False}


def test_no_trend_is_told_of_runs_at_one_flow_or_of_three() -> None:
    rng = np.random.default_rng(6)
    counts, volumes = made(rng, 6)
    assert runs(HEAD, *text(counts, volumes, np.full(6, 300.0))).trend is None
    assert runs(HEAD, *text(counts[:3], volumes[:3], np.array([100.0, 500.0, 900.0]))).trend is None


def test_what_is_weighed_is_its_mass_over_the_density_of_water(check) -> None:
    for warm in (0.5, 15.0, 40.0):
        found = runs("pulses,mass_kg,temperature_c", f"24000,199.8,{warm}", f"48000,399.6,{warm}")
        expected = 24000 * float(water.density(273.15 + warm)) / 199.8
        check("K-factor of weighed runs", source="N rho / m", expected=expected, ours=found.k_factor,
              tol=1e-9 * expected, unit="1/m3")  # fmt: skip


def test_the_buoyancy_that_is_neglected(check) -> None:
    """True over shown mass is (1 - air / weights) / (1 - air / water)."""
    by_hand = (1 - 1.2 / 8000) / (1 - 1.2 / 998.2) - 1
    check("buoyancy of water in air", source="balance of forces by hand", expected=by_hand, ours=BUOYANCY, tol=0.5e-5)


def test_a_display_is_put_right_by_what_it_showed(check) -> None:
    """It shows N / K: with the new K the same pulses show what was measured."""
    volumes, k_true, k_set = np.array([0.2, 0.3, 0.5]), 118e3, 121e3
    shown = volumes * k_true / k_set
    lines = [f"{float(1000 * s)!r},{float(1000 * v)!r}" for s, v in zip(shown, volumes, strict=True)]
    told, alone = runs("shown_l,volume_l", *lines, k=k_set), runs("shown_l,volume_l", *lines)
    check("K-factor by litres shown", source="pulses are litres shown times K", expected=k_true, ours=told.k_factor,
          tol=1e-6, unit="1/m3")  # fmt: skip
    check("factor by litres shown alone", source="K true / K set", expected=k_true / k_set, ours=alone.k_factor,
          tol=1e-12)  # fmt: skip
    assert alone.relative
    assert not told.relative
    assert told.found == pytest.approx(alone.found, abs=1e-12)


def test_the_unit_of_the_volume_does_not_matter() -> None:
    rng = np.random.default_rng(7)
    counts, volumes = made(rng, 6)
    one, ten = runs(HEAD, *text(counts, volumes)), runs(HEAD, *text(10 * counts, volumes))
    assert ten.k_factor == pytest.approx(10 * one.k_factor, rel=1e-12)
    assert ten.left == pytest.approx(one.left, abs=1e-12)


def test_verdicts() -> None:
    good, bad = "24000,200,300", "25000,200,300"
    found = {each.key: each for each in calibration_findings(runs(HEAD, good, good, good, bad, k=120e3))}
    assert found["meter-as-found"].verdict == "fails"
    assert found["meter-as-found"].value == pytest.approx(25 / 24 - 1)
    assert found["meter-as-set"].verdict == "fails"
    alone = {each.key: each for each in calibration_findings(runs(HEAD, good))}
    assert set(alone) == {"meter-as-set"}
    assert alone["meter-as-set"].verdict == "open"
