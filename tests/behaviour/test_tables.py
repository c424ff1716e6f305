"""The tables say where they come from; a shop can add its own; what is not understood is refused."""

from __future__ import annotations

from pathlib import Path

import pytest

from tunwright.tables.entries import FAMILIES
from tunwright.tables.read import (
    RuleFileError,
    ShopFileError,
    UnknownRuleSet,
    gauges,
    materials,
    rule_set,
    rule_set_names,
    shop_value,
    shop_values,
    tables_hash,
)
from tunwright.tables.rule_types import MARKS

PACKAGED = ["au-general", "eu-96-53", "ratings-only", "us-federal"]

QUARRY = """
format = 1
title = "Quarry road"

[[limit]]
key = "tandem"
kind = "axles"
question = "Is the load on {axles} within the gate's limit?"
axles = 2
spread_below_m = 1.8
value_t = 17.5
document = "Site rules"
clause = "4.2"
edition = "2024"
mark = "shop"
"""


@pytest.fixture
def own(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """A shop's own folder of rule files."""
    monkeypatch.setenv("TUNWRIGHT_RULES", str(tmp_path))
    return tmp_path


@pytest.fixture
def shop_file(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """A shop's own file of shop values."""
    path = tmp_path / "values.toml"
    monkeypatch.setenv("TUNWRIGHT_SHOP", str(path))
    return path


def test_every_material_says_where_it_comes_from() -> None:
    assert {"S235", "S275", "S355", "A36", "1.4301", "1.4404", "5083", "5754"} <= set(materials())
    for material in materials().values():
        assert material.source.strip()
        assert material.physical_source.strip()
        assert {material.mark, material.physical_mark} <= set(MARKS)
        assert material.family in FAMILIES


def test_a_thickness_outside_the_table_is_refused() -> None:
    for thickness in (0.0, -0.001, 0.3, float("nan")):
        with pytest.raises(ValueError, match=r"up to 250 mm.*for example"):
            materials()["S235"].yield_strength(thickness)


def test_materials_cannot_be_changed_by_accident() -> None:
    with pytest.raises(TypeError):
        materials()["mine"] = materials()["S235"]  # type: ignore[index]


@pytest.mark.parametrize("family", FAMILIES)
def test_a_higher_gauge_is_thinner(family: str) -> None:
    thicknesses = [gauges(family)[gauge] for gauge in range(7, 17)]
    assert thicknesses == sorted(thicknesses, reverse=True)
    assert 0.001 < thicknesses[-1] < thicknesses[0] < 0.005


def test_a_gauge_without_its_metal_is_refused() -> None:
    with pytest.raises(ValueError, match="allowed are carbon steel, stainless, aluminium"):
        gauges("steel")


def test_every_shop_value_says_what_it_is_and_where_it_comes_from() -> None:
    for value in shop_values().values():
        assert value.unit.strip()
        assert value.meaning.strip()
        assert value.source.strip()
        assert value.mark in MARKS
    assert shop_value("close_band") == 0.03
    assert shop_value("max_bay_litres") == 7500


def test_a_shop_sets_a_value_of_its_own(shop_file: Path) -> None:
    shop_file.write_text('[ullage]\nvalue = 0.03\nwhy = "long overflow pipe"\n', encoding="utf-8")
    changed = shop_values()["ullage"]
    assert (changed.value, changed.mark, changed.source) == (0.03, "shop", "long overflow pipe")
    assert changed.unit == "share of gross"
    assert shop_values()["heel"].mark == "common practice"


@pytest.mark.parametrize(("content", "sentence"), [
    ("[ulage]\nvalue = 0.03\n", "no shop value 'ulage'.*Did you mean 'ullage'"),
    ("[ullage]\nwert = 0.03\n", "'ullage' takes value and why"),
    ("ullage = 0.03\n", "'ullage' takes value and why"),
    ("[ullage]\nvalue = '3 %'\n", "'ullage' is '3 %'; a number"),
    ("[ullage]\nvalue = nan\n", "a number"),
    ("[ullage\n", "not readable as TOML"),
])
def test_a_shop_file_that_cannot_be_meant_is_refused(shop_file: Path, content: str, sentence: str) -> None:
    shop_file.write_text(content, encoding="utf-8")
    with pytest.raises(ShopFileError, match=sentence):
        shop_values()


def test_a_shop_file_that_is_not_there_is_refused(shop_file: Path) -> None:
    with pytest.raises(ShopFileError, match="is no file"):
        shop_values()


@pytest.mark.parametrize("name", PACKAGED)
def test_every_limit_says_where_it_comes_from(name: str) -> None:
    rules = rule_set(name)
    assert rules.title.strip()
    for limit in rules.limits:
        assert limit.document.strip()
        assert limit.clause.strip()
        assert limit.edition.strip()
        assert limit.mark in MARKS
        assert limit.question.endswith("?")


def test_only_the_makers_ratings_is_an_empty_rule_set() -> None:
    assert rule_set("ratings-only").limits == ()


def test_the_packaged_rule_sets() -> None:
    assert rule_set_names() == PACKAGED


def test_an_unknown_rule_set_names_the_nearest() -> None:
    with pytest.raises(UnknownRuleSet, match=r"no rule set 'eu-9653'. Nearest: eu-96-53") as caught:
        rule_set("eu-9653")
    assert isinstance(caught.value, KeyError)


def test_a_shop_adds_a_rule_set(own: Path) -> None:
    (own / "quarry.toml").write_text(QUARRY, encoding="utf-8")
    assert rule_set_names() == sorted([*PACKAGED, "quarry"])
    rules = rule_set("quarry")
    assert rules.own
    case = rules.limits[0].cases[0]
    assert case.amount is not None
    assert (case.amount.value, case.amount.printed) == (17_500, "17.5 t")


def test_an_edited_rule_file_is_read_anew(own: Path) -> None:
    path = own / "quarry.toml"
    path.write_text(QUARRY, encoding="utf-8")
    rule_set("quarry")
    path.write_text(QUARRY.replace("17.5", "17.0"), encoding="utf-8")
    amount = rule_set("quarry").limits[0].cases[0].amount
    assert amount is not None
    assert amount.value == 17_000


@pytest.mark.parametrize(("before", "after", "sentence"), [
    ("value_t", "vlaue_t", "quarry.toml, limit 'tandem': the field 'vlaue_t' is not known here; did you mean 'value"),
    ("title", "titel", "quarry.toml: the field 'titel' is not known here; did you mean 'title'"),
    ("format = 1", "format = 2", "'format' is 2; this program reads format = 1"),
    ("value_t = 17.5", "", "the value is missing; for example value_kg"),
    ("value_t = 17.5", "value_t = 17.5\nvalue_kg = 17500", "'value' is given in kg and t; give it once"),
    ("value_t = 17.5", "value_t = -1", "'value_t' is -1; a number above zero"),
    ("value_t = 17.5", "value_t = '17.5 t'", "'value_t' is '17.5 t'; a number above zero"),
    ("value_t = 17.5", "value_t = true", "'value_t' is True; a number above zero"),
    ("value_t = 17.5", "value_m = 17.5", "the field 'value_m' is not known here"),
    ("value_t = 17.5", "value_t = 17.5\nraised_t = 19", "a raised value needs both"),
    ("value_t = 17.5", "value_t = 17.5\ndriven = 'yes'", "'driven' is 'yes'; allowed are all, any, some, none"),
    ("value_t = 17.5", "case = []", "give at least one"),
    ("value_t = 17.5", "case = 3", r"must be written as \[\[limit.case\]\]"),
    ("value_t = 17.5", "case = [{vlaue_t = 3}]", "limit 'tandem', case 1: the field 'vlaue_t' is not known here"),
    ("mark = \"shop\"", "mark = \"heard\"", "'mark' is 'heard'; allowed are seen, memory"),
    ("document = \"Site rules\"", "", "the field 'document' is missing"),
    ("document = \"Site rules\"", "document = ''", "'document' is ''; a text is needed"),
    ("kind = \"axles\"", "kind = \"axle\"", "'kind' is 'axle'; allowed are axles, gross"),
    ("axles = 2", "axles = 2\naxles_from = 2", "not both"),
    ("axles = 2", "axles = 2.5", "a whole number is needed"),
    ("axles = 2", "axles_from = 3\naxles_to = 2", "'axles_to' is 2, below"),
    ("spread_below_m = 1.8", "spread_below_m = 1.8\nspread_to_m = 1.9", "use 'spread_from' or"),
    ("spread_below_m = 1.8", "spread_below_m = 1.8\nspread_from_m = 1.9", "the first must be smaller"),
    ("[[limit]]", "[limit]", r"'limit' must be written as \[\[limit\]\]"),
    ("title = \"Quarry road\"", "title = \"Quarry road\"\nnot_covered = 3", "must be a list of texts"),
    ("format = 1", "format =", "not readable as TOML"),
])
def test_a_rule_file_that_cannot_be_meant_is_refused(own: Path, before: str, after: str, sentence: str) -> None:
    assert before in QUARRY
    (own / "quarry.toml").write_text(QUARRY.replace(before, after, 1), encoding="utf-8")
    with pytest.raises(RuleFileError, match=sentence):
        rule_set("quarry")


def test_a_key_may_be_used_once(own: Path) -> None:
    limit = QUARRY[QUARRY.index("[[limit]]"):]
    (own / "quarry.toml").write_text(QUARRY + limit, encoding="utf-8")
    with pytest.raises(RuleFileError, match="'tandem' stands there twice"):
        rule_set("quarry")


def test_a_share_above_one_is_refused(own: Path) -> None:
    share = QUARRY.replace("axles = 2\nspread_below_m = 1.8\nvalue_t = 17.5", 'of_axles = "driven"\nshare = 25')
    (own / "quarry.toml").write_text(share.replace('kind = "axles"', 'kind = "share"'), encoding="utf-8")
    with pytest.raises(RuleFileError, match=r"'share' is 25\.0; a share lies between 0 and 1"):
        rule_set("quarry")


def test_the_name_of_a_packaged_set_is_taken(own: Path) -> None:
    (own / "eu-96-53.toml").write_text(QUARRY, encoding="utf-8")
    with pytest.raises(RuleFileError, match="'eu-96-53' comes with the program"):
        rule_set_names()


def test_a_folder_that_is_not_there_is_refused(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("TUNWRIGHT_RULES", "no-such-folder")
    with pytest.raises(RuleFileError, match="which is no folder"):
        rule_set_names()


def test_a_rule_file_in_another_encoding_is_refused(own: Path) -> None:
    (own / "quarry.toml").write_bytes(QUARRY.replace("Quarry", "Gr\u00fcnau").encode("latin-1"))
    with pytest.raises(RuleFileError, match="no UTF-8 text"):
        rule_set("quarry")


def test_the_hash_changes_with_every_table(own: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    before = tables_hash()
    assert before == tables_hash()
    assert len(before) == 64
    (own / "quarry.toml").write_text(QUARRY, encoding="utf-8")
    with_rules = tables_hash()
    values = own / "values.txt"
    values.write_text("[ullage]\nvalue = 0.03\n", encoding="utf-8")
    monkeypatch.setenv("TUNWRIGHT_SHOP", str(values))
    assert len({before, with_rules, tables_hash()}) == 3
