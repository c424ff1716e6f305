"""What keeps tank, pump and main safe, each judged on both sides: the case that must fail, and the remedy tried."""

from __future__ import annotations

import math
import re

import pytest

from plumbed import asked, changed
from quarry import bare
from tunwright.build.reading import read_text
from tunwright.checks.assess import Assessment
from tunwright.checks.finding import Finding
from tunwright.checks.pipework.bears import bears
from tunwright.checks.pipework.drinking import drinking_findings
from tunwright.checks.pipework.emergency_chain import resting
from tunwright.checks.pipework.hammer import hammer_findings
from tunwright.checks.pipework.pipes import Pipes, pipe_findings
from tunwright.checks.pipework.pressure import pressure_findings
from tunwright.checks.pipework.pump import pump_findings
from tunwright.checks.pipework.tank.tank import tank_findings
from tunwright.checks.pipework.ways import way_findings
from tunwright.demos import demo_text
from tunwright.sheets.pipework.flows import concerning, findings_of
from tunwright.tables.read import shop_value
from tunwright.truck.pipework.duties import DutyState
from tunwright.truck.truck import Truck

QUARRY, VILLAGE = bare(), demo_text("village-carrier")
BLEED = """[[pipework.relief]]
name = "bleed"
from = "pump outlet"
to = "return mouth"
opens = "0.1 bar"
full = "5 bar"
flow = "{flow} L/min"

[[pipework.relief]]
"""


def found(text: str, ask=pipe_findings) -> dict[str, Finding]:
    if ask is pipe_findings:
        pipes = Pipes(Truck(read_text(text).build))
        return {one.key: one for one in pipe_findings(pipes, ())}
    return asked(text, ask)


def test_a_pump_behind_shut_valves_needs_a_bleed(check) -> None:
    one = found(QUARRY, pump_findings)["pump-shut"]
    assert (one.verdict, one.value) == ("fails", pytest.approx(0.0, abs=1e-3))
    assert "20 L/min" in one.remedy.words
    bled = found(changed(QUARRY, ("[[pipework.relief]]\n", BLEED.format(flow=20))), pump_findings)["pump-shut"]
    assert bled.verdict == "holds"
    slow = 1000 / 2000 * 1.2  # the duty with the slowest pump; its head at no flow pushes water through the bleed
    pond, mouth, density = -2.2, 2.75, 999.5
    bar = (70 * slow**2 + pond - mouth) * density * 9.80665 / 1e5
    check("quarry: bled with all shut", source="root of the pressure left, by hand", unit="L/min", ours=bled.value,
          expected=20 * math.sqrt((bar - 0.1) / 4.9), tol=0.02 * bled.value)  # fmt: skip


def test_each_compartment_may_be_the_last_one_open() -> None:
    """DN150 passes all three together, but not the one that is left when the others are full."""
    one = found(changed(VILLAGE, ('size = "DN200"', 'size = "DN150"')), tank_findings)["overflow"]
    assert one.verdict == "fails"
    assert "the last one open" in one.state
    assert "make the overflow DN200" in one.remedy.words
    assert found(VILLAGE, tank_findings)["overflow"].verdict in ("holds", "close")
    two = VILLAGE.replace('name = "V9"\non = "middle filling"', 'name = "V9"\non = "rear line"')
    assert found(two, tank_findings)["overflow"].value == found(VILLAGE, tank_findings)["overflow"].value


def test_water_over_the_lip_presses_on_the_roof(check) -> None:
    """Lip 1.25 m, roof 1.30 m over the bottom; the tank falls by 1 % to the rear."""
    high = found(changed(QUARRY, ('head = "100 mm"', 'head = "190 mm"')), tank_findings)["overflow-roof"]
    plumbing = Pipes(Truck(read_text(QUARRY).build)).plumbing
    room = plumbing.tank.roof() - plumbing.tank.lip()
    check("quarry: pressure under the roof", source="rho g (head - room)", unit="kPa", ours=high.value, tol=1e-6,
          expected=plumbing.liquid.density * 9.80665 * (0.19 - room) / 1e3)  # fmt: skip
    assert high.verdict == "fails"
    least = int(re.search(r"no more than (\d+) mm", high.remedy.words)[1])
    told = found(changed(QUARRY, ('head = "100 mm"', f'head = "{least} mm"')), tank_findings)["overflow-roof"]
    assert told.verdict in ("holds", "close")


