"""The file a new job starts from, and the pages of the manual that list its keys."""

from __future__ import annotations

import json
import re
import tomllib
from importlib.resources import files
from pathlib import Path
from typing import Any, get_args

import pytest

from tunwright.build.manual import keys_page, schema_page
from tunwright.build.model import Build, schema
from tunwright.build.pipe_pages import EXAMPLE, pipes_page
from tunwright.build.reading import read_text
from tunwright.build.starter import LayoutName, starter_text
from tunwright.checks.assess import Assessment
from tunwright.checks.assumed import quantities

DOCS = Path(__file__).parents[2] / "docs"
LAYOUTS: list[Any] = list(get_args(LayoutName))
UNITS: list[Any] = ["metric", "us"]
DEMOS = ("quarry-carrier", "village-carrier", "brush-carrier", "ridge-carrier", "lane-carrier")


def text(layout: Any = "6x4", units: Any = "metric", title: str = "A new one") -> str:
    return starter_text(layout=layout, units=units, title=title)


@pytest.mark.parametrize("units", UNITS)
@pytest.mark.parametrize("layout", LAYOUTS)
def test_a_new_file_reads_and_nothing_fails(layout: str, units: str) -> None:
    """Only the frame stays open: its cross-members have to be measured and its mounts chosen."""
    build = read_text(text(layout, units)).build
    assessment = Assessment(build)
    wanting = [f"{one.key}: {one.verdict}" for one in assessment.findings if one.verdict in ("fails", "open")]
    assert wanting == ["frame: open"]
    assert assessment.finding("frame").missing == ("chassis.frame.cross_member", "mount")
    assert not assessment.window.empty
    assert build.order.units == units
    assert build.order.volume is not None
    net = float(sum(assessment.truck.volumes.net))
    assert float(build.order.volume) <= net < 1.1 * float(build.order.volume)


@pytest.mark.parametrize("units", UNITS)
@pytest.mark.parametrize("layout", LAYOUTS)
def test_every_fact_of_the_chassis_is_assumed(layout: str, units: str) -> None:
    build = read_text(text(layout, units)).build
    facts = [(path, value.source) for path, value, _ in quantities(build.chassis) if value != 0 or path[-1] != "at"]
    assert len(facts) > 25
    assert {source for _, source in facts} == {"assumed"}


@pytest.mark.parametrize("layout", LAYOUTS)
def test_the_layout_is_the_one_asked_for(layout: str) -> None:
    axles = read_text(text(layout)).build.chassis.axle
    assert len(axles) == int(layout[0]) // 2
    assert sum(axle.driven for axle in axles) == int(layout[2]) // 2


def test_us_values_are_written_in_us_units() -> None:
    written = text(units="us")
    metric = [
        value
        for value in re.findall(r'"([^"\n]*)"', written.partition("format = 1")[2])
        if re.search(r"\d (mm|m|kg|L|MPa)$", value)
    ]
    assert metric == ["0 m"]
    assert '"lb"' not in written
    assert not re.search(r'[^0-9]" in"', written)


def test_every_key_is_explained_once_and_remarks_stand_in_a_column() -> None:
    written = text()
    remarks = [line.index(" # ") for line in written.split("\n") if " # " in line and not line.startswith("#")]
    assert len(remarks) > 45
    assert max(remarks) - min(remarks) <= 4
    assert max(map(len, written.split("\n"))) <= 120
    assert "$" not in written


@pytest.mark.parametrize(
    "title", ['say "x"', "back\\slash", "a # b", "  two\nlines\t", "é – ü", "x" * 500, "", "\u001b[31m", "'''"]
)
def test_any_title_gives_a_file_that_reads(title: str) -> None:
    build = read_text(text(title=title)).build
    assert build.order.title
    if title.isprintable() and len(title) < 100 and title.strip():
        assert build.order.title == title.strip()


def test_the_page_of_keys_is_current() -> None:
    assert (DOCS / "build-file.md").read_text("utf-8") == keys_page(), "write docs/build-file.md anew from build.manual"


def test_the_schema_file_is_current() -> None:
    assert (DOCS / "build-file.schema.json").read_text("utf-8") == schema_page(), "write the schema file anew"


