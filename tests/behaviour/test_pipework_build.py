"""Wrong pipework: each fault is a sentence that says what is wrong, what is allowed, and an example."""

from __future__ import annotations

import pytest

from tunwright.build.problems import BuildProblems
from tunwright.build.reading import read_text
from tunwright.checks.assess import Assessment
from tunwright.demos import demo_text

QUARRY = demo_text("quarry-carrier")
CURVE_FROM, CURVE_TO = QUARRY.index("curve = ["), QUARRY.index("[pipework.pump.drive]")
ONE_POINT = QUARRY[:CURVE_FROM] + 'curve = [{ flow = "900 L/min", head = "50 m" }]\n\n' + QUARRY[CURVE_TO:]
RISING = QUARRY.replace('{ flow = "500 L/min", head = "69 m"', '{ flow = "500 L/min", head = "74 m"')


def problems(text: str) -> dict[str, str]:
    with pytest.raises(BuildProblems) as caught:
        read_text(text)
    return {one.path: f"{one.message} Allowed: {one.allowed} Example: {one.example}" for one in caught.value.problems}


def changed(old: str, new: str) -> str:
    assert old in QUARRY, old
    return QUARRY.replace(old, new, 1)


@pytest.mark.parametrize(
    ("text", "path", "words"),
    [
        (ONE_POINT, "pipework.pump.curve", "One point is no curve"),
        (RISING, "pipework.pump.curve[2].head", "The curve rises from 70 m at 0 L/min to 74 m at 500 L/min"),
        (changed('size = "DN125"', 'size = "DN124"'), "pipework.run[1].size", "DN125"),
        (changed('series = "sch 40"', 'series = "sched 40"'), "pipework.run[1].series", "no such kind of pipe"),
        (
            changed('"slightly rounded entrance"', '"rounded entrence"'),
            "pipework.run[1].fittings[1]",
            "rounded entrance",
        ),
        (changed("outlet = 1", "outlet = 4"), "pipework.point[1].outlet", "The tank has no outlet of this number"),
        (changed('to = "pump inlet"\nseries', 'to = "pump in"\nseries'), "pipework.run[1].to", '"pump inlet"'),
        (changed('open = ["V1", "V3"]', 'open = ["V1", "V33"]'), "pipework.duty[1].open[2]", '"V3"'),
        (changed('name = "V2"\n', 'name = "V1"\n'), "pipework.valve[1].name", "Another valve has this name"),
        (changed('residual = "1.5 bar"', 'residual = "6 bar"'), "pipework.point[10].hydrant.residual", "below 3 bar"),
        (changed('full = "8 bar"', 'full = "6 bar"'), "pipework.relief[2].full", "above 7 bar"),
        (
            changed('from = "900 rpm"\nto = "1700 rpm"', 'from = "1900 rpm"\nto = "1700 rpm"'),
            "pipework.pump.drive.to",
            "below the lowest",
        ),
        (changed('wants = "800 L/min"', 'wants = "800 gpm"'), "pipework.duty[1].wants", "which gallon"),
        (changed('wants = "800 L/min"', 'wants = "800 bar"'), "pipework.duty[1].wants", "flow"),
        (changed('emergency = ["engine"', 'emergency = ["motor"'), "pipework.emergency[1]", '"engine"'),
        (
            changed("open_water = true", "open_water = true\nmouth = true"),
            "pipework.point[11].open_water",
            "one of them",
        ),
    ],
)
def test_each_fault_is_a_sentence_with_what_is_allowed(text: str, path: str, words: str) -> None:
    found = problems(text)
    assert path in found, found
    assert words in found[path], found[path]


def test_a_pump_asked_for_where_there_is_none() -> None:
    start, end = QUARRY.index("[pipework.pump]"), QUARRY.index("[[pipework.spray]]")
    found = problems(QUARRY[:start] + QUARRY[end:])
    assert any("turns a pump, and there is none" in words for words in found.values()), found


def test_a_build_without_pipework_asks_nothing_about_it() -> None:
    text = QUARRY[: QUARRY.index("# Pump, pipes, sprays.")]
    found = Assessment(read_text(text).build)
    assert not [one.key for one in found.findings if one.key.startswith(("duty", "pump", "vent", "overflow"))]


def test_a_pump_without_efficiency_or_npsh_leaves_what_needs_them_open() -> None:
    text = QUARRY
    for row in ("0", "38", "56", "64", "60", "50"):
        text = text.replace(f', efficiency = "{row} %"', "")
    found = Assessment(read_text(text).build)
    assert found.finding("pump-torque").verdict == "open"
    assert found.finding("pump-torque").missing == ("pipework.pump.curve[1].efficiency",)


def test_us_units_show_flows_in_gallons() -> None:
    from tunwright.sheets import words

    text = QUARRY.replace("[order]", '[order]\nunits = "us"', 1)
    found = Assessment(read_text(text).build)
    assert "US gpm" in words.value_of(found.finding("duty-spray-the-road-behind"), found)
    assert "psi" in words.value_of(found.finding("pressure-shut-off"), found)
