"""What is found of frame and mounts: each figure a second way, each rule a millimetre inside and outside its limit."""

from __future__ import annotations

import math
import re

import numpy as np
import pytest

from framed import assessed, known, with_mounts
from tunwright.checks.assess import Assessment
from tunwright.checks.frame.mounts import extremes
from tunwright.demos import demo_text
from tunwright.handbook.beams import FREEDOMS, W
from tunwright.handbook.grillage import Touch

QUARRY = demo_text("quarry-carrier")
FOUR_ROWS = ('rows = 2\nspacing = "80 mm"\nrow_spacing = "70', 'rows = 4\nspacing = "80 mm"\nrow_spacing = "45')
MODEL = "the frame model's own displacements and forces, put together a second way"


def changed(*pairs: tuple[str, str], text: str = QUARRY) -> Assessment:
    for old, new in pairs:
        assert old in text, old
        text = text.replace(old, new, 1)
    return assessed(text)


def rubber(rate: str) -> str:
    return "\n".join(
        f'[[mount]]\nname = "pad {i}"\nat = "{x} m"\nkind = "rubber"\nrate = "{rate}"\nrating = "90 kN"\n'
        for i, x in enumerate((1.45, 2.65, 4.2, 5.0))
    )


def test_the_sag_is_that_of_the_rail_below_the_line_between_the_axles(check) -> None:
    ladder = known("quarry-carrier").framework.ladder
    trial = next(one for one in ladder.trials if one.case.key == "standing")
    moved = ladder.displacements(trial)[:, -1].reshape(-1, FREEDOMS)
    x, ends, below = ladder.structure.rails, ladder.truck.axles.places[[0, -1]], {}
    for side in ("left", "right"):
        z = np.array([moved[ladder.frame.number[ladder.structure.rail_node(side, float(p))], W] for p in x])
        line = np.interp(x, ends, np.interp(ends, x, z))
        below[side] = float((line - z)[(ends[0] <= x) & (x <= ends[1])].max())
    found = known("quarry-carrier").finding("frame-sag")
    worse = max(below, key=lambda side: below[side])
    check("quarry: sag of the rails, full", source=MODEL, expected=below[worse], ours=found.value, tol=1e-9, unit="m")
    assert below["left"] != pytest.approx(below["right"], rel=1e-6), "loaded alike, this shows nothing"
    assert found.limit == pytest.approx((ends[1] - ends[0]) / 300)
    assert found.state.startswith(f"{worse} rail at ")
    assert "100 % full" in found.state


def test_a_stiffer_rail_sags_less() -> None:
    thick = changed(('rail_thickness = { value = "8 mm"', 'rail_thickness = { value = "10 mm"'))
    assert thick.finding("frame-sag").value < 0.95 * known("quarry-carrier").finding("frame-sag").value  # type: ignore[operator]


@pytest.mark.parametrize("rate", ["300 N/mm", "2500 N/mm"])
def test_the_bounce_on_rubber_is_that_of_a_mass_on_springs(check, rate: str) -> None:
    """Four pairs of pads: f = sqrt(8 k / m) / 2 pi with the tank, the subframe and the water on them."""
    found = assessed(with_mounts(rubber(rate)))
    truck = found.truck
    held = truck.weights.on_tank.mass + next(one.mass.mass for one in truck.weights.lumps if one.key == "subframe")
    mass = held + 1000.0 * float(truck.volumes.net.sum())
    exact = math.sqrt(8 * float(rate.split(maxsplit=1)[0]) * 1e3 / mass) / (2 * math.pi)
    one = found.finding("mount-frequency")
    check(f"bounce on eight pads of {rate}", source="sqrt(k / m) / 2 pi", expected=exact, ours=one.value, tol=1e-9)
    assert one.verdict == ("holds" if exact > 4.2 else "fails")


def test_the_greatest_forces_of_a_mount_are_those_of_its_links() -> None:
    ladder = known("quarry-carrier").framework.ladder
    (press, _), (pull, _) = extremes(ladder, next(m for m in ladder.truck.build.mount if m.name == "rear plates"))
    rows = [i for i in ladder.structure.mounted["rear plates"] if ladder.frame.links[i].name.endswith(", up")]
    every = np.stack([ladder.link_forces(trial)[rows] for trial in ladder.trials])
    assert (press, pull) == (pytest.approx(every.min()), pytest.approx(every.max()))


def test_a_spring_mount_lifts_as_far_as_its_halves_part(check) -> None:
    """The seat opens by what the subframe stands above the rail, read from both sides of it."""
    ladder = known("quarry-carrier").framework.ladder
    apart = 0.0
    for i in ladder.structure.mounted["front springs"]:
        link = ladder.frame.links[i]
        if link.name.endswith(", seat"):
            for trial in ladder.trials:
                moved = ladder.displacements(trial).reshape(-1, FREEDOMS, len(ladder.fills))
                upper, lower = (height(ladder, touch, moved) for touch in link.touches)
                apart = max(apart, float((upper - lower)[ladder.link_forces(trial)[i] >= 0.0].max(initial=0.0)))
    found = known("quarry-carrier").finding("mount-lift-front-springs")
    check("quarry: lift of the front springs", source=MODEL, expected=apart, ours=found.value, tol=1e-9, unit="m")
    assert found.value > 0.0


