"""What water flows through: runs of pipe, and the valves, devices, regulators and relief valves in them."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Literal

from tunwright.build.base import Table, Wrong, as_far_as_known, key
from tunwright.build.fields import (
    Beside,
    Duration,
    Flow,
    Name,
    Place,
    Pressure,
    PressureOrNone,
    Pulses,
    Run,
    Size,
    SizeOrNone,
    Surface,
)
from tunwright.build.pipework import sense_parts as sense
from tunwright.build.pipework.wetted import Wetted
from tunwright.build.units import Quantity

ZERO_LENGTH = Quantity(0.0, "0 m", "length")


class Corner(Table):
    """A corner of a run's way, or one of its ends, on the middle line of the pipe."""

    at: Place = key("distance behind the first axle", example='"2.35 m"')
    y: Beside = key("distance to the right of the vehicle's middle", ZERO_LENGTH)
    height: Surface = key("height above the ground", example='"0.95 m"')


class PipeRun(Wetted):
    """A run of pipe or hose with its fittings."""

    name: Name = key("what it is called", example='"suction"')
    start: Name = key("point it comes from", alias="from", example='"tank outlet"')
    end: Name = key("point it leads to", alias="to", example='"pump inlet"')
    series: Name = key("kind of pipe, as in docs/pipes.md", example='"sch 40"')
    size: Name = key("its size, as in docs/pipes.md", example='"DN100"')
    length: Run = key("length of pipe", example='"1.6 m"')
    fittings: list[Name] = key(
        "its fittings one by one, as in docs/pipes.md", [], example='["elbow 90 long"]', max_length=60
    )
    corner: list[Corner] = key(
        "its way from its first point to its last, corner by corner, both ends among them; for cutting and bending",
        [],
        max_length=40,
    )
    bend_radius: Size | None = key(
        "radius of its middle line where it is bent; its corners are elbows where left out", None, example='"150 mm"'
    )
    flange: Literal["PN 10", "PN 16", "class 150"] | None = key(
        "what its flanges are drilled to: EN 1092-1 or ASME B16.5; none where left out", None, example='"PN 16"'
    )
    flanged: Literal["both", "start", "end"] = key("which of its ends have flanges", "both")
    bears: Pressure | None = key(
        "greatest pressure it may see; that of the pipework, less for hose and cam couplings, where left out",
        None,
        example='"10 bar"',
    )
    insulation: Size | None = key("thickness of its insulation", None, example='"20 mm"')
    falls: bool = key(
        "it is emptied before the vehicle stands in the cold: it falls all the way, or is rolled up", False
    )

    def wrongs(self) -> Iterator[Wrong]:
        """A kind, size or fitting that is in no table, or a run that ends where it begins."""
        return as_far_as_known(sense.run(self), sense.way(self))


class Valve(Wetted):
    """A valve in a run."""

    name: Name = key("what is written on it", example='"V1"')
    on: Name = key("the run it stands in", example='"suction"')
    kind: Literal[
        "ball valve",
        "butterfly valve",
        "gate valve",
        "globe valve",
        "swing check",
        "lift check",
        "foot valve with strainer",
        "backflow preventer",
    ] = key("what it is; a check valve, a foot valve and a tested backflow preventer open by themselves, one way only",
        example='"butterfly valve"',)
    purpose: Name | None = key("what it is for, in words", None, example='"tank shut-off"')
    normal: Literal["open", "shut"] = key("how it stands on the road", "shut", example='"open"')
    works: Literal["hand", "air", "electric", "itself"] = key("what works it", "hand", example='"air"')
    closes_in: Duration | None = key("time it takes to close", None, example='"2 s"')


class Device(Wetted):
    """Something in a run that loses pressure: a strainer, a filter, a meter."""

    name: Name = key("what it is called", example='"meter"')
    on: Name = key("the run it stands in", example='"delivery"')
    kind: Literal["strainer", "filter", "flow meter", "other"] = key("what it is", example='"strainer"')
    loses: PressureOrNone = key("pressure lost, clean", example='"0.1 bar"')
    flow: Flow = key("at this flow", example='"1200 L/min"')
    dirty: PressureOrNone | None = key("pressure lost at that flow when it is to be cleaned", None, example='"0.5 bar"')
    bore: Size | None = key("bore of a flow meter; that of its pipe where left out", None, example='"80 mm"')
    least: Flow | None = key("least flow a meter measures as well as it should", None, example='"100 L/min"')
    most: Flow | None = key("greatest flow it measures so", None, example='"3000 L/min"')
    pulses: Pulses | None = key("pulses of a meter for each volume, its K-factor", None, example='"120 pulses/L"')
    counts: int = key("pulses in a second that its display counts at most", 1000, example="1000", ge=1, le=1_000_000)
    straight_before: SizeOrNone | None = key("straight pipe before a meter", None, example='"800 mm"')
    straight_behind: SizeOrNone | None = key("straight pipe behind a meter", None, example='"400 mm"')

    def wrongs(self) -> Iterator[Wrong]:
        """A meter whose least flow is above its greatest; pulses of something that is no meter."""
        return as_far_as_known(sense.meter(self))


class Regulator(Wetted):
    """A valve that lets no more than a pressure through."""

    name: Name = key("what it is called", example='"reel regulator"')
    on: Name = key("the run it stands at the end of", example='"to the reel"')
    sets: Pressure = key("greatest pressure behind it", example='"4 bar"')


class Relief(Wetted):
    """A valve that opens at a pressure and lets water past: from behind the pump back to the tank, say."""

    name: Name = key("what it is called", example='"bypass"')
    start: Name = key("point it takes water from", alias="from", example='"pump outlet"')
    end: Name = key("point it leads to", alias="to", example='"return"')
    opens: Pressure = key("pressure difference at which it opens", example='"8 bar"')
    full: Pressure = key("pressure difference at which it passes its flow", example='"9 bar"')
    flow: Flow = key("the flow it then passes", example='"800 L/min"')

    def wrongs(self) -> Iterator[Wrong]:
        """A valve that passes its flow before it opens."""
        return as_far_as_known(sense.relief(self))
