"""Jets in a build: the push by momentum, at a limit and over it, remedies tried, the sideways moment, the reach."""

from __future__ import annotations

import math
import re

import pytest

from plumbed import asked, build, changed, duty, pipes, point, run, spray
from quarry import bare
from tunwright.checks.finding import Finding
from tunwright.checks.pipework.jets import jet_findings
from tunwright.sheets.pipework.jets import jet_list
from tunwright.tables.read import shop_value
from tunwright.truck.pipework.jets import jet_at, righting

QUARRY, MONITOR = bare(), 'bore = "24 mm"'
PSI, GPM, FOOT, LBF = 6894.757293168, 3.785411784e-3 / 60, 0.3048, 4.4482216152605


def quarry(jet: str = MONITOR, rpm: int = 1600, flow: int = 900) -> str:
    """The quarry demo with another monitor, at 2.75 m, with its flow at 5 bar, and another engine speed."""
    start = QUARRY.index('name = "monitor"\non = "monitor base"')
    end = QUARRY.index("[[pipework.spray]]", start)
    monitor = f'name = "monitor"\non = "monitor base"\nkind = "monitor"\nflow = "{flow} L/min"\n'
    monitor += f'pressure = "5 bar"\n{jet}\n\n'
    text = QUARRY[:start] + monitor + QUARRY[end:]
    at = text.index('name = "use the monitor"')
    return text[:at] + re.sub(r'engine = "\d+ rpm"', f'engine = "{rpm} rpm"', text[at:], count=1)


def found(text: str) -> dict[str, Finding]:
    return asked(text, jet_findings)


def worst(text: str) -> float:
    """Greatest pressure before the monitor [Pa], asked of the network itself."""
    one = next(each for each in pipes(text).worked if each.duty.name == "use the monitor")
    return max(state.pressure("monitor base") for state in one.states)


@pytest.mark.parametrize("rpm", [1000, 1300, 1600])
def test_a_jet_pushes_with_the_momentum_of_its_water(check, rpm: int) -> None:
    """Out of a bore: rho Q v with Q = A v. Without: rho Q v with the flow of the network."""
    text = quarry('bore = "25 mm"\nbears = "2 kN"', rpm)
    rho, area = pipes(text).plumbing.liquid.density, math.pi / 4 * 0.025**2
    v = math.sqrt(2 * worst(text) / rho)
    check(f"push of a bore of 25 mm, {rpm} rpm", source="rho A v^2", expected=rho * area * v * v, unit="N", tol=0.01,
          ours=found(text)["jet-reaction-monitor"].value)
    text = quarry('bears = "2 kN"', rpm)
    state = max((s for one in pipes(text).worked for s in one.states), key=lambda s: s.to_sprays.get("monitor", 0.0))
    v = math.sqrt(2 * state.pressure("monitor base") / rho)
    check(f"push of the flow alone, {rpm} rpm", source="rho Q v", expected=rho * state.flow("monitor") * v, unit="N",
          tol=0.01, ours=found(text)["jet-reaction-monitor"].value)


def test_a_mount_bears_what_it_bears() -> None:
    push = found(quarry('bore = "25 mm"\nbears = "2 kN"'))["jet-reaction-monitor"]
    assert (push.verdict, push.limit) == ("holds", 2000.0)
    for bears, judged in ((push.value + 0.001, "close"), (0.99 * push.value, "fails")):
        text = quarry(f'bore = "25 mm"\nbears = "{bears:.4f} N"')
        assert found(text)["jet-reaction-monitor"].verdict == judged


def test_an_unknown_mount_is_open_and_names_the_key() -> None:
    one = found(quarry('bore = "25 mm"'))["jet-reaction-monitor"]
    assert (one.verdict, one.missing) == ("open", ("pipework.spray[5].bears",))
    assert re.search(r"pushes with up to \d+ N", one.note)


@pytest.mark.parametrize(("held", "key"), [("one person", "jet_one_person"), ("two persons", "jet_two_persons")])
def test_hands_hold_what_the_shop_says(held: str, key: str) -> None:
    one = found(quarry(f'bore = "20 mm"\nheld = "{held}"'))
    assert one["jet-reaction-monitor"].limit == shop_value(key)
    assert "jet-sideways-monitor" not in one
    assert one["jet-reaction-monitor"].question == f"Can {held} hold monitor?"


