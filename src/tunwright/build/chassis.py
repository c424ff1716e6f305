"""The chassis as it stands in the yard: axles, groups, frame, cab, fuel, as weighed and measured."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Annotated, Any, Literal

from pydantic import ValidationInfo, WithJsonSchema
from pydantic.functional_validators import PlainValidator
from pydantic_core import PydanticCustomError

from tunwright.build import chassis_sense as sense
from tunwright.build.base import Table, Wrong, as_far_as_known, key
from tunwright.build.fields import (
    Across,
    FuelVolume,
    Height,
    Mass,
    MassOrNone,
    Name,
    Place,
    Ratio,
    Reader,
    Size,
    SpringRate,
    Standing,
    Text,
    refused,
)
from tunwright.build.frame import Frame
from tunwright.build.typed import as_typed
from tunwright.build.units import Quantity

ZERO = Quantity(0.0, "0 m", "length")


class Axle(Table):
    """One axle."""

    name: Name = key("what the axle is called", example='"front"')
    at: Place = key("distance behind the first axle", fact=True)
    kerb_load: MassOrNone | None = key("load on it as weighed", None, fact=True)
    rating: Mass = key("maker's or legal rating, the lower", fact=True, example='"9500 kg"')
    dynamic_rating: Mass | None = key("maker's rating while braking", None, fact=True, example='"12000 kg"')
    steered: bool = key("it steers", False, example="true")
    driven: bool = key("it drives", False, example="true")
    lift: bool = key("it can be lifted", False, example="true")
    raised_when_weighed: bool = key("it was lifted when the chassis was weighed", False, example="true")
    tyres: Literal[2, 4] = key("tyres on it", 2, example="4")
    tyre_rating: Mass | None = key(
        "load rating of one tyre as fitted, single or twin", None, fact=True, example='"3150 kg"'
    )
    tyre_width: Size | None = key("section width of a tyre", None, fact=True, example='"315 mm"')
    tyre_radius: Size | None = key("loaded radius of the tyres", None, fact=True, example='"500 mm"')
    track: Size | None = key(
        "distance between the middles of the left and right wheels or pairs", None, fact=True, example='"1.84 m"'
    )
    pair_spacing: Size | None = key("distance between the middles of twin tyres", None, fact=True, example='"340 mm"')
    unsprung: Mass | None = key(
        "mass of axle, wheels and brakes below the springs", None, fact=True, example='"750 kg"'
    )
    spring_rate: SpringRate | None = key("vertical rate of the springs of one side", None, fact=True)
    spring_span: Size | None = key(
        "distance between the ends of a leaf spring, or of an axle's hangers, along the frame",
        None,
        fact=True,
        example='"1.5 m"',
    )
    spring_track: Size | None = key("distance between the left and right springs", None, fact=True, example='"850 mm"')
    tyre_rate: SpringRate | None = key("vertical rate of one tyre", None, fact=True, example='"1000 N/mm"')
    suspension: Literal["leaf", "air", "rubber", "walking-beam"] | None = key(
        "kind of suspension", None, example='"air"'
    )

    @property
    def called(self) -> str:
        """Its name in a sentence: "the front axle", "axle 2"."""
        return self.name if "axle" in self.name.lower() else f"the {self.name} axle"

    def wrongs(self) -> Iterator[Wrong]:
        """Keys of this axle that contradict each other."""
        return as_far_as_known(sense.raised(self), sense.weighed_to_nothing(self), sense.pair(self))


_SHARE = Reader("ratio", 0.0, 1.0, True, "50 %", False)


def _sharing(raw: object, info: ValidationInfo) -> str | list[Quantity]:
    """`equal`, or a list of shares."""
    if raw == "equal" and isinstance(raw, str):
        return raw
    if not isinstance(raw, list):
        message = "This says neither equal nor the part of each axle."
        raise refused(Wrong((), message, as_typed(raw), '"equal", or a list of shares', '"equal"'))
    wrongs: list[Wrong] = []
    shares: list[Quantity] = []
    for i, one in enumerate(raw):
        try:
            shares.append(_SHARE(one, info))
        except PydanticCustomError as error:
            below: list[Wrong] = (error.context or {})["wrongs"]
            wrongs += [Wrong((i, *w.path), w.message, w.given, w.allowed, w.example) for w in below]
    if wrongs:
        raise refused(*wrongs)
    return shares


_SHARING_SCHEMA: dict[str, Any] = {
    "anyOf": [{"const": "equal"}, {"type": "array", "items": {"type": ["string", "number", "object"]}}]
}
Sharing = Annotated[Literal["equal"] | list[Quantity], PlainValidator(_sharing), WithJsonSchema(_SHARING_SCHEMA)]


class Group(Table):
    """Axles that share their load through beams, linked air or springs."""

    name: Name = key("what the group is called", example='"drive"')
    axles: list[Name] = key("names of its axles, front to rear", example='["rear 1", "rear 2"]', min_length=2)
    sharing: Sharing = key(
        "how the axles share the load: equal, or the part of each", "equal", example='["50 %", "50 %"]'
    )
    kind: Literal["walking-beam", "air", "leaf", "twin-steer"] | None = key("how it is sprung", None, example='"air"')
    rating: Mass | None = key("rating of the group", None, fact=True, example='"19000 kg"')
    kerb_load: Mass | None = key(
        "load on the whole group, where it was weighed as one", None, fact=True, example='"4100 kg"'
    )
    spring_rate: SpringRate | None = key(
        "vertical rate of one side of the whole group", None, fact=True, example='"2000 N/mm"'
    )

    def wrongs(self) -> Iterator[Wrong]:
        """Shares that do not fit the axles."""
        return as_far_as_known(sense.shares(self))


class Part(Table):
    """A heavy part of the bare chassis that hangs on the frame away from the axles."""

    name: Name = key("what it is", example='"battery box"')
    mass: Mass = key("its mass", fact=True, example='"160 kg"')
    at: Place = key("distance behind the first axle", fact=True, example='"1.3 m"')
    y: Across = key("distance to the right of the middle", ZERO, fact=True)
    height: Height = key("height of its centre above the ground", fact=True, example='"0.80 m"')


class Cab(Table):
    """The cab."""

    front: Place | None = key("foremost point of the vehicle", None, fact=True, example='"-1.40 m"')
    back: Place | None = key(
        "back of the cab, or of anything behind it that stays (exhaust, air intake)",
        None,
        fact=True,
        example='"0.58 m"',
    )
    roof: Standing | None = key("height of the roof above the ground", None, fact=True, example='"2.95 m"')
    width: Size | None = key("width of the cab", None, fact=True, example='"2.50 m"')

    def wrongs(self) -> Iterator[Wrong]:
        """A cab whose back stands before its front."""
        return as_far_as_known(sense.ends(self.front, self.back, ("back",), "cab", 2.0))


class Fuel(Table):
    """The fuel tank."""

    capacity: FuelVolume = key("volume of the fuel tank", fact=True)
    level: Ratio = key("how full it was when the chassis was weighed", fact=True, example='"40 %"')
    at: Place = key("distance behind the first axle", fact=True, example='"1.9 m"')
    y: Across = key("distance to the right of the middle", ZERO, fact=True)
    height: Height = key("height of its middle above the ground", fact=True, example='"0.75 m"')


class Chassis(Table):
    """The chassis."""

    name: Text = key("what the chassis is called", "chassis", example='"Halden 26 6x4"')
    gross_rating: Mass = key("gross vehicle rating, maker's or legal, the lower", fact=True, example='"26000 kg"')
    cg_height: Standing | None = key(
        "height of the centre of gravity of the weighed chassis", None, fact=True, example='"1.02 m"'
    )
    cg_y: Across = key("distance of that centre to the right of the middle", ZERO, fact=True)
    front_share: Ratio | None = key(
        "least part of the gross mass on the steered axles, by the maker", None, fact=True, example='"20 %"'
    )
    driven_share: Ratio | None = key(
        "least part of the gross mass on the driven axles, by the maker", None, fact=True, example='"25 %"'
    )
    width: Size | None = key("overall width of the chassis", None, fact=True, example='"2.50 m"')
    persons_weighed: int = key("persons aboard when it was weighed", 0, example="0", ge=0, le=9)
    axle: list[Axle] = key("the axles, front to rear", min_length=2, max_length=12)
    group: list[Group] = key("axles that share their load", [], max_length=6)
    frame: Frame = key("the frame", Frame())
    cab: Cab = key("the cab", Cab())
    fuel: Fuel | None = key("the fuel tank", None)
    part: list[Part] = key("heavy parts that hang on the frame away from the axles", [], max_length=40)

    def wrongs(self) -> Iterator[Wrong]:
        """Axles and groups that do not fit together, and ends that stand nowhere near the axles."""
        return as_far_as_known(
            sense.axle_order(self),
            sense.steered_and_driven(self),
            sense.own_names(self.axle, "axle"),
            sense.own_names(self.group, "group"),
            sense.group_members(self),
            sense.weighed(self),
            sense.weighed_once(self),
            sense.standing(self),
            sense.lifts(self),
            sense.below_gross(self),
            sense.ends_at_axles(self),
            sense.fuel_near(self),
        )
