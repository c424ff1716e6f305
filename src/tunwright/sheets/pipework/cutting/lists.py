"""Lists to cut, bend and bolt the pipes by: pieces, stock lengths, bends, flanges, bolts, and what is to be minded."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence

from tunwright.build.factors import INCH
from tunwright.build.kind import System
from tunwright.sheets.pipework.listing import Column, Listing, Value, said
from tunwright.sheets.pipework.lists import size_name
from tunwright.shop.pipe_cuts import Bent, Piece, RunCuts, pipe_cuts
from tunwright.shop.pipe_flanges import FlangeJoint, bolting, flange_joints, strangers
from tunwright.shop.pipe_stock import StockPlan, stock_plans
from tunwright.tables.read import shop_value
from tunwright.truck.pipework.plumbing import Plumbing

CUT = "cut"
"""Kind of column a length to cut is written as."""
_FINE = "bore"  # kind of column a flange is written as
_TIMES = " × "
_CAUTION = (
    "Dry-fit and check against the vehicle before cutting. Welds on pressure pipe are for a qualified welder; local "
    "codes and the makers' instructions come first."
)


def cutting_lists(plumbing: Plumbing, system: System) -> tuple[Listing, ...]:
    """Pipe to cut, stock, bends, flanges, bolts, and what is to be minded; those that hold nothing are empty.

    plumbing: the pipework
    system: "metric" or "us"
    """
    runs = pipe_cuts(plumbing)
    joints = flange_joints([one.run for one in runs])
    return (
        piece_list(runs, system),
        stock_list(stock_plans(runs), system),
        bend_list(runs),
        flange_list(joints, system),
        bolt_list(joints),
        note_list(runs),
    )


def piece_list(runs: Sequence[RunCuts], system: System) -> Listing:
    """Every piece with its length and what stands at its ends.

    runs: the runs in pieces
    system: "metric" or "us"
    """
    columns = (
        Column("mark", "mark"), Column("run", "run"), Column("pipe", "pipe"), Column("size", "size"),
        Column("leg", "middle to middle", CUT), Column("cut", "to cut", CUT), Column("first", "at its first end"),
        Column("last", "at its last end"),
    )  # fmt: skip
    rows: list[list[Value]] = []
    for one in runs:
        for piece in one.pieces:
            start: list[Value] = [piece.mark, one.run.name, one.run.size.series, size_name(one.run.size, system)]
            rows.append([*start, piece.leg, piece.length, *_ends(one, piece)])
    sums = [sum(float(row[i] or 0.0) for row in rows) for i in (4, 5)]
    foot = (
        f"To cut: bare pipe, with a gap of {said(shop_value('weld_root_gap'), CUT, system)} at each weld. Flanges are "
        "weld necks; for a plate or slip-on flange add the neck's length and its gap and take off "
        f"{said(shop_value('flange_set_back'), CUT, system)}. Threads, valves and tees are not taken off. {_CAUTION}"
    )
    return Listing("pipe", "Pipe to cut", columns, rows, foot, ["all", "", "", "", *sums, "", ""])


def _ends(one: RunCuts, piece: Piece) -> tuple[str, str]:
    """What stands at the ends of a piece; of a length to be set out also in how many pieces it comes."""
    if not one.set_out:
        return piece.ends
    return piece.ends[0], f"{piece.ends[1]}; set out, {piece.parts} pieces at least"


def stock_list(plans: Sequence[StockPlan], system: System) -> Listing:
    """Which pieces are cut from which stock length.

    plans: the stock of every size
    system: "metric" or "us"
    """
    columns = (
        Column("pipe", "pipe"), Column("size", "size"), Column("stock", "stock"), Column("pieces", "cut from it"),
        Column("used", "used", "run"), Column("offcut", "offcut", "run"),
    )  # fmt: skip
    rows: list[list[Value]] = []
    for plan in plans:
        start: list[Value] = [plan.size.series, size_name(plan.size, system)]
        for number, one in enumerate(plan.lengths, start=1):
            pieces = ", ".join(f"{cut.mark}: {said(cut.length, CUT, system)}" for cut in one.cuts)
            rows.append([*start, number, pieces, one.used, one.offcut])
        for cut in plan.too_long:
            told = f"{cut.mark}: {said(cut.length, CUT, system)}, longer than a stock length: buy longer, or weld it"
            rows.append([*start, "none", told, cut.length, None])
    stock, saw = said(shop_value("pipe_stock_length"), "run", system), said(shop_value("pipe_saw_cut"), CUT, system)
    foot = (
        f"Stock lengths of {stock}, a saw cut takes {saw}; the longest piece first, each into the first length with "
        "room for it. Lengths to be set out are kept in one, with their saw cuts. Hose comes off the roll."
    )
    return Listing("stock", "Stock", columns, rows, foot)


def bend_list(runs: Sequence[RunCuts]) -> Listing:
    """Where each bend begins, its rotation, its angle.

    runs: the runs in pieces
    """
    columns = (
        Column("mark", "mark"), Column("bend", "bend"), Column("straight", "straight before it", CUT),
        Column("start", "begins at", CUT), Column("rotation", "rotation, °"), Column("angle", "angle, °"),
        Column("radius", "radius", CUT), Column("arc", "arc", CUT), Column("tube", "tube to cut", CUT),
    )  # fmt: skip
    rows = [row for one in runs if one.bent is not None for row in _bends(one.pieces[0], one.bent)]
    foot = (
        "Begins at: from the first end of the bare tube to the start of the bend. Rotation: of its plane against that "
        "of the bend before, clockwise seen from the first end; negative the other way. Angles are those of the "
        "finished pipe; springback is left to the machine. The last line of a tube is the straight that is left."
    )
    return Listing("bends", "Bends", columns, rows, foot)


def _bends(piece: Piece, bent: Bent) -> Iterator[list[Value]]:
    tube = bent.tube
    bends = zip(bent.starts, tube.turns, tube.angles, tube.arcs, strict=True)
    for i, (start, turn, angle, arc) in enumerate(bends):
        straight = tube.straights[i] - (0.0 if i else bent.off)
        turned = round(math.degrees(turn), 1) + 0.0 if i else None
        tail: list[Value] = [round(math.degrees(angle), 1), tube.radius, arc, piece.length]
        yield [piece.mark, i + 1, straight, start, turned, *tail]
    left = (piece.length or 0.0) - bent.starts[-1] - tube.arcs[-1]
    yield [piece.mark, "end", left, piece.length, None, None, None, None, piece.length]


def flange_list(joints: Sequence[FlangeJoint], system: System) -> Listing:
    """Every flange with its drilling, its bolts and its gasket.

    joints: the joints
    system: "metric" or "us"
    """
    columns = (
        Column("end", "run, end"), Column("at", "at"), Column("flange", "flange"), Column("size", "size"),
        Column("outside", "outside", _FINE), Column("circle", "bolt circle", _FINE), Column("holes", "holes"),
        Column("neck", "neck", _FINE), Column("bolts", "bolts"), Column("gasket", "ring gasket"),
    )  # fmt: skip
    rows: list[list[Value]] = []
    for joint in joints:
        flange, first = joint.flange, joint.ends[0]
        size = size_name(first.run.size, system)
        holes = f"{flange.holes}{_TIMES}{said(flange.hole, _FINE, system)}"
        bolts = f"{flange.holes}{_TIMES}{_bolt(flange.bolt.key, joint.bolt_length)}"
        for one in joint.ends:
            start: list[Value] = [one.name, one.point, flange.standard, size, flange.outside, flange.circle, holes]
            shared = f"with {first.name}"
            tail = [bolts, _gasket(joint, system)] if one is first else [shared, shared]
            rows.append([*start, flange.length, *tail])
    foot = (
        "Flanges EN 1092-1 type 11 or ASME B16.5 weld neck, raised face. Neck: face to the end that is welded. Bolts: "
        "two flanges at their thickest, gasket, two washers, nut and two threads, rounded up to a length that is sold. "
        "An end that meets no other in this list is taken to meet a flange of its own thickness: measure it."
    )
    return Listing("flanges", "Flanges", columns, rows, foot)


def _bolt(key: str, length: float) -> str:
    """A bolt by its trade name: metric ones in millimetres, inch ones in inches, whatever the order is in.

    key: its thread
    length: its length [m]
    """
    metric = key.startswith("M")
    return f"{key}{_TIMES}{1000 * length:.0f} mm" if metric else f"{key}{_TIMES}{length / float(INCH):g} in"


def _gasket(joint: FlangeJoint, system: System) -> str:
    inside, outside, thick = (said(one, _FINE, system) for one in joint.gasket)
    unit = inside.rsplit(" ", 1)[1]
    return _TIMES.join(one.removesuffix(unit).strip() for one in (inside, outside, thick)) + f" {unit}"


def bolt_list(joints: Sequence[FlangeJoint]) -> Listing:
    """Bolts, nuts, washers and gaskets of all joints, counted.

    joints: the joints
    """
    columns = (Column("what", "what"), Column("size", "size"), Column("count", "how many"))
    sized = [(one, one.size if one.length is None else _bolt(one.size, one.length)) for one in bolting(joints)]
    rows: list[list[Value]] = [[one.what, size, one.count] for one, size in sized]
    foot = "For the joints of the list of flanges, without spares. Gaskets approved for what the water is for."
    return Listing("bolting", "Bolts and gaskets", columns, rows, foot)


def note_list(runs: Sequence[RunCuts]) -> Listing:
    """What is to be minded, run by run.

    runs: the runs in pieces
    """
    columns = (Column("mark", "run"), Column("name", "name"), Column("note", "to be minded"))
    rows: list[list[Value]] = [[one.run.mark, one.run.name, note] for one in runs for note in one.notes]
    for one, other in strangers([each.run for each in runs]):
        told = " and ".join(f"{each.name}: {each.flange.standard} {each.flange.name}" for each in (one, other))
        note = f"The two flanges at {one.point} do not fit each other ({told}); what stands between them has to."
        rows.append([f"{one.run.mark}, {other.run.mark}", f"{one.run.name}, {other.run.name}", note])
    return Listing("cutting", "To be minded when cutting", columns, rows)
