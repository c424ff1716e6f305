"""Pipework for tests: networks put together from a few words on a bare build, and what is asked of a build file."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from functools import lru_cache

from drawn import BARE
from tunwright.build.reading import read_text
from tunwright.checks.finding import Finding
from tunwright.checks.pipework.pipes import Pipes
from tunwright.checks.pipework.worked import Worked
from tunwright.truck.pipework.plumbing import Plumbing
from tunwright.truck.truck import Truck

Check = Callable[[Plumbing, Sequence[Worked], tuple[str, ...]], Iterator[Finding]]

RUN = 'series = "sch 40"\nsize = "DN80"\nlength = "2 m"'
PUMP = """
[pipework.pump]
from = "{start}"
to = "{end}"
speed = "2000 rpm"
curve = [{{ flow = "0 L/min", head = "70 m" }}, {{ flow = "2400 L/min", head = "30 m" }}]
[pipework.pump.drive]
kind = "pto"
from = "800 rpm"
to = "2000 rpm"
"""
OUTLET = '\n[[tank.outlet]]\nat = "{at} m"\nheight = "50 mm"\n'


def point(name: str, more: str = "") -> str:
    """A point; `more` says what else it is, such as 'mouth = true'."""
    height = "" if more.startswith("outlet") else 'height = "1 m"\n'
    return f'\n[[pipework.point]]\nname = "{name}"\n{height}{more}\n'


def run(name: str, start: str, end: str, valves: Sequence[str] = (), kind: str = "ball valve") -> str:
    """A run with its valves."""
    found = f'\n[[pipework.run]]\nname = "{name}"\nfrom = "{start}"\nto = "{end}"\n{RUN}\n'
    return found + "".join(f'\n[[pipework.valve]]\nname = "{v}"\non = "{name}"\nkind = "{kind}"\n' for v in valves)


def spray(name: str, on: str, kind: str = "spray head", more: str = "") -> str:
    """A spray at a point."""
    return (
        f'\n[[pipework.spray]]\nname = "{name}"\non = "{on}"\nkind = "{kind}"\nflow = "200 L/min"\n'
        f'pressure = "3 bar"\n{more}\n'
    )


def duty(name: str, valves: Sequence[str], more: str = "") -> str:
    """A duty with its open valves."""
    listed = ", ".join(f'"{one}"' for one in valves)
    return f'\n[[pipework.duty]]\nname = "{name}"\nkind = "spray"\nopen = [{listed}]\n{more}\n'


def build(parts: Sequence[str], outlets: int = 1, units: str = "metric") -> str:
    """A bare build with the pipework."""
    text = BARE.replace('title = "First talk"', f'title = "First talk"\nunits = "{units}"')
    text += "".join(OUTLET.format(at=0.5 + 0.3 * i) for i in range(outlets))
    return f"{text}\n[pipework]\n" + "".join(parts)


def changed(text: str, *changes: tuple[str, str]) -> str:
    """A build file with words in place of others, each the first time it is found."""
    for old, new in changes:
        assert old in text, old
        text = text.replace(old, new, 1)
    return text


@lru_cache(maxsize=64)
def pipes(text: str) -> Pipes:
    """The duties of a build file, worked out once."""
    return Pipes(Truck(read_text(text).build))


def plumbing(text: str) -> Plumbing:
    """The pipework of a build file."""
    found = pipes(text).plumbing
    assert found is not None
    return found


def asked(text: str, *checks: Check) -> dict[str, Finding]:
    """What some checks find in a build file, by key."""
    done = tuple(one for one in pipes(text).worked if one.over is not None)
    return {found.key: found for check in checks for found in check(plumbing(text), done, ())}
