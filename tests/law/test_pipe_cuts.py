"""Pipe to cut: pieces, fittings and gaps make the way again; stock loses no piece; joints are counted once."""

from __future__ import annotations

import math
from collections import Counter
from collections.abc import Callable
from dataclasses import replace
from itertools import combinations, pairwise

import numpy as np
import pytest

from plumbed import plumbing
from quarry import FILLING, FRONT, MONITOR, QUARRY, REAR, corners, shaped, with_run
from tunwright.build.kind import System
from tunwright.handbook.pipe_bends import bent_tube
from tunwright.sheets.pipework.cutting.lists import cutting_lists
from tunwright.shop.pipe_cuts import RunCuts, pipe_cuts, run_cuts
from tunwright.shop.pipe_flanges import bolting, flange_joints, strangers
from tunwright.shop.pipe_runs import RunOfPipe
from tunwright.shop.pipe_stock import Cut, packed, stock_plans
from tunwright.tables.pipes import pipe_size
from tunwright.tables.read import shop_value

Check = Callable[..., None]
GAP = 0.002


def of(name: str, text: str | None = None) -> RunCuts:
    return next(one for one in pipe_cuts(plumbing(text or shaped())) if one.run.name == name)


def length_of(way: list[tuple[float, float, float]]) -> float:
    return sum(math.dist(a, b) for a, b in pairwise(way))


def run(**more: object) -> RunOfPipe:
    return replace(RunOfPipe(1, "line", "a", "b", pipe_size("sch 40", "DN80"), 3.0, ()), **more)


# Pieces.


def test_pieces_fittings_and_gaps_make_the_way(check: Check) -> None:
    """Rear line: two long elbows of 114 mm, two weld necks of 50 mm, six welds."""
    found = of("rear line")
    whole = 1e3 * sum(one.length or 0.0 for one in found.pieces) + 4 * 114 + 2 * 50 + 6 * 2
    check("rear line: pieces, elbows, flanges, gaps", source="length of the way", expected=length_of(REAR), ours=whole,
          tol=1e-6, unit="mm")
    assert [one.mark for one in found.pieces] == ["P4-1", "P4-2", "P4-3"]


def test_an_odd_corner_is_cut_from_an_elbow(check: Check) -> None:
    """Monitor line: two long elbows, a third cut to 37 degrees, a class 150 neck of 68 + 2 mm, seven welds."""
    found = of("monitor line")
    angle = math.atan2(542.5, 720.0)
    odd = 114 * math.tan(angle / 2)
    whole = 1e3 * sum(one.length or 0.0 for one in found.pieces) + 4 * 114 + 2 * odd + 70 + 7 * 2
    check("monitor line: pieces, elbows, flange, gaps", source="length of the way", expected=length_of(MONITOR),
          ours=whole, tol=1e-6, unit="mm")
    assert found.turns[2].what == "37° cut from an elbow 90 long"
    assert any("pulled" in note and "9.2° off square" in note for note in found.notes)


def test_pieces_lead_from_end_to_end_of_the_way(check: Check) -> None:
    """Walked piece by piece along the legs, with the middle-to-end of each elbow, the end is the last point."""
    found = of("rear line")
    ways = [np.subtract(b, a) / math.dist(a, b) for a, b in pairwise(REAR)]
    offs = [0.050 + GAP, 0.114 + GAP, 0.114 + GAP, 0.050 + GAP]
    at = np.array(REAR[0], dtype=float) / 1e3
    for i, (way, piece) in enumerate(zip(ways, found.pieces, strict=True)):
        at = at + way * (offs[i] + (piece.length or 0.0) + offs[i + 1])
    off = float(np.linalg.norm(1e3 * at - REAR[-1]))
    check("end of the walk", source="last point of the way", expected=0.0, ours=off, tol=1e-6, unit="mm")


