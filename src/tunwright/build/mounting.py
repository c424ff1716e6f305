"""How tank and subframe are held on the rails: each mount, its bolts, and what lies between."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Literal

from tunwright.build import mounting_sense as sense
from tunwright.build.base import Table, Wrong, as_far_as_known, key
from tunwright.build.fields import Force, Height, Name, Place, Size, SizeOrNone, SpringRate, Stress, Thickness
from tunwright.build.units import Quantity

Thread = Literal["M8", "M10", "M12", "M14", "M16", "M18", "M20", "M22", "M24"]
"""Sizes of bolts a build may ask for, smallest first."""

MM = {n: Quantity(n / 1000.0, f"{n} mm", "length") for n in (8, 40)}


class BoltSet(Table):
    """The bolts of one side of a mount, in a grid; of a clamp, its threaded legs."""

    size: Thread = key("thread", example='"M16"')
    grade: Literal["8.8", "10.9", "12.9"] = key("property class, ISO 898-1", "8.8", example='"10.9"')
    columns: int = key("bolts beside each other along the rail", 2, example="2", ge=1, le=12)
    rows: int = key("bolts above each other", 2, example="2", ge=1, le=6)
    spacing: Size | None = key("distance between columns", None, example='"80 mm"')
    row_spacing: Size | None = key("distance between rows", None, example='"60 mm"')
    drop: Size | None = key(
        "from the rail's upper flange down to the upper row; the rows stand in the middle of the web where left out",
        None,
        example='"70 mm"',
    )
    edge: Size = key("from the outer bolts to the edge of the plate", MM[40], example='"40 mm"')
    plate: Thickness = key("thickness of the plate", MM[8], example='"8 mm"')
    plate_strength: Stress | None = key("tensile strength of the plate", None, example='"360 MPa"')
    reach: SizeOrNone | None = key(
        "from the rail's web out to where the force comes in; half the thickness of a plate where left out",
        None,
        example='"60 mm"',
    )
    surface: Literal["A", "B", "C", "D", "painted", "oily", "liner"] = key(
        "of web and plate where they touch: a class of EN 1993-1-8, painted, oily, or with a liner between",
        "painted",
        example='"painted"',
    )
    finish: Literal["dry", "oiled", "zinc", "greased", "waxed"] = key(
        "state of the threads", "oiled", example='"oiled"'
    )

    def wrongs(self) -> Iterator[Wrong]:
        """A pattern that lacks a distance or stands too close."""
        return as_far_as_known(sense.bolt_pattern(self))


class Weld(Table):
    """The two fillet welds that carry a bracket's plate on the subframe or the tank, of one side."""

    throat: Size = key("effective throat", example='"4 mm"')
    length: Size = key("length of each of the two welds", example='"160 mm"')
    apart: Size = key("distance between the two welds", example='"120 mm"')
    way: Literal["upright", "along"] = key("which way the welds run", "upright", example='"upright"')
    rise: SizeOrNone | None = key(
        "from the rail's upper flange up to their middle; half the subframe's height where left out",
        None,
        example='"80 mm"',
    )
    steel: Literal["S235", "S275", "S355"] = key("weaker of the steels joined", "S235", example='"S235"')

    def wrongs(self) -> Iterator[Wrong]:
        """A weld too thin or too short to carry load."""
        return as_far_as_known(sense.weld_sizes(self))


class Mount(Table):
    """A place where the subframe, or the tank itself, is held on the frame."""

    name: Name = key("what it is called", example='"rear plates"')
    at: Place = key("distance behind the first axle", example='"4.60 m"')
    kind: Literal["plate", "bracket", "clamp", "spring", "rubber", "pivot"] = key(
        "plate: held all ways; bracket: held upwards, downwards and sideways; clamp: U-bolts or studs round rail and "
        "subframe, held as a bracket, fore and aft by friction alone; spring: presses stiffly, lifts against "
        "its spring; rubber: gives both ways; pivot: one bearing in the middle of the frame",
        example='"plate"',
    )
    rate: SpringRate | None = key("vertical rate of a spring or of rubber, of one side", None, example='"120 N/mm"')
    preload: Force | None = key("force a spring is set to, of one side", None, example='"3000 N"')
    travel: SizeOrNone | None = key("how far a spring or rubber lets it lift", None, example='"25 mm"')
    deflection: SizeOrNone | None = key(
        "how far rubber may be pressed together, as its maker allows", None, fact=True, example='"6 mm"'
    )
    rating: Force | None = key("greatest force the mount may carry, of one side", None, fact=True, example='"40 kN"')
    height: Height | None = key("height of a pivot above the ground; the rail's upper flange where left out", None)
    bolts: BoltSet | None = key("its bolts in the rail's web, of one side", None)
    weld: Weld | None = key("its weld to the subframe or the tank, of one side", None)

    def wrongs(self) -> Iterator[Wrong]:
        """Rates and joints that do not belong to the kind."""
        return as_far_as_known(sense.mount_rates(self), sense.mount_joints(self))
