"""The list of what freezes: hours and watts a second way, its sums, and what it tells holds when it is done."""

from __future__ import annotations

import math
import re

import pytest
from scipy.integrate import quad

from plumbed import pipes
from tunwright.checks.pipework.frost import frost_findings, least_insulation, time_to_ice, tracing
from tunwright.demos import demo_text
from tunwright.handbook.icing import air_film
from tunwright.sheets.pipework.frost import frost_list
from tunwright.sheets.pipework.listing import Listing
from tunwright.tables.read import shop_value

QUARRY = demo_text("quarry-carrier").replace('insulation = "13 mm"\n', "", 1)
VILLAGE = demo_text("village-carrier")
COLD = re.compile(r"frost = \{.*\}")
BARE_H, INSULATED_H, WANTED_H, HEAT_BARE, HEAT, BARE_W, WHOLE_W, VERDICT = range(4, 12)


def frosty(text: str, air: str, hours: float, wind: str = "15 km/h") -> str:
    found, count = COLD.subn(f'frost = {{ air = "{air}", wind = "{wind}", stands = "{hours} h" }}', text)
    assert count == 1
    return found


def listed(text: str, system: str = "metric") -> Listing:
    return frost_list(pipes(text).plumbing, system)


def by_hand(plumbing, run, insulation: float) -> float:
    """Resistance from water to air [m K/W], put together anew: wall, foam, wind."""
    size, frost = plumbing.size(run), plumbing.work.frost
    inner, middle = size.inside, size.inside + 2 * size.wall
    outer = middle + 2 * insulation
    film = air_film(
        wind=float(frost.wind), diameter=outer, air=float(frost.air), surface=273.15, pressure=plumbing.liquid.air
    )
    wall = 50.0 if not size.soft else 0.25
    conducts = math.log(middle / inner) / (2 * math.pi * wall) + math.log(outer / middle) / (2 * math.pi * 0.04)
    cold = float(frost.air)
    glow = 0.9 * 5.670374419e-8 * (273.15**4 - cold**4) / (273.15 - cold)  # by the fourth powers
    return conducts + 1 / (math.pi * outer * (float(film) + glow))


@pytest.mark.parametrize("name", ["front line", "delivery hose", "filling line"])
def test_hours_are_those_of_the_heat_that_leaves(check, name: str) -> None:
    """C dT / ((T - Ta) / R) down to 0 C by quadrature, then L dm / ((0 - Ta) / (R + ice)) layer by layer."""
    plumbing = pipes(VILLAGE).plumbing
    run, frost = plumbing.runs[name], plumbing.work.frost
    own, bore = float(run.insulation or 0.0), plumbing.size(run).inside
    air, resistance = float(frost.air), by_hand(plumbing, run, own)
    mass = 999.84 * math.pi / 4 * bore**2
    cools = quad(lambda t: mass * 4205.0 * resistance / (t - air), 273.15, float(frost.water))[0]
    layer = lambda f: math.log(1 / math.sqrt(1 - f)) / (2 * math.pi * 2.22)  # noqa: E731
    freezes = quad(lambda f: mass * 333.43e3 * (resistance + layer(f)) / (273.15 - air), 0.0, 0.1)[0]
    ours = time_to_ice(plumbing, frost, run, own)
    check(
        f"village, {name}: hours until a tenth is ice",
        source="heat balance by scipy quad",
        unit="h",
        expected=(cools + freezes) / 3600,
        ours=ours / 3600,
        tol=1e-4 * ours / 3600,
    )


def test_heating_balances_what_is_lost_at_two_degrees(check) -> None:
    plumbing = pipes(VILLAGE).plumbing
    run, frost = plumbing.runs["filling line"], plumbing.work.frost
    for insulation in (0.0, 0.019):
        lost = (275.15 - float(frost.air)) / by_hand(plumbing, run, insulation)
        ours = tracing(plumbing, frost, run, insulation) / (1 + shop_value("tracing_reserve"))
        check(
            f"village, filling line, {1000 * insulation:g} mm: heating without reserve",
            source="(Tw - Ta) / R by hand",
            expected=lost,
            ours=ours,
            tol=1e-9 * lost,
            unit="W/m",
        )
    assert tracing(plumbing, frost, run) == tracing(plumbing, frost, run, 0.019)


