"""Lift axles: with them up only the empty vehicle is judged, and the water they may stay up with is found."""

from __future__ import annotations

import numpy as np

from tunwright.build.reading import read_text
from tunwright.checks.assess import Assessment

TEXT = """format = 1
[order]
title = "carrier with a lifting tag axle"
[chassis]
gross_rating = "26 t"
cg_height = "1 m"
axle = [
  { name = "front", at = "0 m", kerb_load = "4.6 t", rating = "9 t", steered = true },
  { name = "drive", at = "4.4 m", kerb_load = "2.1 t", rating = "11.5 t", driven = true, tyres = 4 },
  { name = "tag", at = "5.75 m", kerb_load = "1.2 t", rating = "8 t", lift = true },
]
group = [{ name = "rear", axles = ["drive", "tag"], sharing = ["60 %", "40 %"] }]
[tank]
middle = "4.2 m"
length = "4.6 m"
bottom = "1.2 m"
shell = "4 mm"
dry_mass = "1800 kg"
section = { shape = "rectangle", width = "2.2 m", height = "1.2 m" }
[states]
grade = "0 %"
"""


def test_the_water_a_tag_axle_may_stay_up_with(check) -> None:
    """Axle up, the drive axle alone carries W = (sum m x) / 4.4; its 11.5 t are reached at a volume worked by hand.

    Kerb moment 2100 x 4.4 + 1200 x 5.75 = 16 140 kg m; dry tank 1800 x 4.2 = 7560; so 23 700 / 4.4 = 5386.36 kg bare
    and (11 500 - 5386.36) x 4.4 / 4.2 = 6404.76 kg of water. The front keeps 4600 + ... and is far from its 9 t.
    """
    found = Assessment(read_text(TEXT).build)
    finding = found.finding("lifted-tag")
    check(
        "water at which the drive axle is full, tag axle up",
        source="hand statics",
        expected=6404.76,
        ours=finding.value,
        tol=0.01,
        unit="L",
    )


def test_full_states_with_the_axle_up_fail_nothing() -> None:
    found = Assessment(read_text(TEXT).build)
    assert found.finding("axle-drive").verdict == "holds"
    up = found.truck.table.only(np.array([s.lifted and s.level for s in found.truck.table.states]))
    assert up.axles[:, 1].max() > 11_500, "the axle would be over its rating if the tag axle stayed up when full"


def test_an_empty_vehicle_is_judged_with_the_axle_up() -> None:
    weak = TEXT.replace('kerb_load = "2.1 t", rating = "11.5 t"', 'kerb_load = "2.1 t", rating = "5.3 t"')
    finding = Assessment(read_text(weak).build).finding("axle-drive")
    assert finding.verdict == "fails"
    empty = Assessment(read_text(weak).build, cap=1e-6).finding("axle-drive")
    assert empty.value is not None
    assert abs(empty.value - 23_700 / 4.4) < 0.5
    assert "axles lifted" in empty.state
