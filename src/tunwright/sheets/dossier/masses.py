"""Weights: what everything weighs and where, the parts of the tank, centre of gravity and moments of inertia."""

from __future__ import annotations

from collections.abc import Iterator

import numpy as np

from tunwright.checks.assess import Assessment
from tunwright.handbook.inertia import Mass
from tunwright.sheets.data import usual_stance
from tunwright.sheets.dossier.amounts import NO_SIGN, Amounts
from tunwright.sheets.dossier.blocks import Block, Part, column, head, row, table, unknown, words
from tunwright.sheets.input_words import label
from tunwright.truck.parts import Part as MadePart
from tunwright.truck.truck import Truck

_FILLS = ((0.0, "empty"), (0.5, "half full"), (1.0, "full to net"))


def weights_part(assessment: Assessment, amounts: Amounts) -> Part:
    """The part on weights.

    assessment: the assessment
    amounts: how quantities are printed
    """
    truck = assessment.truck
    blocks = [
        words(
            "Places count from the first axle rearwards (x), to the right of the middle (y) and up from the ground "
            "(z). The bare chassis is as weighed; everything else is added to it."
        ),
        _lumps(truck, amounts),
        *_chassis_height(assessment),
        head("Parts to be made"),
        *_parts(truck, amounts),
        head("Calculated against measured"),
        *_replaced(assessment, amounts),
        head("Centre of gravity of the whole vehicle, standing level, crew aboard"),
        _centres(assessment, amounts),
        head("Moments of inertia of the body about its own centre"),
        *_inertia(truck, amounts),
    ]
    return Part("Weights", blocks, fresh=False)


def _lump_columns(amounts: Amounts, first: str) -> list[Block]:
    length = amounts.unit("length")
    heads = [f"mass, {amounts.unit('mass')}", *(f"{axis}, {length}" for axis in "xyz")]
    return [column(first, "1fr"), column("carried by", "28mm"), *(column(h, "21mm", right=True) for h in heads)]


def _lump(name: str, of: str, mass: Mass, amounts: Amounts, *, total: bool = False) -> Block:
    places = [amounts.bare(float(at), "length") if mass.mass else NO_SIGN for at in mass.centre]
    return row([name, of, amounts.bare(mass.mass, "mass"), *places], total=total)


def _lumps(truck: Truck, amounts: Amounts) -> Block:
    """The bare chassis and everything added to it but water."""
    height = truck.build.chassis.cg_height
    z = np.nan if height is None else float(height)
    kerb = Mass(
        truck.axles.kerb_mass, np.array([truck.axles.kerb_x, float(truck.build.chassis.cg_y), z]), np.zeros((3, 3))
    )
    weights = truck.weights
    carried = {"tank": "tank", "frame": "frame", "cab": "cab", "fuel": "frame", "crew": "cab"}
    rows = [_lump("bare chassis as weighed", "axles", kerb, amounts)]
    rows += [_lump(one.name, carried[one.of], one.mass, amounts) for one in weights.lumps]
    rows.append(_lump("added in all, without water and persons", "", weights.added, amounts, total=True))
    for name, crew in (
        ("persons, all seats taken", weights.crew_aboard),
        ("persons, nobody aboard", weights.crew_away),
    ):
        if crew.mass:
            rows.append(_lump(name, "cab", crew, amounts))
    return table(_lump_columns(amounts, "what"), rows)


def _chassis_height(assessment: Assessment) -> Iterator[Block]:
    if assessment.build.chassis.cg_height is None:
        what = label(assessment.build, "chassis.cg_height")
        yield unknown(f"Not known: measure the {what}. Until then no height of the whole vehicle can be given.")


def _parts(truck: Truck, amounts: Amounts) -> Iterator[Block]:
    """The parts of tank and subframe."""
    weights = truck.weights
    columns = [
        column("part", "1fr"),
        column("material", "26mm"),
        column(f"thickness, {amounts.unit('length')}", "24mm", right=True),
        column(f"area, {amounts.unit('area')}", "22mm", right=True),
        column(f"mass, {amounts.unit('mass')}", "22mm", right=True),
    ]
    own = [part for part in weights.parts if part.frame == "tank"]
    rows = [_part(part, amounts) for part in own]
    for name, mass in weights.tank_calculated.items():
        rows.append(row([f"of the tank: {name}", "", "", "", amounts.bare(mass, "mass", digits=1)]))
    total = sum(weights.tank_calculated.values())
    rows.append(row(["tank as calculated", "", "", "", amounts.bare(total, "mass", digits=1)], total=True))
    rows += [_part(part, amounts) for part in weights.parts if part.frame != "tank"]
    yield table(columns, rows)


