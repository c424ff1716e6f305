"""The quarry demo's pipework bare, without what tests give it of their own, and with ways for its pipes."""

from __future__ import annotations

import re

from tunwright.demos import demo_text

_OWN = re.compile(r"^(?:corner = \[\n(?:  \{.*\n)*\]|(?:bend_radius|flange|flanged|lays) = .*)\n", re.MULTILINE)
_BLEED = re.compile(r'# Keeps the pump cool.*\n\[\[pipework\.relief\]\]\nname = "bleed"\n(?:.+\n)+\n')
_METER = re.compile(r'\[\[pipework\.device\]\]\nname = "meter"\n(?:.+\n)+\n')


def bare() -> str:
    """The build file without ways, flanges, meter, bleed and wanted depth, so that tests may give it their own."""
    before, mark, work = demo_text("quarry-carrier").partition("[pipework]\n")
    work, meters = _METER.subn("", work)
    work, own = _OWN.subn("", work)
    work, bleeds = _BLEED.subn("", work)
    assert (meters, own, bleeds) == (1, 13, 1), "the demo has changed: look at what is taken out here"
    return before + mark + work


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