def test_a_bent_run_is_one_tube(check: Check) -> None:
    found = of("front line")
    assert found.bent is not None
    tube = bent_tube(np.array(FRONT) / 1e3, radius=0.25)
    ours = 1e3 * (found.pieces[0].length or 0.0)
    check("front line, tube to cut", source="developed length, plain ends", expected=1e3 * tube.developed, ours=ours,
          tol=1e-9, unit="mm")
    flanged = of("front line", shaped().replace('bend_radius = "250 mm"', 'bend_radius = "250 mm"\nflange = "PN 16"'))
    assert flanged.bent is not None
    neck = 45 + 2
    check("front line with flanges, tube to cut", source="developed length less two necks and gaps",
          expected=1e3 * tube.developed - 2 * neck, ours=1e3 * (flanged.pieces[0].length or 0.0), tol=1e-9, unit="mm")
    check("front line with flanges, first bend begins at", source="less one neck and gap",
          expected=1e3 * tube.starts[0] - neck, ours=1e3 * flanged.bent.starts[0], tol=1e-9, unit="mm")


def test_a_run_without_a_way_is_set_out(check: Check) -> None:
    """Suction: 3.4 m with two long elbows of DN125, 190 mm each way, four gaps; three pieces at least."""
    found = of("suction")
    assert (found.set_out, found.pieces[0].parts) == (True, 3)
    ours = 1e3 * (found.pieces[0].length or 0.0)
    check("suction, to be set out", source="worked by hand", expected=3400 - 4 * 190 - 4 * 2, ours=ours, tol=1e-6,
          unit="mm")
    assert found.notes[0] == "Its way is not in the build file: set it out on the vehicle."
    assert any(note.startswith("V1 (butterfly valve) and suction strainer") for note in found.notes)


@pytest.mark.parametrize(
    ("fittings", "what", "takes"),
    [
        (("elbow 90 short",), "elbow 90 short", 0.076),
        (("elbow 90 long",), "elbow 90 long", 0.114),
        (("elbow 45", "elbow 90 short", "elbow 90 long"), "elbow 90 short", 0.076),
        (("mitre 90",), "mitre, both ends cut 45° off square", 0.0),
        (("elbow 90",), "elbow 90, threaded", None),
        (("bend 90",), "bend 90", None),
        ((), "elbow 90 long", 0.114),
    ],
)
def test_a_corner_takes_the_first_fitting_that_fits(fittings: tuple[str, ...], what: str, takes: float | None) -> None:
    found = run_cuts(run(points=((0, 0, 0), (1, 0, 0), (1, 2, 0)), fittings=fittings))
    assert (found.turns[0].what, found.turns[0].takes) == (what, takes)
    assert found.turns[0].listed == bool(fittings)
    if takes is None:
        assert [one.length for one in found.pieces] == [None, None]
        assert "cut it to suit its fittings" in found.notes[0]
    else:
        gap = GAP / 2 if what.startswith("mitre") else GAP
        assert [one.length for one in found.pieces] == pytest.approx([1 - takes - gap, 2 - takes - gap])


def test_a_corner_within_a_degree_is_an_elbow_and_one_beyond_is_cut() -> None:
    for degrees, what in ((90.9, "elbow 90 long"), (91.2, "91.2° cut from a long return bend"), (44.2, "elbow 45 long"),
                          (43.5, "43.5° cut from an elbow 90 long")):
        end = (1 + math.cos(math.radians(degrees)), math.sin(math.radians(degrees)), 0.0)
        assert run_cuts(run(points=((0, 0, 0), (1, 0, 0), end))).turns[0].what == what


def test_two_elbows_may_stand_at_each_other_and_no_nearer() -> None:
    def found(leg: float) -> RunCuts:
        points = ((0, 0, 0), (1, 0, 0), (1, leg, 0), (2, leg, 0))
        return run_cuts(run(points=points, fittings=("elbow 90 long",) * 2))

    touching = found(2 * 0.114 + GAP)
    assert touching.pieces[1].length == 0.0
    assert "no pipe, its two fittings stand at each other" in touching.notes[0]
    near = found(0.2)
    assert near.pieces[1].length is None
    assert "its leg is 200 mm long and its fittings take 232 mm of it" in near.notes[0]
    assert found(0.25).pieces[1].length == pytest.approx(0.25 - 2 * 0.116)


def test_a_tight_bend_and_a_flange_in_a_bend_are_told() -> None:
    points = ((0, 0, 0), (0.28, 0, 0), (0.28, 2, 0))
    found = run_cuts(run(points=points, radius=0.25, drilling="PN 16", flanged=(True, False)))
    assert any("tighter than the usual 3 outside diameters, 267 mm" in note for note in found.notes)
    assert any("flange at its start reaches into the bend: make that leg 22 mm longer" in note for note in found.notes)
    assert not run_cuts(run(points=((0, 0, 0), (1, 0, 0), (1, 2, 0)), radius=0.27)).notes


