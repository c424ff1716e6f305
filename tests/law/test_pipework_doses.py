"""The level sender's table against the dip chart, and doses of chlorine against sums by hand."""

from __future__ import annotations

import re

import numpy as np
import pytest

from tunwright.build.reading import read_text
from tunwright.checks.assess import Assessment
from tunwright.demos import demo_text
from tunwright.sheets.dips import dip_rows
from tunwright.sheets.pipework.dosing import dosing_list
from tunwright.sheets.pipework.sender import sender_list


def assessed(name: str, *changes: tuple[str, str]) -> Assessment:
    text = demo_text(name)
    for old, new in changes:
        assert old in text
        text = text.replace(old, new, 1)
    return Assessment(read_text(text).build)


@pytest.mark.parametrize("points", [2, 5, 12, 30])
def test_the_stated_error_is_the_greatest_there_is(check, points: int) -> None:
    """Straight lines through the sender's points against a dip chart four times as fine."""
    found = assessed("quarry-carrier", ("[pipework]\n", f"[pipework]\nsender = {{ points = {points} }}\n"))
    listing = sender_list(found)
    levels, volumes = (np.array([row[i] for row in listing.rows], dtype=float) for i in (1, 2))
    fine = dip_rows(found, step=dip_rows(found).levels[-1] / 800)
    inside = np.array(fine.levels) <= levels[-1]
    told = np.interp(np.array(fine.levels)[inside], levels, volumes)
    off = 1000 * float(np.abs(told - np.array(fine.volumes)[inside, 0]).max())
    stated = float(re.search(r"stray by ([\d\u2009.]+) L", listing.foot)[1].replace("\u2009", ""))
    words = f"quarry: greatest error of a sender of {points} points"
    check(words, source="dip chart four times as fine", expected=off, ours=stated, tol=0.2 + 0.05 * off, unit="L")
    assert len(listing.rows) <= points


def test_more_points_stray_less() -> None:
    errors = []
    for points in (3, 6, 12, 24):
        found = assessed("quarry-carrier", ("[pipework]\n", f"[pipework]\nsender = {{ points = {points} }}\n"))
        errors.append(float(re.search(r"stray by ([\d\u2009.]+) L", sender_list(found).foot)[1].replace("\u2009", "")))
    assert errors == sorted(errors, reverse=True)


def test_doses_are_volume_times_concentration_over_strength(check) -> None:
    found = assessed("village-carrier")
    litres = 1000 * float(found.truck.volumes.net.sum())
    rows = {(row[0], row[4]): row for row in dosing_list(found).rows}
    granules = rows["fill the whole tank", "calcium hypochlorite granules, 65 %"]
    bleach = rows["fill the whole tank", "household bleach, 5 % by volume"]
    grams = litres * 50 / 1000 / 0.65
    check(
        "village: granules for 50 mg/L",
        source="V C / p by hand",
        expected=grams,
        ours=1000 * granules[5],
        tol=1e-6 * grams,
        unit="g",
    )
    poured = litres * 50 / 1e6 / 0.05
    check(
        "village: 5 % bleach for 50 mg/L",
        source="V C / p by hand",
        expected=poured,
        ours=1000 * bleach[6],
        tol=1e-6 * poured,
        unit="L",
    )
    sure = [row[3] for row in list(rows.values())[::3]]  # nothing says what is left of the first and the third way
    assert sure == [None, f"{10 * 24 * 60}", None, f"{2 * 24 * 60}"]


def test_only_drinking_water_is_disinfected() -> None:
    assert not dosing_list(assessed("quarry-carrier")).rows
