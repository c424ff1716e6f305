"""Trade units at the edge: text such as "4.2 m", "13 ft 6 in", "2200 US gal" to SI floats, and back.

Read strictly: what could mean two things is refused with the question, never guessed. A comma is never read; a bare
"gal", "ton" or number is refused; upper and lower case count ("mPa" is not "MPa"). Accepted besides plain numbers with
a unit: groups of three digits parted by one space ("4 200 mm"), powers of ten ("1e3 mm"), feet with inches
("13 ft 6 in", `13' 6"`), and the fractions of a rule ("3/16 in", "1 1/2 in", halves to sixty-fourths).
"""

from __future__ import annotations

import math
import re
from collections.abc import Mapping
from fractions import Fraction
from typing import Literal, NoReturn

from tunwright.build.factors import FOOT, INCH
from tunwright.build.kind import Kind, System, Unit, spelling
from tunwright.build.kinds import KINDS
from tunwright.build.problems import nearest
from tunwright.build.shown import show, show_number

__all__ = ["KINDS", "Quantity", "Source", "System", "UnitError", "parse", "parse_thickness", "show", "show_number"]

Source = Literal["measured", "maker", "assumed"]

_LONGEST = 60  # characters; no quantity needs more
_SIGN = r"(?P<sign>[+-]?)[ ]?"
_RULE = r"(?:(?P<whole>[0-9]{1,3})[ -])?(?P<over>[0-9]{1,2})/(?P<under>2|4|8|16|32|64)(?![0-9])"
_GROUPED = r"[1-9][0-9]{0,2}(?: [0-9]{3})+(?:\.[0-9]+)?"
_PLAIN = r"(?:[0-9]+(?:\.[0-9]+)?|\.[0-9]+)(?:[eE][+-]?[0-9]{1,3})?"
_NUMBER = rf"(?:{_RULE}|(?P<plain>(?:{_GROUPED}|{_PLAIN})(?![0-9])))"
_SINGLE = re.compile(rf"{_SIGN}{_NUMBER}(?P<unit>.*)", re.DOTALL)
_FEET_INCHES = re.compile(
    rf"{_SIGN}(?P<feet>[0-9]+)[ ]?(?:ft\.?|foot|feet|')[ -]?{_NUMBER}[ ]?(?:in\.?|inch|inches|\"|'')"
)
_SHEET_GAUGE = re.compile(r"(?P<number>[0-9]{1,2})[ -]?(?:ga\.?|gauge|gage)")
_PLAINER = str.maketrans(
    {
        **dict.fromkeys("′’‘", "'"),
        **dict.fromkeys("″”“", '"'),
        **dict.fromkeys("\u00a0\u2009\u202f", " "),
        "\u2212": "-",
    }
)


class UnitError(ValueError):
    """A quantity that cannot be read.

    given: what was written
    wrong: what is wrong with it, as a full sentence
    allowed: what may be written
    example: a value that would do
    """

    def __init__(self, given: str, wrong: str, allowed: str, example: str) -> None:
        """All four texts are kept; `message` joins them."""
        super().__init__(given, wrong, allowed, example)
        self.given, self.wrong, self.allowed, self.example = given, wrong, allowed, example

    @property
    def message(self) -> str:
        """What was given, what is wrong, what is allowed, and an example."""
        return f'{self.wrong} Allowed: {self.allowed}; for example "{self.example}".'

    def __str__(self) -> str:
        """The message."""
        return self.message


class Quantity(float):
    """An SI value that remembers how it was written. Arithmetic with it gives plain floats.

    text: as typed, such as "165 in"
    kind: name in `KINDS`
    source: where the value comes from: "measured", "maker", "assumed", or None when not said
    note: anything said about it
    """

    __slots__ = ("kind", "note", "source", "text")

    text: str
    kind: str
    source: Source | None
    note: str

    def __new__(
        cls, value: float, text: str = "", kind: str = "", source: Source | None = None, note: str = ""
    ) -> Quantity:
        """A quantity of `value` [SI]."""
        self = super().__new__(cls, value)
        self.text, self.kind, self.source, self.note = text, kind, source, note
        return self

    def __reduce__(self) -> tuple[type[Quantity], tuple[float, str, str, Source | None, str]]:
        """Copies and pickles keep everything."""
        return Quantity, (float(self), self.text, self.kind, self.source, self.note)