def test_no_pipe_large_enough_is_said_with_what_the_largest_passes() -> None:
    low = changed(QUARRY, ('head = "100 mm"', 'head = "10 mm"'))
    words = found(low, tank_findings)["overflow"].remedy.words
    assert "allow" in words or "the largest, passes" in words
    roof = changed(low, ("[pipework]\n", '[pipework]\nvacuum = "100 Pa"\n'))
    assert "the largest, passes" in found(roof, tank_findings)["overflow"].remedy.words


def test_a_run_that_hangs_is_a_pocket() -> None:
    hung = demo_text("quarry-carrier").replace('height = "0.65 m"', 'height = "0.55 m"')
    one = found(hung, way_findings)["pockets"]
    assert (one.verdict, one.state) == ("fails", "front line")
    assert "50 mm" in one.working[0].result
    assert found(demo_text("quarry-carrier"), way_findings)["pockets"].verdict == "holds"


def test_water_that_runs_back_into_the_pond_is_caught() -> None:
    text = changed(QUARRY, ('open = ["V1", "V3"]', 'open = ["V1", "V2", "V3"]'))
    assert found(text, way_findings)["runs-back"].verdict == "holds", "its foot valve keeps it"
    valve = re.search(r'\[\[pipework\.valve\]\]\nname = "V2F"\n(?:.+\n)+\n', text)[0]
    one = found(text.replace(valve, ""), way_findings)["runs-back"]
    assert one.verdict == "fails"
    assert one.value > 0
    assert "foot valve in the hose to pond" in one.remedy.words


def test_pond_water_in_a_drinking_water_tank_fails() -> None:
    raw = found(changed(QUARRY, ('use = "dust suppression"', 'use = "potable"')), drinking_findings)["raw-water"]
    assert (raw.verdict, raw.state) == ("fails", "fill from a pond")
    assert found(VILLAGE, drinking_findings)["raw-water"].verdict == "holds"


def test_a_pump_that_draws_from_a_pond_is_asked_to_prime_whatever_it_does() -> None:
    text = changed(
        QUARRY,
        ('name = "use the monitor"\nkind = "monitor"\nopen = ["V1", "V5"]',
         'name = "use the monitor"\nkind = "monitor"\nopen = ["V2", "V5"]'),
    )  # fmt: skip
    assert found(text, pump_findings)["prime-use-the-monitor"].verdict == "holds"
    far = changed(text, ('name = "pond"\nheight = "-2.2 m"', 'name = "pond"\nheight = "-4.6 m"'))
    assert found(far, pump_findings)["prime-use-the-monitor"].verdict == "fails"


def test_hose_and_cam_couplings_bear_less_than_pipe() -> None:
    plumbing = Pipes(Truck(read_text(QUARRY).build)).plumbing
    assert bears(plumbing, ["rear line"])[0] == 16e5
    assert bears(plumbing, ["rear line", "hydrant filling"])[0] == bears(plumbing, ["draw hose"])[0] == 7e5
    own = changed(QUARRY, ('name = "hydrant filling"\n', 'name = "hydrant filling"\nbears = "12 bar"\n'))
    assert bears(Pipes(Truck(read_text(own).build)).plumbing, ["hydrant filling"])[0] == 12e5


def test_a_hydrant_may_press_more_than_a_coupling_bears() -> None:
    strong = changed(QUARRY, ('static = "3 bar"', 'static = "7.5 bar"'))
    one = found(strong, pressure_findings)["pressure-shut-off"]
    assert (one.verdict, one.limit, one.state) == ("fails", 7.0, "hydrant coupling")


