"""Flow meters: is every flow one they measure, does the display count the pulses, is the pipe straight for long enough.

Where a maker's range is not stated the shop's velocities stand for it. A meter of another bore measures the same
velocities, so the bore that would do is looked for among the sizes of the pipe's own series.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from tunwright.build.factors import LITRES_A_MINUTE
from tunwright.build.fields import slug
from tunwright.build.pipework import Device
from tunwright.build.shown import show_number as n
from tunwright.checks.finding import Finding, Remedy, Rule, Sense, Step, not_known, shop_rule, verdict
from tunwright.checks.pipework.worked import STILL, Row, Worked, at
from tunwright.handbook.instruments import pulse_frequency
from tunwright.handbook.pipe_friction import mean_velocity
from tunwright.tables.pipes import sizes
from tunwright.tables.read import shop_value
from tunwright.truck.pipework.plumbing import Plumbing

MAKER = Rule("range of the flow meter", mark="maker's")
DISPLAY = Rule("pulses in a second that the display counts", mark="the build's")
_SMALL = 1e-9  # bores that differ by less are one [m]


def meter_findings(plumbing: Plumbing, worked: Sequence[Worked], assumed: tuple[str, ...]) -> Iterator[Finding]:
    """Findings about the flow meters, none where there is no meter.

    plumbing: the pipework
    worked: the duties that were worked out
    assumed: paths of the assumed inputs
    """
    for i, device in enumerate(plumbing.work.device, start=1):
        if device.kind == "flow meter":
            meter = _Meter.of(plumbing, device, worked)
            yield from _range(meter, assumed)
            yield from _pulses(meter, assumed)
            yield _straight(meter, f"pipework.device[{i}].straight_before", "before", device.straight_before, assumed)
            yield _straight(meter, f"pipework.device[{i}].straight_behind", "behind", device.straight_behind, assumed)


@dataclass(frozen=True)
class _Meter:
    """A flow meter and what flows through it.

    plumbing: the pipework
    device: the meter
    bore: its bore [m]
    rows: flow [m3/s], negative where it runs backwards, at each filling of each duty that sends water through it
    """

    plumbing: Plumbing
    device: Device
    bore: float
    rows: tuple[Row, ...]

    @classmethod
    def of(cls, plumbing: Plumbing, device: Device, worked: Sequence[Worked]) -> _Meter:
        bore = float(device.bore or plumbing.size(plumbing.runs[device.on]).inside)
        flows = [(state.flow(device.on), state, one) for one in worked for state in one.states]
        return cls(plumbing, device, bore, tuple(row for row in flows if abs(row[0]) > STILL))

    @property
    def slug(self) -> str:
        return slug(self.device.name)

    @property
    def slowest(self) -> Row:
        return min(self.rows, key=lambda row: abs(row[0]))

    @property
    def fastest(self) -> Row:
        return max(self.rows, key=lambda row: abs(row[0]))

    def velocity(self, flow: float) -> float:
        return mean_velocity(flow=abs(flow), diameter=self.bore)

    def limits(self) -> tuple[float, float]:
        """Slowest and fastest water it measures as it should [m/s]: the maker's where stated, else the shop's."""
        least, most = self.device.least, self.device.most
        slow = shop_value("meter_slowest") if least is None else self.velocity(float(least))
        return slow, shop_value("meter_fastest") if most is None else self.velocity(float(most))

    def within(self, bore: float) -> tuple[float, float]:
        """Least and greatest flow that a meter of another bore measures [m3/s]."""
        area = 0.25 * math.pi * bore**2
        slow, fast = self.limits()
        return slow * area, fast * area


def _range(meter: _Meter, assumed: tuple[str, ...]) -> Iterator[Finding]:
    """Whether the least and the greatest flow are within what the meter measures."""
    if not meter.rows:
        question = f"Does {meter.device.name} measure every flow through it?"
        note = f"No duty sends water through {meter.device.on}."
        yield not_known(f"meter-{meter.slug}", question, MAKER, "L/min", ("pipework.duty",), note=note)
        return
    yield _end(meter, "least", meter.slowest, meter.device.least, assumed)
    yield _end(meter, "most", meter.fastest, meter.device.most, assumed)


def _end(meter: _Meter, end: str, row: Row, stated: float | None, assumed: tuple[str, ...]) -> Finding:
    """One end of the range: a flow against the maker's, else a velocity against the shop's."""
    flow, state, one = row
    word, key = ("least", "meter_slowest") if end == "least" else ("greatest", "meter_fastest")
    sense: Sense = "at_least" if end == "least" else "at_most"
    told = f"{n(LITRES_A_MINUTE * abs(flow), 1)} L/min"
    if stated is None:
        value, limit, unit, rule = meter.velocity(flow), shop_value(key), "m/s", shop_rule(key)
    else:
        value, limit, unit, rule = LITRES_A_MINUTE * abs(flow), LITRES_A_MINUTE * float(stated), "L/min", MAKER
    judged = verdict(value, limit, sense)
    speed = f"{n(meter.velocity(flow), 2)} m/s"
    step = Step("velocity in the meter", "4 Q / π d²", f"{told}, bore {n(1000 * meter.bore, 1)} mm", speed)
    return Finding(
        f"meter-{end}-{meter.slug}", f"Is the {word} flow one that {meter.device.name} measures?", at(one, state),
        value, limit, unit, sense, judged, rule, working=(step,), assumed=assumed, note=_backwards(meter),
        remedy=_other_bore(meter) if judged == "fails" else None,
    )  # fmt: skip


def _backwards(meter: _Meter) -> str:
    """What to know where water runs through it both ways; which way it should is not stated."""
    back = [one.duty.name for flow, _, one in meter.rows if flow < 0.0]
    if not back or all(flow < 0.0 for flow, _, _ in meter.rows):
        return ""
    names = " and ".join(dict.fromkeys(back))
    return f"To {names} the water runs through it backwards: most meters then count it as delivered, or not at all."


def _other_bore(meter: _Meter) -> Remedy:
    """The bore of the series nearest to the pipe's with which all flows are measured; else what measures most."""
    run = meter.plumbing.runs[meter.device.on]
    least, most = abs(meter.slowest[0]), abs(meter.fastest[0])
    others = [one for one in sizes(run.series) if abs(one.inside - meter.bore) > _SMALL]
    fits = [one for one in others if meter.within(one.inside)[0] <= least and most <= meter.within(one.inside)[1]]
    if fits:
        pipe = meter.plumbing.size(run).inside
        best = min(fits, key=lambda one: abs(math.log(one.inside / pipe)))
        low, high = (n(LITRES_A_MINUTE * flow) for flow in meter.within(best.inside))
        words = f"take a meter of nominal bore {best.name}, which measures {low} to {high} L/min"
        return Remedy(words + _changes(best.inside, pipe))
    large = [one for one in sizes(run.series) if meter.within(one.inside)[1] >= most]
    if not large:
        return Remedy("no meter bore of this series of pipe takes the greatest flow; part it between two meters")
    low = n(LITRES_A_MINUTE * meter.within(large[0].inside)[0])
    return Remedy(
        f"no bore of this series of pipe measures {n(LITRES_A_MINUTE * least, 1)} and {n(LITRES_A_MINUTE * most)} "
        f"L/min: with {large[0].name} what flows slower than {low} L/min needs a smaller meter of its own"
    )