def test_the_limits_of_hands_are_those_of_the_source(check) -> None:
    source = "public fire service page on pump operation, after a study: 60 lbf, 75 lbf"
    for key, pounds in (("jet_one_person", 60), ("jet_two_persons", 75)):
        check(key, source=source, expected=pounds, ours=shop_value(key) / LBF, tol=0.5, unit="lbf")


def test_a_reel_is_held_by_one_person() -> None:
    parts = [
        point("P", "outlet = 1"), point("end"), run("line", "P", "end", ["V1"]),
        spray("reel", "end", "hose reel", 'bore = "6 mm"'), duty("wash", ["V1"]),
    ]  # fmt: skip
    one = found(build(parts))["jet-reaction-reel"]
    assert (one.limit, one.verdict) == (shop_value("jet_one_person"), "holds")


@pytest.mark.parametrize("held", ['bears = "400 N"', 'held = "one person"', 'held = "two persons"'])
def test_the_engine_speed_that_is_told_holds_and_ten_more_do_not(held: str) -> None:
    one = found(quarry(f'bore = "25 mm"\n{held}'))["jet-reaction-monitor"]
    assert one.verdict == "fails"
    rpm = int(re.search(r"at ([\d\u2009]+) rpm at most", one.remedy.words)[1].replace("\u2009", ""))
    assert found(quarry(f'bore = "25 mm"\n{held}', rpm))["jet-reaction-monitor"].verdict in ("holds", "close")
    assert found(quarry(f'bore = "25 mm"\n{held}', rpm + 10))["jet-reaction-monitor"].verdict == "fails"


def test_where_no_engine_speed_does_a_pressure_is_told() -> None:
    text = quarry('bore = "25 mm"\nbears = "90 N"')
    one = found(text)["jet-reaction-monitor"]
    bar = float(re.search(r"no more than ([\d.]+) bar", one.remedy.words)[1])
    plumbing = pipes(text).plumbing
    monitor = next(each for each in plumbing.work.spray if each.name == "monitor")
    assert jet_at(plumbing, monitor, bar * 1e5).reaction <= 90.0 < jet_at(plumbing, monitor, (bar + 0.1) * 1e5).reaction


def test_where_no_pressure_does_a_smaller_nozzle_is_told() -> None:
    one = found(quarry('bore = "25 mm"\nbears = "5 N"'))["jet-reaction-monitor"]
    assert one.remedy.words == "take a smaller nozzle"


def test_two_persons_are_offered_where_two_can() -> None:
    soft = quarry('bore = "18 mm"\nheld = "one person"', flow=480)
    assert shop_value("jet_one_person") < found(soft)["jet-reaction-monitor"].value < shop_value("jet_two_persons")
    assert "or let two persons hold it" in found(soft)["jet-reaction-monitor"].remedy.words
    hard = found(quarry('bore = "25 mm"\nheld = "one person"'))["jet-reaction-monitor"]
    assert "two persons" not in hard.remedy.words


def test_a_flow_that_the_bore_cannot_pass_is_told() -> None:
    """900 L/min at 5 bar need 24.6 mm: of 24 mm come 859 L/min at most."""
    told = found(quarry('bore = "24 mm"\nbears = "2 kN"'))["jet-reaction-monitor"]
    assert "passes 859 L/min at 5 bar at most, and 900 are stated" in told.note
    assert told.value == pytest.approx(found(quarry('bears = "2 kN"'))["jet-reaction-monitor"].value)
    assert found(quarry('bore = "25 mm"\nbears = "2 kN"'))["jet-reaction-monitor"].note == ""


def test_the_sideways_moment_by_hand(check) -> None:
    """Mass of the dry vehicle summed by hand: kerb loads, every lump, less the driver who stayed on the scale."""
    text = quarry('bore = "25 mm"\nbears = "2 kN"\ncount = 2')
    one, truck = found(text)["jet-sideways-monitor"], pipes(text).truck
    kerb = sum(float(axle.kerb_load or 0.0) for axle in truck.axles.axle)
    kerb += sum(float(group.kerb_load or 0.0) for group in truck.build.chassis.group)
    lumps = [(lump.mass.mass, float(lump.mass.centre[1])) for lump in truck.weights.lumps]
    away = truck.weights.crew_away
    mass = kerb + sum(m for m, _ in lumps) + away.mass
    off = (sum(m * y for m, y in lumps) + away.mass * float(away.centre[1])) / mass
    half = 0.5 * min(float(axle.track) for axle in truck.axles.axle) - abs(off)
    push = 2 * math.pi / 2 * 0.025**2 * worst(text)
    check("two monitors pointed sideways", source="R z / m g (T / 2 - y) by hand", unit="share", tol=1e-6,
          expected=push * 2.75 / (mass * 9.80665 * half), ours=one.value)
    assert one.limit == shop_value("jet_righting")