@pytest.mark.parametrize("text", [QUARRY, VILLAGE])
def test_rows_are_the_runs_that_keep_their_water_and_sums_are_sums(text: str) -> None:
    plumbing, listing = pipes(text).plumbing, listed(text)
    assert [row[0] for row in listing.rows] == [run.name for run in plumbing.work.run if not run.falls]
    for i in (2, BARE_W, WHOLE_W):
        assert listing.total[i] == pytest.approx(sum(row[i] for row in listing.rows), abs=1e-6)
    for row in listing.rows:
        assert row[BARE_W] == pytest.approx(row[HEAT_BARE] * row[2], abs=0.06 * row[2] + 0.06)
        assert row[WHOLE_W] == pytest.approx(row[HEAT] * row[2], abs=0.06 * row[2] + 0.06)
        if row[3] is not None:
            assert row[INSULATED_H] > row[BARE_H]
            assert row[HEAT] < row[HEAT_BARE]
    for word in ("licensed electrician", "Valves", "drain them"):
        assert word in listing.foot


def test_the_list_and_the_finding_name_the_same_hours() -> None:
    plumbing, listing = pipes(QUARRY).plumbing, listed(QUARRY)
    found = next(frost_findings(plumbing, ()))
    assert round(found.value, 1) == min(row[INSULATED_H] for row in listing.rows)


def test_every_verdict_is_given_and_what_is_told_holds() -> None:
    words = {row[VERDICT] for row in listed(VILLAGE).rows} | {
        row[VERDICT] for row in listed(frosty(VILLAGE, "-1 °C", 1)).rows
    }
    assert words == {"stands it as insulated", "stands it bare"}
    hard = listed(frosty(QUARRY, "-10 °C", 3))
    told = {row[0]: row[VERDICT] for row in hard.rows}
    thick = int(re.search(r"insulate it with (\d+) mm", told["front line"])[1])
    line = 'name = "front line"\n'
    text = frosty(QUARRY, "-10 °C", 3).replace(line, f'{line}insulation = "{thick} mm"\n')
    after = {row[0]: row[VERDICT] for row in listed(text).rows}
    assert after["front line"] in ("stands it as insulated", "stands it, but only just")
    arctic = listed(frosty(QUARRY, "-40 °C", 20))
    assert {row[VERDICT] for row in arctic.rows if row[0] == "front line"} == {"freezes: heat it, or drain it"}
    plumbing = pipes(frosty(QUARRY, "-10 °C", 3)).plumbing
    assert least_insulation(plumbing, plumbing.work.frost, plumbing.runs["front line"]) == thick / 1000


def test_only_just_is_told() -> None:
    plumbing = pipes(QUARRY).plumbing
    hours = time_to_ice(plumbing, plumbing.work.frost, plumbing.runs["front line"], 0.0) / 3600
    row = next(row for row in listed(frosty(QUARRY, "-6 °C", round(hours * 0.99, 4))).rows if row[0] == "front line")
    assert row[VERDICT] == "stands it, but only just"


def test_watts_a_foot_are_watts_a_metre() -> None:
    for metric, us in zip(listed(VILLAGE).rows, listed(VILLAGE, "us").rows, strict=True):
        assert us[HEAT_BARE] == pytest.approx(metric[HEAT_BARE] * 0.3048, abs=0.07)
        assert us[BARE_W] == metric[BARE_W]
    assert "W/ft" in listed(VILLAGE, "us").columns[HEAT].name


@pytest.mark.parametrize("air", ["0 °C", "5 °C"])
def test_no_frost_no_rows(air: str) -> None:
    listing = listed(frosty(QUARRY, air, 1))
    assert not listing.rows
    assert listing.total is None
    without, count = COLD.subn("", QUARRY)
    assert count == 1
    assert "pipework.frost" in listed(without).foot
