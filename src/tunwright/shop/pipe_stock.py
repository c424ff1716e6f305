"""Stock lengths: which piece is cut from which length of pipe, first fit by falling length."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from tunwright.shop.pipe_cuts import Piece, RunCuts
from tunwright.tables.pipes import PipeSize
from tunwright.tables.read import shop_value

_ROUNDING = 1e-9


@dataclass(frozen=True)
class Cut:
    """A length to be cut from stock.

    mark: of the piece
    length: to cut [m]
    """

    mark: str
    length: float


@dataclass(frozen=True)
class StockLength:
    """A stock length and what is cut from it.

    cuts: in the order they are cut
    used: of its length, saw cuts between them included [m]
    offcut: what is left [m]
    """

    cuts: tuple[Cut, ...]
    used: float
    offcut: float


@dataclass(frozen=True)
class StockPlan:
    """The stock of one size.

    size: the pipe
    lengths: stock lengths to buy
    too_long: what does not fit in one of them
    """

    size: PipeSize
    lengths: tuple[StockLength, ...]
    too_long: tuple[Cut, ...]


def packed(cuts: Sequence[Cut], *, stock: float, saw: float) -> tuple[tuple[StockLength, ...], tuple[Cut, ...]]:
    """Stock lengths with what is cut from each, and what is longer than one.

    Each piece, the longest first, goes to the first stock length that has room for it. Between two pieces a saw cut is
    lost, and one before the offcut.

    cuts: the pieces
    stock: a stock length [m]
    saw: what a saw cut takes [m]
    """
    bins: list[list[Cut]] = []
    long = [one for one in cuts if one.length > stock + _ROUNDING]
    for one in sorted((one for one in cuts if one not in long), key=lambda one: -one.length):
        room = next((each for each in bins if _used(each, saw) + saw + one.length <= stock + _ROUNDING), None)
        if room is None:
            bins.append([one])
        else:
            room.append(one)
    found = [StockLength(tuple(each), _used(each, saw), max(0.0, stock - _used(each, saw) - saw)) for each in bins]
    return tuple(found), tuple(long)


def _used(cuts: Sequence[Cut], saw: float) -> float:
    return sum(one.length for one in cuts) + saw * (len(cuts) - 1)


def stock_plans(runs: Sequence[RunCuts]) -> tuple[StockPlan, ...]:
    """The stock of every size, in the order in which the runs use them; hose is left out.

    runs: the runs in pieces
    """
    stock, saw = shop_value("pipe_stock_length"), shop_value("pipe_saw_cut")
    cuts: dict[PipeSize, list[Cut]] = {}
    for one in runs:
        if not one.run.hose:
            found = cuts.setdefault(one.run.size, [])
            for piece in one.pieces:
                found += _cuts(piece, stock, saw)
    return tuple(StockPlan(size, *packed(mine, stock=stock, saw=saw)) for size, mine in cuts.items() if mine)


def _cuts(piece: Piece, stock: float, saw: float) -> Iterator[Cut]:
    """A piece; a length to be set out with its saw cuts, in stock lengths where it is longer."""
    if not piece.length:
        return
    if piece.parts == 1:
        yield Cut(piece.mark, piece.length)
        return
    whole = piece.length + saw * (piece.parts - 1)
    full = int(whole / stock + _ROUNDING)
    yield from (Cut(f"{piece.mark}, part", stock) for _ in range(full))
    if whole - full * stock > _ROUNDING:
        yield Cut(f"{piece.mark}, part" if full else f"{piece.mark} in {piece.parts}", whole - full * stock)
