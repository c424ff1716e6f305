"""The lifting plan: what hangs on the hook, how the legs pull, lugs and crane, and what to mind."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence

from tunwright.build.lifting import Lifting, LiftingLug
from tunwright.build.shown import show
from tunwright.build.units import Quantity
from tunwright.checks.assess import Assessment
from tunwright.checks.finding import Finding
from tunwright.checks.hoisting.working import tilt_words
from tunwright.handbook.gravity import GRAVITY
from tunwright.sheets.dossier.amounts import NO_SIGN, NOT_KNOWN, Amounts
from tunwright.sheets.dossier.blocks import (
    Block,
    Part,
    cell,
    column,
    head,
    note,
    picture,
    row,
    table,
    unknown,
    verdict_cell,
    words,
)
from tunwright.sheets.dossier.findings import sides
from tunwright.sheets.dossier.lifting_cautions import cautions
from tunwright.sheets.input_words import short
from tunwright.sheets.svg import write_svg
from tunwright.sheets.views.lifting import lifting_drawing
from tunwright.tables.read import shop_value
from tunwright.truck.hoisting import Hoisting, Hung, Lift

TITLE = "Lifting plan"
_STANDS = {"along": "along the tank", "across": "across the tank", "hook": "turned towards the hook"}
_WIDE, _HIGH = 170.0, 104.0  # of the drawing on paper [mm]


def lifting_part(assessment: Assessment, amounts: Amounts, findings: Sequence[Finding], *, fresh: bool = True) -> Part:
    """The part on the lift; only for a build that says how its tank is lifted.

    assessment: the assessment
    amounts: how quantities are printed
    findings: its findings, with their remedies
    fresh: it begins on a new page
    """
    lifting = assessment.build.lifting
    if lifting is None:
        raise ValueError("this build says nothing of a lift; give a table [lifting] with its eyes")
    hoisting = Hoisting(assessment.truck, lifting)
    blocks = [
        words(_said(hoisting)),
        *_picture(assessment),
        _weights(hoisting, amounts),
        *_legs(hoisting, amounts),
        *([_lug(lifting.lug, amounts)] if lifting.lug is not None else []),
        *_lifters(lifting, amounts),
        head("What was asked of the lift"),
        _asked([one for one in findings if one.key.startswith("hoist-")], amounts),
        head("Before and while it hangs"),
        _cautions(hoisting, amounts),
    ]
    return Part(TITLE, blocks, fresh=fresh)


def _said(hoisting: Hoisting) -> str:
    """The lift in a sentence or two."""
    count = len(hoisting.names)
    way = f"by {count} legs from its eyes"
    length, height = hoisting.lifting.leg_length, hoisting.lifting.hook_height
    if length is not None:
        way = f"by {count} legs of {length.text} each"
    elif height is not None:
        way = f"by {count} legs set so that the hook stands over the centre of gravity"
    places = "Places count from its front tangent line, heights from its lowest inside point."
    slack = "Of four legs one may hang slack, so any two across from each other are taken to carry all."
    return " ".join([f"The tank is lifted empty, {way}.", places, *([slack] if count == 4 else [])])


def _picture(assessment: Assessment) -> Iterator[Block]:
    try:
        drawing = lifting_drawing(assessment, width_mm=_WIDE, height_mm=_HIGH)
    except ValueError as error:
        yield unknown(f"The lift cannot be drawn: {error}.")
        return
    width = drawing.bounds.width * 1000.0 / drawing.scale
    yield picture(write_svg(drawing, theme="paper"), drawing.description, width_mm=width)
    unit = Amounts(assessment.build.order.units).unit("length")
    yield note(
        f"At 1:{drawing.scale:g}, {unit}. At the legs: length from eye to hook, and angle off the vertical. Drawn "
        "before it tilts; the broken line runs from the hook to the centre of gravity and stands upright once it hangs."
    )


def _weights(hoisting: Hoisting, amounts: Amounts) -> Block:
    """Masses and centres of what is lifted, and what hangs on the hook with it."""
    mass, length = amounts.unit("mass"), amounts.unit("length")
    heads = (f"mass, {mass}", f"behind the front, {length}", f"to the right, {length}", f"height, {length}",
             f"on the hook, {mass}")  # fmt: skip
    columns = [column("what is lifted, empty", "1fr"), *(column(text, "20mm", right=True) for text in heads)]
    columns.append(column("tilt", "34mm"))
    rows = [_weight(hoisting, lift, amounts) for lift in hoisting.lifts]
    foot = f"On the hook: with {amounts.mass(hoisting.rigging)} of hook block, slings and shackles."
    return table(columns, rows, foot=foot)


def _weight(hoisting: Hoisting, lift: Lift, amounts: Amounts) -> Block:
    hung = next((one for one in hoisting.hung if one.name == lift.name), None)
    tilt = NOT_KNOWN if not hoisting.known else cell("does not hang", tone="bad")
    if hung is not None:
        tilt = f"{math.degrees(hung.hanging.tilt):.1f}°, {tilt_words(hung)}"
    places = [amounts.bare(float(at), "length") for at in hoisting.on_tank(lift.load.centre)]
    names = " and ".join(lump.name for lump in lift.lumps[1:])
    said = f"{lift.name}, with {names}" if names else f"{lift.name}: steel, welds, coating"
    figures = [amounts.bare(lift.load.mass, "mass"), *places, amounts.bare(lift.load.mass + hoisting.rigging, "mass")]
    return row([said, *figures, tilt])


def _legs(hoisting: Hoisting, amounts: Amounts) -> Iterator[Block]:
    """Every leg: its eye, length, angle and pull."""
    mass, length = amounts.unit("mass"), amounts.unit("length")
    heads = [f"behind the front, {length}", f"to the right, {length}", f"height, {length}", f"leg, {length}",
             "off the vertical", f"pull at rest, {mass}", f"while hoisting, {mass}", "of its limit"]  # fmt: skip
    rating = hoisting.lifting.leg_rating
    limit = "not stated" if rating is None else amounts.mass(float(rating))
    foot = (
        f"Working load limit of one leg: {limit}. While hoisting: {shop_value('hoist_dynamic'):g} times the pull at "
        "rest. Pulls are given as the mass that weighs as much."
    )
    for lift in hoisting.lifts:
        hung = next((one for one in hoisting.hung if one.name == lift.name), None)
        columns = [column(lift.name, "1fr", title=True), *(column(text, "18.5mm", right=True) for text in heads)]
        rows = [_leg(hoisting, lift, hung, i, amounts) for i in range(len(hoisting.names))]
        yield table(columns, rows, foot=foot if lift is hoisting.lifts[-1] else "")


def _leg(hoisting: Hoisting, lift: Lift, hung: Hung | None, leg: int, amounts: Amounts) -> Block:
    places = [amounts.bare(float(at), "length") for at in hoisting.on_tank(lift.eyes[leg])]
    if hung is None:
        length = amounts.bare(float(lift.legs[leg]), "length") if hoisting.known else NOT_KNOWN
        return row([hoisting.names[leg], *places, length, *[NO_SIGN] * 4])
    pull, rating = float(hoisting.pulls(hung)[leg]) / GRAVITY, hoisting.lifting.leg_rating
    angle = f"{math.degrees(float(hung.hanging.angle[leg])):.1f}°"
    rest = amounts.bare(float(hung.hanging.tension[leg]) / GRAVITY, "mass")
    used = NO_SIGN if rating is None else amounts.full(pull / float(rating), "ratio")
    tail = [amounts.bare(float(hung.legs[leg]), "length"), angle, rest, amounts.bare(pull, "mass"), used]
    return row([hoisting.names[leg], *places, *tail])


def _lug(lug: LiftingLug, amounts: Amounts) -> Block:
    """The lug, key by key, as typed and in trade units."""
    rows = []
    for name, field in LiftingLug.model_fields.items():
        value = getattr(lug, name)
        if value is not None:
            shown = amounts.full(float(value), value.kind) if isinstance(value, Quantity) else _STANDS.get(value, value)
            rows.append(row([short(field.description or name).split(":")[0], shown]))
    return table([column("lug at every eye", "1fr", title=True), column("", "40mm")], rows)


def _lifters(lifting: Lifting, amounts: Amounts) -> Iterator[Block]:
    """The crane's chart with the line that counts, and the forklift."""
    if lifting.crane:
        used = next((one for one in lifting.crane if lifting.radius is not None and one.radius >= lifting.radius), None)
        columns = [column("crane: radius", "1fr", title=True), column("capacity", "40mm", right=True)]
        rows = [
            row([cell(f"{_far(one.radius, amounts)}{', this line counts' if one is used else ''}",
                      bold=one is used), amounts.mass(float(one.capacity))])
            for one in lifting.crane
        ]  # fmt: skip
        at = NOT_KNOWN if lifting.radius is None else _far(lifting.radius, amounts)
        yield table(columns, rows, foot=f"Radius of this lift: {at}.")
    fork = lifting.forklift
    if fork is not None:
        at = NOT_KNOWN if fork.at is None else amounts.length(float(fork.at))
        rated = f"{amounts.mass(float(fork.capacity))} at {amounts.length(float(fork.load_centre))}"
        yield words(f"Forklift: {rated} from the fork face; the hook hangs at {at}.")


def _far(radius: Quantity, amounts: Amounts) -> str:
    """A radius as cranes give it."""
    return show(float(radius), "length", unit="m" if amounts.system == "metric" else "ft", digits=1)


def _asked(findings: Sequence[Finding], amounts: Amounts) -> Block:
    columns = [column("verdict", "15mm"), column("question", "1.2fr"), column("value", "20mm", right=True),
               column("limit", "22mm", right=True), column("worst state, remedy", "1fr")]  # fmt: skip
    rows = []
    for finding in findings:
        value, limit = sides(finding, amounts)
        said = [finding.state, finding.remedy.words if finding.remedy else ""]
        rows.append(row([verdict_cell(finding.verdict), finding.question, value, limit, "; ".join(filter(None, said))]))
    return table(columns, rows, size=7.5, foot="Their workings stand among the findings of the dossier.")


def _cautions(hoisting: Hoisting, amounts: Amounts) -> Block:
    rows = [row([str(i), text]) for i, text in enumerate(cautions(hoisting, amounts), start=1)]
    return table([column("no.", "7mm", right=True), column("what to mind", "1fr")], rows)