def test_hammer_stands_on_what_then_stands_there(check) -> None:
    """V5 is shut by hand in a third of a second that counts: twice a stiff column on the pressure that then stands."""
    one = found(QUARRY, hammer_findings)["hammer"]
    assert one.state.startswith("V5")
    pipes, shut = Pipes(Truck(read_text(QUARRY).build)), changed(QUARRY, ('open = ["V1", "V5"]', 'open = ["V1"]'))
    then = Pipes(Truck(read_text(shut).build)).worked[2].states[0].pressure("manifold")
    runs, state = pipes.plumbing.runs, pipes.worked[2].states[0]
    column = float(runs["monitor line"].length) + float(runs["delivery"].length)
    time = 0.333 * shop_value("hand_closes_in")
    rise = 2 * 999.5 * column * abs(state.velocity("monitor line")) / time
    check(
        "quarry: V5 shut by hand",
        source="twice rho L v / t over what then stands",
        expected=(then + rise) / 1e5,
        ours=one.value,
        tol=0.02 * rise / 1e5,
        unit="bar",
    )


def test_a_high_corner_counts_for_the_least_pressure(check) -> None:
    """The suction led over the frame: at its highest what the level leaves, less losses on the way and v2/2g."""
    corners = ((1.9, 0, 0.99), (1.9, 0, 1.9), (2.55, 0, 1.9), (2.55, 0, 0.85))
    rows = ", ".join(f'{{ at = "{x} m", y = "{y} m", height = "{z} m" }}' for x, y, z in corners)
    old = 'name = "suction"\n'
    text = changed(QUARRY, (old, f"{old}corner = [{rows}]\n"), ('length = "3.4 m"', 'length = "2.61 m"'))
    text = text.replace("open_water = true\n", "").replace('static = "3 bar"', 'static = "3 bar"')
    start = text.index("[[pipework.duty]]")
    duties = [part for part in text[start:].split("[[pipework.duty]]\n") if 'open = ["V1", "V3"]' in part]
    text = f"{text[:start]}[[pipework.duty]]\n{duties[0]}"
    one = found(text, pressure_findings)["pressure-least"]
    assert one.state.startswith("suction at its highest")
    pipes = Pipes(Truck(read_text(text).build))
    state = pipes.worked[0].states[0]
    state = min(pipes.worked[0].states, key=lambda each: each.fill)
    head = state.flowing.head["tank sump"], state.flowing.head["pump inlet"]
    part = (0.91 + 0.65 * 0.0) / 2.61
    over = head[0] + part * (head[1] - head[0]) - 1.9
    liquid = pipes.plumbing.liquid
    expected = (liquid.air + liquid.pressure(over) - 0.5 * liquid.density * state.velocity("suction") ** 2) / 1e3
    check("quarry: suction over a high corner", source="Bernoulli by hand", expected=expected, ours=one.value, tol=0.01,
          unit="kPa")  # fmt: skip


def test_a_duty_that_fails_itself_is_not_released() -> None:
    """The worst duty is told by the finding; another that fails too is told beside its own name."""
    size = 'size = "{}"\nlength = "{}"'
    thin = [(size.format("DN80", each), size.format("DN65", each)) for each in ("6.08 m", "4.65 m")]
    fast = changed(QUARRY, ('engine = "1600 rpm"', 'engine = "1690 rpm"'), *thin)
    assessment = Assessment(read_text(fast).build)
    worst = assessment.finding("velocity-delivery")
    assert worst.verdict == "fails"
    for one in assessment.pipes.worked[:3]:
        mine = {each.key for each in concerning(findings_of(assessment), one) if each.verdict == "fails"}
        speeds = [abs(state.velocity(run)) for state in one.states for run in state.plumbing.runs]
        assert ("velocity-delivery" in mine) == (max(speeds) > worst.limit), one.duty.name


def test_water_too_fast_comes_with_the_size_that_would_do() -> None:
    size = 'to = "pump inlet"\nseries = "sch 40"\nsize = "{}"'
    one = found(changed(QUARRY, (size.format("DN125"), size.format("DN80"))))["velocity-suction"]
    assert one.verdict == "fails"
    told = re.search(r"make suction (DN\d+)", one.remedy.words)[1]
    assert found(changed(QUARRY, (size.format("DN125"), size.format(told))))["velocity-suction"].verdict != "fails"
    below = {"DN125": "DN100", "DN100": "DN90", "DN150": "DN125"}[told]
    assert found(changed(QUARRY, (size.format("DN125"), size.format(below))))["velocity-suction"].verdict == "fails"


