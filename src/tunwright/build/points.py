"""The points of a free outline, as a build file lists them."""

from __future__ import annotations

import math
from collections.abc import Iterator
from typing import Annotated, Any

from pydantic import WithJsonSchema
from pydantic.functional_validators import PlainValidator

from tunwright.build.base import Wrong
from tunwright.build.fields import refused
from tunwright.build.typed import as_typed

LEAST, MOST = 3, 5000
"""How many points an outline may have."""

_NAMED = 5  # points that are complained about one by one
_EXAMPLE = "[[-1200, 0], [1200, 0], [0, 900]]"

Pair = tuple[float, float]


def _read(raw: object) -> list[Pair]:
    """The points; everything wrong with them is raised at once."""
    if not isinstance(raw, list):
        allowed = f"a list of {LEAST} to {MOST} pairs [y, z]"
        raise refused(Wrong((), "The points must be a list in square brackets.", as_typed(raw), allowed, _EXAMPLE))
    if not LEAST <= len(raw) <= MOST:
        message = "So many points make no outline that can be used."
        raise refused(Wrong((), message, f"{len(raw)} points", f"{LEAST} to {MOST} points", _EXAMPLE))
    wrongs = [wrong for i, one in enumerate(raw) for wrong in _wrong(i, one)]
    if len(wrongs) > _NAMED:
        more = f"{len(wrongs) - _NAMED} more points are no pairs of numbers either."
        wrongs = [*wrongs[:_NAMED], Wrong((), more, "", "points such as [-1200, 0]")]
    if wrongs:
        raise refused(*wrongs)
    return [(float(y), float(z)) for y, z in raw]


def _wrong(i: int, one: object) -> Iterator[Wrong]:
    if isinstance(one, list | tuple) and len(one) == 2 and all(map(_plain, one)):
        return
    pair = isinstance(one, list | tuple)
    shown = f"[{', '.join(map(as_typed, one))}]" if isinstance(one, list | tuple) else as_typed(one)
    message = "A point is a pair of plain numbers, across and up." if not pair else "This is no pair of plain numbers."
    yield Wrong((i,), message, shown, "two finite numbers in square brackets, without a unit", "[-1200, 0]")


def _plain(number: object) -> bool:
    """Whether something is a number one may reckon with."""
    if isinstance(number, bool) or not isinstance(number, int | float):
        return False
    return math.isfinite(number) if isinstance(number, float) else abs(number) < 10**12


_SCHEMA: dict[str, Any] = {
    "type": "array",
    "items": {"type": "array", "items": {"type": "number"}, "minItems": 2, "maxItems": 2},
    "minItems": LEAST,
    "maxItems": MOST,
}
Points = Annotated[list[Pair], PlainValidator(_read), WithJsonSchema(_SCHEMA)]