def test_a_jet_too_strong_for_the_vehicle_fails_with_what_would_do() -> None:
    text = quarry('bore = "45 mm"\nbears = "30 kN"').replace('name = "monitor base"\nheight = "2.75 m"',
                                                             'name = "monitor base"\nheight = "9 m"')
    one = found(text)["jet-sideways-monitor"]
    assert one.verdict == "fails"
    rpm = int(re.search(r"at ([\d\u2009]+) rpm at most", one.remedy.words)[1].replace("\u2009", ""))
    slower = re.sub(r'(name = "use the monitor".*?engine = ")\d+', rf"\g<1>{rpm}", text, count=1, flags=re.DOTALL)
    faster = re.sub(r'(name = "use the monitor".*?engine = ")\d+', rf"\g<1>{rpm + 10}", text, count=1, flags=re.DOTALL)
    assert found(slower)["jet-sideways-monitor"].verdict in ("holds", "close")
    assert found(faster)["jet-sideways-monitor"].verdict == "fails"


def test_without_a_track_the_sideways_push_is_open() -> None:
    bare = re.sub(r"\ntrack = .*", "", quarry('bore = "25 mm"'))
    one = found(bare)["jet-sideways-monitor"]
    assert one.verdict == "open"
    assert one.missing[0] == "chassis.axle[1].track"
    assert isinstance(righting(pipes(bare).truck), tuple)


def test_the_reach_is_free_flight_times_what_the_air_leaves(check) -> None:
    """The parabola put together from its times: up from 2.75 m at 25 degrees, down to the ground."""
    text = quarry('bore = "25 mm"\nangle = "25°"\nreaches = "20 m"')
    duty_ = next(each for each in pipes(text).worked if each.duty.name == "use the monitor")
    pressure = min(state.pressure("monitor base") for state in duty_.states)
    rho, g, a = pipes(text).plumbing.liquid.density, 9.80665, math.radians(25)
    v = math.sqrt(2 * pressure / rho)
    up = v * math.sin(a) / g
    top = 2.75 + v * math.sin(a) * up / 2
    free = v * math.cos(a) * (up + math.sqrt(2 * top / g))
    share = 1 / (1 + pressure / (rho * g) / (shop_value("jet_air") * 0.025))
    one = found(text)["jet-reach-monitor"]
    check("reach of the monitor", source="times of rise and fall, by hand", expected=share * free, ours=one.value,
          tol=1e-6, unit="m")
    assert one.value < free
    assert any("upper bound × allowance" in step.source for step in one.working)


def test_without_an_angle_the_usual_one_is_taken_and_said() -> None:
    text = quarry('bore = "25 mm"\nreaches = "20 m"')
    one, other = found(text)["jet-reach-monitor"], found(quarry('bore = "25 mm"\nreaches = "20 m"\nangle = "30°"'))
    assert one.value == pytest.approx(other["jet-reach-monitor"].value)
    assert "30°, the usual angle" in one.working[0].values


def test_the_engine_speed_that_throws_far_enough_does_and_ten_less_do_not() -> None:
    jet = 'bore = "25 mm"\nreaches = "29 m"'
    one = found(quarry(jet, 900))["jet-reach-monitor"]
    assert one.verdict == "fails"
    rpm = int(re.search(r"at ([\d\u2009]+) rpm or more", one.remedy.words)[1].replace("\u2009", ""))
    assert found(quarry(jet, rpm))["jet-reach-monitor"].verdict in ("holds", "close")
    assert found(quarry(jet, rpm - 10))["jet-reach-monitor"].verdict == "fails"


