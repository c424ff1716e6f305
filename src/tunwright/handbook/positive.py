"""One question many formulas ask: is what was given a number above nothing?"""

from __future__ import annotations

import math


def positive(**given: tuple[float, str]) -> None:
    """Refuse whatever is not a finite number above 0.

    given: name = (value, an example with its unit) [any unit], for example diameter=(0.016, "0.016 m")
    ValueError: names the value, what is allowed and the example
    """
    for name, (value, example) in given.items():
        if not (math.isfinite(value) and value > 0):
            words = name.replace("_", " ")
            raise ValueError(f"The {words} must be a number above 0; {value:g} was given, for example {example}.")