def parse(text: object, kind: str, *, source: Source | None = None, note: str = "") -> Quantity:
    """The quantity written as `text`, in SI.

    text: such as "4.2 m"; a ratio may also be a plain number, 0 <= number < 1 (0.2 is 20 %, but 20 or 1 is refused)
    kind: name in `KINDS`; KeyError when there is no such kind
    source, note: kept with the quantity
    Raises UnitError, whose sentence says what is wrong and what would do. Pressures are gauge pressures [Pa]; a slope
    is the tangent of the angle, rise over run [-].
    """
    plan = KINDS[kind]
    given = text if isinstance(text, str) else _typed(text, plan)
    clean = given.translate(_PLAINER).strip()
    _refuse_unreadable(given, clean, plan)
    compound = _FEET_INCHES.fullmatch(clean)
    value = _single(given, clean, plan) if compound is None else _feet_inches(given, compound, plan)
    return Quantity(value + 0.0, given, kind, source, note)  # + 0.0 turns -0.0 into 0.0


def parse_thickness(
    text: object,
    *,
    gauge: Mapping[int, float] | None,
    metal: str,
    source: Source | None = None,
    note: str = "",
) -> Quantity:
    """The sheet thickness written as `text`, a length or a sheet gauge such as "10 ga" [m].

    gauge: gauge number -> thickness [m] for this metal; None when the metal has no gauge table
    metal: name of the metal, for the sentences
    Raises UnitError when the text cannot be read, the gauge is not in the table, or the thickness is not above zero.
    """
    match = _SHEET_GAUGE.fullmatch(text.strip()) if isinstance(text, str) else None
    if match is None:
        quantity = parse(text, "length", source=source, note=note)
    else:
        quantity = Quantity(_gauge_thickness(match, gauge, metal), str(text), "length", source, note)
    if quantity <= 0:
        _refuse(quantity.text, KINDS["length"], "is no thickness: it must be more than zero")
    return quantity


def _refuse(given: str, plan: Kind, wrong: str, *, example: str | None = None) -> NoReturn:
    """Raise the error whose sentence is `given` and then `wrong`."""
    units = ", ".join(plan.symbols)
    plain = ", or a plain number from 0 up to, but not including, 1" if plan.bare else ""
    raise UnitError(
        given,
        f"{_quoted(given)} {wrong}{'' if wrong.endswith('?') else '.'}",
        f"{plan.label} in {units}{plain}",
        example or plan.example,
    )


def _quoted(text: str) -> str:
    """`text` in quotation marks it does not hold itself."""
    return f'"{text}"' if "'" in text else f"'{text}'"


def _typed(value: object, plan: Kind) -> str:
    """A plain number as text; anything else is refused."""
    if isinstance(value, bool) or not isinstance(value, (int, float)):
        _refuse(str(value), plan, "is neither text nor a number")
    return repr(value)


def _refuse_unreadable(given: str, clean: str, plan: Kind) -> None:
    """Refuse what is empty, far too long, endless, or holds a comma."""
    if not clean:
        _refuse(given, plan, "is empty")
    if len(clean) > _LONGEST:
        _refuse(given[:_LONGEST] + "…", plan, f"is longer than {_LONGEST} characters")
    if re.match(r"[+-]?(?:nan|inf)(?:inity)?(?![a-z])", clean, re.IGNORECASE):
        _refuse(given, plan, "is not a number that can be measured")
    if "," in clean:
        _refuse(given, plan, f"has a comma, which may mean thousands or decimals and is not read{_comma_advice(clean)}")


def _comma_advice(clean: str) -> str:
    """What to write instead of a number with a comma, when that can be told."""
    number = re.match(r"[+-]?[0-9][0-9.,]*", clean)
    if number is None:
        return ""
    head, tail = number.group(), clean[number.end() :]
    if re.fullmatch(r"[+-]?[1-9][0-9]{0,2}(?:,[0-9]{3})+(?:\.[0-9]+)?", head):
        one_comma = (
            f', or "{head.replace(",", ".")}{tail}" for decimals' if head.count(",") == 1 and "." not in head else ""
        )
        return f': write "{head.replace(",", "")}{tail}" or "{head.replace(",", " ")}{tail}" for thousands{one_comma}'
    if re.fullmatch(r"[+-]?[0-9]+(?:\.[0-9]{3})*,[0-9]+", head):
        return f': write "{head.replace(".", "").replace(",", ".")}{tail}"'
    return ""