def height(ladder, touch: Touch, moved: np.ndarray) -> np.ndarray:
    """How far a point of a node rises: its own rise, and its turns by their arms."""
    own = moved[ladder.frame.number[touch.node]]
    x, y, _ = (p - q for p, q in zip(touch.point, ladder.frame.nodes[touch.node], strict=True))
    return own[W] + y * own[3] - x * own[4]


def test_nothing_on_jacks_is_said_to_be_full() -> None:
    ladder = known("quarry-carrier").framework.ladder
    for trial in ladder.trials:
        words = [trial.state(i) for i in range(len(trial.fills))]
        assert all(("tank empty" in one) != ("% full" in one) for one in words), words
        assert len(set(words)) == (1 if trial.case.jack else len(words))


# rules, a millimetre inside and outside


@pytest.mark.parametrize(
    ("key", "change", "verdict"),
    [
        ("frame-first-mount", ('at = "1.45 m"', 'at = "1.406 m"'), "fails"),
        ("frame-first-mount", ('at = "1.45 m"', 'at = "1.408 m"'), "close"),
        ("frame-first-mount", ('at = "1.45 m"', 'at = "1.559 m"'), "close"),
        ("frame-first-mount", ('at = "1.45 m"', 'at = "1.561 m"'), "fails"),
        ("frame-taper", ('taper = "480 mm"', 'taper = "459 mm"'), "fails"),
        ("frame-taper", ('taper = "480 mm"', 'taper = "461 mm"'), "close"),
        ("frame-taper", ('taper = "480 mm"\n', ""), "open"),
        ("mount-clear", ('at = "2.65 m"', 'at = "2.499 m"'), "fails"),
        ("mount-clear", ('at = "2.65 m"', 'at = "2.501 m"'), "close"),
        ("hole-size", ('size = "M16"', 'size = "M18"'), "fails"),
        ("hole-size", ('size = "M16"', 'size = "M14"'), "holds"),
        ("hole-rows", FOUR_ROWS, "fails"),
        ("hole-flange", ('drop = "80 mm"', 'drop = "37 mm"'), "fails"),
        ("hole-flange", ('drop = "80 mm"', 'drop = "39 mm"'), "close"),
    ],
)  # fmt: skip
def test_a_rule_holds_on_one_side_of_its_limit_and_fails_on_the_other(
    key: str, change: tuple[str, str], verdict: str
) -> None:
    assert changed(change).finding(key).verdict == verdict


@pytest.mark.parametrize(
    ("start", "end", "key", "verdict"),
    [
        ("0.20 m", "1.551 m", "frame-step", "holds"),
        ("0.20 m", "1.549 m", "frame-step", "fails"),
        ("0.20 m", "1.649 m", "mount-liner-end", "fails"),
        ("0.20 m", "1.70 m", "mount-liner-end", "holds"),
    ],
)
def test_reinforcements_end_clear_of_subframe_and_mounts(start: str, end: str, key: str, verdict: str) -> None:
    liner = f'[[chassis.frame.liner]]\nfrom = "{start}"\nto = "{end}"\nthickness = "5 mm"\n\n[chassis.cab]'
    found = changed(("[chassis.cab]", liner)).finding(key).verdict
    assert {"close": "holds"}.get(found, found) == verdict


def test_a_clamp_drills_no_holes() -> None:
    clamps = with_mounts(
        "\n".join(
            f'[[mount]]\nname = "clamp {i}"\nat = "{x} m"\nkind = "clamp"\n[mount.bolts]\nsize = "M20"\ncolumns = 2\n'
            'rows = 1\nspacing = "120 mm"\n'
            for i, x in enumerate((1.45, 2.65, 4.2, 5.0))
        )
    )
    keys = {one.key for one in assessed(clamps).findings}
    assert not keys & {"hole-size", "hole-rows", "hole-flange"}


def test_a_pivot_alone_is_not_held_against_the_rule_for_brackets() -> None:
    pivot = with_mounts('[[mount]]\nname = "pivot"\nat = "2.30 m"\nkind = "pivot"\nrating = "90 kN"\n')
    assert "mount-clear" not in {one.key for one in assessed(pivot).findings}


# what is missing, and what is not held