def test_a_curve_without_suction_head_at_no_flow_is_taken_from_the_next_point() -> None:
    """Makers tell efficiency and NPSH where water flows; nothing changes at the flows of the duties."""
    first = '{ flow = "0 L/min", head = "70 m", efficiency = "0 %", npsh = "1.8 m" }'
    text = changed(QUARRY, (first, '{ flow = "0 L/min", head = "70 m" }'))
    ours, whole = (Pipes(Truck(read_text(one).build)).worked[1].states[0].pump for one in (text, QUARRY))
    assert (ours.needs, ours.power) == (pytest.approx(whole.needs), pytest.approx(whole.power))
    assert found(text, pump_findings)["npsh"].verdict == "holds"


def test_a_pump_that_nothing_feeds_runs_dry() -> None:
    text = changed(QUARRY, ('open = ["V1", "V5"]', 'open = ["V5"]'))
    one = found(text, pump_findings)["pump-least-flow"]
    assert one.verdict == "fails"
    assert "runs dry" in one.note
    assert "run it slower" not in one.remedy.words


def test_a_pump_at_rest_loses_what_its_curve_falls_by(check) -> None:
    """H = n2 H0 - k Q2 at n = 0: with k from the last point, 40 m at 2400 L/min. Here by gravity through the sprays."""
    plumbing = resting(Pipes(Truck(read_text(QUARRY).build)).plumbing)
    duty = plumbing.work.duty[0].model_copy(update={"engine": None})
    state = DutyState(plumbing, duty, 1.0)
    flow, head = state.flow("pump"), state.flowing.head
    assert flow > 1e-3
    check("quarry: head lost in the pump at rest", source="k Q2 by hand", unit="m", tol=1e-6,
          expected=40 * (flow * 60_000 / 2400) ** 2, ours=head["pump inlet"] - head["pump outlet"])  # fmt: skip


def test_still_air_takes_less_than_wind_and_more_than_nothing(check) -> None:
    cold = re.compile(r'frost = \{ air = "-6 °C", wind = "15 km/h"')
    hours = {wind: found(cold.sub(f'frost = {{ air = "-6 °C", wind = "{wind}"', QUARRY), pipe_findings)["frost"].value
             for wind in ("0 km/h", "0.2 km/h", "15 km/h")}  # fmt: skip
    assert hours["15 km/h"] < hours["0 km/h"]
    check("front line: hours in a breath of wind", source="those in still air", expected=hours["0 km/h"],
          ours=hours["0.2 km/h"], tol=1e-9, unit="h")  # fmt: skip


def test_warm_water_breathes_more(check) -> None:
    """Factor C of API 2000: 4 below 25 C, 6.5 above, both from memory; what is pumped is the same to a per mille."""
    warm = changed(QUARRY, ('water = "12 °C"', 'water = "30 °C"'))
    litres = [
        float(found(text, tank_findings)["vent-in"].working[0].result.split(" ")[0].replace("\u2009", ""))
        for text in (QUARRY, warm)
    ]
    check(
        "air the weather moves, 30 C over 12 C",
        source="6.5 / 4",
        expected=6.5 / 4,
        ours=litres[1] / litres[0],
        tol=0.004,
    )


@pytest.mark.parametrize(
    ("old", "new", "duty", "words"),
    [
        ('open = ["V1", "V3"]', 'open = ["V3"]', "spray-the-road-behind", "V1 is shut on the way from tank sump"),
        ('static = "3 bar", residual = "1.5 bar"', 'static = "0.12 bar", residual = "0.05 bar"', "fill-from-a-hydrant",
         "the water rises to 2.12 m above the ground, and tank mouth stands at 2.80 m"),
        ("open_water = true\n", "", "fill-from-a-pond", "no water to draw from. Give a point open_water"),
    ],
)  # fmt: skip
def test_why_nothing_flows(old: str, new: str, duty: str, words: str) -> None:
    assert words in found(changed(QUARRY, (old, new)))[f"duty-{duty}"].note