def test_the_page_has_every_key_with_its_meaning() -> None:
    page = keys_page()
    for key in ("kerb_load", "overflow_lip", "raised_when_weighed", "knuckle_radius", "emptying", "sharing"):
        assert f"| `{key}` |" in page
    rows = [row for row in page.split("\n") if row.startswith("| `")]
    assert len(rows) > 150
    assert all(len(re.split(r"(?<!\\)\|", row)) == 7 and re.split(r"(?<!\\)\|", row)[2].strip() for row in rows)
    assert not re.search(r"Quantity|Literal|None\b|HeadTable|<class", page)


def test_examples_of_the_page_are_toml() -> None:
    for row in keys_page().split("\n"):
        cells = re.split(r"(?<!\\)\|", row)
        if row.startswith("| `") and cells[5].strip():
            tomllib.loads(f"x = {cells[5].strip().strip('`')}")


# ---------------------------------------------------------------------------------------------------- the schema


NAMES = {dict: "object", list: "array", str: "string", bool: "boolean", int: "integer", float: "number"}
Form = dict[str, Any]


def fits(value: Any, form: Form, whole: Form) -> list[str]:
    """What a small reader of JSON Schema finds wrong: references, choices, types, keys, entries."""
    if "$ref" in form:
        return fits(value, whole["$defs"][form["$ref"].rpartition("/")[2]], whole)
    for word in ("anyOf", "oneOf"):
        if word in form:
            tried = [fits(value, one, whole) for one in form[word]]
            return [] if [] in tried else min(tried, key=len)
    wanted, given = form.get("type", []), NAMES[type(value)]
    wanted = [wanted] if isinstance(wanted, str) else wanted
    if wanted and given not in wanted and not (given == "integer" and "number" in wanted):
        return [f"{value!r} is no {wanted}"]
    choices = form.get("enum", [form["const"]] if "const" in form else [value])
    found = [] if value in choices else [f"{value!r} is not one of {choices}"]
    return [*found, *(keys_fit(value, form, whole) if given == "object" else entries_fit(value, form, whole))]


def keys_fit(table: Form, form: Form, whole: Form) -> list[str]:
    found = [f"{key} is missing" for key in form.get("required", []) if key not in table]
    for key, one in table.items():
        if key in form.get("properties", {}):
            found += fits(one, form["properties"][key], whole)
        elif form.get("additionalProperties") is False:
            found.append(f"{key} is not known")
    return found


def entries_fit(value: Any, form: Form, whole: Form) -> list[str]:
    if not isinstance(value, list):
        return []
    count = [] if form.get("minItems", 0) <= len(value) <= form.get("maxItems", 10**6) else [f"{len(value)} entries"]
    return count + [wrong for one in value for wrong in fits(one, form.get("items", {}), whole)]


def demo(name: str) -> dict[str, Any]:
    return tomllib.loads(files("tunwright.demos").joinpath(f"{name}.toml").read_text("utf-8"))


@pytest.mark.parametrize("name", DEMOS)
def test_the_schema_lets_the_demos_through(name: str) -> None:
    assert fits(demo(name), schema(), schema()) == []


@pytest.mark.parametrize("layout", LAYOUTS)
def test_the_schema_lets_a_new_file_through(layout: str) -> None:
    assert fits(tomllib.loads(text(layout)), schema(), schema()) == []


def test_the_schema_stops_a_misspelt_key_a_number_and_a_choice() -> None:
    bad = demo("quarry-carrier")
    bad["order"]["titel"] = "x"
    bad["order"]["use"] = "bathing"
    bad["tank"]["shell"] = 4
    bad["tank"]["bottom"] = {"value": "1.2 m", "form": "maker"}
    bad["chassis"]["axle"][0]["steered"] = "yes"
    found = fits(bad, schema(), schema())
    assert len(found) == 5, found


def test_the_schema_is_plain_json_without_null() -> None:
    page = schema_page()
    assert json.loads(page) == schema()
    assert "null" not in page
    assert set(Build.model_fields) == set(schema()["properties"])


def test_the_page_on_pipework_is_current_and_its_example_reads() -> None:
    assert (DOCS / "pipes.md").read_text("utf-8") == pipes_page(), "write docs/pipes.md anew from build.pipe_pages"
    build = read_text(f"{text()}\n{EXAMPLE}").build
    assert build.pipework is not None
    verdicts = {one.key: one.verdict for one in Assessment(build).findings if one.key.startswith("duty-")}
    assert verdicts == {"duty-spray-the-road": "holds"}
