"""The kinds of value a build file holds: every quantity with its unit, its bounds and where it comes from."""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from functools import lru_cache
from itertools import islice
from typing import Annotated, Any, cast

from pydantic import StringConstraints, ValidationInfo, WithJsonSchema
from pydantic.functional_validators import PlainValidator
from pydantic_core import PydanticCustomError

from tunwright.build.base import Wrong
from tunwright.build.problems import nearest
from tunwright.build.shown import show
from tunwright.build.typed import as_typed, quoted
from tunwright.build.units import KINDS, Quantity, Source, UnitError, parse, parse_thickness
from tunwright.tables.read import gauges, materials

SOURCES = ("measured", "maker", "assumed")
"""Where a value may come from."""

_TABLE_KEYS = ("value", "from", "note")
_SOURCES_ALLOWED = '"measured", "maker" or "assumed"'
_BARE = re.compile(r"[+-]?\d[\d ]*(?:\.\d+)?")
_WISH = re.compile(r': write "([^"]+)"\.$')  # the one thing a sentence says to write instead
_STRANGE_KEYS = 5  # keys in the table of one value that are complained about
_LARGEST = 10**15  # whole numbers beyond are slips of the pen
_USUAL_LENGTHS = ("m", "mm", "in", "cm", "ft")  # asked in this order which unit a bare length may have


def refused(*wrongs: Wrong) -> PydanticCustomError:
    """The error of one value: all that is wrong with it.

    wrongs: what is wrong, paths counted from the value
    """
    return PydanticCustomError("value", "not right", {"wrongs": list(wrongs)})


@dataclass(frozen=True)
class Reader:
    """Reads a quantity of one kind within bounds, written as text or as a table { value, from, note }.

    kind: kind of unit
    low, high: least and greatest value allowed, in SI
    open_low: the least value itself is not allowed
    example: a value as it would be typed
    thick: a plate thickness, where a sheet gauge may stand too
    """

    kind: str
    low: float
    high: float
    open_low: bool
    example: str
    thick: bool

    @property
    def bounds(self) -> str:
        """The bounds in words."""
        return f"{'above' if self.open_low else 'from'} {self._bound(self.low)} to {self._bound(self.high)}"

    def _bound(self, value: float) -> str:
        """A bound in print; a long length in metres."""
        metres = self.kind == "length" and abs(value) >= 1.0
        return show(value, self.kind, unit="m" if metres else None)

    def __call__(self, raw: object, info: ValidationInfo) -> Quantity:
        """The quantity; everything wrong with it is raised at once."""
        if isinstance(raw, Quantity):
            return raw
        table, at = (raw, ("value",)) if isinstance(raw, Mapping) else ({"value": raw}, ())
        wrongs = list(self._table_wrongs(table))
        source, note = _said(table)
        found = None
        if "value" in table:
            try:
                found = self._read(table["value"], _metal(info), source, note)
            except UnitError as error:
                wrongs.append(self._unit_wrong(at, table["value"], error))
            else:
                wrongs.extend(self._bound_wrongs(at, found))
        if found is None or wrongs:
            raise refused(*wrongs)
        return found

    def _table_wrongs(self, table: Mapping[str, object]) -> Iterator[Wrong]:
        for name in islice((name for name in table if name not in _TABLE_KEYS), _STRANGE_KEYS):
            near = nearest(name[:20], _TABLE_KEYS)
            hint = f' Did you mean "{near}"?' if near else ""
            yield Wrong((name,), f"This key does not belong to a value.{hint}", name, "value, from and note")
        if "value" not in table:
            yield Wrong(("value",), "The value is missing.", "", self.label, f'value = "{self.example}"')
        if table.get("from", "measured") not in SOURCES:
            message = "Where the value comes from is not known."
            yield Wrong(("from",), message, as_typed(table["from"]), _SOURCES_ALLOWED, '"measured"')
        if not isinstance(table.get("note", ""), str):
            yield Wrong(("note",), "The note must be text.", as_typed(table["note"]), "text in quotes", '"ticket 12"')

    @property
    def label(self) -> str:
        """What may be written: kind, bounds and units."""
        plan = KINDS[self.kind]
        return f"{plan.label} {self.bounds}, in {', '.join(plan.symbols)}"

    def _read(self, value: object, metal: str, source: Source | None, note: str) -> Quantity:
        """The value as a quantity; UnitError where it is none."""
        text = value if isinstance(value, str) else as_typed(value)
        if isinstance(value, bool) or not isinstance(value, str | int | float):
            raise UnitError(text, "This is neither text nor a number.", self.label, self.example)
        if isinstance(value, int) and abs(value) > _LARGEST:
            raise UnitError(text, "The number is too large to reckon with.", self.label, self.example)
        return _parsed(text, self.kind, metal if self.thick else None, source, note)

    def _unit_wrong(self, at: tuple[str, ...], value: object, error: UnitError) -> Wrong:
        """A value that is no quantity; the example is one that may stand here."""
        given = value if isinstance(value, str) else as_typed(value)
        bare = self._with_unit(given.strip())
        if bare:
            return Wrong(at, "The number needs a unit.", given, self.label, quoted(bare))
        said = error.wrong if given.strip() else "The text is empty."
        wish = _WISH.search(error.wrong)
        wishes = (wish[1] if wish else "", error.example if error.example != KINDS[self.kind].example else "")
        example = next((one for one in wishes if self._fits(one)), self.example)
        return Wrong(at, said, given, self.label, quoted(example))

    def _with_unit(self, text: str) -> str:
        """A bare number with the first unit in which it may stand here; empty where there is none."""
        if not _BARE.fullmatch(text) or KINDS[self.kind].bare:
            return ""
        symbols = KINDS[self.kind].symbols
        usual = _USUAL_LENGTHS if self.kind == "length" else ()
        wishes = (f"{text} {symbol}" for symbol in dict.fromkeys((*usual, *symbols)))
        return next((wish for wish in wishes if self._fits(wish)), "")

    def _fits(self, text: str) -> bool:
        """Whether a text is a quantity within the bounds."""
        try:
            return not list(self._bound_wrongs((), parse(text, self.kind)))
        except UnitError:
            return False

    def _bound_wrongs(self, at: tuple[str, ...], value: Quantity) -> Iterator[Wrong]:
        if not self.low <= value <= self.high or (self.open_low and value == self.low):
            message = "The value lies outside what is possible here."
            yield Wrong(at, message, value.text, self.bounds, quoted(self.example))