def test_what_cannot_be_tried_is_open_and_says_what_to_measure() -> None:
    found = changed(('tyre_rate = { value = "1000 N/mm", from = "maker" }\n', "")).finding("frame-twist")
    assert (found.verdict, found.missing) == ("open", ("chassis.axle[1].tyre_rate",))
    found = changed(('cg_height = { value = "1.02 m", from = "maker" }\n', "")).finding("frame-pulled")
    assert (found.verdict, found.missing) == ("open", ("chassis.cg_height",))
    bare = re.sub(r"\[\[chassis\.frame\.cross_member\]\]\n(.+\n)+\n", "", QUARRY)
    assert assessed(bare).finding("frame").missing == ("chassis.frame.cross_member",)
    found = assessed(QUARRY.replace('yield_strength = { value = "500 MPa", from = "maker" }\n', ""))
    assert [found.finding(key).verdict for key in ("frame-rail", "frame-rail-rest")] == ["open", "open"]
    found = assessed(re.sub(r'rating = { value = "75 kN", from = "maker" }\n\n\[mount\.bolts\]\n(.+\n)+', "\n", QUARRY))
    assert found.finding("mount-rating").missing == ("mount[1].rating", "mount[2].rating")


def test_a_tank_that_nothing_holds_is_said_in_a_sentence() -> None:
    springs = "\n".join(
        f'[[mount]]\nname = "spring {i}"\nat = "{x} m"\nkind = "spring"\nrate = "200 N/mm"\ntravel = "20 mm"\n'
        for i, x in enumerate((1.45, 4.2))
    )
    found = assessed(with_mounts(springs)).finding("frame-held")
    assert found.verdict == "fails"
    assert "along the vehicle" in found.note
    assert found.note.endswith("missing.")
    found = assessed(with_mounts('[[mount]]\nname = "front"\nat = "1.50 m"\nkind = "pivot"\n')).finding("frame-held")
    assert found.note == (
        "The pivot front at 1.50 m stands on no cross-member: the nearest is at 0.75 m; put one under it."
    )


def test_a_curve_that_turns_the_vehicle_over_is_lost() -> None:
    found = changed(("[order]", '[states]\ncornering = "0.9 g"\n\n[order]')).finding("frame-stands")
    assert (found.verdict, found.value) == ("fails", 2.0)
    assert "a curve to the left, 0.9 g" in found.state


@pytest.mark.parametrize("name", ["quarry-carrier", "village-carrier", "brush-carrier"])
def test_the_worse_bound_of_the_warping_is_taken_and_the_other_told(name: str) -> None:
    framework = known(name).framework
    for key, member, static in (("frame-rail-rest", "rail", True), ("frame-rail", "rail", False)):
        both = [s.worst(member, static=static).value / 1e6 for s in (framework.stresses, framework.held)]
        found = known(name).finding(key)
        assert found.value == pytest.approx(max(both))
        assert f"it is {min(both):.0f} MPa" in found.note


def test_rubber_gives_by_its_force_over_its_rate(check) -> None:
    limits = rubber("2500 N/mm").replace('rating = "90 kN"', 'rating = "90 kN"\ndeflection = "6 mm"\ntravel = "4 mm"')
    found = assessed(with_mounts(limits))
    ladder = found.framework.ladder
    for name in ("pad 0", "pad 3"):
        rows = [i for i in ladder.structure.mounted[name] if ladder.frame.links[i].name.endswith(", up")]
        every = np.stack([ladder.link_forces(trial)[rows] for trial in ladder.trials])
        for key, exact in (("deflection", -every.min() / 2.5e6), ("lift", max(0.0, every.max() / 2.5e6))):
            one = found.finding(f"mount-{key}-{name.replace(' ', '-')}")
            words = f"rubber of {name}, {key}: links' force over 2.5 kN/mm"
            check(words, source=MODEL, expected=exact, ours=one.value, tol=1e-9, unit="m")
            assert (one.verdict == "fails") == (one.value > one.limit)


def test_rubber_whose_limits_are_not_known_says_what_to_ask_its_maker() -> None:
    found = assessed(with_mounts(rubber("2500 N/mm")))
    assert found.finding("mount-deflection-pad-1").missing == ("mount[2].deflection",)
    assert found.finding("mount-lift-pad-1").missing == ("mount[2].travel",)


@pytest.mark.parametrize(
    ("rise", "way", "gap"), [("80 mm", "upright", 0.02), ("64 mm", "upright", 0.004), ("64 mm", "along", 0.014)]
)
def test_a_weld_that_reaches_the_rail_fails(check, rise: str, way: str, gap: float) -> None:
    """120 mm welds 100 mm apart: upright ones reach 60 mm below their middle, those along the vehicle 50 mm."""
    text = demo_text("quarry-carrier")
    at = text.index("[[mount]]", text.index('kind = "plate"'))
    weld = f'[mount.weld]\nthroat = "4 mm"\nlength = "120 mm"\napart = "100 mm"\nway = "{way}"\nrise = "{rise}"\n\n'
    one = assessed(text[:at] + weld + text[at:]).finding("weld-rail")
    check(
        f"weld {way}, {rise} above the flange: its lower end", source="by hand", expected=gap, ours=one.value, tol=1e-12
    )
    assert one.verdict == ("holds" if gap > 0.0105 else "fails")
