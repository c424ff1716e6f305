"""The build document: everything a person writes about one vehicle."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any, Literal

from pydantic import ConfigDict

from tunwright.build.base import Table, Wrong, key
from tunwright.build.chassis import ZERO, Chassis
from tunwright.build.fields import Across, Height, Mass, MassPerLength, Name, Place, Ratio, Size, Thickness
from tunwright.build.order import Order, States
from tunwright.build.tank import Tank
from tunwright.build.units import Quantity
from tunwright.tables.read import materials

FORMAT = 1
"""Format of the build documents written today."""


class Seat(Table):
    """A person who may ride along."""

    name: Name = key("who", "crew", example='"driver"')
    mass: Mass | None = key("mass; the shop value where left out", None)
    at: Place = key("distance behind the first axle")
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

    start: Place = key("front end, behind the first axle", alias="from")
    end: Place = key("rear end, behind the first axle", alias="to")
    height: Size = key("height of a member")
    flange: Size = key("width of its flange", Quantity(0.07, "70 mm", "length"))
    thickness: Thickness = key("thickness of a member", Quantity(0.006, "6 mm", "length"))
    material: Name = key("material", "S355", example='"S355"')
    mass_per_length: MassPerLength | None = key("mass of both members for each metre, in place of the calculated", None)
    cross_members: Ratio = key("mass of what joins them, as part of the members", Quantity(0.4, "40 %", "ratio"))
    mass: Mass | None = key("mass of the whole, in place of the calculated", None)

    def wrongs(self) -> Iterator[Wrong]:
        """A subframe that ends before it begins, or of an unknown material."""
        if self.end <= self.start:
            yield Wrong(("to",), "The subframe ends before it begins.", self.end.text, f"more than {self.start.text}")
        if self.material not in materials():
            yield Wrong(
                ("material",), "The material is not in the table.", f'"{self.material}"', ", ".join(materials())
            )


class Build(Table):
    """A build document."""

    model_config = ConfigDict(title="Tunwright build file")

    format: Literal[1] = key("format of this document", example="1")
    order: Order = key("what is wanted")
    chassis: Chassis = key("the chassis as it stands in the yard")
    tank: Tank = key("the tank")
    subframe: Subframe | None = key("the subframe", None)
    crew: list[Seat] = key("who may ride along", [], max_length=9)
    item: list[Item] = key("what is fitted", [], max_length=200)
    states: States = key("the states the build is tried in", States())

    def wrongs(self) -> Iterator[Wrong]:
        """What does not fit between the tables."""
        if self.chassis.persons_weighed > len(self.crew):
            yield Wrong(
                ("chassis", "persons_weighed"),
                "More persons were weighed than seats are listed under crew.",
                str(self.chassis.persons_weighed),
                f"0 to {len(self.crew)}",
            )
        names = [c.name for c in self.tank.compartment]
        for i, order in enumerate(self.states.emptying):
            for j, name in enumerate(order):
                if name not in names:
                    yield Wrong(
                        ("states", "emptying", i, j),
                        "There is no compartment of this name.",
                        f'"{name}"',
                        ", ".join(names) or "compartments listed under the tank",
                    )
        yield from _drawable(self)


def _drawable(build: Build) -> Iterator[Wrong]:
    """Fittings that could not stand anywhere near the vehicle."""
    last = build.chassis.axle[-1].at
    if not -5.0 < build.tank.middle < last + 12.0:
        yield Wrong(
            ("tank", "middle"),
            "The middle of the tank stands nowhere near the axles.",
            build.tank.middle.text,
            f"-5 m to {last + 12:.1f} m",
        )


def schema() -> dict[str, Any]:
    """JSON Schema of the build document, for editors."""
    made = Build.model_json_schema(by_alias=True)
    return {"$schema": "https://json-schema.org/draft/2020-12/schema", **made}
