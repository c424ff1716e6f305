"""The worst is found wherever it is: each answer a second way, and nothing depends on how a run is written."""

from __future__ import annotations

import math
import re

import pytest

import plumbed
from plumbed import changed, pipes
from quarry import bare
from tunwright.build.problems import BuildProblems
from tunwright.build.reading import read_text
from tunwright.checks.assess import Assessment
from tunwright.checks.finding import Finding
from tunwright.checks.pipework.pipes import Pipes
from tunwright.demos import demo_text
from tunwright.handbook.pipe_network import flowing
from tunwright.tables.pipes import sizes
from tunwright.truck.pipework.overflow import overflow_flow
from tunwright.truck.truck import Truck

QUARRY, VILLAGE = bare(), demo_text("village-carrier")
DUTY = '[[pipework.duty]]\nname = "{name}"\nkind = "{kind}"\nopen = {open}\n{more}'


def found(text: str, key: str) -> Finding:
    return Assessment(read_text(text).build).finding(key)


def only(text: str, name: str, kind: str, valves: list[str], more: str = "") -> str:
    """The pipework with one duty of its own."""
    start = text.index("[[pipework.duty]]")
    told = "[" + ", ".join(f'"{one}"' for one in valves) + "]"
    return text[:start] + DUTY.format(name=name, kind=kind, open=told, more=more)


def test_no_water_comes_back_through_a_mouth_in_the_air() -> None:
    text = only(QUARRY, "drain by the mouth", "drain", ["V6", "V3"])
    assert found(text, "duty-drain-by-the-mouth").verdict == "fails"
    assert abs(pipes(text).worked[0].states[0].from_tank) < 1e-6


def test_the_slowest_compartment_counts(check) -> None:
    """A thin line from the front compartment: its own volume over its own flow, the flow hardly changing."""
    thin = changed(
        VILLAGE, ('to = "collector"\nseries = "40S"\nsize = "DN80"', 'to = "collector"\nseries = "40S"\nsize = "DN25"')
    )
    one = pipes(thin).worked[0]
    middle = min(one.states, key=lambda state: abs(state.fill - 0.5))
    volume = float(one.states[0].plumbing.truck.volumes.net[0])
    assert one.over.parts["front"] == max(one.over.parts.values()) == one.over.time
    by_hand = volume / middle.of_part(0)
    check(
        "village, thin line: front compartment",
        source="V / Q by hand at half fill",
        expected=by_hand,
        ours=one.over.time,
        tol=0.1 * by_hand,
        unit="s",
    )
    assert found(thin, "duty-time-pump-all-up-to-the-village-tank").verdict == "fails"


def test_water_that_comes_back_to_the_tank_is_told_by_the_pump() -> None:
    text = only(
        QUARRY,
        "mix",
        "recirculate",
        ["V1"],
        'engine = "1000 rpm"\nthrottled = [{ valve = "V6", open = "40 %" }]\nwants = "800 L/min"\n',
    )
    one = found(text, "duty-mix")
    states = pipes(text).worked[0].states
    assert one.value == pytest.approx(60_000 * min(state.pump.flow for state in states), rel=1e-9)
    assert max(abs(state.from_tank) for state in states) < 1e-6


def test_each_compartment_breathes_by_its_own_vents(check) -> None:
    """Three 22 mm vents, one a compartment: the rear alone lets 4.9 kPa build up, Q = Cd A sqrt(2 p / rho).

    Q is what the pipes draw and what rain makes the empty compartment breathe in, 4 V^0.7 m3/h at 0 C and 1 atm.
    """
    small = changed(VILLAGE, ('bore = "80 mm"\ncount = 3', 'bore = "22 mm"\ncount = 3'))
    one = found(small, "vent-in")
    plumbing = pipes(small).plumbing
    worked = pipes(small).worked[1]
    flow = max(state.of_part(2) for state in worked.states)
    air = 1.2250 * plumbing.liquid.air / 101325.0
    flow += 4.0 * float(plumbing.truck.volumes.gross[2]) ** 0.7 / 3600.0 * 1.2923 / air
    by_hand = (flow / (0.4 * math.pi / 4 * 0.022**2)) ** 2 * air / 2 / 1e3
    check(
        "village, 22 mm vents: rear alone",
        source="orifice by hand, air of the standard atmosphere",
        expected=by_hand,
        ours=one.value,
        tol=0.002 * by_hand,
        unit="kPa",
    )
    assert one.verdict == "fails"
    front = changed(VILLAGE, ('coefficient = "40 %"', 'coefficient = "40 %"\ncompartment = "front"'))
    assert "has no vent" in found(front, "vent-in").note


