"""How the tank is lifted on to the chassis: its eyes, the sling, the lugs, and the crane or the forklift."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Literal

from tunwright.build import lifting_sense as sense
from tunwright.build.base import Table, Wrong, as_far_as_known, key
from tunwright.build.chassis import ZERO
from tunwright.build.fields import Across, Height, Length, Mass, Name, Place, Size


class Eye(Table):
    """A place where a leg of the sling holds the tank: the middle of the shackle's pin."""

    name: Name | None = key(
        "what it is called; from its place, such as front left, where left out", None, example='"front left"'
    )
    at: Place = key("distance behind the front tangent line", example='"0.60 m"')
    y: Across = key("distance to the right of the tank's middle", ZERO, example='"-500 mm"')
    height: Height = key("height above the tank's lowest inside point", example='"1.25 m"')


class LiftingLug(Table):
    """The lug at every eye: a plate with a hole, standing up from the tank."""

    thickness: Size = key("thickness of the plate", example='"15 mm"')
    hole: Size = key("diameter of the hole", example='"26 mm"')
    pin: Size = key("diameter of the shackle's pin", example='"22 mm"')
    end: Size = key("edge of the hole to the end of the plate, upwards", example='"30 mm"')
    side: Size = key("edge of the hole to the side of the plate", example='"30 mm"')
    rounding: Size | None = key(
        "radius of a rounded end about the hole; a straight end where left out", None, example='"43 mm"'
    )
    width: Size = key("width of the plate at its foot", example='"120 mm"')
    height: Size = key("height of the pin's middle above the foot", example='"60 mm"')
    steel: Literal["S235", "S275", "S355", "1.4301", "1.4404"] = key("steel of the plate", "S235", example='"S355"')
    turned: Literal["along", "across", "hook"] = key(
        "how the plate stands: along the tank, across it, or turned towards the hook", "along", example='"hook"'
    )
    throat: Size | None = key("effective throat of the fillet welds at its foot", None, example='"5 mm"')
    weld_length: Size | None = key("length of each of the two welds, one on either side", None, example='"120 mm"')

    def wrongs(self) -> Iterator[Wrong]:
        """A plate too thick, a pin that does not fit, a rounding smaller than the pin, welds that cannot carry."""
        return as_far_as_known(sense.pin(self), sense.rounding(self), sense.weld(self))


class Crane(Table):
    """A line of the crane's chart, for the boom, the counterweight and the supports that are used."""

    radius: Length = key("distance from the crane's slewing axis to the hook", example='"6 m"')
    capacity: Mass = key("what it lifts there, hook block included", example='"3000 kg"')


class Forklift(Table):
    """A forklift that lifts the tank by a hook on its forks."""

    capacity: Mass = key("what it lifts at its rated load centre", example='"5000 kg"')
    load_centre: Size = key("rated load centre: from the fork face", example='"600 mm"')
    at: Size | None = key("from the fork face to the hook", None, example='"1.2 m"')


class Lifting(Table):
    """How the tank is lifted, empty, on to the chassis."""

    eye: list[Eye] = key("where the legs hold it", min_length=2, max_length=4)
    leg_length: Size | None = key("length of every leg from eye to hook, all of one length", None, example='"2.5 m"')
    hook_height: Size | None = key(
        "height of the hook above the highest eye; each leg is then set to the length that brings the hook over the "
        "centre of gravity",
        None,
        example='"2.2 m"',
    )
    leg_rating: Mass | None = key("working load limit of one leg, hanging straight", None, example='"2000 kg"')
    legs: int | None = key("legs of the sling; as many as there are eyes", None, example="4", ge=2, le=4)
    with_subframe: bool = key("the subframe is lifted with the fitted tank", False)  # a default
    rigging_mass: Mass | None = key(
        "mass of hook block, slings and shackles; the shop value where left out", None, example='"150 kg"'
    )
    lug: LiftingLug | None = key("the lug at every eye", None)
    crane: list[Crane] = key("chart of the crane, nearest radius first", [], max_length=40)
    radius: Length | None = key("greatest radius the crane works at in this lift", None, example='"6 m"')
    forklift: Forklift | None = key("the forklift, where one is used", None)

    def wrongs(self) -> Iterator[Wrong]:
        """Slings that do not meet, legs and eyes that differ, a chart out of order."""
        return as_far_as_known(
            sense.legs(self), sense.one_length(self), sense.apart(self), sense.meeting(self), sense.chart(self)
        )
