"""Points of the pipework: joints, outlets and mouths of the tank, hydrants, open water."""

from __future__ import annotations

from collections.abc import Iterator

from tunwright.build.base import Table, Wrong, as_far_as_known, key
from tunwright.build.fields import Flow, Name, Place, Pressure, PressureOrNone, Surface
from tunwright.build.pipework import sense_parts as sense


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
    sample: bool = key("a tap to take samples of the water stands here", False, example="true")
    open_water: bool = key("it dips into open water, whose surface stands at its height", False, example="true")

    def wrongs(self) -> Iterator[Wrong]:
        """A point that is several things at once, or without a height."""
        return as_far_as_known(sense.point(self))