def _changes(bore: float, pipe: float) -> str:
    """What becomes of the pipe where a meter has another bore."""
    if bore < pipe - _SMALL:
        return "; the pipe is narrowed to it before the straight length, and the loss grows"
    return "; the pipe is widened to it before the straight length" if bore > pipe + _SMALL else ""


def _pulses(meter: _Meter, assumed: tuple[str, ...]) -> Iterator[Finding]:
    """Pulses in a second at the greatest flow against what the display counts."""
    if meter.device.pulses is None or not meter.rows:
        return
    flow, state, one = meter.fastest
    k_factor, limit = float(meter.device.pulses), float(meter.device.counts)
    value = float(pulse_frequency(k_factor=k_factor, flow=abs(flow)))
    judged = verdict(value, limit, "at_most")
    told = f"{meter.device.pulses.text}, {n(LITRES_A_MINUTE * abs(flow))} L/min"
    step = Step("pulses in a second", "K Q", told, f"{n(value, 1)}")
    fewer = 1e-3 * k_factor * limit / value
    words = f"set it to {_round_down(fewer)} pulses/L or fewer, or take a display that counts {n(value)} a second"
    yield Finding(
        f"meter-pulses-{meter.slug}", f"Does the display count all pulses of {meter.device.name}?", at(one, state),
        value, limit, "pulses/s", "at_most", judged, DISPLAY, working=(step,), assumed=assumed,
        remedy=Remedy(words) if judged == "fails" else None,
    )  # fmt: skip


def _round_down(value: float) -> str:
    """Two figures, rounded down."""
    places = 1 - math.floor(math.log10(value))
    return n(math.floor(value * 10.0**places) / 10.0**places, max(0, places))


def _straight(meter: _Meter, path: str, side: str, stated: float | None, assumed: tuple[str, ...]) -> Finding:
    """Straight pipe on one side of a meter, in its bores."""
    key = f"meter_{side}"
    limit, rule = shop_value(key), shop_rule(key)
    question = f"Is the pipe {side} {meter.device.name} straight for long enough?"
    if stated is None:
        note = f"Say how much straight pipe of its own bore stands {side} it, without bend, valve or narrowing."
        return not_known(
            f"meter-{side}-{meter.slug}", question, rule, "diameters", (path,), sense="at_least", limit=limit, note=note
        )
    value = float(stated) / meter.bore
    judged = verdict(value, limit, "at_least")
    step = Step(f"straight pipe {side} it", "L / d", f"{n(1000 * float(stated))} / {n(1000 * meter.bore, 1)} mm",
                f"{n(value, 1)} diameters")  # fmt: skip
    needs = n(math.ceil(1000 * limit * meter.bore))
    words = f"give it {needs} mm of straight pipe {side} it, or take a meter whose maker is content with less"
    return Finding(
        f"meter-{side}-{meter.slug}", question, meter.device.on, value, limit, "diameters", "at_least", judged, rule,
        working=(step,), assumed=assumed, note=_too_short(meter), remedy=Remedy(words) if judged == "fails" else None,
    )  # fmt: skip


def _too_short(meter: _Meter) -> str:
    """A word where the straight pieces are longer than the run they stand in."""
    run = meter.plumbing.runs[meter.device.on]
    pieces = float(meter.device.straight_before or 0.0) + float(meter.device.straight_behind or 0.0)
    if pieces <= float(run.length) + 0.005:
        return ""
    return f"The straight pieces make {n(pieces, 2)} m together, and {run.name} is {run.length.text} long: look again."
