"""Metric figures in a sentence, turned into US customary ones: for findings and notes of an order in US units."""

from __future__ import annotations

import re

from tunwright.build.factors import BAR, FOOT, LITRES_A_MINUTE
from tunwright.build.shown import THIN_SPACE, show, show_number

_KINDS = {
    "L/min": ("flow", 1.0 / LITRES_A_MINUTE),
    "L/m²": ("laid", 1e-3),
    "L": ("volume", 1e-3),
    "mm": ("length", 1e-3),
    "bar": ("pressure", BAR),
    "kPa": ("pressure", 1e3),
    "km/h": ("speed", 1.0 / 3.6),
    "kW": ("power", 1e3),
    "N m": ("torque", 1.0),
    "N": ("force", 1.0),
}
"""Metric unit -> its kind, and SI units in one of it."""

_FEET = {"m": "ft", "m/s": "ft/s"}
_NUMBER = rf"\d[\d{THIN_SPACE}]*(?:\.\d+)?"
_UNITS = "|".join(sorted(map(re.escape, (*_KINDS, *_FEET)), key=len, reverse=True))
_FIGURE = re.compile(rf"(?<![\w.])(?:({_NUMBER}) to )?({_NUMBER}) ({_UNITS})(?![\w²³/])")


def us_words(text: str) -> str:
    """A sentence with its metric figures in US units; what is no figure with a unit stays.

    text: the sentence
    """
    return _FIGURE.sub(_turned, text)


def _turned(found: re.Match[str]) -> str:
    first, last, unit = found.groups()
    told = _figure(last, unit)
    return told if first is None else f"{_figure(first, unit).rsplit(' ', told.count(' '))[0]} to {told}"


def _figure(number: str, unit: str) -> str:
    value = float(number.replace(THIN_SPACE, ""))
    if unit in _FEET:
        return f"{show_number(value / float(FOOT), 1)} {_FEET[unit]}"
    kind, size = _KINDS[unit]
    return show(value * size, kind, system="us")
