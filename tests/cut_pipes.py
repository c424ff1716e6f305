"""Pipework with ways for tests: the quarry demo's runs with corners, bends and flanges."""

from __future__ import annotations

from functools import lru_cache

from quarry import bare
from tunwright.build.reading import read_text
from tunwright.truck.pipework.plumbing import Plumbing
from tunwright.truck.truck import Truck

QUARRY = bare()

# Ways as (at, y, height) in mm.
REAR = [(2900, 0, 1050), (2900, 0, 800), (2900, 400, 800), (6900, 400, 800)]
MONITOR = [(2900, 0, 1050), (2900, -900, 1050), (2900, -900, 2750), (5480, -900, 2750), (6200, -357.5, 2750)]
FRONT = [(2900, 0, 1050), (2900, 0, 550), (-600, 300, 550), (-1200, 300, 600)]
FILLING = [(2900, 0, 1050), (2600, 0, 1050), (2600, 0, 2800)]


def corners(*points: tuple[float, float, float]) -> str:
    """Corners as they are typed in a run."""
    rows = ", ".join(f'{{ at = "{x:g} mm", y = "{y:g} mm", height = "{z:g} mm" }}' for x, y, z in points)
    return f"corner = [{rows}]\n"


def with_run(text: str, name: str, more: str, length: str | None = None) -> str:
    """A build file with more keys in a run, and another length of it."""
    start = text.index(f'[[pipework.run]]\nname = "{name}"')
    end = text.index("\n\n", start)
    run = text[start:end] + "\n" + more
    if length is not None:
        old = next(line for line in run.splitlines() if line.startswith("length"))
        run = run.replace(old, f'length = "{length}"')
    return text[:start] + run.rstrip("\n") + text[end:]


def shaped() -> str:
    """The quarry build with ways: elbows, an odd corner, bends, flanges on three runs."""
    text = with_run(QUARRY, "rear line", corners(*REAR) + 'flange = "PN 16"', "4.65 m")
    text = with_run(text, "monitor line", corners(*MONITOR) + 'flange = "class 150"\nflanged = "start"', "6.08 m")
    text = with_run(text, "front line", corners(*FRONT) + 'bend_radius = "250 mm"', "4.35 m")
    text = with_run(text, "tank filling", corners(*FILLING) + 'flange = "PN 16"\nflanged = "start"', "2.05 m")
    return with_run(text, "delivery", 'flange = "PN 16"')


@lru_cache(maxsize=4)
def plumbing(text: str) -> Plumbing:
    """The pipework of a build file."""
    truck = Truck(read_text(text).build)
    assert truck.build.pipework is not None
    return Plumbing(truck, truck.build.pipework)
