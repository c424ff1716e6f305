"""Flow meters of a build: flows and velocities by hand, and every remedy tried."""

from __future__ import annotations

import math
import re

import pytest

from plumbed import asked, changed, pipes
from quarry import bare
from tunwright.checks.finding import Finding
from tunwright.checks.pipework.meters import meter_findings
from tunwright.tables.pipes import pipe_size, sizes

QUARRY = bare().replace('length = "1.9 m"', 'length = "0.9 m"')
METER = """[[pipework.device]]
name = "meter"
on = "{on}"
kind = "flow meter"
loses = "0.05 bar"
flow = "1000 L/min"
"""
BORE = pipe_size("sch 40", "DN100").inside


def metered(more: str = "", on: str = "delivery", text: str = QUARRY) -> str:
    return changed(text, ("[[pipework.relief]]", f"{METER.format(on=on)}{more}\n\n[[pipework.relief]]"))


def found(more: str = "", on: str = "delivery") -> dict[str, Finding]:
    return asked(metered(more, on), meter_findings)


def flows(on: str = "delivery") -> list[float]:
    worked = pipes(metered(on=on)).worked
    return [abs(state.flow(on)) for one in worked for state in one.states if abs(state.flow(on)) > 1e-6]


def test_a_build_without_a_meter_is_asked_nothing() -> None:
    assert asked(QUARRY, meter_findings) == {}


def test_velocities_at_both_ends_of_the_range(check) -> None:
    area = math.pi / 4 * BORE**2
    for key, flow in (("meter-least-meter", min(flows())), ("meter-most-meter", max(flows()))):
        check(f"{key[6:]}: velocity in DN100", source="Q / A by hand", expected=flow / area, ours=found()[key].value,
              tol=1e-9, unit="m/s")  # fmt: skip
        assert found()[key].verdict == "holds"


def test_the_makers_range_stands_before_the_shops() -> None:
    one = found('least = "100 L/min"\nmost = "1400 L/min"')
    assert one["meter-least-meter"].unit == "L/min"
    assert one["meter-most-meter"].limit == pytest.approx(1400)
    assert one["meter-most-meter"].value == pytest.approx(60_000 * max(flows()), rel=1e-3)
    assert one["meter-most-meter"].verdict == "fails"


def test_the_bore_that_would_do_does() -> None:
    """The remedy tried; a meter twice as wide as the pipe is too slow."""
    one = found('bore = "300 mm"')["meter-least-meter"]
    assert one.verdict == "fails"
    name = re.search(r"nominal bore (DN\d+), which measures", one.remedy.words)[1]
    bore = pipe_size("sch 40", name).inside
    better = found(f'bore = "{1000 * bore:.2f} mm"')
    assert {better[f"meter-{end}-meter"].verdict for end in ("least", "most")} <= {"holds", "close"}


def test_where_no_bore_does_it_is_said() -> None:
    """A range of 1.1 to 1 measures no flows that differ by more, whatever the bore."""
    one = found('least = "1360 L/min"\nmost = "1400 L/min"')["meter-most-meter"]
    assert "needs a smaller meter of its own" in one.remedy.words
    name = re.search(r"with (DN\d+) what", one.remedy.words)[1]
    scale = [size.inside**2 / BORE**2 * 1400 for size in sizes("sch 40")]
    first = next(size.name for size, most in zip(sizes("sch 40"), scale, strict=True) if most >= 60_000 * max(flows()))
    assert name == first


def test_pulses_in_a_second(check) -> None:
    one = found('pulses = "100 pulses/L"')["meter-pulses-meter"]
    check("pulses at the greatest flow", source="K Q by hand", expected=100e3 * max(flows()), ours=one.value, tol=1e-3,
          unit="1/s")  # fmt: skip
    assert one.verdict == "fails"
    fewer = re.search(r"set it to (\S+) pulses/L or fewer", one.remedy.words)[1]
    assert found(f'pulses = "{fewer} pulses/L"')["meter-pulses-meter"].verdict in ("holds", "close")
    assert found('pulses = "100 pulses/L"\ncounts = 5000')["meter-pulses-meter"].verdict == "holds"
    assert "meter-pulses-meter" not in found()


def test_straight_pipe_in_bores(check) -> None:
    one = found('straight_before = "500 mm"\nstraight_behind = "0 mm"')
    check("straight pipe before the meter", source="L / d by hand", expected=0.5 / BORE, tol=1e-9,
          ours=one["meter-before-meter"].value, unit="diameters")  # fmt: skip
    assert {one["meter-before-meter"].verdict, one["meter-behind-meter"].verdict} == {"fails"}
    needs = [re.search(r"give it (\d+|\d+\u2009\d+) mm", one[f"meter-{s}-meter"].remedy.words)[1] for s in
             ("before", "behind")]  # fmt: skip
    before, behind = (each.replace("\u2009", "") for each in needs)
    done = found(f'straight_before = "{before} mm"\nstraight_behind = "{behind} mm"')
    assert {done[f"meter-{side}-meter"].verdict for side in ("before", "behind")} <= {"holds", "close"}
    assert "look again" in done["meter-before-meter"].note, "both together are longer than the run"


def test_straight_pipe_that_is_not_stated_is_open_and_named() -> None:
    one = found()
    assert one["meter-before-meter"].verdict == "open"
    assert one["meter-before-meter"].missing == ("pipework.device[2].straight_before",)
    assert one["meter-behind-meter"].missing == ("pipework.device[2].straight_behind",)


def test_a_meter_in_a_run_that_gets_no_water() -> None:
    text = QUARRY[: QUARRY.index("[[pipework.duty]]")]
    text += '[[pipework.duty]]\nname = "drain"\nkind = "drain"\nopen = ["V1", "V8"]\n'
    first = next(iter(asked(metered(on="front line", text=text), meter_findings).values()))
    assert (first.key, first.verdict) == ("meter-meter", "open")
    assert "No duty sends water through front line" in first.note