@lru_cache(maxsize=8192)
def _parsed(text: str, kind: str, metal: str | None, source: Source | None, note: str) -> Quantity:
    """A text as a quantity, or with a metal as a plate thickness; kept, for a file is read again and again."""
    if metal is None:
        return parse(text, kind, source=source, note=note)
    gauge = gauges(materials()[metal].family) if metal in materials() else None
    return parse_thickness(text, gauge=gauge, metal=metal or "this material", source=source, note=note)


def _said(table: Mapping[str, object]) -> tuple[Source | None, str]:
    """Where a value comes from and what is noted about it, as far as they are right."""
    source, note = table.get("from"), table.get("note")
    known = cast("Source", source) if isinstance(source, str) and source in SOURCES else None
    return known, note if isinstance(note, str) else ""


def _metal(info: ValidationInfo) -> str:
    """The material a thickness belongs to: the table's own, or that of the tank; empty where neither is known."""
    own = (info.data or {}).get("material") or (info.context or {}).get("tank_material")
    return own if isinstance(own, str) else ""


def _forms(*types: str) -> list[dict[str, Any]]:
    """A value as it may stand: alone, or in a table with where it comes from."""
    plain: dict[str, Any] = {"type": list(types) if len(types) > 1 else types[0]}
    keys = {"value": plain, "from": {"enum": list(SOURCES)}, "note": {"type": "string"}}
    return [plain, {"type": "object", "properties": keys, "required": ["value"], "additionalProperties": False}]


AS_TABLE = {"quantity": _forms("string"), "share": _forms("string", "number")}
"""JSON Schema of the two forms of a quantity, and of a ratio, which may be a plain number too."""


def quantity(kind: str, low: float, high: float, example: str, *, open_low: bool = False, thick: bool = False) -> Any:
    """A field type for a quantity of a kind within bounds.

    kind: kind of unit
    low: least value allowed, in SI
    high: greatest value allowed, in SI
    example: a value as it would be typed
    open_low: the least value itself is not allowed
    thick: a plate thickness, where a sheet gauge may stand too
    """
    read = Reader(kind, low, high, open_low, example, thick)
    forms = AS_TABLE["share" if kind == "ratio" else "quantity"]
    schema = {"anyOf": forms, "examples": [example], "x-kind": kind, "x-bounds": read.bounds}
    return Annotated[Quantity, PlainValidator(read), WithJsonSchema(schema)]


