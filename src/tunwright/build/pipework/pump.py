"""The pump: its curve and what turns it."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Literal

from tunwright.build.base import Table, Wrong, as_far_as_known, key
from tunwright.build.fields import Flow, FlowOrNone, Name, Power, Pressure, PressureOrNone, Ratio, Rotation, Run, Torque
from tunwright.build.pipework import sense_parts as sense
from tunwright.build.pipework.wetted import Wetted
from tunwright.build.units import Quantity
from tunwright.handbook.gravity import GRAVITY

ZERO_LENGTH = Quantity(0.0, "0 m", "length")
_TESTED_WITH = 1000.0  # density of the water pumps are tested with [kg/m3]


class CurvePoint(Table):
    """A point of a pump's curve."""

    flow: FlowOrNone = key("the flow", example='"1200 L/min"')
    head: Run | None = key("head added", None, example='"55 m"')
    pressure: PressureOrNone | None = key("pressure added, in place of the head", None, example='"5.4 bar"')
    efficiency: Ratio | None = key("efficiency", None, example='"62 %"')
    npsh: Run | None = key("net positive suction head it requires", None, example='"2.8 m"')

    @property
    def adds(self) -> Quantity:
        """Head added [m]; a pressure is that of cold water, 1000 kg/m3, as pumps are tested with."""
        if self.head is not None or self.pressure is None:
            return ZERO_LENGTH if self.head is None else self.head
        return Quantity(float(self.pressure) / (_TESTED_WITH * GRAVITY), self.pressure.text, "length")

    def wrongs(self) -> Iterator[Wrong]:
        """Neither head nor pressure, or both."""
        return as_far_as_known(sense.curve_point(self))


class Drive(Table):
    """What turns the pump."""

    kind: Literal["pto", "engine", "hydraulic"] = key(
        "the truck's power take-off, an engine of its own, or an oil motor", example='"pto"'
    )
    ratio: float = key(
        "turns of the pump for each of the engine, gearbox and belts together", 1.0, example="1.2", gt=0, le=10
    )
    least: Rotation = key("lowest speed of the engine it is run at", alias="from", example='"900 rpm"')
    most: Rotation = key("highest speed of the engine it is run at", alias="to", example='"2000 rpm"')
    torque: Torque | None = key("torque the power take-off may give, at its own shaft", None, example='"420 N m"')
    shaft_ratio: float = key("turns of the power take-off for each of the engine", 1.0, example="1.0", gt=0, le=5)
    power: Power | None = key("power it may give", None, example='"45 kW"')

    def wrongs(self) -> Iterator[Wrong]:
        """Speeds the wrong way round."""
        return as_far_as_known(sense.drive(self))


class AtRest(Table):
    """What a pump at rest loses of the water that passes it."""

    loses: Pressure = key("pressure lost", example='"0.2 bar"')
    flow: Flow = key("at this flow", example='"500 L/min"')


class Pump(Wetted):
    """A pump."""

    name: Name = key("what it is called", "pump", example='"main pump"')
    start: Name = key("point it draws from", alias="from", example='"pump inlet"')
    end: Name = key("point it delivers to", alias="to", example='"pump outlet"')
    speed: Rotation = key("speed of its shaft the curve was taken at", example='"2000 rpm"')
    curve: list[CurvePoint] = key("its curve, from little flow to much", min_length=1, max_length=40)
    drive: Drive = key("what turns it")
    primes: Literal["flooded", "self-priming", "ejector"] = key(
        "how it gets its water: from above, or by drawing the air out of its suction",
        "flooded",
        example='"self-priming"',
    )
    lift: Run | None = key("greatest lift at which it still draws the air out", None, example='"6 m"')

    rest: AtRest | None = key("what it loses at rest; no water passes it at rest where left out", None)

    def wrongs(self) -> Iterator[Wrong]:
        """A curve that is none."""
        return as_far_as_known(sense.curve(self))
