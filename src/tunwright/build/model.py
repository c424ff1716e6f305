"""The build document: everything a person writes about one vehicle."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any, Literal

from pydantic import ConfigDict

from tunwright.build import lifting_sense, mounting_sense
from tunwright.build import model_sense as sense
from tunwright.build.base import Table, Wrong, as_far_as_known, key
from tunwright.build.chassis import ZERO, Chassis
from tunwright.build.fields import Across, Height, Mass, MassPerLength, Name, Person, Place, Ratio, Size, Thickness
from tunwright.build.json_schema import schema_of
from tunwright.build.lifting import Lifting
from tunwright.build.mounting import Mount
from tunwright.build.order import Order, States
from tunwright.build.pipework import Pipework
from tunwright.build.pipework import sense as pipework_sense
from tunwright.build.tank import Tank
from tunwright.build.tank_sense import material, some_length
from tunwright.build.units import Quantity

FORMAT = 1
"""Format of the build documents written today."""


class Seat(Table):
    """A person who may ride along."""

    name: Name = key("who", "crew", example='"driver"')
    mass: Person | None = key("mass; the shop value where left out", None)
    at: Place = key("distance behind the first axle", example='"-0.35 m"')
    y: Across = key("distance to the right of the middle", ZERO)
    height: Height = key(
        "height of the centre of gravity above the ground", Quantity(1.6, "1.6 m", "length", "assumed")
    )


class Item(Table):
    """A thing that is fitted: pump, reel, locker, spare wheel."""

    name: Name = key("what it is", example='"pump and drive"')
    mass: Mass = key("its mass")
    at: Place = key("behind the first axle; behind the front tangent line where it stands on the tank")
    y: Across = key("distance to the right of the middle", ZERO)
    height: Height = key("height of its centre above the ground; above the tank's bottom where it stands on the tank")
    on: Literal["tank", "frame", "cab"] = key("what carries it", example='"frame"')
    length: Size | None = key("its length, for the drawing", None)
    width: Size | None = key("its width, for the drawing", None)
    tall: Size | None = key("its height, for the drawing", None)


class Subframe(Table):
    """The frame between chassis and tank: two longitudinal members and what joins them."""

    start: Place = key("front end, behind the first axle", alias="from", example='"0.95 m"')
    end: Place = key("rear end, behind the first axle", alias="to", example='"6.85 m"')
    height: Size = key("height of a member", example='"160 mm"')
    material: Name = key("material", "S355", example='"S355"')
    flange: Size = key("width of its flange", Quantity(0.07, "70 mm", "length"), example='"70 mm"')
    thickness: Thickness = key("thickness of a member", Quantity(0.006, "6 mm", "length"), example='"6 mm"')
    mass_per_length: MassPerLength | None = key("mass of both members for each metre, in place of the calculated", None)
    cross_members: Ratio = key(
        "mass of what joins them, as part of the members", Quantity(0.4, "40 %", "ratio"), example='"40 %"'
    )
    mass: Mass | None = key("mass of the whole, in place of the calculated", None, example='"240 kg"')
    shape: Literal["channel", "box"] = key("a channel open inwards, or a closed box", "channel", example='"channel"')
    bearing: Literal["steel", "plastic", "rubber", "timber", "none"] = key(
        "what lies between subframe and rail; none where it stands clear on its mounts", "steel", example='"rubber"'
    )
    taper: Size | None = key("length of the taper at its front end", None, example='"480 mm"')

    def wrongs(self) -> Iterator[Wrong]:
        """A subframe that ends before it begins, of an unknown material, or whose members are thicker than high."""
        return as_far_as_known(
            some_length(self.start, self.end, "subframe"), material(self.material), sense.member(self)
        )


class Build(Table):
    """A build document."""

    model_config = ConfigDict(title="Tunwright build file")

    format: int = key("format of this document", example="1", ge=FORMAT, le=FORMAT)
    order: Order = key("what is wanted")
    chassis: Chassis = key("the chassis as it stands in the yard")
    tank: Tank = key("the tank")
    subframe: Subframe | None = key("the subframe", None)
    mount: list[Mount] = key("the mounts that hold subframe or tank on the frame, front to rear", [], max_length=20)
    crew: list[Seat] = key("who may ride along", [], max_length=9)
    item: list[Item] = key("what is fitted", [], max_length=200)
    lifting: Lifting | None = key("how the tank is lifted on to the chassis", None)
    pipework: Pipework | None = key("pump, pipes, sprays, filling and vents", None)
    states: States = key("the states the build is tried in", States())

    def wrongs(self) -> Iterator[Wrong]:
        """What does not fit between the tables."""
        return as_far_as_known(
            sense.persons(self),
            sense.emptying(self),
            sense.tank_place(self),
            sense.crew(self),
            sense.items(self),
            sense.subframe(self),
            sense.mounts(self),
            mounting_sense.bolts_on_rail(self),
            lifting_sense.on_tank(self),
            pipework_sense.on_tank(self),
        )


def schema() -> dict[str, Any]:
    """JSON Schema of the build document, for editors."""
    return schema_of(Build)