def test_hose_and_plastic_are_not_welded() -> None:
    hose = run_cuts(run(size=pipe_size("hose", "76 mm"), drilling="PN 16", flanged=(True, True)))
    assert (hose.pieces[0].length, hose.pieces[0].ends[0]) == (3.0, "tail or coupling")
    assert hose.notes == ("Its flanges PN 16 come with tails or stub ends; cut it to suit them.",)
    way = ((0, 0, 0), (1, 0, 0), (1, 2, 0))
    plastic = run_cuts(run(size=pipe_size("SDR 11", "DN90"), points=way, fittings=("elbow 90 long",)))
    assert [one.length for one in plastic.pieces] == [None, None]


def test_flanges_that_are_not_made_or_made_for_another_pipe_are_told() -> None:
    none = run_cuts(run(size=pipe_size("sch 40", "DN90"), drilling="PN 10", flanged=(True, True)))
    assert none.pieces[0].length == 3.0
    assert any("EN 1092-1 PN 10 has no flange DN90" in note for note in none.notes)
    other = run_cuts(run(size=pipe_size("sch 40", "DN65"), drilling="PN 10", flanged=(True, True)))
    assert any("DN65 is made for pipe of 76.1 mm; order it for 73.0 mm" in note for note in other.notes)
    assert not any("order it" in note for note in run_cuts(run(drilling="class 150", flanged=(True, True))).notes)


# Stock.


@pytest.mark.parametrize("seed", range(20))
def test_stock_loses_no_piece_and_holds_no_more_than_it_is_long(seed: int) -> None:
    rng = np.random.default_rng(seed)
    cuts = [Cut(f"P{i}", float(one)) for i, one in enumerate(rng.uniform(0.05, 6.5, 40))]
    lengths, long = packed(cuts, stock=6.0, saw=0.003)
    assert Counter(one.mark for each in lengths for one in each.cuts) + Counter(one.mark for one in long) == Counter(
        one.mark for one in cuts
    )
    assert all(one.length > 6.0 for one in long)
    for each in lengths:
        assert each.used == pytest.approx(sum(one.length for one in each.cuts) + 0.003 * (len(each.cuts) - 1))
        assert each.used <= 6.0 + 1e-9
        assert each.offcut == pytest.approx(max(0.0, 6.0 - each.used - 0.003))
    for one, other in combinations(lengths, 2):
        assert one.used + 0.003 + other.used > 6.0, "two stock lengths would go into one"


def test_first_fit_by_falling_length(check: Check) -> None:
    """A known case: it takes 11/9 of the best and a little more at most, here the best."""
    cuts = [Cut(str(i), one) for i, one in enumerate([3.0, 3.0, 2.0, 2.0, 2.0, 4.0, 1.0, 1.0])]
    lengths, _ = packed(cuts, stock=6.0, saw=0.0)
    source = "18 m over 6 m, which can be met"
    check("stock lengths for 18 m in pieces", source=source, expected=3, ours=len(lengths), tol=0)
    assert all(one.offcut == 0.0 for one in lengths)
    lengths, _ = packed(cuts, stock=6.0, saw=0.003)
    assert len(lengths) == 4, "with saw cuts three of them hold no 18 m"


def test_pieces_as_long_as_stock_need_no_saw_cut_behind_them() -> None:
    lengths, long = packed([Cut("a", 6.0), Cut("b", 6.001)], stock=6.0, saw=0.003)
    assert (len(lengths), lengths[0].offcut, [one.mark for one in long]) == (1, 0.0, ["b"])


def test_every_piece_of_the_build_is_in_its_stock(check: Check) -> None:
    runs = pipe_cuts(plumbing(shaped()))
    plans = stock_plans(runs)
    saw = shop_value("pipe_saw_cut")
    for plan in plans:
        wanted = sum(
            (piece.length or 0.0) + saw * (piece.parts - 1)
            for one in runs if one.run.size == plan.size for piece in one.pieces
        )
        ours = sum(cut.length for each in plan.lengths for cut in each.cuts) + sum(one.length for one in plan.too_long)
        check(f"pipe cut from stock, {plan.size.series} {plan.size.name}", source="sum of its pieces", expected=wanted,
              ours=ours, tol=1e-9, unit="m")
    assert {plan.size for plan in plans} == {one.run.size for one in runs if not one.run.hose}