def test_a_better_angle_a_pressure_or_a_larger_nozzle_are_told() -> None:
    flat = found(quarry('bore = "25 mm"\nreaches = "29 m"\nangle = "2°"'))["jet-reach-monitor"]
    assert "point it 30° over the horizontal" in flat.remedy.words
    thin = quarry('bore = "8 mm"\nreaches = "29 m"', flow=95)
    assert "take a larger nozzle: out of 8.0 mm" in found(thin)["jet-reach-monitor"].remedy.words
    slow = ('to = "1700 rpm"', 'to = "1300 rpm"')
    text = changed(quarry('bore = "10 mm"\nreaches = "26 m"', 1300, 145), slow)
    one, plumbing = found(text)["jet-reach-monitor"], pipes(text).plumbing
    bar = float(re.match(r"([\d.]+) bar before its nozzle would do", one.remedy.words)[1])
    monitor = next(each for each in plumbing.work.spray if each.name == "monitor")
    far = changed(quarry('bore = "10 mm"\nreaches = "28 m"', 1300, 145), slow)
    assert "no pressure up to 6.2 bar" in found(far)["jet-reach-monitor"].remedy.words
    assert jet_at(plumbing, monitor, bar * 1e5).reach >= 26.0 > jet_at(plumbing, monitor, (bar - 0.1) * 1e5).reach


def test_the_list_tells_what_the_findings_tell() -> None:
    text = quarry('bore = "25 mm"\nbears = "2 kN"')
    one = pipes(text)
    for system in ("metric", "us"):
        listing = jet_list(one.plumbing, one.worked, system)
        assert (listing.key, listing.title) == ("jets", "Jets")
        assert all(len(row) == len(listing.columns) for row in listing.rows)
    keys = [column.key for column in listing.columns]
    row = dict(zip(keys, listing.rows[0], strict=True))
    assert len(listing.rows) == 1
    assert row["push"] == pytest.approx(found(text)["jet-reaction-monitor"].value)
    assert row["pressure"] == pytest.approx(worst(text), rel=1e-9)
    assert row["held"] == "its mount"
    assert listing.columns[keys.index("push")].head("us") == "push, lbf"
    assert "60 lbf" in listing.foot
    assert "power lines" in listing.foot


HOSE = """
[[pipework.run]]
name = "hose"
from = "coupling"
to = "nozzle"
series = "fire hose"
size = "{size}"
length = "{feet} ft"
"""


@pytest.mark.parametrize(("size", "gallons", "feet", "psi", "tol", "source"), [
    ("2 1/2 in", 200, 100, 8, 0.5, "city fire service, pump operator course (copy)"),
    ("64 mm", 100, 300, 6, 0.5, "city fire service, pump operator course (copy)"),
    ("1 3/4 in", 150, 200, 69.75, 0.005, "public friction loss table of fire hose (copy), C = 15.5"),
])
def test_a_fire_hose_in_a_duty_loses_what_is_printed(check, size: str, gallons: float, feet: float, psi: float,
                                                    tol: float, source: str) -> None:
    """A hydrant has 50 psi for the nozzle, 1 psi for itself and the printed loss: the printed flow comes of it."""
    gives = f'static = "{51 + psi} psi", residual = "{50 + psi} psi", flow = "{gallons} US gpm"'
    nozzle = f'flow = "{gallons} US gpm"\npressure = "50 psi"\n'
    parts = [
        point("coupling", f"hydrant = {{ {gives} }}"), point("nozzle"), HOSE.format(size=size, feet=feet),
        f'\n[[pipework.spray]]\nname = "jet"\non = "nozzle"\nkind = "hose reel"\n{nozzle}', duty("wash", []),
    ]  # fmt: skip
    state = pipes(build(parts)).worked[0].states[0]
    lost = (state.pressure("coupling") - state.pressure("nozzle")) / PSI
    words = f"fire hose {size}, {gallons} gpm, {feet} ft, in a network"
    check(words, source=source, expected=psi, tol=tol, unit="psi", ours=lost)
    check(f"{words}: flow", source=source, expected=gallons, tol=0.01, unit="gpm", ours=state.to_sprays["jet"] / GPM)


def test_fittings_of_a_fire_hose_lose_beside_it(check) -> None:
    one = pipes(quarry()).plumbing
    from tunwright.tables.pipes import pipe_size
    size, q = pipe_size("fire hose", "2 1/2 in"), 0.01
    v = q / (math.pi / 4 * 0.0635**2)
    head = size.resistance * q * q * 20 / (one.liquid.density * 9.80665) + 1.5 * v * v / (2 * 9.80665)
    for flow in (q, -q):
        check("hose of 20 m with fittings of 1.5", source="R q^2 L / rho g + K v^2 / 2 g by hand", unit="m", tol=1e-9,
              expected=math.copysign(head, flow), ours=one.pipe(size, 20.0, 1.5).loss(flow)[0])