def _single(given: str, clean: str, plan: Kind) -> float:
    """SI value of one number with one unit."""
    match = _SINGLE.fullmatch(clean)
    if match is None:
        _refuse(given, plan, "does not begin with a number")
    number = _number(match, given, plan)
    if match["unit"].strip():
        return _si(given, number, _unit(given, spelling(match["unit"]), plan), plan)
    if not (plan.bare and 0 <= number < 1):
        _refuse_bare(given, clean, number, plan)
    return float(number)


def _refuse_bare(given: str, clean: str, number: Fraction, plan: Kind) -> NoReturn:
    """Refuse a number without a unit, showing what to write; a small share may be meant as it stands or in percent."""
    symbol = plan.usual.symbol
    wish = clean + ("" if symbol == "°" else " ") + symbol
    other = (
        f' or "{show_number(float(100 * number), 6).rstrip("0").rstrip(".")} %"'
        if symbol == "%" and abs(number) <= 1
        else ""
    )
    _refuse(given, plan, f'needs a unit: write "{wish}"{other}', example=plan.example if other else wish)


def _number(match: re.Match[str], given: str, plan: Kind) -> Fraction:
    """The signed number of a match, exactly."""
    if match["plain"] is not None:
        number = Fraction(match["plain"].replace(" ", ""))
    else:
        number = Fraction(int(match["over"]), int(match["under"]))
        if number >= 1:
            _refuse(given, plan, 'has a fraction of one or more: write the whole number before it, as in "1 1/2 in"')
        number += int(match["whole"] or 0)
    return -number if match["sign"] == "-" else number


def _unit(given: str, written: str, plan: Kind) -> Unit:
    """The unit of the kind with that spelling, or a sentence on why there is none."""
    found = plan.units.get(written)
    if found is not None:
        return found
    if written in plan.refused:
        _refuse(given, plan, plan.refused[written])
    if written[:1].isdigit() or re.search(r" [0-9]", written):
        _refuse(
            given,
            plan,
            "reads as more than one number: write one number and one unit; digits may be parted "
            "by single spaces in groups of exactly three",
        )
    others = [kind.label for kind in KINDS.values() if written in kind.units or written in kind.refused]
    if others:
        _refuse(given, plan, f'is {" or ".join(others)}, expected {plan.label} such as "{plan.example}"')
    close = nearest(written, plan.units)
    hint = f': did you mean "{plan.units[close].symbol}"?' if close else ""
    _refuse(given, plan, f'has the unit "{written}", which is not known{hint}')


def _si(given: str, number: Fraction, unit: Unit, plan: Kind) -> float:
    """SI value of a number of a unit, refused when it is out of the world."""
    if unit.tangent and abs(number * unit.factor) >= Fraction(math.pi) / 2:
        _refuse(given, plan, "is no slope: an angle must be between -90° and 90°")
    try:
        value = unit.to_si(number)
    except OverflowError:
        _refuse(given, plan, "is too large to reckon with")
    if value < plan.least:
        _refuse(given, plan, "is below absolute zero")
    return value


def _feet_inches(given: str, match: re.Match[str], plan: Kind) -> float:
    """Length of feet with inches [m]."""
    if plan.name != "length":
        _refuse(given, plan, f'is a length, expected {plan.label} such as "{plan.example}"')
    inches = abs(_number(match, given, plan))
    if inches >= 12:
        _refuse(given, plan, "has twelve inches or more beside the feet: write it as inches alone or carry them over")
    length = float(int(match["feet"]) * FOOT + inches * INCH)
    return -length if match["sign"] == "-" else length


def _gauge_thickness(match: re.Match[str], gauge: Mapping[int, float] | None, metal: str) -> float:
    """Thickness of a sheet gauge from the table of its metal [m]."""
    plan, number = KINDS["length"], int(match["number"])
    if not gauge:
        _refuse(
            match.string,
            plan,
            f"is a sheet gauge, but there is no gauge table for {metal}: write the thickness",
            example="3 mm",
        )
    if number not in gauge:
        known = ", ".join(str(one) for one in sorted(gauge))
        _refuse(match.string, plan, f"is not in the gauge table for {metal}, which has {known}", example="3 mm")
    return gauge[number]