def test_a_long_run_that_is_set_out_comes_from_several_stock_lengths() -> None:
    long = run_cuts(run(length=15.0, fittings=("elbow 90 long",) * 3))
    plan = stock_plans([long])[0]
    assert [cut.mark for each in plan.lengths for cut in each.cuts] == ["P1-1, part"] * 3
    straight = stock_plans([run_cuts(run(length=7.0))])[0]
    assert [one.mark for one in straight.too_long] == ["P1-1"]


# Flanges.


def test_two_ends_at_a_point_share_their_bolts() -> None:
    def joined(*drillings: str) -> tuple[int, dict[tuple[str, str], int]]:
        runs = [
            run(number=i, name=str(i), start=f"p{i}", end="hub", drilling=one, flanged=(False, True))
            for i, one in enumerate(drillings, start=1)
        ]
        joints = flange_joints(runs)
        return len(joints), {(one.what, one.size): one.count for one in bolting(joints)}

    assert joined("PN 16") == joined("PN 16", "PN 16")
    count, parts = joined("PN 16", "PN 16")
    assert count == 1
    assert parts == {("bolt", "M16"): 8, ("nut", "M16"): 8, ("washer", "M16"): 16,
                     ("ring gasket", "EN 1092-1 PN 16 DN80"): 1}
    assert joined("PN 16", "PN 16", "PN 16")[0] == 3
    assert joined("PN 16", "class 150")[0] == 2


def test_flanges_that_do_not_fit_each_other_are_told() -> None:
    one = run(end="hub", drilling="PN 16", flanged=(False, True))
    other = replace(one, number=2, name="other", drilling="class 150")
    assert len(strangers([one, other])) == 1
    assert not strangers([one, replace(other, drilling="PN 10")])
    assert not strangers([one, other, replace(one, number=3)])


# Lists.


@pytest.mark.parametrize("system", ["metric", "us"])
def test_lists_say_what_the_pieces_are(check: Check, system: System) -> None:
    found = {one.key: one for one in cutting_lists(plumbing(shaped()), system)}
    assert list(found) == ["pipe", "stock", "bends", "flanges", "bolting", "cutting"]
    runs = pipe_cuts(plumbing(shaped()))
    pieces = [piece for one in runs for piece in one.pieces]
    listed = found["pipe"]
    assert [row[0] for row in listed.rows] == [one.mark for one in pieces]
    assert len({row[0] for row in listed.rows}) == len(listed.rows)
    assert listed.total is not None
    check(f"pipe to cut, {system}", source="sum of the pieces", expected=sum(one.length or 0.0 for one in pieces),
          ours=float(listed.total[5] or 0.0), tol=1e-9, unit="m")
    for one in found.values():
        for row in one.rows:
            assert len(row) == len(one.columns)
            assert all(column.shown(value, system) for column, value in zip(one.columns, row, strict=True))


def test_the_list_of_bends_adds_up(check: Check) -> None:
    listed = next(one for one in cutting_lists(plumbing(shaped()), "metric") if one.key == "bends")
    rows = [dict(zip([one.key for one in listed.columns], row, strict=True)) for row in listed.rows]
    whole = sum(float(row["straight"] or 0.0) + float(row["arc"] or 0.0) for row in rows)
    check("straights and arcs of the list of bends", source="tube to cut", expected=1e3 * float(rows[0]["tube"] or 0.0),
          ours=1e3 * whole, tol=1e-6, unit="mm")
    assert rows[1]["start"] == pytest.approx(rows[0]["start"] + rows[0]["arc"] + rows[1]["straight"])


def test_a_build_without_ways_or_flanges_still_has_its_lists() -> None:
    found = {one.key: one for one in cutting_lists(plumbing(QUARRY), "metric")}
    assert not found["bends"].rows
    assert not found["flanges"].rows
    assert not found["bolting"].rows
    assert len(found["pipe"].rows) == 9
    text = with_run(QUARRY, "tank filling", corners(*FILLING), "2.05 m")
    assert len(pipe_cuts(plumbing(text))[6].pieces) == 2
