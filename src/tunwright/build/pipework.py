"""The pipework: points, runs of pipe, valves, pump, what the water leaves by, and the duties it is asked to do.

Water flows along runs from point to point. A point has a height; what else it is decides whether its pressure is given:
a connection to the tank, a hydrant, open water, or nothing but a joint.
"""

from __future__ import annotations

from collections.abc import Iterator
from typing import Literal

from tunwright.build import pipework_sense as sense
from tunwright.build.base import Table, Wrong, as_far_as_known, key
from tunwright.build.fields import (
    Altitude,
    Beside,
    Cold,
    Duration,
    Flow,
    FlowOrNone,
    Length,
    Name,
    Place,
    Power,
    Pressure,
    PressureOrNone,
    Ratio,
    Rotation,
    Run,
    Share,
    Size,
    Surface,
    Temperature,
    Torque,
    Travel,
    Vacuum,
)
from tunwright.build.units import Quantity

ZERO_LENGTH = Quantity(0.0, "0 m", "length")


class Hydrant(Table):
    """Water under pressure: what stands when nothing flows, and what is left at a flow."""

    static: Pressure = key("pressure when nothing flows", example='"5 bar"')
    residual: PressureOrNone = key("pressure left at the flow", example='"3 bar"')
    flow: Flow = key("the flow it was read at", example='"1500 L/min"')

    def wrongs(self) -> Iterator[Wrong]:
        """A hydrant whose pressure does not fall."""
        return as_far_as_known(sense.hydrant(self))


class Point(Table):
    """A point of the pipework: where runs, pumps and outlets meet."""

    name: Name = key("what it is called", example='"pump inlet"')
    height: Surface | None = key(
        "height above the ground; of open water its surface; of an outlet of the tank its own where left out",
        None,
        example='"0.95 m"',
    )
    at: Place | None = key("distance behind the first axle, for the drawing", None, example='"2.35 m"')
    outlet: int | None = key("it is an outlet of the tank, by its number", None, example="1", ge=1, le=12)
    mouth: bool = key("it is a mouth in the tank by which it is filled, at its height", False, example="true")
    compartment: Name | None = key("the compartment a mouth fills; the first where left out", None, example='"rear"')
    hydrant: Hydrant | None = key("it is coupled to a hydrant", None)
    open_water: bool = key("it dips into open water, whose surface stands at its height", False, example="true")

    def wrongs(self) -> Iterator[Wrong]:
        """A point that is several things at once, or without a height."""
        return as_far_as_known(sense.point(self))


class PipeRun(Table):
    """A run of pipe or hose with its fittings."""

    name: Name = key("what it is called", example='"suction"')
    start: Name = key("point it comes from", alias="from", example='"tank outlet"')
    end: Name = key("point it leads to", alias="to", example='"pump inlet"')
    series: Name = key("kind of pipe, as in the table of pipes", example='"steel 40"')
    size: Name = key("its size, as in the table of pipes", example='"DN100"')
    length: Run = key("length of pipe", example='"1.6 m"')
    fittings: list[Name] = key(
        "its fittings one by one, as in the table of fittings", [], example='["elbow 90 long"]', max_length=60
    )
    insulation: Size | None = key("thickness of its insulation", None, example='"20 mm"')
    falls: bool = key(
        "it is emptied before the vehicle stands in the cold: it falls all the way, or is rolled up", False
    )

    def wrongs(self) -> Iterator[Wrong]:
        """A kind, size or fitting that is in no table, or a run that ends where it begins."""
        return as_far_as_known(sense.run(self))


class Valve(Table):
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
    ] = key("what it is; a check or a foot valve opens by itself and one way only", example='"butterfly valve"')
    purpose: Name | None = key("what it is for, in words", None, example='"tank shut-off"')
    normal: Literal["open", "shut"] = key("how it stands on the road", "shut", example='"open"')
    works: Literal["hand", "air", "electric", "itself"] = key("what works it", "hand", example='"air"')
    closes_in: Duration | None = key("time it takes to close", None, example='"2 s"')


class Device(Table):
    """Something in a run that loses pressure: a strainer, a filter, a meter."""

    name: Name = key("what it is called", example='"meter"')
    on: Name = key("the run it stands in", example='"delivery"')
    kind: Literal["strainer", "filter", "flow meter", "other"] = key("what it is", example='"strainer"')
    loses: PressureOrNone = key("pressure lost, clean", example='"0.1 bar"')
    flow: Flow = key("at this flow", example='"1200 L/min"')
    dirty: PressureOrNone | None = key("pressure lost at that flow when it is to be cleaned", None, example='"0.5 bar"')


class Regulator(Table):
    """A valve that lets no more than a pressure through."""

    name: Name = key("what it is called", example='"reel regulator"')
    on: Name = key("the run it stands at the end of", example='"to the reel"')
    sets: Pressure = key("greatest pressure behind it", example='"4 bar"')


