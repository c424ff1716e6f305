"""Two things a look at the frame at rest does not show: a rail too weak on rough ground, a mount stiff at four corners.

The ridge carrier's bare rails fail at 3 g. The lightest reinforcement is chosen, written into its file, and the same
case holds. A light tank on stiff corners tears at its mounts where one wheel is in a rut; on three points it does not.
"""

from __future__ import annotations

import pytest

from tunwright.build.edit import with_value, without
from tunwright.build.reading import read_text
from tunwright.checks.assess import Assessment
from tunwright.checks.frame.candidate import Candidate, liners_for, members_for
from tunwright.checks.frame.choice import Choice, choice, written
from tunwright.checks.frame.load import hardest, over, stress_limits
from tunwright.checks.mount_compare import SchemeRow, scheme_rows
from tunwright.checks.remedy import Remedies
from tunwright.demos import demo_text

TEXT = demo_text("ridge-carrier")
AXLES = ("axle-front", "axle-rear", "gross", "axle-front-grade", "axle-rear-grade")


def assessed(text: str) -> Assessment:
    return Assessment(read_text(text).build)


@pytest.fixture(scope="module")
def bare() -> Assessment:
    return assessed(TEXT)


@pytest.fixture(scope="module")
def chosen(bare: Assessment) -> Choice:
    return choice(bare)


@pytest.fixture(scope="module")
def strong(chosen: Choice) -> Assessment:
    return assessed(written(TEXT, chosen.changes))


def test_the_bare_rail_fails_on_rough_ground(bare: Assessment) -> None:
    failing = {finding.key for finding in bare.findings if finding.verdict == "fails"}
    assert failing == {"frame-rail"}
    rail = bare.finding("frame-rail")
    assert "rough ground, 3 g, 100 % full" in rail.state
    assert rail.value > 1.05 * rail.limit


def test_with_what_is_chosen_the_same_case_holds(check, bare: Assessment, chosen: Choice, strong: Assessment) -> None:
    assert not [finding.key for finding in strong.findings if finding.verdict in ("fails", "open")]
    before, after = bare.finding("frame-rail"), strong.finding("frame-rail")
    assert after.value < after.limit == before.limit
    assert all(strong.finding(key).verdict in ("holds", "close") for key in AXLES)
    check(
        "axle loads gain what was chosen", source="mass of the reinforcement, by its section",
        expected=chosen.found.mass, ours=strong.truck.table.gross[0] - bare.truck.table.gross[0], tol=1e-6, unit="kg",
    )  # fmt: skip
    check(
        "stress, written into the file and read back", source="the same tried on a copy of the build",
        expected=chosen.found.after.finding("frame-rail").value, ours=after.value, tol=1e-9, unit="MPa",
    )  # fmt: skip


def test_it_is_the_lightest(bare: Assessment, chosen: Choice) -> None:
    """Every other reinforcement and subframe of the table that is lighter fails, also those that were passed over."""
    build, limits = bare.build, stress_limits(bare.build)
    frame = bare.framework
    assert chosen.share == pytest.approx(hardest((frame.stresses, frame.held), limits))
    others = [Candidate(member=member) for member in members_for(build)]
    others += [Candidate(kind, chosen.found.candidate.stretches) for kind in liners_for(build, on_flange=False)]
    lighter = [one for one in others if one.mass(build) < chosen.found.mass - 1e-6]
    assert len(lighter) >= 2
    for one in lighter:
        frame = Assessment(one.on(build)).framework
        assert hardest((frame.stresses, frame.held), limits) > 1.0, one.words(build)


def test_it_reaches_beyond_what_needs_it_and_ends_clear(bare: Assessment, chosen: Choice) -> None:
    """Two rail heights of 260 mm beyond the stretch, then outwards: two from the subframe's end, 200 mm from mounts."""
    frame, limits = bare.framework, stress_limits(bare.build)
    ((low, high),) = over((frame.stresses, frame.held), limits)
    ((start, end),) = chosen.found.candidate.stretches
    assert start <= low - 2 * 0.26 + 1e-9
    assert end >= high + 2 * 0.26 - 1e-9
    assert start == pytest.approx(1.05 - 2 * 0.26)  # low - 0.52 m would lie too near to the subframe's front end
    assert end == pytest.approx(high + 2 * 0.26, abs=0.01)
    assert min(abs(end - float(one.at)) for one in bare.build.mount) >= 0.2 - 1e-9


def test_the_remedy_says_it(bare: Assessment, chosen: Choice) -> None:
    remedy = Remedies(bare).remedy(bare.finding("frame-rail"))
    assert remedy.words.startswith(chosen.found.words)
    assert "then the worst stress is" in remedy.words
    assert remedy.breaks == ()


