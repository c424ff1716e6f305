"""Limits of a truck: what is not known is taken strictly and said; what cannot be said is left open."""

from __future__ import annotations

from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from tunwright.checks.legal import dimension_limits, legal_limits
from tunwright.handbook.axle_law import LawAxle, consecutive_sets, front_steered, matches
from tunwright.tables.read import rule_set


def axle(at: float, *, steered: bool = False, driven: bool = False, tyres: int = 2, **more: object) -> LawAxle:
    return LawAxle(at=at, steered=steered, driven=driven, tyres=tyres, **more)  # type: ignore[arg-type]


def six_by_four(**more: object) -> list[LawAxle]:
    return [axle(0, steered=True), axle(4.2, driven=True, tyres=4, **more), axle(5.55, driven=True, tyres=4, **more)]


def test_an_unknown_suspension_is_taken_as_no_air_and_said() -> None:
    found = {one.key: one for one in legal_limits(rule_set("eu-96-53"), six_by_four())}
    for key, kilograms in (("tandem-1.3-to-1.8:2+3", 18_000), ("gross-3", 25_000)):
        assert found[key].value_kg == kilograms
        assert "The kind of suspension" in found[key].note
        assert "the stricter value is used" in found[key].note


@pytest.mark.parametrize("air", [True, False])
def test_a_known_suspension_is_not_talked_about(air: bool) -> None:
    for one in legal_limits(rule_set("eu-96-53"), six_by_four(air_suspension=air)):
        assert "stricter" not in one.note


@pytest.mark.parametrize(("widths", "kilograms", "said"), [
    ((None, None), 11_000, True), ((0.45, None), 11_000, True), ((0.3, None), 11_000, False),
    ((0.45, 0.5), 14_000, False)])
def test_an_unknown_tyre_width_is_taken_as_narrow_and_said(widths: tuple[float | None, ...], kilograms: float,
                                                           said: bool) -> None:
    front, rear = widths
    axles = [axle(0, steered=True), axle(4.5, tyre_width=front), axle(5.8, tyre_width=rear)]
    tandem = next(one for one in legal_limits(rule_set("au-general"), axles) if one.key == "tandem:2+3")
    assert tandem.value_kg == kilograms
    assert ("The tyre width" in tandem.note) is said


def test_load_sharing_of_a_twin_steer_that_is_not_known() -> None:
    axles = [axle(0, steered=True), axle(1.9, steered=True), axle(5.5, driven=True, tyres=4)]
    twin = next(one for one in legal_limits(rule_set("au-general"), axles) if one.key == "tandem:1+2")
    assert twin.value_kg == 10_000
    assert "Load sharing" in twin.note


def test_five_axles_have_no_gross_limit_in_the_annex() -> None:
    axles = [*six_by_four(), axle(6.9), axle(8.2)]
    gross = next(one for one in legal_limits(rule_set("eu-96-53"), axles) if one.key == "gross")
    assert gross.value_kg is None
    assert gross.missing is not None
    assert "gross limit for 5 axles" in gross.missing


def test_no_driven_axle_leaves_the_share_open() -> None:
    axles = [axle(0, steered=True), axle(4.2)]
    share = next(one for one in legal_limits(rule_set("eu-96-53"), axles) if one.key == "driven-share")
    assert share.axles == ()
    assert share.missing is not None
    assert "driven" in share.missing


def test_a_lifted_load_that_is_no_number_does_not_raise_the_limit() -> None:
    gross = next(one for one in legal_limits(rule_set("eu-96-53"), six_by_four()) if one.key == "gross-3")
    assert gross.at([7_000, float("nan"), 9_000]).value_kg == 25_000


def test_only_makers_ratings_asks_nothing() -> None:
    assert legal_limits(rule_set("ratings-only"), six_by_four()) == []
    assert dimension_limits(rule_set("ratings-only")) == []


def test_the_group_is_named_in_the_question() -> None:
    found = legal_limits(rule_set("us-federal"), six_by_four(group="rear bogie"))
    tandem = next(one for one in found if one.key == "tandem-axle:2+3")
    assert tandem.question == "Is the load on axles 2 and 3 (rear bogie) within the limit of a tandem?"


@pytest.mark.parametrize("places", [(), (0.0, 0.0), (4.2, 0.0)])
def test_axles_that_are_not_in_order_are_refused(places: tuple[float, ...]) -> None:
    with pytest.raises(ValueError, match="axle"):
        legal_limits(rule_set("us-federal"), [axle(place) for place in places])


@pytest.mark.parametrize("name", ["eu-96-53", "us-federal", "au-general"])
def test_every_limit_on_a_truck_says_where_it_comes_from(name: str) -> None:
    for one in legal_limits(rule_set(name), six_by_four(air_suspension=True)):
        assert one.rules == name
        assert one.document
        assert one.clause
        assert one.edition
        assert one.mark
        assert one.printed
        assert "{axles}" not in one.question


def test_a_shop_may_limit_a_dimension_by_number_of_axles(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("TUNWRIGHT_RULES", str(tmp_path))
    (tmp_path / "site.toml").write_text(
        'format = 1\ntitle = "Site"\n[[limit]]\nkey = "length"\nkind = "length"\nquestion = "Short enough?"\n'
        'axles = 2\nvalue_ft = 30\ndocument = "Site rules"\nclause = "1"\nedition = "2024"\nmark = "shop"\n',
        encoding="utf-8")
    rules = rule_set("site")
    assert [one.value_m for one in dimension_limits(rules)] == [9.144]
    assert len(dimension_limits(rules, axles=six_by_four()[:2])) == 1
    assert dimension_limits(rules, axles=six_by_four()) == []


@pytest.mark.parametrize(("answers", "all_", "any_", "some", "none"), [
    ((True, True), True, True, False, False), ((True, False), False, True, True, False),
    ((False, False), False, False, False, True), ((True, None), None, True, None, False),
    ((False, None), False, None, None, None), ((None, None), None, None, None, None),
    ((), False, False, False, True)])
def test_how_many_are_so(answers: tuple[bool | None, ...], all_: bool | None, any_: bool | None, some: bool | None,
                         none: bool | None) -> None:
    assert [matches(wanted, answers) for wanted in ("all", "any", "some", "none")] == [all_, any_, some, none]


@given(st.lists(st.booleans(), min_size=1, max_size=5), st.data())
def test_an_unknown_answer_never_contradicts_the_known_one(answers: list[bool], data: st.DataObject) -> None:
    hidden = data.draw(st.sets(st.integers(0, len(answers) - 1)))
    partly = [None if place in hidden else answer for place, answer in enumerate(answers)]
    for wanted in ("all", "any", "some", "none"):
        assert matches(wanted, partly) in (None, matches(wanted, answers))


def test_sets_of_consecutive_axles() -> None:
    assert consecutive_sets(3) == [(0,), (1,), (2,), (0, 1), (1, 2), (0, 1, 2)]
    assert consecutive_sets(3, least=2) == [(0, 1), (1, 2), (0, 1, 2)]


def test_a_steered_axle_at_the_rear_is_no_front_axle() -> None:
    axles = [axle(0, steered=True), axle(1.9, steered=True), axle(5, driven=True), axle(6.3, steered=True)]
    assert front_steered(axles) == (0, 1)
