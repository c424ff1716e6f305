"""What the pipework is asked to do."""

from __future__ import annotations

from typing import Literal

from tunwright.build.base import Table, key
from tunwright.build.fields import Duration, Flow, Laid, Name, Rotation, Share, Travel


class Throttled(Table):
    """A valve that is part open."""

    valve: Name = key("its name", example='"V5"')
    open: Share = key("how far it is open", example='"40 %"')


class Duty(Table):
    """Something the pipework is asked to do."""

    name: Name = key("what it is", example='"spray, rear bar"')
    kind: Literal["fill", "draw", "drain", "spray", "monitor", "reel", "transfer", "recirculate"] = key(
        "fill: from a hydrant; draw: fill from open water; drain: let out by gravity; the others by the pump where an "
        "engine speed is given, else by gravity",
        example='"spray"',
    )
    open: list[Name] = key(
        "valves that are open; all others are shut, but for those part open under throttled",
        [],
        example='["V1", "V5"]',
    )
    throttled: list[Throttled] = key("valves that are part open", [], max_length=20)
    engine: Rotation | None = key(
        "speed of the engine; the pump stands still where left out", None, example='"1500 rpm"'
    )
    road_speed: Travel | None = key("speed on the road while it sprays", None, example='"12 km/h"')
    lays: Laid | None = key("least water on the road that is wanted", None, example='"0.5 L/m2"')
    wants: Flow | None = key("least flow that is wanted", None, example='"1200 L/min"')
    within: Duration | None = key("longest time to fill or to empty that is wanted", None, example='"15 min"')
