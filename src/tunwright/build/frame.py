"""The ladder frame of the chassis: rails, what lies on them, and what joins them."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Literal

from tunwright.build import chassis_sense as sense
from tunwright.build import frame_sense
from tunwright.build.base import Table, Wrong, as_far_as_known, key
from tunwright.build.fields import Place, Size, SizeOrNone, Standing, Stress, Thickness


class CrossMember(Table):
    """A member that joins the rails."""

    at: Place = key("distance behind the first axle", example='"1.05 m"')
    shape: Literal["channel", "box", "tube"] = key("its section", "channel", example='"channel"')
    height: Size = key("height of the section; diameter of a tube", example='"180 mm"')
    flange: Size | None = key("flange of a channel, width of a box", None, example='"60 mm"')
    thickness: Thickness = key("thickness of its walls", example='"6 mm"')

    def wrongs(self) -> Iterator[Wrong]:
        """A section that lacks a measure, or walls thicker than the section is wide."""
        return as_far_as_known(frame_sense.cross_section(self))


class Liner(Table):
    """A reinforcement along both rails, of steel no weaker than theirs."""

    start: Place = key("front end, behind the first axle", alias="from", example='"0.90 m"')
    end: Place = key("rear end, behind the first axle", alias="to", example='"5.60 m"')
    shape: Literal["channel", "angle", "strip"] = key(
        "a channel nested in the rail, an angle under its lower flange, a strip on its lower flange",
        "channel",
        example='"channel"',
    )
    thickness: Thickness = key("thickness", example='"6 mm"')
    flange: Size | None = key("its flange; that of the rail, as far as it fits, where left out", None)
    upright: Size | None = key("leg of an angle on the web; half the rail's height where left out", None)
    weighed: bool = key("it was on the chassis already when that was weighed", False, example="true")

    def wrongs(self) -> Iterator[Wrong]:
        """A reinforcement of no length."""
        return as_far_as_known(frame_sense.liner_length(self))


class Frame(Table):
    """The ladder frame."""

    top: Standing | None = key(
        "height of the rail's upper flange above the ground", None, fact=True, example='"1.04 m"'
    )
    front: Place | None = key("front end of the rails", None, fact=True, example='"-1.25 m"')
    rear: Place | None = key("rear end of the rails", None, fact=True, example='"6.95 m"')
    width: Size | None = key("outside width over both rails", None, fact=True, example='"850 mm"')
    rail_height: Size | None = key("height of a rail", None, fact=True)
    rail_flange: Size | None = key("flange width of a rail", None, fact=True, example='"85 mm"')
    rail_thickness: Size | None = key("thickness of a rail", None, fact=True, example='"8 mm"')
    rail_radius: SizeOrNone | None = key(
        "inside radius of the rail's corners; square where left out", None, fact=True, example='"10 mm"'
    )
    yield_strength: Stress | None = key("yield strength of the rail steel, from the maker", None, fact=True)
    cross_member: list[CrossMember] = key("the cross-members with their sections, front to rear", [], max_length=20)
    liner: list[Liner] = key("reinforcements along both rails", [], max_length=4)

    def wrongs(self) -> Iterator[Wrong]:
        """A frame that ends before it starts, or rails thicker than high."""
        return as_far_as_known(
            sense.ends(self.front, self.rear, ("rear",), "frame", 8.0),
            sense.rail(self),
            frame_sense.cross_members(self),
            frame_sense.liners(self),
        )
