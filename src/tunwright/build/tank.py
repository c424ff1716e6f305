"""The tank as written in a build file. Places along it count from the front tangent line, heights from its bottom."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import Literal

from tunwright.build.base import Table, Wrong, key
from tunwright.build.fields import (
    Across,
    Film,
    Height,
    Length,
    Mass,
    Name,
    Place,
    Ratio,
    Size,
    SizeOrNone,
    Slope,
    Thickness,
)
from tunwright.build.problems import nearest
from tunwright.build.section import HeadTable, Section
from tunwright.build.units import Quantity
from tunwright.handbook.heads import HeadError
from tunwright.tables.read import materials

ZERO = Quantity(0.0, "0 m", "length")


class Compartment(Table):
    """A part of the tank closed off by bulkheads."""

    name: Name = key("what the compartment is called", example='"front"')
    start: Place = key("where it begins", alias="from")
    end: Place = key("where it ends", alias="to")


class Opening(Table):
    """A round opening in a baffle or bulkhead."""

    diameter: Size = key("diameter")
    y: Across = key("distance of its centre to the right of the middle", ZERO)
    height: Height = key("height of its centre above the tank's bottom")


class Baffle(Table):
    """A plate across the tank that water passes through openings."""

    at: Place = key("distance behind the front tangent line")
    thickness: Thickness | None = key("thickness; that of the shell where left out", None)
    open: Ratio | None = key("open part of the section, where the openings are not listed", None)
    opening: list[Opening] = key("its openings", [], max_length=40)

    def wrongs(self) -> Iterator[Wrong]:
        """Openings said twice."""
        if self.open is not None and self.opening:
            yield Wrong(
                ("open",),
                "The openings are listed, so the open part follows from them.",
                self.open.text,
                "one of the two",
            )


class LongBaffle(Table):
    """A plate along the tank."""

    y: Across = key("distance to the right of the middle")
    start: Place | None = key("where it begins; the front tangent line where left out", None, alias="from")
    end: Place | None = key("where it ends; the rear tangent line where left out", None, alias="to")
    thickness: Thickness | None = key("thickness; that of the shell where left out", None)
    open: Ratio = key("open part of the plate", 0.25)


class Ring(Table):
    """A stiffening ring around the shell."""

    at: Place = key("distance behind the front tangent line")
    height: Size = key("height of the section, away from the shell")
    thickness: Thickness = key("thickness of the section")


class Manhole(Table):
    """A manhole on the roof."""

    at: Place = key("distance behind the front tangent line")
    y: Across = key("distance to the right of the middle", ZERO)
    diameter: Size = key("inside diameter")
    neck: SizeOrNone = key("height of the neck above the roof", Quantity(0.08, "80 mm", "length"))
    mass: Mass = key("mass with its lid", Quantity(28.0, "28 kg", "mass", "assumed"))


class Sump(Table):
    """A sump below the floor."""

    at: Place = key("distance behind the front tangent line")
    y: Across = key("distance to the right of the middle", ZERO)
    depth: Size = key("depth below the floor")
    diameter: Size | None = key("diameter of a round sump", None)
    length: Size | None = key("length of a square-cornered sump", None)
    width: Size | None = key("width of a square-cornered sump", None)

    def wrongs(self) -> Iterator[Wrong]:
        """Neither round nor square-cornered."""
        boxed = self.length is not None and self.width is not None
        if (self.diameter is None) == (not boxed) or (self.diameter and (self.length or self.width)):
            yield Wrong(
                (),
                "A sump has either a diameter, or a length and a width.",
                "",
                "one of the two",
                'diameter = "200 mm"',
            )


class Recess(Table):
    """A box cut out of the tank from outside, such as a pump recess."""

    start: Place = key("where it begins", alias="from")
    end: Place = key("where it ends", alias="to")
    height: Height = key("its lower edge above the tank's bottom", ZERO)
    top: Height = key("its upper edge above the tank's bottom")
    y: Across = key("its middle, to the right of the tank's middle", ZERO)
    width: Size = key("its width")

    def wrongs(self) -> Iterator[Wrong]:
        """A recess of no height or length."""
        if self.end <= self.start:
            yield Wrong(("to",), "The recess ends before it begins.", self.end.text, f"more than {self.start.text}")
        if self.top <= self.height:
            yield Wrong(
                ("top",), "The upper edge is not above the lower.", self.top.text, f"more than {self.height.text}"
            )


class Pipe(Table):
    """A pipe inside the tank that takes room from the water."""

    run: Literal["along", "up"] = key("which way it runs", example='"along"')
    diameter: Size = key("outside diameter")
    y: Across = key("distance to the right of the middle", ZERO)
    start: Place = key("first x of a pipe along; x of a pipe that runs up", alias="from")
    end: Place | None = key("last x of a pipe along", None, alias="to")
    height: Height = key("height of the middle of a pipe along; lower end of a pipe that runs up")
    top: Height | None = key("upper end of a pipe that runs up", None)

    def wrongs(self) -> Iterator[Wrong]:
        """Ends that are missing or the wrong way round."""
        if self.run == "along" and (self.end is None or self.end <= self.start):
            yield Wrong(
                ("to",),
                "A pipe along the tank needs an end behind its beginning.",
                self.end.text if self.end is not None else "",
                f"more than {self.start.text}",
            )
        if self.run == "up" and (self.top is None or self.top <= self.height):
            yield Wrong(
                ("top",),
                "A pipe that runs up needs an upper end above its lower.",
                self.top.text if self.top is not None else "",
                f"more than {self.height.text}",
            )


class Outlet(Table):
    """Where the water is drawn."""

    at: Place = key("distance behind the front tangent line")
    height: Height = key("height of the lowest point it draws from, above the tank's bottom; negative in a sump")
    compartment: Name | None = key("the compartment it draws from", None, example='"rear"')


class Coating(Table):
    """Coating of the shell, heads and baffles."""

    inside: Film | None = key("dry film inside", None)
    outside: Film | None = key("dry film outside", None)


class Tank(Table):
    """The tank."""

    material: Name = key("material of shell, heads and baffles", "S235", example='"S235"')
    middle: Place = key("place of its middle, half-way between the tangent lines, behind the first axle")
    length: Length = key("length between the head tangent lines")
    bottom: Height = key("height of its lowest inside point at the front tangent line above the ground")
    y: Across = key("distance of its middle plane to the right of the vehicle's", ZERO)
    shell: Thickness = key("thickness of the shell")
    section: Section = key("the inside cross-section")
    head: HeadTable = key("both heads", HeadTable(shape="flat"))
    front_head: HeadTable | None = key("the front head, where it differs", None)
    rear_head: HeadTable | None = key("the rear head, where it differs", None)
    fall: Slope = key("fall of the floor to the rear", Quantity(0.0, "0 %", "slope"))
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
    manhole: list[Manhole] = key("manholes", [], max_length=12)
    sump: list[Sump] = key("sumps", [], max_length=4)
    recess: list[Recess] = key("boxes cut out from outside", [], max_length=4)
    pipe: list[Pipe] = key("pipes inside", [], max_length=12)
    outlet: list[Outlet] = key("where water is drawn", [], max_length=12)
    overflow_lip: Height | None = key("height of the overflow lip above the tank's bottom", None)
    dip_at: Place | None = key(
        "where the level is dipped, behind the front tangent line; the middle where left out", None
    )
    dip_y: Across = key("where the level is dipped, to the right of the middle", ZERO)
    coating: Coating = key("coating", Coating())
    dry_mass: Mass | None = key("mass of the empty tank, in place of the calculated", None)
    dry_centre: Place | None = key("its centre behind the front tangent line, in place of the calculated", None)
    allowance: Ratio | None = key("welds and small parts, as part of the steel mass", None)

    def wrongs(self) -> Iterator[Wrong]:
        """Parts that do not fit into the tank or each other."""
        if self.material not in materials():
            known = list(materials())
            yield Wrong(
                ("material",),
                "The material is not in the table.",
                f'"{self.material}"',
                ", ".join(known),
                f'"{nearest(self.material, known) or known[0]}"',
            )
        yield from self._heads_fit()
        yield from _inside(self, self.length)
        yield from _compartments(self.compartment, self.length)
        names = {c.name for c in self.compartment}
        for i, outlet in enumerate(self.outlet):
            if outlet.compartment is not None and outlet.compartment not in names:
                yield Wrong(
                    ("outlet", i, "compartment"),
                    "There is no compartment of this name.",
                    f'"{outlet.compartment}"',
                    ", ".join(sorted(names)) or "no name: the tank is one",
                )
        yield from _heights(self)

    def _heads_fit(self) -> Iterator[Wrong]:
        for name in ("front_head", "rear_head"):
            own = getattr(self, name)
            try:
                (own or self.head).over(self.section)
            except HeadError as error:
                yield Wrong(
                    (name if own else "head",), f"The head does not fit the tank: {error}.", "", "a head that fits"
                )
                if not own:
                    return


def _inside(tank: Tank, length: float) -> Iterator[Wrong]:
    """Everything that stands along the tank stands between the tangent lines."""
    for name in ("baffle", "ring", "manhole", "sump", "outlet"):
        for i, part in enumerate(getattr(tank, name)):
            if not 0 <= part.at <= length:
                yield Wrong(
                    (name, i, "at"), f"The {name} stands outside the tank.", part.at.text, f"0 m to {tank.length.text}"
                )
    for name in ("recess", "long_baffle", "pipe", "compartment"):
        for i, part in enumerate(getattr(tank, name)):
            for end, word in ((part.start, "from"), (part.end, "to")):
                if end is not None and not -1e-9 <= end <= length + 1e-9:
                    word_name = name.replace("_", " ")
                    yield Wrong(
                        (name, i, word),
                        f"The {word_name} reaches outside the tank.",
                        end.text,
                        f"0 m to {tank.length.text}",
                    )
    places = [baffle.at for baffle in tank.baffle]
    for i in range(1, len(places)):
        if places[i] <= places[i - 1]:
            yield Wrong(
                ("baffle", i, "at"),
                "The baffles must be listed from front to rear.",
                tank.baffle[i].at.text,
                f"more than {tank.baffle[i - 1].at.text}",
            )


def _compartments(parts: Sequence[Compartment], length: float) -> Iterator[Wrong]:
    """Compartments in order, of some length, not overlapping, with names of their own."""
    for i, part in enumerate(parts):
        if part.end <= part.start:
            yield Wrong(
                ("compartment", i, "to"),
                "The compartment ends before it begins.",
                part.end.text,
                f"more than {part.start.text}",
            )
        if i and part.start < parts[i - 1].end - 1e-9:
            yield Wrong(
                ("compartment", i, "from"),
                f'The compartment overlaps "{parts[i - 1].name}".',
                part.start.text,
                f"{parts[i - 1].end.text} or more",
            )
        if part.name in [other.name for other in parts[:i]]:
            yield Wrong(
                ("compartment", i, "name"),
                "Two compartments have the same name.",
                f'"{part.name}"',
                "a name not used before",
            )


def _heights(tank: Tank) -> Iterator[Wrong]:
    """Heights that lie outside the section."""
    try:
        top = tank.section.outline().highest
    except ValueError:
        return
    deepest = max((sump.depth for sump in tank.sump), default=0.0)
    if tank.overflow_lip is not None and not 0 < tank.overflow_lip <= top:
        yield Wrong(
            ("overflow_lip",),
            "The overflow lip stands outside the tank.",
            tank.overflow_lip.text,
            f"above 0 m to {top:.3f} m",
        )
    for i, outlet in enumerate(tank.outlet):
        drop = tank.fall * outlet.at
        if not -deepest - drop - 1e-9 <= outlet.height < top:
            yield Wrong(
                ("outlet", i, "height"),
                "The outlet stands outside the tank.",
                outlet.height.text,
                f"{-deepest - drop:.3f} m to {top:.3f} m",
            )
    for i, baffle in enumerate(tank.baffle):
        for j, hole in enumerate(baffle.opening):
            if not hole.height - 0.5 * hole.diameter >= 0 or hole.height + 0.5 * hole.diameter > top:
                yield Wrong(
                    ("baffle", i, "opening", j, "height"),
                    "The opening reaches outside the section.",
                    hole.height.text,
                    f"a circle between 0 m and {top:.3f} m",
                )