def _part(part: MadePart, amounts: Amounts) -> Block:
    thin = 1 if amounts.system == "metric" else 3
    return row(
        [
            part.name,
            part.material or NO_SIGN,
            amounts.bare(part.thickness, "length", digits=thin) if part.thickness else NO_SIGN,
            amounts.bare(part.area, "area") if part.area else NO_SIGN,
            amounts.bare(part.mass.mass, "mass", digits=1),
        ]
    )


def _replaced(assessment: Assessment, amounts: Amounts) -> Iterator[Block]:
    found = assessment.truck.weights.replaced
    if not found:
        yield words("No calculated mass is replaced by a measured one: tank and subframe stand as calculated.")
        return
    unit = amounts.unit("mass")
    columns = [column("what", "1fr")]
    columns += [column(text, "26mm", right=True) for text in (f"calculated, {unit}", f"given, {unit}", "difference")]
    rows = []
    for one in found:
        change = one.given - one.calculated
        share = (
            f" ({'+' if change > 0 else ''}{amounts.full(change / one.calculated, 'ratio')})" if one.calculated else ""
        )
        figures = [amounts.bare(mass, "mass", digits=1) for mass in (one.calculated, one.given, change)]
        rows.append(row([label(assessment.build, one.key), figures[0], figures[1], figures[2] + share]))
    yield table(columns, rows)


def _centres(assessment: Assessment, amounts: Amounts) -> Block:
    """Mass and centre of the whole vehicle at three levels and the brim."""
    rows, truck, stance = [], assessment.truck, usual_stance(assessment)
    for fill, name in (*_FILLS, (None, "to the brim")):
        wanted = {"brim": True} if fill is None else {"brim": False, "fill": fill}
        level = truck.table.mask(sort="even", crew=True, stance=stance, grade=0.0, slope=0.0, braking=0.0, **wanted)
        for i in np.flatnonzero(level):
            gross, centre = float(truck.table.gross[i]), truck.table.centre[i]
            litres = amounts.bare(float(truck.table.litres[i]) / 1000, "volume")
            rows.append(
                row([name, litres, amounts.bare(gross, "mass"), *(amounts.bare(float(at), "length") for at in centre)])
            )
    length = amounts.unit("length")
    heads = [f"water, {amounts.unit('volume')}", f"mass, {amounts.unit('mass')}", *(f"{a}, {length}" for a in "xyz")]
    return table([column("fill", "1fr"), *(column(h, "24mm", right=True) for h in heads)], rows)


def _inertia(truck: Truck, amounts: Amounts) -> Iterator[Block]:
    """Moments of inertia of tank, fittings and still water."""
    unit = amounts.unit("inertia")
    names = (f"roll Ixx, {unit}", f"pitch Iyy, {unit}", f"yaw Izz, {unit}", f"Ixz, {unit}")
    columns = [column("fill", "1fr"), column(f"mass, {amounts.unit('mass')}", "22mm", right=True)]
    columns += [column(f"z of centre, {amounts.unit('length')}", "24mm", right=True)]
    columns += [column(name, "26mm", right=True) for name in names]
    rows = []
    for fill, name in _FILLS:
        body = truck.body(fill)
        tensor = body.inertia
        found = [tensor[0, 0], tensor[1, 1], tensor[2, 2], tensor[0, 2]]
        figures = [amounts.bare(float(value), "inertia") for value in found]
        rows.append(
            row([name, amounts.bare(body.mass, "mass"), amounts.bare(float(body.centre[2]), "length"), *figures])
        )
    foot = (
        "Tank, fittings, subframe and water taken as still, in one piece. The bare chassis and the persons are not in "
        "it: their inertia is not known here and has to be added for the whole vehicle."
    )
    yield table(columns, rows, foot=foot)
