"""What water and air leave by: sprays and jets, vents, the overflow."""

from __future__ import annotations

from typing import Literal

from tunwright.build.base import Table, key
from tunwright.build.fields import Angle, Beside, Flow, Force, Length, Name, Pressure, Run, Share, Size
from tunwright.build.pipework.wetted import Wetted
from tunwright.build.units import Quantity

ZERO_LENGTH = Quantity(0.0, "0 m", "length")


class Spray(Wetted):
    """What the water leaves by: spray heads, a bar, a monitor, a hose reel, an open end. Several alike are one."""

    name: Name = key("what it is called", example='"rear bar"')
    on: Name = key("the point it stands at", example='"rear header"')
    kind: Literal["spray head", "spray bar", "monitor", "hose reel", "open end"] = key(
        "what it is", example='"spray head"'
    )
    count: int = key("how many alike", 1, example="2", ge=1, le=200)
    flow: Flow = key("flow of each", example='"300 L/min"')
    pressure: Pressure = key("at this pressure before it", example='"3 bar"')
    least: Pressure | None = key("least pressure it works with", None, example='"2 bar"')
    width: Length | None = key("width each wets on the ground", None, example='"6 m"')
    y: Beside = key("middle of what it wets, to the right of the vehicle's", ZERO_LENGTH)
    pattern: Literal["even", "triangle"] = key(
        "how its water lies across its width: even, or most in the middle and none at the edges", "even"
    )
    bore: Size | None = key("bore of the nozzle of a jet, a monitor's or a reel's", None, example='"25 mm"')
    angle: Angle | None = key("angle of a jet over the horizontal", None, example='"30°"')
    reaches: Run | None = key("distance a jet is wanted to reach", None, example='"30 m"')
    held: Literal["mount", "one person", "two persons"] | None = key(
        "what holds a jet; the mount of a monitor, one person at a hose reel where left out",
        None,
        example='"two persons"',
    )
    bears: Force | None = key("force of its jet that a mount bears", None, example='"1.5 kN"')
    valve: Name | None = key("what opens it, where it has a valve of its own", None, example='"V5"')


class Vent(Table):
    """A vent of the tank."""

    name: Name = key("what it is called", "vent", example='"vent"')
    bore: Size = key("bore it is open by", example='"50 mm"')
    count: int = key("how many alike", 1, example="2", ge=1, le=12)
    coefficient: Share = key("its coefficient of discharge, screen included", Quantity(0.5, "50 %", "ratio"))
    compartment: Name | None = key(
        "the compartment it stands on; parted evenly among all where left out", None, example='"rear"'
    )


class Overflow(Table):
    """The pipe that takes what is too much, from the overflow lip down."""

    series: Name = key("kind of pipe, as in docs/pipes.md", example='"sch 40"')
    size: Name = key("its size, as in docs/pipes.md", example='"DN100"')
    length: Run = key("length from the lip to its end", example='"1.6 m"')
    fittings: list[Name] = key("its fittings", [], example='["elbow 90 long"]', max_length=20)
    drop: Size | None = key("from the lip down to its end; its length where left out", None, example='"1.2 m"')
    head: Size = key("greatest height of water over the lip that is allowed", Quantity(0.05, "50 mm", "length"))
