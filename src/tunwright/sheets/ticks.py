"""Ticks at round values, and figures as they are printed."""

from __future__ import annotations

import math

_STEPS = (1.0, 2.0, 2.5, 5.0, 10.0)
THIN = "\u00a0"  # between thousands; the one narrow enough space every face has


def round_step(span: float, most: int) -> float:
    """The smallest step of 1, 2, 2.5 or 5 times a power of ten that gives at most `most` intervals over span."""
    if not (span > 0.0 and math.isfinite(span) and most >= 1):
        raise ValueError(f"span {span}, most {most}; a positive span and at least one interval are needed")
    rough = span / most
    power = 10.0 ** math.floor(math.log10(rough))
    return next(step * power for step in _STEPS if step * power >= rough * (1.0 - 1e-9))


def ticks(low: float, high: float, step: float) -> list[float]:
    """Multiples of step from low to high, ends included when they are multiples."""
    first, last = math.ceil(low / step - 1e-9), math.floor(high / step + 1e-9)
    return [i * step for i in range(first, last + 1)]


def decimals(step: float) -> int:
    """Decimals needed to print multiples of a step of `round_step`."""
    return next((d for d in range(12) if math.isclose(step, round(step, d), rel_tol=1e-6)), 12)


def figure(value: float, places: int = 0) -> str:
    """A number with a space between thousands and a true minus sign: 12 440, −0.5."""
    text = f"{value:,.{places}f}".replace(",", THIN)
    if text.startswith("-"):
        text = "−" + text[1:]
    return text if text.strip("−0.") else text.lstrip("−")
