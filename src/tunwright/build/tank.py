"""The tank as written in a build file. Places along it count from the front tangent line, heights from its bottom."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Literal

from tunwright.build import fittings_sense as fittings
from tunwright.build import tank_sense as sense
from tunwright.build.base import Table, Wrong, as_far_as_known, key
from tunwright.build.fields import (
    Across,
    Fall,
    Film,
    Height,
    Length,
    Mass,
    Name,
    Place,
    Ratio,
    Size,
    SizeOrNone,
    Standing,
    Text,
    Thickness,
)
from tunwright.build.section import HeadTable, Section
from tunwright.build.typed import metres
from tunwright.build.units import Quantity

ZERO = Quantity(0.0, "0 m", "length")


class Compartment(Table):
    """A part of the tank closed off by bulkheads."""

    name: Name = key("what the compartment is called", example='"front"')
    start: Place = key("where it begins", alias="from", example='"0 m"')
    end: Place = key("where it ends", alias="to", example='"2.4 m"')

    def wrongs(self) -> Iterator[Wrong]:
        """A compartment of no length."""
        return as_far_as_known(sense.some_length(self.start, self.end, "compartment"))


class Opening(Table):
    """A round opening in a baffle or bulkhead."""

    diameter: Size = key("diameter", example='"460 mm"')
    y: Across = key("distance of its centre to the right of the middle", ZERO)
    height: Height = key("height of its centre above the tank's bottom", example='"600 mm"')


class Baffle(Table):
    """A plate across the tank that water passes through openings."""

    at: Place = key("distance behind the front tangent line", example='"1.25 m"')
    thickness: Thickness | None = key("thickness; that of the shell where left out", None)
    open: Ratio | None = key("open part of the section, where the openings are not listed", None, example='"15 %"')
    opening: list[Opening] = key("its openings", [], max_length=40)

    def wrongs(self) -> Iterator[Wrong]:
        """Openings said twice."""
        if self.open is not None and self.opening:
            message = "The openings are listed, so the open part follows from them."
            yield Wrong(("open",), message, self.open.text, "one of the two")


class LongBaffle(Table):
    """A plate along the tank."""

    y: Across = key("distance to the right of the middle")
    start: Place | None = key(
        "where it begins; the front tangent line where left out", None, alias="from", example='"0 m"'
    )
    end: Place | None = key("where it ends; the rear tangent line where left out", None, alias="to", example='"4.9 m"')
    thickness: Thickness | None = key("thickness; that of the shell where left out", None)
    open: Ratio = key("open part of the plate", Quantity(0.25, "25 %", "ratio"))

    def wrongs(self) -> Iterator[Wrong]:
        """A plate of no length."""
        return as_far_as_known(sense.some_length(self.start, self.end, "baffle along the tank"))


class Ring(Table):
    """A stiffening ring around the shell."""

    at: Place = key("distance behind the front tangent line", example='"1.25 m"')
    height: Size = key("height of the section, away from the shell", example='"60 mm"')
    thickness: Thickness = key("thickness of the section")


class Saddle(Table):
    """A place where the tank sits on the subframe."""

    at: Place = key("distance behind the front tangent line", example='"0.30 m"')


class Manhole(Table):
    """A manhole on the roof."""

    at: Place = key("distance behind the front tangent line", example='"1.25 m"')
    y: Across = key("distance to the right of the middle", ZERO)
    diameter: Size = key("inside diameter", example='"500 mm"')
    neck: SizeOrNone = key("height of the neck above the roof", Quantity(0.08, "80 mm", "length"), example='"80 mm"')
    mass: Mass = key("mass with its lid", Quantity(28.0, "28 kg", "mass", "assumed"), example='"32 kg"')


class Sump(Table):
    """A sump below the floor."""

    at: Place = key("distance behind the front tangent line", example='"1.25 m"')
    y: Across = key("distance to the right of the middle", ZERO)
    depth: Size = key("depth below the floor", example='"90 mm"')
    diameter: Size | None = key("diameter of a round sump", None)
    length: Size | None = key("length of a square-cornered sump", None)
    width: Size | None = key("width of a square-cornered sump", None)

    def wrongs(self) -> Iterator[Wrong]:
        """Neither round nor square-cornered, or both."""
        sides = {"length": self.length, "width": self.width}
        if self.diameter is not None:
            for name, side in sides.items():
                if side is not None:
                    yield Wrong((name,), f"A sump with a diameter has no {name}.", side.text, "one of the two")
            return
        missing = [name for name, side in sides.items() if side is None]
        if len(missing) == 2:
            message = "A sump has either a diameter, or a length and a width."
            yield Wrong((), message, "", "one of the two", 'diameter = "200 mm"')
        elif missing:
            message = f"A square-cornered sump needs its {missing[0]} too."
            yield Wrong((missing[0],), message, "", "a length above 0 mm", f'{missing[0]} = "300 mm"')


class Recess(Table):
    """A box cut out of the tank from outside, such as a pump recess."""

    start: Place = key("where it begins", alias="from", example='"0 m"')
    end: Place = key("where it ends", alias="to", example='"2.4 m"')
    height: Height = key("its lower edge above the tank's bottom", ZERO)
    top: Height = key("its upper edge above the tank's bottom", example='"400 mm"')
    y: Across = key("its middle, to the right of the tank's middle", ZERO)
    width: Size = key("its width", example='"700 mm"')

    def wrongs(self) -> Iterator[Wrong]:
        """A recess of no height or length."""
        return as_far_as_known(sense.some_length(self.start, self.end, "recess"), self._upright())

    def _upright(self) -> Iterator[Wrong]:
        if self.top <= self.height:
            message = "The upper edge is not above the lower."
            yield Wrong(("top",), message, self.top.text, f"more than {self.height.text}", metres(self.height + 0.2))


class Pipe(Table):
    """A pipe inside the tank that takes room from the water."""

    run: Literal["along", "up"] = key("which way it runs", example='"along"')
    diameter: Size = key("outside diameter", example='"90 mm"')
    y: Across = key("distance to the right of the middle", ZERO)
    start: Place = key("first x of a pipe along; x of a pipe that runs up", alias="from", example='"0.5 m"')
    end: Place | None = key("last x of a pipe along", None, alias="to", example='"4.4 m"')
    height: Height = key("height of the middle of a pipe along; lower end of a pipe that runs up", example='"200 mm"')
    top: Height | None = key("upper end of a pipe that runs up", None, example='"1.25 m"')

    def wrongs(self) -> Iterator[Wrong]:
        """Ends that are missing or the wrong way round."""
        if self.run == "along":
            yield from as_far_as_known(sense.some_length(self.start, self.end, "pipe"))
        name, end, least = ("to", self.end, self.start) if self.run == "along" else ("top", self.top, self.height)
        if end is None:
            message = f"A pipe that runs {self.run} needs its other end."
            example = f"{name} = {metres(least + 0.3)}"
            yield Wrong((name,), message, "", f"a length of more than {least.text}", example)
        elif self.run == "up" and end <= least:
            message = "The upper end is not above the lower."
            yield Wrong(("top",), message, end.text, f"more than {least.text}", metres(least + 0.3))


class Outlet(Table):
    """Where the water is drawn."""

    at: Place = key("distance behind the front tangent line", example='"1.25 m"')
    height: Height = key(
        "height of the lowest point it draws from, above the tank's bottom; negative in a sump", example='"0 mm"'
    )
    compartment: Name | None = key("the compartment it draws from", None, example='"rear"')


class Coating(Table):
    """Coating of the shell, heads and baffles."""

    inside: Film | None = key("dry film inside", None)
    outside: Film | None = key("dry film outside", None)
    approval: Text | None = key(
        "approval of the inside for drinking water, with its number",
        None,
        example='"NSF/ANSI/CAN 61, certificate 4410"',
    )


class Tank(Table):
    """The tank."""

    material: Name = key("material of shell, heads and baffles", "S235", example='"S235"')
    middle: Place = key(
        "place of its middle, half-way between the tangent lines, behind the first axle", example='"3.55 m"'
    )
    length: Length = key("length between the head tangent lines", example='"4.9 m"')
    bottom: Standing = key("height of its lowest inside point at the front tangent line above the ground")
    y: Across = key("distance of its middle plane to the right of the vehicle's", ZERO)
    shell: Thickness = key("thickness of the shell")
    section: Section = key("the inside cross-section")
    head: HeadTable = key("both heads", HeadTable(shape="flat"))
    front_head: HeadTable | None = key("the front head, where it differs", None)
    rear_head: HeadTable | None = key("the rear head, where it differs", None)
    fall: Fall = key("fall of the floor to the rear", Quantity(0.0, "0 %", "slope"))
    fall_by: Literal["pitch", "floor"] = key(
        "how it falls: the whole tank pitched, or the lower half stretched down", "pitch", example='"floor"'
    )
    compartment: list[Compartment] = key(
        "closed compartments, front to rear; one where none is listed", [], max_length=8
    )
    bulkhead: Thickness | None = key("thickness of the bulkheads; that of the shell where left out", None)
    baffle: list[Baffle] = key("plates across with openings", [], max_length=40)
    long_baffle: list[LongBaffle] = key("plates along with openings", [], max_length=8)
    ring: list[Ring] = key("stiffening rings", [], max_length=60)
    saddle: list[Saddle] = key(
        "where the tank sits on the subframe; at both ends, at baffles and bulkheads where left out", [], max_length=20
    )
    manhole: list[Manhole] = key("manholes", [], max_length=12)
    sump: list[Sump] = key("sumps", [], max_length=4)
    recess: list[Recess] = key("boxes cut out from outside", [], max_length=4)
    pipe: list[Pipe] = key("pipes inside", [], max_length=12)
    outlet: list[Outlet] = key("where water is drawn", [], max_length=12)
    overflow_lip: Height | None = key("height of the overflow lip above the tank's bottom", None, example='"1.25 m"')
    dip_at: Place | None = key(
        "where the level is dipped, behind the front tangent line; the middle where left out", None, example='"2.45 m"'
    )
    dip_y: Across = key("where the level is dipped, to the right of the middle", ZERO)
    coating: Coating = key("coating", Coating())
    dry_mass: Mass | None = key("mass of the empty tank, in place of the calculated", None, example='"1650 kg"')
    dry_centre: Place | None = key(
        "its centre behind the front tangent line, in place of the calculated", None, example='"2.4 m"'
    )
    allowance: Ratio | None = key("welds and small parts, as part of the steel mass", None, example='"5 %"')

    def wrongs(self) -> Iterator[Wrong]:
        """Parts that do not fit into the tank or each other."""
        return as_far_as_known(
            sense.material(self.material),
            sense.between_tangents(self),
            sense.baffles_in_order(self.baffle),
            sense.compartments(self.compartment),
            fittings.rings(self.ring),
            self._in_section(),
        )

    def _in_section(self) -> Iterator[Wrong]:
        """What does not fit into the cross-section."""
        outline = sense.outline_of(self)
        if outline is None:
            return
        yield from as_far_as_known(
            sense.heads(self, outline),
            sense.lip(self, outline),
            sense.outlets(self, outline),
            fittings.openings(self, outline),
            fittings.pipes(self, outline),
            fittings.across(self, outline),
            fittings.manholes(self, outline),
            fittings.sumps(self, outline),
            fittings.recesses(self, outline),
        )