@pytest.mark.parametrize("head", [0.03, 0.08, 0.2])
def test_an_overflow_passes_no_more_than_its_mouth_and_a_longer_pipe_no_more(head: float) -> None:
    for size in sizes("sch 40"):
        passes = []
        for length in ("1.5 m", "6 m", "12 m"):
            text = changed(QUARRY, ('length = "1.7 m"', f'length = "{length}"'))
            passes.append(overflow_flow(pipes(text).plumbing, size, head))
        mouth = 0.6 * math.pi / 4 * size.inside**2 * math.sqrt(2 * 9.80665 * head)
        assert passes[0] <= mouth * (1 + 1e-9)
        assert passes == sorted(passes, reverse=True)


def test_a_throttle_somebody_leaves_open_is_counted_for_the_overflow() -> None:
    one = found(QUARRY, "overflow")
    wide = changed(QUARRY, ('open = []\nthrottled = [{ valve = "V7", open = "38 %" }]', 'open = ["V7"]'))
    assert found(wide, "overflow").limit == pytest.approx(one.limit, rel=1e-6)


def test_the_pressure_with_everything_shut_is_that_of_the_network(check) -> None:
    """All valves behind the pump shut, tank full, engine at its fastest: head of the curve over the water."""
    text = changed(QUARRY, ('opens = "7 bar"\nfull = "8 bar"', 'opens = "20 bar"\nfull = "21 bar"'))
    plumbing = pipes(text).plumbing
    duty = plumbing.work.duty[0].model_copy(update={"open": ["V1"], "engine": plumbing.work.pump.drive.most})
    head = flowing(plumbing.links(duty, 1.0), plumbing.given(1.0)).head["pump outlet"]
    alone = (head - plumbing.height("pump outlet")) * plumbing.liquid.density * 9.80665 / 1e5
    one = found(text, "pressure-shut-off")
    check("quarry: pump shut off", source="network with all shut", expected=alone, ours=one.value, tol=1e-4, unit="bar")
    with_relief = found(QUARRY, "pressure-shut-off").value
    assert 7.0 < with_relief < alone


def test_a_hydrants_standing_pressure_and_the_hammer_on_top_are_seen() -> None:
    strong = changed(QUARRY, ('static = "3 bar", residual = "1.5 bar"', 'static = "18 bar", residual = "9 bar"'))
    one = found(strong, "pressure-shut-off")
    assert (one.verdict, one.value) == ("fails", pytest.approx(18.0))
    assert found(strong, "hammer").value >= 18.0 - 1e-6


def test_how_a_run_is_written_does_not_matter() -> None:
    ends = ('from = "manifold"\nto = "rear header"', 'from = "rear header"\nto = "manifold"')
    suction = ('from = "tank sump"\nto = "pump inlet"', 'from = "pump inlet"\nto = "tank sump"')
    turned = Assessment(read_text(changed(QUARRY, ends, suction)).build)
    plain = Assessment(read_text(QUARRY).build)
    for key in ("hammer", "velocity-suction", "velocity-delivery", "pump-curve", "npsh", "pressure-least"):
        assert turned.finding(key).value == pytest.approx(plain.finding(key).value, rel=1e-6), key


def test_a_dirty_strainer_counts_for_the_suction_head(check) -> None:
    """0.9 bar more at 1500 L/min: r q^2 less head, and a little less flow."""
    clean, dirty = found(QUARRY, "npsh"), found(changed(QUARRY, ('dirty = "0.15 bar"', 'dirty = "0.9 bar"')), "npsh")
    assert dirty.value < clean.value
    assert dirty.state.endswith("strainers dirty")


def test_water_does_not_drain_through_a_foot_valve() -> None:
    start, end = QUARRY.index('[[pipework.spray]]\nname = "pump drain"'), QUARRY.index("[[pipework.vent]]")
    text = (QUARRY[:start] + QUARRY[end:]).replace('open = ["V1", "V8"]', 'open = ["V1"]')
    one = found(text, "pockets")
    assert one.verdict == "fails"
    assert "pump inlet" in one.state


def test_heads_alike_stand_side_by_side() -> None:
    """Four heads of 1.75 m are one of 7 m, as even and as wide."""
    many = changed(
        QUARRY,
        ('kind = "spray head"\nflow = "400 L/min"', 'kind = "spray bar"\ncount = 4\nflow = "100 L/min"'),
        ('width = "7 m"', 'width = "1.75 m"'),
    )
    key = "evenness-spray-the-road-behind"
    assert found(many, key).value == pytest.approx(found(QUARRY, key).value, abs=0.02)


def test_only_the_water_that_is_drawn_has_to_be_lifted() -> None:
    deep = changed(
        QUARRY,
        (
            "[[pipework.run]]",
            '[[pipework.point]]\nname = "well"\nheight = "-9 m"\nopen_water = true\n\n[[pipework.run]]',
        ),
    )
    assert found(deep, "prime-fill-from-a-pond").value == pytest.approx(found(QUARRY, "prime-fill-from-a-pond").value)


