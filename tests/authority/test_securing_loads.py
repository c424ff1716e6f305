"""What the fastenings of a tank are held against: the multiples of its mass in the rules for dangerous goods."""

from __future__ import annotations

from collections.abc import Callable

import pytest

from fastened import ALL, build
from tunwright.truck.fastening.securing import Securing
from tunwright.truck.truck import Truck

ADR = "ADR 6.8.2.1.2, from memory"
FORWARD, ACROSS, UP = 0, 1, 2


@pytest.mark.parametrize(
    ("words", "way", "expected"),
    [
        ("2 g forward", FORWARD, -2.0),
        ("1 g to the left", ACROSS, -1.0),
        ("1 g to the right", ACROSS, 1.0),
        ("1 g up", UP, 1.0),
        ("2 g down", UP, -2.0),
    ],
)
def test_multiples_of_the_mass(words: str, way: int, expected: float, check: Callable[..., None]) -> None:
    found = Securing(Truck(build(*ALL, model=False)))
    case = next(i for i, one in enumerate(found.throws) if one.words == words)
    weight = found.body.mass * 9.80665
    check(f"force over weight, {words}", source=ADR, expected=expected, ours=float(found.loads[case, way]) / weight,
          tol=1e-12)  # fmt: skip
    assert [i for i in range(3) if abs(found.loads[case, i]) > 1e-9] == [way], "each alone"
    assert not found.throws[case].daily
