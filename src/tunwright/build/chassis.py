"""The chassis as it stands in the yard: axles, groups, frame, cab, fuel, as weighed and measured."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Literal

from tunwright.build.base import Table, Wrong, key
from tunwright.build.fields import (
    Across,
    Height,
    Mass,
    MassOrNone,
    Name,
    Place,
    Ratio,
    Size,
    SpringRate,
    Stress,
    Text,
    Volume,
)
from tunwright.build.units import Quantity

ZERO = Quantity(0.0, "0 m", "length")


class Axle(Table):
    """One axle."""

    name: Name = key("what the axle is called", example='"front"')
    at: Place = key("distance behind the first axle", fact=True)
    kerb_load: MassOrNone | None = key("load on it as weighed", None, fact=True)
    rating: Mass = key("maker's or legal rating, the lower", fact=True)
    dynamic_rating: Mass | None = key("maker's rating while braking", None, fact=True)
    steered: bool = key("it steers", False, example="true")
    driven: bool = key("it drives", False, example="true")
    lift: bool = key("it can be lifted", False, example="true")
    raised_when_weighed: bool = key("it was lifted when the chassis was weighed", False, example="true")
    tyres: Literal[2, 4] = key("tyres on it", 2, example="4")
    tyre_rating: Mass | None = key("load rating of one tyre as fitted, single or twin", None, fact=True)
    tyre_width: Size | None = key("section width of a tyre", None, fact=True)
    tyre_radius: Size | None = key("loaded radius", None, fact=True)
    track: Size | None = key("distance between the middles of the left and right wheels or pairs", None, fact=True)
    pair_spacing: Size | None = key("distance between the middles of twin tyres", None, fact=True)
    unsprung: Mass | None = key("mass of axle, wheels and brakes below the springs", None, fact=True)
    spring_rate: SpringRate | None = key("vertical rate of the springs of one side", None, fact=True)
    tyre_rate: SpringRate | None = key("vertical rate of one tyre", None, fact=True)
    suspension: Literal["leaf", "air", "rubber", "walking-beam"] | None = key(
        "kind of suspension", None, example='"air"'
    )

    def wrongs(self) -> Iterator[Wrong]:
        """Keys of this axle that contradict each other."""
        if self.raised_when_weighed and not self.lift:
            yield Wrong(
                ("raised_when_weighed",),
                "The axle is not marked as one that can be lifted.",
                "true",
                "lift = true beside it",
                "lift = true",
            )
        if self.raised_when_weighed and self.kerb_load:
            yield Wrong(
                ("kerb_load",), "A lifted axle carries nothing on the scale.", self.kerb_load.text, "0 kg", "0 kg"
            )
        if self.pair_spacing is not None and self.tyres == 2:
            yield Wrong(
                ("pair_spacing",),
                "The axle has single tyres, so there is no pair.",
                self.pair_spacing.text,
                "tyres = 4, or no pair_spacing",
                "tyres = 4",
            )


class Group(Table):
    """Axles that share their load through beams, linked air or springs."""

    name: Name = key("what the group is called", example='"drive"')
    axles: list[Name] = key("names of its axles, front to rear", example='["rear 1", "rear 2"]', min_length=2)
    sharing: Literal["equal"] | list[Ratio] = key(
        "how the axles share the load: equal, or the part of each", "equal", example='["50 %", "50 %"]'
    )
    kind: Literal["walking-beam", "air", "leaf", "twin-steer"] | None = key("how it is sprung", None, example='"air"')
    rating: Mass | None = key("rating of the group", None, fact=True)
    kerb_load: MassOrNone | None = key("load on the whole group, where it was weighed as one", None, fact=True)
    spring_rate: SpringRate | None = key("vertical rate of one side of the whole group", None, fact=True)

    def wrongs(self) -> Iterator[Wrong]:
        """Shares that do not fit the axles."""
        if self.sharing == "equal":
            return
        given = ", ".join(share.text for share in self.sharing)
        if len(self.sharing) != len(self.axles):
            yield Wrong(
                ("sharing",),
                "The number of shares differs from the number of axles.",
                given,
                f"{len(self.axles)} shares",
                '"equal"',
            )
        elif abs(sum(self.sharing) - 1.0) > 1e-6:
            yield Wrong(
                ("sharing",),
                "The shares do not add up to 100 %.",
                given,
                "shares adding up to 100 %",
                '["50 %", "50 %"]',
            )


class Frame(Table):
    """The ladder frame."""

    top: Height | None = key("height of the rail's upper flange above the ground", None, fact=True)
    front: Place | None = key("front end of the rails", None, fact=True)
    rear: Place | None = key("rear end of the rails", None, fact=True)
    width: Size | None = key("outside width over both rails", None, fact=True)
    rail_height: Size | None = key("height of a rail", None, fact=True)
    rail_flange: Size | None = key("flange width of a rail", None, fact=True)
    rail_thickness: Size | None = key("thickness of a rail", None, fact=True)
    yield_strength: Stress | None = key("yield strength of the rail steel, from the maker", None, fact=True)

    def wrongs(self) -> Iterator[Wrong]:
        """A frame that ends before it starts, or rails thicker than high."""
        if self.front is not None and self.rear is not None and self.front >= self.rear:
            yield Wrong(
                ("rear",), "The frame ends before it starts.", self.rear.text, f"more than {self.front.text}", "7.2 m"
            )
        if self.rail_height and self.rail_thickness and 2 * self.rail_thickness >= self.rail_height:
            yield Wrong(
                ("rail_thickness",),
                "The rail is thicker than half its height.",
                self.rail_thickness.text,
                f"less than half of {self.rail_height.text}",
                "8 mm",
            )


class Cab(Table):
    """The cab."""

    front: Place | None = key("foremost point of the vehicle", None, fact=True)
    back: Place | None = key(
        "back of the cab, or of anything behind it that stays (exhaust, air intake)", None, fact=True
    )
    roof: Height | None = key("height of the roof above the ground", None, fact=True)
    width: Size | None = key("width of the cab", None, fact=True)

    def wrongs(self) -> Iterator[Wrong]:
        """A cab whose back stands before its front."""
        if self.front is not None and self.back is not None and self.front >= self.back:
            yield Wrong(
                ("back",), "The cab ends before it starts.", self.back.text, f"more than {self.front.text}", "0.56 m"
            )


class Fuel(Table):
    """The fuel tank."""

    capacity: Volume = key("volume of the fuel tank", fact=True)
    level: Ratio = key("how full it was when the chassis was weighed", fact=True)
    at: Place = key("distance behind the first axle", fact=True)
    y: Across = key("distance to the right of the middle", ZERO, fact=True)
    height: Height = key("height of its middle above the ground", fact=True)


class Chassis(Table):
    """The chassis."""

    name: Text = key("what the chassis is called", "chassis", example='"Halden 26 6x4"')
    gross_rating: Mass = key("gross vehicle rating, maker's or legal, the lower", fact=True)
    cg_height: Height | None = key("height of the centre of gravity of the weighed chassis", None, fact=True)
    cg_y: Across = key("distance of that centre to the right of the middle", ZERO, fact=True)
    front_share: Ratio | None = key("least part of the gross mass on the steered axles, by the maker", None, fact=True)
    driven_share: Ratio | None = key("least part of the gross mass on the driven axles, by the maker", None, fact=True)
    width: Size | None = key("overall width of the chassis", None, fact=True)
    persons_weighed: int = key("persons aboard when it was weighed", 0, example="0", ge=0, le=9)
    axle: list[Axle] = key("the axles, front to rear", min_length=2, max_length=12)
    group: list[Group] = key("axles that share their load", [], max_length=6)
    frame: Frame = key("the frame", Frame())
    cab: Cab = key("the cab", Cab())
    fuel: Fuel | None = key("the fuel tank", None)

    def wrongs(self) -> Iterator[Wrong]:
        """Axles and groups that do not fit together."""
        yield from _axle_order(self.axle)
        names = [axle.name for axle in self.axle]
        yield from _repeated(names, "axle")
        yield from _repeated([group.name for group in self.group], "group")
        yield from _group_members(self.group, names)
        yield from _weighed(self)


def _axle_order(axles: list[Axle]) -> Iterator[Wrong]:
    if axles[0].at != 0.0:
        yield Wrong(
            ("axle", 0, "at"),
            "All places count from the first axle, so the first axle stands at 0.",
            axles[0].at.text,
            "0 m",
            "0 m",
        )
    for i in range(1, len(axles)):
        if axles[i].at <= axles[i - 1].at:
            yield Wrong(
                ("axle", i, "at"),
                "The axles must be listed from front to rear.",
                axles[i].at.text,
                f"more than {axles[i - 1].at.text}",
                "3.9 m",
            )
    if not any(axle.steered for axle in axles):
        yield Wrong(("axle",), "No axle is marked as steered.", "", "steered = true on at least one", "steered = true")
    if not any(axle.driven for axle in axles):
        yield Wrong(("axle",), "No axle is marked as driven.", "", "driven = true on at least one", "driven = true")


def _repeated(names: list[str], what: str) -> Iterator[Wrong]:
    for i, name in enumerate(names):
        if name in names[:i]:
            message = f"Two of them have the same name; every {what} needs its own."
            yield Wrong((what, i, "name"), message, f'"{name}"', "a name not used before", f'"{name} 2"')


def _group_members(groups: list[Group], names: list[str]) -> Iterator[Wrong]:
    taken: dict[str, str] = {}
    for i, group in enumerate(groups):
        for j, name in enumerate(group.axles):
            if name not in names:
                yield Wrong(
                    ("group", i, "axles", j),
                    "There is no axle of this name.",
                    f'"{name}"',
                    ", ".join(f'"{n}"' for n in names),
                    f'"{names[-1]}"',
                )
            elif name in taken:
                yield Wrong(
                    ("group", i, "axles", j),
                    f'The axle already belongs to the group "{taken[name]}".',
                    f'"{name}"',
                    "each axle in one group at most",
                )
            taken.setdefault(name, group.name)
        places = [names.index(name) for name in group.axles if name in names]
        if places != list(range(places[0], places[0] + len(places))) if places else False:
            yield Wrong(
                ("group", i, "axles"),
                "The axles of a group must follow each other, front to rear.",
                ", ".join(group.axles),
                "neighbouring axles in order",
            )


def _weighed(chassis: Chassis) -> Iterator[Wrong]:
    """Every axle weighed once: alone, or with its group."""
    by_name = {axle.name: i for i, axle in enumerate(chassis.axle)}
    in_group = {name: g for g, group in enumerate(chassis.group) for name in group.axles}
    for i, axle in enumerate(chassis.axle):
        group = chassis.group[in_group[axle.name]] if axle.name in in_group else None
        whole = group.kerb_load if group else None
        if axle.kerb_load is None and whole is None and not axle.raised_when_weighed:
            yield Wrong(
                ("axle", i, "kerb_load"),
                "The load on this axle as weighed is missing.",
                "",
                "kerb_load on the axle, or on its group where that was weighed as one",
                '"4700 kg"',
            )
    for g, group in enumerate(chassis.group):
        single = [n for n in group.axles if n in by_name and chassis.axle[by_name[n]].kerb_load is not None]
        loads = [chassis.axle[by_name[n]].kerb_load for n in single]
        if group.kerb_load is not None and any(loads):
            yield Wrong(
                ("group", g, "kerb_load"),
                "The group was weighed as one, yet its axles carry loads of their own.",
                group.kerb_load.text,
                "one of the two",
                "kerb_load on the group only",
            )
    total = sum(axle.kerb_load or 0.0 for axle in chassis.axle) + sum(g.kerb_load or 0.0 for g in chassis.group)
    if total >= chassis.gross_rating:
        yield Wrong(
            ("gross_rating",),
            "The bare chassis already weighs more than its gross rating.",
            chassis.gross_rating.text,
            f"more than {total:.0f} kg",
            "26000 kg",
        )
