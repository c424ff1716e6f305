"""The kinds of value a build file holds: every quantity with its unit, its bounds and where it comes from."""

from __future__ import annotations

import re
from collections.abc import Callable, Mapping
from typing import Annotated, Any

from pydantic import StringConstraints, ValidationInfo, WithJsonSchema
from pydantic.functional_validators import PlainValidator
from pydantic_core import PydanticCustomError

from tunwright.build.shown import show
from tunwright.build.units import Quantity, UnitError, parse, parse_thickness
from tunwright.tables.read import gauges, materials

SOURCES = ("measured", "maker", "assumed")
"""Where a value may come from."""

_TABLE_KEYS = ("value", "from", "note")


def refuse(given: object, message: str, allowed: str, example: str) -> PydanticCustomError:
    """The error of one value, in the four parts every error of a build file has."""
    text = given if isinstance(given, str) else repr(given)
    return PydanticCustomError(
        "value", "{message}", {"given": text, "message": message, "allowed": allowed, "example": example}
    )


def _opened(raw: object, example: str) -> tuple[object, str | None, str]:
    """The text, the source and the note of a value, which may be a table { value, from, note }."""
    if not isinstance(raw, Mapping):
        return raw, None, ""
    like = f'{{ value = "{example}", from = "measured" }}'
    extra = [key for key in raw if key not in _TABLE_KEYS]
    if extra or "value" not in raw:
        what = f'The key "{extra[0]}" does not belong to a value.' if extra else 'The key "value" is missing.'
        raise refuse(dict(raw), what, "the keys value, from, note", like)
    source, note = raw.get("from"), raw.get("note", "")
    if source is not None and source not in SOURCES:
        raise refuse(source, "The origin of the value is not known.", "from = " + ", ".join(map(repr, SOURCES)), like)
    if not isinstance(note, str):
        raise refuse(note, "The note must be text.", "text in quotes", '"ticket 12"')
    return raw["value"], source, note


def _bounded(value: Quantity, kind: str, low: float, high: float, *, open_low: bool, example: str) -> Quantity:
    """The value, refused where it lies outside its bounds."""
    if low <= value <= high and not (open_low and value == low):
        return value
    least = "above" if open_low else "from"
    allowed = f"{least} {show(low, kind)} to {show(high, kind)}"
    raise refuse(value.text, "The value lies outside what is possible here.", allowed, example)


def _reader(
    kind: str, low: float, high: float, *, open_low: bool, example: str, thick: bool
) -> Callable[[object, ValidationInfo], Quantity]:
    def read(raw: object, info: ValidationInfo) -> Quantity:
        if isinstance(raw, Quantity):
            return raw
        text, source, note = _opened(raw, example)
        try:
            if thick:
                metal = _metal(info)
                found = parse_thickness(text, gauge=_gauge_table(metal), metal=metal, source=source, note=note)  # type: ignore[arg-type]
            else:
                found = parse(text, kind, source=source, note=note)  # type: ignore[arg-type]
        except UnitError as error:
            raise refuse(error.given, error.wrong, error.allowed, error.example) from None
        return _bounded(found, kind, low, high, open_low=open_low, example=example)

    return read


def _metal(info: ValidationInfo) -> str:
    """The material a thickness belongs to: the table's own, or that of the tank."""
    own = (info.data or {}).get("material")
    return str(own or (info.context or {}).get("tank_material") or "")


def _gauge_table(metal: str) -> Mapping[int, float] | None:
    known = materials()
    return gauges(known[metal].family) if metal in known else None


def quantity(kind: str, low: float, high: float, example: str, *, open_low: bool = False, thick: bool = False) -> Any:
    """A field type for a quantity of a kind within bounds.

    kind: kind of unit
    low: least value allowed, in SI
    high: greatest value allowed, in SI
    example: a value as it would be typed
    open_low: the least value itself is not allowed
    thick: a plate thickness, where a sheet gauge may stand too
    """
    bounds = {"x-kind": kind, "x-from": show(low, kind), "x-to": show(high, kind), "x-above": open_low}
    table = {
        "type": "object",
        "properties": {
            "value": {"type": ["string", "number"] if kind == "ratio" else "string"},
            "from": {"enum": list(SOURCES)},
            "note": {"type": "string"},
        },
        "required": ["value"],
        "additionalProperties": False,
    }
    plain: dict[str, Any] = {"type": ["string", "number"] if kind == "ratio" else "string"}
    schema = {"anyOf": [plain, table], "examples": [example], **bounds}
    read = _reader(kind, low, high, open_low=open_low, example=example, thick=thick)
    return Annotated[Quantity, PlainValidator(read), WithJsonSchema(schema)]


Place = quantity("length", -20.0, 40.0, "4.2 m")
Across = quantity("length", -3.0, 3.0, "0 mm")
Height = quantity("length", -1.0, 8.0, "1.05 m")
Length = quantity("length", 0.0, 30.0, "5.4 m", open_low=True)
Size = quantity("length", 0.0, 10.0, "300 mm", open_low=True)
SizeOrNone = quantity("length", 0.0, 10.0, "0 mm")
Thickness = quantity("length", 0.0, 0.1, "4 mm", open_low=True, thick=True)
Film = quantity("length", 0.0, 0.01, "300 µm")
Mass = quantity("mass", 0.0, 200e3, "120 kg", open_low=True)
MassOrNone = quantity("mass", 0.0, 200e3, "4700 kg")
Volume = quantity("volume", 0.0, 100.0, "12000 L", open_low=True)
Ratio = quantity("ratio", 0.0, 1.0, "4 %")
Slope = quantity("slope", 0.0, 0.6, "12 %")
Braking = quantity("acceleration", 0.0, 9.80665, "0.5 g")
Density = quantity("density", 900.0, 1400.0, "1000 kg/m3")
MassPerLength = quantity("mass_per_length", 0.0, 500.0, "30 kg/m", open_low=True)
SpringRate = quantity("stiffness", 0.0, 1e8, "240 N/mm", open_low=True)
Stress = quantity("stress", 0.0, 2e9, "500 MPa", open_low=True)

Text = Annotated[
    str, StringConstraints(strip_whitespace=True, min_length=1, max_length=200, pattern=r"^[^\x00-\x1f]+$")
]
Name = Annotated[str, StringConstraints(strip_whitespace=True, min_length=1, max_length=60, pattern=r"^[^\x00-\x1f]+$")]


def slug(name: str) -> str:
    """A name as a stable key: lower case, words joined by hyphens."""
    return re.sub(r"[^a-z0-9]+", "-", name.lower()).strip("-") or "x"
