"""The page of the manual on pipework: an example to copy, and what pipes, hoses and fittings may be called."""

from __future__ import annotations

from collections.abc import Iterator

from tunwright.tables.fittings import fittings
from tunwright.tables.pipes import series_names, sizes

EXAMPLE = """\
[[tank.outlet]]                       # where the tank is drawn from; points name it by its number
at = "1.5 m"
height = "0 mm"

[pipework]
emergency = ["engine", "V1", "V2"]    # what is shut, one after the other

[[pipework.point]]                    # points: where runs, pump and outlets meet
name = "tank outlet"
outlet = 1

[[pipework.point]]
name = "pump inlet"
height = "0.9 m"

[[pipework.point]]
name = "pump outlet"
height = "1.0 m"

[[pipework.point]]
name = "rear header"
height = "0.8 m"

[[pipework.run]]                      # runs of pipe or hose from point to point, with their fittings
name = "suction"
from = "tank outlet"
to = "pump inlet"
series = "sch 40"
size = "DN100"
length = "2.4 m"
fittings = ["sharp entrance", "elbow 90 long"]

[[pipework.run]]
name = "rear line"
from = "pump outlet"
to = "rear header"
series = "sch 40"
size = "DN80"
length = "3.5 m"
fittings = ["elbow 90 long", "elbow 90 long"]

[[pipework.valve]]
name = "V1"
on = "suction"
kind = "butterfly valve"
normal = "open"

[[pipework.valve]]
name = "V2"
on = "rear line"
kind = "butterfly valve"
works = "air"
closes_in = "2 s"

[pipework.pump]
from = "pump inlet"
to = "pump outlet"
speed = "2000 rpm"                    # the curve was taken at
curve = [                             # head in metres or, as pressure, in bar; npsh and efficiency where the maker says
  { flow = "0 L/min", head = "60 m" },
  { flow = "800 L/min", head = "54 m", efficiency = "58 %", npsh = "2.2 m" },
  { flow = "1400 L/min", head = "40 m", efficiency = "60 %", npsh = "3.6 m" },
]

[pipework.pump.drive]
kind = "pto"
ratio = 1.2
from = "900 rpm"
to = "1700 rpm"
torque = "300 N m"

[[pipework.spray]]                    # what the water leaves by
name = "rear heads"
on = "rear header"
kind = "spray head"
count = 2
flow = "300 L/min"
pressure = "3 bar"
width = "6 m"

[[pipework.vent]]
bore = "80 mm"

[[pipework.duty]]                     # what it is asked to do
name = "spray the road"
kind = "spray"
open = ["V1", "V2"]
engine = "1400 rpm"
road_speed = "12 km/h"
wants = "500 L/min"
"""

_HEAD = """# Pipework

The smallest pipework that says enough to be judged, to copy into a build file; every key is in
[build-file.md](build-file.md). Below it, what pipes, hoses and fittings may be called. Made from the program itself; do
not edit.

- A valve that is in no duty's `open` is shut; one that stands part open goes into `throttled` and not into `open`.
- Heights count from the ground. A point is an `outlet` of the tank, a `mouth` it is filled by, a `hydrant`,
  `open_water`, or a joint; a run that hangs on none of these and on no spray carries no water.
- `engine` in the emergency chain is the one that turns the pump, the pump's own where it has one.
"""


def pipes_page() -> str:
    """The page, in Markdown."""
    return "\n".join([_HEAD, "```toml", EXAMPLE + "```", "", *_series(), *_fittings()]) + "\n"


def _series() -> Iterator[str]:
    yield "## Kinds of pipe and hose\n"
    yield "A size may be written by any of its names.\n"
    yield "| `series` | `size` |"
    yield "|---|---|"
    for name in series_names():
        named = [f"{one.name} ({one.nps})" if one.nps and one.nps != one.name else one.name for one in sizes(name)]
        yield f"| {name} | {', '.join(named)} |"
    yield ""


def _fittings() -> Iterator[str]:
    yield "## Fittings and valves\n"
    yield "`fT` is the friction factor of clean steel pipe of the size in complete turbulence.\n"
    yield "| name | what it is | loses |"
    yield "|---|---|---|"
    for name, one in fittings().items():
        loses = f"{one.multiple:g} fT" if one.multiple is not None else f"{one.k or 0.0:g}"
        yield f"| {name} | {one.meaning} | {loses} v²/2g |"
