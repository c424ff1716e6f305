"""What has to fit together in a tank. A check ends where it needs a value that is not known; the others go on."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import TYPE_CHECKING

from tunwright.build.base import Wrong, as_far_as_known
from tunwright.build.problems import nearest
from tunwright.build.typed import listed, metres, quoted
from tunwright.build.units import Quantity
from tunwright.handbook.heads import HeadError
from tunwright.handbook.outline import Outline, OutlineError
from tunwright.tables.read import materials

if TYPE_CHECKING:
    from tunwright.build.section import HeadTable
    from tunwright.build.tank import Baffle, Compartment, LongBaffle, Manhole, Outlet, Pipe, Recess, Ring, Sump, Tank

Path = tuple[str | int, ...]


def material(name: str, path: Path = ("material",)) -> Iterator[Wrong]:
    """A material that is not in the table.

    name: its key
    path: where it is named
    """
    if name not in materials():
        known = list(materials())
        example = quoted(nearest(name, known) or known[0])
        yield Wrong(path, "The material is not in the table.", quoted(name), listed(list(map(quoted, known))), example)


def outline_of(tank: Tank) -> Outline | None:
    """The section's outline, None where it cannot be drawn, which the section itself reports.

    tank: the tank
    """
    try:
        return tank.section.outline()
    except OutlineError:
        return None


def heads(tank: Tank, outline: Outline) -> Iterator[Wrong]:
    """Heads that do not go with the section."""
    yield from as_far_as_known(*(_head(tank, outline, name) for name in ("front_head", "rear_head", "head")))


def _head(tank: Tank, outline: Outline, name: str) -> Iterator[Wrong]:
    table: HeadTable | None = getattr(tank, name)
    if table is None or (name == "head" and tank.front_head is not None and tank.rear_head is not None):
        return
    try:
        depth = table.over(tank.section).depth
    except HeadError as error:
        allowed = "a head that goes with the section, such as a flat one, or a dish of stated depth"
        yield Wrong((name,), f"The head does not fit the tank: {error}.", "", allowed, '{ shape = "flat" }')
        return
    if depth > outline.highest:
        allowed = f"up to {outline.highest:.3f} m, the height of the section"
        given = table.depth.text if table.depth is not None else f"{depth:.3f} m"
        yield Wrong(
            (name, "depth"), "The head is deeper than the tank is high.", given, allowed, metres(outline.highest / 4)
        )


def between_tangents(tank: Tank) -> Iterator[Wrong]:
    """Parts that do not stand between the tangent lines."""
    length = float(tank.length)
    checks = []
    for name in ("baffle", "ring", "manhole", "sump", "outlet"):
        checks += [_stands(name, i, part, length) for i, part in enumerate(getattr(tank, name))]
    for name in ("recess", "long_baffle", "pipe", "compartment"):
        checks += [_reaches(name, i, part, length) for i, part in enumerate(getattr(tank, name))]
    for name in ("dip_at", "dry_centre"):
        checks.append(_along((name,), "This place lies outside the tank.", getattr(tank, name), length))
    yield from as_far_as_known(*checks)


def _stands(name: str, i: int, part: Baffle | Ring | Manhole | Sump | Outlet, length: float) -> Iterator[Wrong]:
    yield from _along((name, i, "at"), f"The {name} stands outside the tank.", part.at, length)


def _reaches(name: str, i: int, part: Recess | LongBaffle | Pipe | Compartment, length: float) -> Iterator[Wrong]:
    message = f"The {name.replace('_', ' ')} reaches outside the tank."
    yield from as_far_as_known(
        _along((name, i, "from"), message, part.start, length), _along((name, i, "to"), message, part.end, length)
    )


def _along(path: Path, message: str, place: Quantity | None, length: float) -> Iterator[Wrong]:
    if place is not None and not -1e-9 <= place <= length + 1e-9:
        end = 0.0 if place < 0 else length
        example = metres(end if path[-1] in ("from", "to") else length / 2)
        yield Wrong(path, message, place.text, f"0 m to {length:g} m, from the front tangent line", example)


def baffles_in_order(baffles: Sequence[Baffle]) -> Iterator[Wrong]:
    """Baffles not listed from front to rear."""
    yield from as_far_as_known(*(_baffle_behind(baffles, i) for i in range(1, len(baffles))))


def _baffle_behind(baffles: Sequence[Baffle], i: int) -> Iterator[Wrong]:
    here, before = baffles[i].at, baffles[i - 1].at
    if here <= before:
        message = "The baffles must be listed from front to rear."
        yield Wrong(("baffle", i, "at"), message, here.text, f"more than {before.text}", metres(before + 0.2))


def compartments(parts: Sequence[Compartment]) -> Iterator[Wrong]:
    """Compartments in order, of some length, not overlapping, with names of their own."""
    for i in range(len(parts)):
        yield from as_far_as_known(_own_name(parts, i), *([_apart(parts, i)] if i else []))


def _apart(parts: Sequence[Compartment], i: int) -> Iterator[Wrong]:
    here, before = parts[i], parts[i - 1]
    if here.start < before.end - 1e-9:
        message = f"The compartment overlaps {quoted(before.name)}."
        yield Wrong(
            ("compartment", i, "from"), message, here.start.text, f"{before.end.text} or more", quoted(before.end.text)
        )


def _own_name(parts: Sequence[Compartment], i: int) -> Iterator[Wrong]:
    name, before = parts[i].name, [other.name for other in parts[:i]]
    if name in before:
        message = "Two compartments have the same name."
        free = next(f"{name} {n}" for n in range(2, 99) if f"{name} {n}" not in before)
        yield Wrong(("compartment", i, "name"), message, quoted(name), "a name not used before", quoted(free))


def outlets(tank: Tank, outline: Outline) -> Iterator[Wrong]:
    """Outlets of no compartment, outside theirs, or at no height of the tank."""
    deepest = max((float(sump.depth) for sump in tank.sump), default=0.0)
    checks = [_outlet_height(tank, outline.highest, deepest, i) for i in range(len(tank.outlet))]
    yield from as_far_as_known(*checks, *(_outlet_of(tank, i) for i in range(len(tank.outlet))))


def _outlet_height(tank: Tank, top: float, deepest: float, i: int) -> Iterator[Wrong]:
    outlet = tank.outlet[i]
    low = -deepest - tank.fall * outlet.at
    if not low - 1e-9 <= outlet.height < top:
        message = "The outlet stands outside the tank."
        yield Wrong(("outlet", i, "height"), message, outlet.height.text, f"{low:.3f} m to {top:.3f} m", '"0 mm"')


def _outlet_of(tank: Tank, i: int) -> Iterator[Wrong]:
    outlet: Outlet = tank.outlet[i]
    if outlet.compartment is None:
        return
    names = [c.name for c in tank.compartment]
    path: Path = ("outlet", i, "compartment")
    if outlet.compartment not in names:
        allowed = listed(list(map(quoted, names))) if names else "no compartment: the tank is one"
        example = quoted(nearest(outlet.compartment, names) or names[0]) if names else ""
        yield Wrong(path, "There is no compartment of this name.", quoted(outlet.compartment), allowed, example)
        return
    part = tank.compartment[names.index(outlet.compartment)]
    if not part.start <= outlet.at <= part.end:
        message = f"The outlet does not stand in its compartment {quoted(part.name)}."
        middle = metres((part.start + part.end) / 2)
        yield Wrong(("outlet", i, "at"), message, outlet.at.text, f"{part.start.text} to {part.end.text}", middle)


def lip(tank: Tank, outline: Outline) -> Iterator[Wrong]:
    """An overflow lip outside the tank."""
    top = outline.highest
    if tank.overflow_lip is not None and not 0 < tank.overflow_lip <= top:
        message = "The overflow lip stands outside the tank."
        allowed = f"above 0 m to {top:.3f} m"
        yield Wrong(("overflow_lip",), message, tank.overflow_lip.text, allowed, metres(0.95 * top))


def some_length(start: Quantity | None, end: Quantity | None, what: str) -> Iterator[Wrong]:
    """Something along the tank that ends before it begins.

    start: where it begins
    end: where it ends
    what: what it is called
    """
    if start is not None and end is not None and end <= start:
        message = f"The {what} ends before it begins."
        yield Wrong(("to",), message, end.text, f"more than {start.text}", metres(start + 0.1))