Place = quantity("length", -20.0, 40.0, "4.2 m")
Across = quantity("length", -3.0, 3.0, "0 mm")
Beside = quantity("length", -20.0, 20.0, "3.4 m")
Height = quantity("length", -1.0, 8.0, "1.05 m")
Standing = quantity("length", 0.1, 5.0, "1.24 m")
Length = quantity("length", 0.0, 30.0, "5.4 m", open_low=True)
Size = quantity("length", 0.0, 10.0, "300 mm", open_low=True)
SizeOrNone = quantity("length", 0.0, 10.0, "0 mm")
Thickness = quantity("length", 0.0, 0.03, "4 mm", open_low=True, thick=True)
Film = quantity("length", 0.0, 0.01, "300 µm")
Mass = quantity("mass", 0.0, 200e3, "120 kg", open_low=True)
MassOrNone = quantity("mass", 0.0, 200e3, "4700 kg")
Person = quantity("mass", 30.0, 300.0, "75 kg")
Volume = quantity("volume", 0.0, 100.0, "12000 L", open_low=True)
FuelVolume = quantity("volume", 0.0, 5.0, "300 L", open_low=True)
Ratio = quantity("ratio", 0.0, 1.0, "4 %")
Share = quantity("ratio", 0.0, 1.0, "50 %", open_low=True)
Rest = quantity("ratio", 0.0, 0.5, "4 %")
Slope = quantity("slope", 0.0, 0.6, "12 %")
Fall = quantity("slope", 0.0, 0.2, "1 %")
Braking = quantity("acceleration", 0.0, 9.80665, "0.5 g")
Bump = quantity("acceleration", 9.80665, 98.0665, "2.5 g")
Density = quantity("density", 900.0, 1400.0, "1000 kg/m3")
MassPerLength = quantity("mass_per_length", 0.0, 500.0, "30 kg/m", open_low=True)
SpringRate = quantity("stiffness", 0.0, 1e8, "240 N/mm", open_low=True)
Force = quantity("force", 0.0, 5e6, "40 kN", open_low=True)
Stress = quantity("stress", 50e6, 2e9, "500 MPa")
Pressure = quantity("pressure", 0.0, 10e6, "6 bar", open_low=True)
PressureOrNone = quantity("pressure", 0.0, 10e6, "0 bar")
Vacuum = quantity("pressure", 0.0, 10e3, "1 kPa", open_low=True)
Flow = quantity("flow", 0.0, 1.0, "1200 L/min", open_low=True)
FlowOrNone = quantity("flow", 0.0, 1.0, "0 L/min")
Rotation = quantity("rotation", 0.0, 1050.0, "1800 rpm", open_low=True)
Temperature = quantity("temperature", 273.15, 333.15, "15 °C")
Cold = quantity("temperature", 213.15, 323.15, "-8 °C")
Altitude = quantity("length", -400.0, 5000.0, "300 m")
Surface = quantity("length", -12.0, 12.0, "-2.5 m")
Duration = quantity("time", 0.0, 86400.0, "2 s", open_low=True)
Torque = quantity("torque", 0.0, 20e3, "420 N m", open_low=True)
Power = quantity("power", 0.0, 1e6, "45 kW", open_low=True)
Travel = quantity("speed", 0.0, 30.0, "12 km/h", open_low=True)
Run = quantity("length", 0.0, 200.0, "2.4 m")
Angle = quantity("angle", -1.58, 1.58, "30°")
Wind = quantity("speed", 0.0, 30.0, "18 km/h")
Laid = quantity("laid", 0.0, 0.05, "0.5 L/m2", open_low=True)
Pulses = quantity("pulses", 0.0, 1e9, "120 pulses/L", open_low=True)

_ONE_LINE = r"^[^\x00-\x1f\x7f-\x9f\u2028-\u202e\u2066-\u2069]+$"
Text = Annotated[str, StringConstraints(strip_whitespace=True, min_length=1, max_length=200, pattern=_ONE_LINE)]
Name = Annotated[str, StringConstraints(strip_whitespace=True, min_length=1, max_length=60, pattern=_ONE_LINE)]


def slug(name: str) -> str:
    """A name as a stable key: lower case, words joined by hyphens."""
    return re.sub(r"[^a-z0-9]+", "-", name.lower()).strip("-") or "x"