def test_an_empty_tank_gives_nothing() -> None:
    plumbing_at = Pipes(Truck(read_text(VILLAGE).build), fill=0.0)
    assert abs(plumbing_at.worked[0].states[0].from_tank) < 1e-8


@pytest.mark.parametrize(
    ("changes", "path"),
    [
        (
            [
                (
                    "[[pipework.relief]]",
                    '[[pipework.regulator]]\nname = "R"\non = "tank filling"\nsets = "2 bar"\n\n[[pipework.relief]]',
                )
            ],
            "pipework.regulator[1].on",
        ),
        ([('name = "bypass"', 'name = "pump"')], "pipework.pump.name"),
        ([('flow = "0 L/min", head = "70 m"', 'flow = "0 L/min", head = "0 m"')], "pipework.pump.curve[1].head"),
        ([('efficiency = "38 %"', 'efficiency = "0 %"')], "pipework.pump.curve[2].efficiency"),
        ([('altitude = "420 m"', 'altitude = "420 m"\nvacuum = "20 kPa"')], "pipework.vacuum"),
        ([('open = ["V2"]\nthrottled', 'open = ["V2", "V6"]\nthrottled')], "pipework.duty[6].throttled[1].valve"),
    ],
)
def test_what_the_solver_cannot_take_is_refused_in_words(changes: list[tuple[str, str]], path: str) -> None:
    with pytest.raises(BuildProblems) as caught:
        read_text(changed(QUARRY, *changes))
    assert path in [one.path for one in caught.value.problems], caught.value.problems


def test_a_run_of_no_length_is_judged_all_the_same() -> None:
    text = changed(QUARRY, ('length = "4.65 m"', 'length = "0 m"'))
    assert found(text, "hammer").value is not None


def test_a_pump_against_shut_valves_heats_its_water_and_a_way_back_to_the_tank_keeps_it_cool(check) -> None:
    shut = only(QUARRY, "stand by", "recirculate", ["V1"], 'engine = "1000 rpm"\n')
    one = found(shut, "pump-least-flow")
    assert one.verdict == "fails"
    assert one.value == 0.0
    least = int(re.search(r"let (\d+) L/min", one.remedy.words)[1])
    back = only(
        QUARRY,
        "stand by",
        "recirculate",
        ["V1"],
        'engine = "1000 rpm"\nthrottled = [{ valve = "V6", open = "25 %" }]\n',
    )
    state = pipes(back).worked[0].states[0]
    assert 60_000 * state.pump.flow > least
    cool = found(back, "pump-least-flow")
    assert cool.verdict == "holds"
    eta = pipes(back).plumbing.curve.efficiency_at(state.pump.flow, state.pump.speed)
    rise = 9.80665 * state.pump.head * (1 / eta - 1) / 4186.0
    told = float(cool.working[-1].result.removesuffix(" K"))
    check(
        "quarry, water round through the pump: warmer by",
        source="first law, g H (1/η - 1) / c",
        expected=rise,
        ours=told,
        tol=0.005,
        unit="K",
    )


def test_a_narrower_run_behind_a_wider_one_loses_what_a_reducer_does(check) -> None:
    """Two runs in a row, DN100 and DN50: the reducer between them counts once, the worse way, on the narrow run."""
    from fluids.fittings import contraction_conical_Crane, diffuser_conical_Crane

    text = plumbed.build(
        [
            plumbed.point("tank", "outlet = 1"),
            plumbed.point("between"),
            plumbed.point("end"),
            plumbed.run("wide", "tank", "between").replace("DN80", "DN100"),
            plumbed.run("narrow", "between", "end").replace("DN80", "DN50"),
            plumbed.spray("open end", "end", "open end"),
            plumbed.duty("let out", []).replace('"spray"', '"drain"'),
        ]
    )
    work, state = plumbed.plumbing(text), pipes(text).worked[0].states[0]
    head, flow = state.flowing.head, state.flow("narrow")
    bare = work.pipe(work.size(work.runs["narrow"]), 2.0, 0.0).loss(flow)[0]
    narrow, wide = (work.size(work.runs[name]).inside for name in ("narrow", "wide"))
    k = (head["between"] - head["end"] - bare) * 2 * 9.80665 / state.velocity("narrow") ** 2
    expected = max(contraction_conical_Crane(wide, narrow, angle=30), diffuser_conical_Crane(narrow, wide, angle=30))
    check(
        "reducer of DN100 to DN50 in a duty",
        source="fluids, Crane TP-410, cone of 30 degrees",
        expected=expected,
        ours=k,
        tol=1e-6,
    )
    aside = text + plumbed.run("aside", "between", "other") + plumbed.point("other")
    tee = pipes(aside).worked[0].states[0]
    assert tee.flow("narrow") > flow, "at a tee its own coefficient is to be given, no reducer is taken"
