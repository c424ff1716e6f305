"""The pipework: points, runs of pipe, valves, pump, what the water leaves by, and the duties it is asked to do.

Water flows along runs from point to point. A point has a height; what else it is decides whether its pressure is given:
a connection to the tank, a hydrant, open water, or nothing but a joint.
"""

from __future__ import annotations

from collections.abc import Iterator

from tunwright.build.base import Table, Wrong, as_far_as_known, key
from tunwright.build.fields import Altitude, Cold, Duration, Name, Pressure, Temperature, Vacuum, Wind
from tunwright.build.pipework import sense
from tunwright.build.pipework.duties import Duty
from tunwright.build.pipework.outlets import Overflow, Spray, Vent
from tunwright.build.pipework.points import Point
from tunwright.build.pipework.pump import Pump
from tunwright.build.pipework.runs import Device, PipeRun, Regulator, Relief, Valve
from tunwright.build.units import Quantity


class Frost(Table):
    """Cold in which the vehicle stands with water in its pipes."""

    air: Cold = key("temperature of the air", example='"-8 °C"')
    wind: Wind = key("wind; 0 km/h where the air stands still", Quantity(5.0, "18 km/h", "speed"), example='"18 km/h"')
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
        "what is shut in an emergency, one after the other: valves, or engine, which is the one that turns the pump",
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
            sense.ways(self),
            sense.regulators(self),
            sense.duties(self),
            sense.emergency(self),
        )
