"""The torque sheet: torques of the sets of bolts, one line a bolt, three sign-offs a connection, tightened again."""

from __future__ import annotations

from collections.abc import Iterator

from tunwright.build.shown import show, show_number
from tunwright.checks.assess import Assessment
from tunwright.sheets.dossier.amounts import Amounts
from tunwright.sheets.dossier.blocks import Block, Part, box_cell, cell, column, head, row, table, together, words
from tunwright.shop.torque import Connection, connections
from tunwright.tables.read import shop_value

TITLE = "Torque sheet"
_ON_A_PAGE = 24  # bolts of a connection that stand on one page with its signatures
_SIGNED = ("fitted by", "torqued by", "checked by")
_CAUTIONS = {
    "First of all": "The chassis maker's written instructions and locally licensed practice come before this sheet.",
    "Flanges": (
        "Never weld on the rails and never drill or notch their flanges. Holes in the web are drilled, not burnt, "
        "freed of burrs and painted before the bolt goes in."
    ),
    "Threads": (
        "The torques hold for threads and faces in the state named, clean and without anything added. Oil or grease "
        "where dry is named overloads the bolt; rust or paint where oil is named leaves it loose."
    ),
    "Bolts": (
        "New bolts, nuts of the same class, hardened washers under head and nut; what was tightened to the full torque "
        "and taken out is not used again. The nut is turned, the head held."
    ),
    "Wrench": (
        "A torque wrench within its calibration, its number and the date written below. No impact wrench in the second "
        "pass."
    ),
}
_BRITTLE = "Bolts of class 12.9 crack by hydrogen: never electroplated, pickled or in a wet place without protection."


def torque_part(assessment: Assessment, amounts: Amounts, *, fresh: bool = True) -> Part:
    """The torque sheet; only for a build whose mounts have bolts.

    assessment: the assessment
    amounts: how quantities are printed
    fresh: it begins on a new page
    Raises ValueError where no mount has bolts.
    """
    found = connections(assessment.build)
    if not found:
        raise ValueError("no mount of this build has bolts; give them in [mount.bolts] of its mounts")
    blocks = [words(_said()), _sets(found, amounts), _cautions(found), _wrench()]
    for one in found:
        mine = [head(one.name), _lines(one, amounts), _signatures(one)]
        blocks += [together(mine)] if len(one.lines) <= _ON_A_PAGE else mine
    return Part(TITLE, blocks, fresh=fresh)


def _said() -> str:
    start, end = shop_value("retorque_from"), shop_value("retorque_to")
    share = show_number(100 * shop_value("first_pass"))
    return (
        f"Tighten each connection in the order of its numbers, from the middle outwards: once round with {share} % of "
        "the torque, once round with the whole. Tick each bolt as it is done. Tighten all again, with the whole "
        f"torque, after the first {show_number(start)} to {show_number(end)} km, and sign for it. The one who checks "
        "is not the one who tightened."
    )


def _sets(found: tuple[Connection, ...], amounts: Amounts) -> Block:
    """Torque, friction and preload of every mount's bolts."""
    rows = []
    for one in found[::2]:
        how = one.how
        rows.append(
            row(
                [
                    cell(one.mount.name, bold=True),
                    f"{how.size.key} class {how.grade.key}",
                    f"{one.bolts.finish}: {how.friction.meaning}",
                    f"{how.friction.least:.2f} to {how.friction.most:.2f}",
                    amounts.full(how.first, "torque"),
                    cell(amounts.full(how.torque, "torque"), bold=True),
                    f"{_force(how.least, amounts)} to {_force(how.most, amounts)}",
                    f"{show_number(100 * how.most / how.proof)} %",
                ]
            )
        )
    columns = [
        column("connection, both sides", "1.2fr"),
        column("bolts", "22mm"),
        column("threads and faces", "1.5fr"),
        column("friction", "19mm"),
        column("first pass", "16mm", right=True),
        column("torque", "16mm", right=True),
        column("preload it gives", "28mm", right=True),
        column("of proof", "13mm", right=True),
    ]
    foot = (
        f"The torque brings the bolt to {show_number(100 * shop_value('bolt_yield_share'))} % of its yield strength if "
        "friction is at its least (VDI 2230); with friction at its most the same torque gives the lower preload. "
        "Classes: ISO 898-1. Friction: VDI 2230, Table A5."
    )
    return table(columns, rows, size=7.5, foot=foot)


def _force(value: float, amounts: Amounts) -> str:
    return show(value, "force", system=amounts.system)


def _cautions(found: tuple[Connection, ...]) -> Block:
    brittle = {"Class 12.9": _BRITTLE} if any(one.bolts.grade == "12.9" for one in found) else {}
    rows = [row([cell(name, bold=True), text]) for name, text in (_CAUTIONS | brittle).items()]
    return table([column("", "22mm"), column("to be minded", "1fr")], rows, size=8.0)


def _wrench() -> Block:
    blank = ["", "", "", ""]
    columns = [column(text, "1fr") for text in ("torque wrench no.", "calibrated until", "range", "vehicle or job")]
    return table(columns, [row(blank), row(blank)], tall=True)


def _lines(one: Connection, amounts: Amounts) -> Block:
    first, last = (amounts.full(value, "torque") for value in (one.how.first, one.how.torque))
    size = f"{one.how.size.key}, {one.how.grade.key}"
    rows = [
        row([str(line.number), line.place, size, last, box_cell(), box_cell(), box_cell(), ""]) for line in one.lines
    ]
    columns = [
        column("no.", "8mm", right=True),
        column("bolt", "1fr"),
        column("size, class", "21mm"),
        column("torque", "17mm", right=True),
        column(f"1st, {first}", "20mm"),
        column(f"2nd, {last}", "20mm"),
        column("again", "14mm"),
        column("signature", "34mm"),
    ]
    return table(columns, rows, size=7.5, tall=True)


def _signatures(one: Connection) -> Block:
    start, end = show_number(shop_value("retorque_from")), show_number(shop_value("retorque_to"))
    rows = [row([cell(text, bold=True), "", "", ""]) for text in _signed(start, end)]
    columns = [column(one.name, "46mm"), column("name", "1fr"), column("signature", "1fr"), column("date, km", "30mm")]
    return table(columns, rows, size=7.5, tall=True)


def _signed(start: str, end: str) -> Iterator[str]:
    yield from _SIGNED
    yield f"again after {start} to {end} km, by"


