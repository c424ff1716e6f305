"""Sentences turned into US units: every figure with its unit, and nothing else."""

from __future__ import annotations

import pytest

from tunwright.build.us_words import us_words


@pytest.mark.parametrize(
    ("text", "wanted"),
    [
        ("throttle to 883 L/min", "throttle to 233 US gpm"),
        ("0.25 to 0.26 L/m² on 13.8 m", "0.055 to 0.057 US gal/yd² on 45.3 ft"),
        ("25.4 mm over the lip", "1.0 in over the lip"),
        ("1.40 bar", "20.3 psi"),
        ("1\u2009200 N at 3.2 m/s", "270 lbf at 10.5 ft/s"),
        ("run the engine at 1\u2009410 rpm", "run the engine at 1\u2009410 rpm"),
        ("41 W on each metre, DN100, 8 m2", "41 W on each metre, DN100, 8 m2"),
        ("V1 is shut on the way", "V1 is shut on the way"),
    ],
)
def test_figures_are_turned(text: str, wanted: str) -> None:
    assert us_words(text) == wanted