class Relief(Table):
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


class CurvePoint(Table):
    """A point of a pump's curve."""

    flow: FlowOrNone = key("the flow", example='"1200 L/min"')
    head: Run = key("head added", example='"55 m"')
    efficiency: Ratio | None = key("efficiency", None, example='"62 %"')
    npsh: Run | None = key("net positive suction head it requires", None, example='"2.8 m"')


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


class Pump(Table):
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

    def wrongs(self) -> Iterator[Wrong]:
        """A curve that is none."""
        return as_far_as_known(sense.curve(self))


class Spray(Table):
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
    bore: Size | None = key("bore of a monitor's nozzle", None, example='"25 mm"')
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

    series: Name = key("kind of pipe, as in the table of pipes", example='"steel 40"')
    size: Name = key("its size, as in the table of pipes", example='"DN100"')
    length: Run = key("length from the lip to its end", example='"1.6 m"')
    fittings: list[Name] = key("its fittings", [], example='["elbow 90 long"]', max_length=20)
    drop: Size | None = key("from the lip down to its end; its length where left out", None, example='"1.2 m"')
    head: Size = key("greatest height of water over the lip that is allowed", Quantity(0.05, "50 mm", "length"))


class Throttled(Table):
    """A valve that is part open."""

    valve: Name = key("its name", example='"V5"')
    open: Share = key("how far it is open", example='"40 %"')


class Duty(Table):
    """Something the pipework is asked to do."""

    name: Name = key("what it is", example='"spray, rear bar"')
    kind: Literal["fill", "draw", "drain", "spray", "monitor", "reel", "transfer", "recirculate"] = key(
        "fill: from a hydrant; draw: fill from open water; drain: let out by gravity; the others by the pump where an "
        "engine speed is given, else by gravity",
        example='"spray"',
    )
    open: list[Name] = key("valves that are open; all others in the list are shut", [], example='["V1", "V5"]')
    throttled: list[Throttled] = key("valves that are part open", [], max_length=20)
    engine: Rotation | None = key(
        "speed of the engine; the pump stands still where left out", None, example='"1500 rpm"'
    )
    road_speed: Travel | None = key("speed on the road while it sprays", None, example='"12 km/h"')
    wants: Flow | None = key("least flow that is wanted", None, example='"1200 L/min"')
    within: Duration | None = key("longest time to fill or to empty that is wanted", None, example='"15 min"')


class Frost(Table):
    """Cold in which the vehicle stands with water in its pipes."""

    air: Cold = key("temperature of the air", example='"-8 °C"')
    wind: Travel = key("wind", Quantity(5.0, "18 km/h", "speed"), example='"18 km/h"')
    stands: Duration = key("how long it stands", example='"2 h"')
    water: Temperature = key("temperature of the water when it begins", Quantity(277.15, "4 °C", "temperature"))


class Sender(Table):
    """The level sender."""

    points: int = key("points its table holds for each compartment", 12, example="12", ge=2, le=60)


class Pipework(Table):
    """The pipework."""

    water: Temperature = key("temperature of the water", Quantity(288.15, "15 °C", "temperature"))
    altitude: Altitude = key("height of the place above the sea", Quantity(0.0, "0 m", "length"))
    pressure: Pressure | None = key(
        "greatest pressure pipes, valves and hoses may see; the shop value where left out", None, example='"16 bar"'
    )
    sender: Sender | None = key("the level sender", None)
    frost: Frost | None = key("cold it has to stand", None)
    emergency: list[Name] = key(
        "what is shut in an emergency, one after the other: valves, or engine",
        [],
        example='["engine", "V1"]',
        max_length=20,
    )
    vacuum: Vacuum | None = key("vacuum the tank's weakest panel bears; the shop value where left out", None)
    point: list[Point] = key("the points", min_length=2, max_length=60)
    run: list[PipeRun] = key("the runs of pipe", min_length=1, max_length=80)
    valve: list[Valve] = key("the valves", [], max_length=60)
    device: list[Device] = key("strainers, filters and meters", [], max_length=20)
    regulator: list[Regulator] = key("pressure regulators", [], max_length=6)
    relief: list[Relief] = key("relief valves and bypasses", [], max_length=6)
    pump: Pump | None = key("the pump", None)
    spray: list[Spray] = key("what the water leaves by", [], max_length=40)
    vent: list[Vent] = key("vents of the tank", [], max_length=12)
    overflow: Overflow | None = key("the overflow pipe", None)
    duty: list[Duty] = key("what it is asked to do", [], max_length=30)

    def wrongs(self) -> Iterator[Wrong]:
        """Names that lead nowhere, or stand twice."""
        return as_far_as_known(
            sense.names(self),
            sense.leads(self),
            sense.regulators(self),
            sense.duties(self),
            sense.emergency(self),
        )