def test_where_nothing_holds_that_is_said() -> None:
    soft = choice(assessed(TEXT.replace('"390 MPa"', '"200 MPa"')))
    assert soft.needed
    assert soft.found is None
    assert soft.changes == ()
    assert soft.best.share > 1.0
    assert soft.why == ""


def test_where_nothing_is_needed_nothing_is_chosen() -> None:
    hard = choice(assessed(TEXT.replace('"390 MPa"', '"700 MPa"')))
    assert (hard.needed, hard.found, hard.tried) == (False, None, ())


def test_without_a_yield_strength_it_says_what_is_missing() -> None:
    text = without(TEXT, ("chassis", "frame", "yield_strength"))
    assert "chassis.frame.yield_strength" in choice(assessed(text)).why


def test_a_planned_reinforcement_gives_way_to_the_chosen(chosen: Choice) -> None:
    liner = {"from": "-0.5 m", "to": "4.0 m", "thickness": "6 mm"}
    planned = with_value(TEXT, ("chassis", "frame", "liner", 0), liner)
    again = choice(assessed(planned))
    assert again.found.candidate == chosen.found.candidate
    texts = (written(planned, again.changes), written(TEXT, chosen.changes))
    one, other = (read_text(text).build.chassis.frame.liner for text in texts)
    assert one == other


def test_a_larger_subframe_is_chosen_where_the_subframe_is_too_weak() -> None:
    """A subframe of a weaker steel under rails that hold: the rails are left as they are."""
    text = TEXT.replace('"390 MPa"', '"700 MPa"').replace('material = "S355"', 'material = "S275"')
    base = assessed(text)
    assert base.finding("frame-subframe").verdict == "fails"
    found = choice(base)
    assert found.found.candidate.liner is None
    after = assessed(written(text, found.changes))
    assert after.finding("frame-subframe").verdict != "fails"
    assert float(after.build.tank.bottom) > float(base.build.tank.bottom)
    assert not [one.key for one in after.findings if one.verdict == "fails"]


# A light tank of 5 600 L on four stiff corners; stiff springs, deep ruts, a frame of high strength.
RUTS = {
    ("chassis", "frame", "yield_strength"): "700 MPa",
    ("chassis", "frame", "rail_thickness"): "9 mm",
    ("chassis", "axle", 0, "spring_rate"): "350 N/mm",
    ("chassis", "axle", 0, "spring_track"): "850 mm",
    ("chassis", "axle", 1, "spring_rate"): "1200 N/mm",
    ("chassis", "axle", 1, "spring_track"): "1020 mm",
    ("order", "volume"): "5500 L",
    ("tank", "length"): "2.6 m",
    ("tank", "dip_at"): "1.3 m",
    ("tank", "baffle", 0, "at"): "0.9 m",
    ("tank", "baffle", 1, "at"): "1.8 m",
    ("tank", "manhole", 0, "at"): "1.3 m",
    ("tank", "outlet", 0, "at"): "2.5 m",
    ("states", "bump"): "2 g",
    ("states", "cornering"): "0.1 g",
    ("states", "wheel_lift"): "200 mm",
}


@pytest.fixture(scope="module")
def schemes() -> dict[str, SchemeRow]:
    text = without(TEXT, ("subframe",))
    for path, value in RUTS.items():
        text = with_value(text, path, value)
    for i in range(4):
        text = with_value(text, ("mount", i, "rating"), "48 kN")
    tube = ("chassis", "frame", "cross_member", 2)
    under = ("at", "2.15 m")  # under the front end of the short tank, which begins at 2.10 m: the pivot stands on it
    sizes = (("shape", "channel"), ("height", "160 mm"), ("flange", "60 mm"), ("thickness", "5 mm"))
    for key, value in (under, *sizes):
        text = with_value(text, (*tube, key), value)
    return {row.key: row for row in scheme_rows(assessed(text).framework)}


def test_stiff_corners_overload_their_mounts_where_three_points_do_not(schemes: dict[str, SchemeRow]) -> None:
    stiff, three = schemes["stiff"], schemes["three-point"]
    assert stiff.over == ("mount",)
    assert stiff.rated > 1.1 * stiff.rating
    assert "raised" in stiff.press_state
    assert three.over == ()
    assert three.holds
    assert not stiff.holds


def test_a_pivot_lets_the_frame_twist(schemes: dict[str, SchemeRow]) -> None:
    """What the tank does not hold the frame has to give: more twist, no pull on a mount, more stress in the rails."""
    stiff, three = schemes["stiff"], schemes["three-point"]
    assert three.twist > 2 * stiff.twist
    assert three.pull < 0.1 * stiff.pull
    assert stiff.rail < three.rail < three.limits.rail
    assert stiff.twist < schemes["rubber"].twist < three.twist
