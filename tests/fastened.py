"""A build with rails, cross-members and mounts of a test's choosing, everything else that of a demo."""

from __future__ import annotations

from typing import Any

import tomlkit

from tunwright.build.model import Build
from tunwright.build.reading import read_text
from tunwright.demos import demo_text

BOLTS = {
    "size": "M16",
    "grade": "10.9",
    "columns": 4,
    "rows": 2,
    "spacing": "80 mm",
    "row_spacing": "60 mm",
    "drop": "90 mm",
    "plate": "8 mm",
    "plate_strength": "470 MPa",
}
WELD = {"throat": "4 mm", "length": "150 mm", "apart": "240 mm"}
AWAY = {"reach": "60 mm"}

SPRINGS = {"name": "front springs", "at": "1.45 m", "kind": "spring", "rate": "150 N/mm", "preload": "3 kN"}
BRACKETS = {"name": "middle brackets", "at": "2.9 m", "kind": "bracket"}
PLATES = {"name": "rear plates", "at": "4.3 m", "kind": "plate"}
REAR = {"name": "rearmost plates", "at": "5.1 m", "kind": "plate"}
SPRINGS_BOLTED = SPRINGS | {"bolts": BOLTS | AWAY}
BRACKETS_BOLTED = BRACKETS | {"bolts": BOLTS | AWAY, "weld": WELD}
PLATES_BOLTED = PLATES | {"bolts": BOLTS, "weld": WELD}
REAR_BOLTED = REAR | {"bolts": BOLTS, "weld": WELD}
ALL = (SPRINGS_BOLTED, BRACKETS_BOLTED, PLATES_BOLTED, REAR_BOLTED)

RAILS = {
    "top": "1.04 m",
    "front": "-1.25 m",
    "rear": "6.95 m",
    "width": "850 mm",
    "rail_height": "300 mm",
    "rail_flange": "85 mm",
    "rail_thickness": "8 mm",
    "yield_strength": "500 MPa",
}
CROSS = {"height": "220 mm", "flange": "60 mm", "thickness": "6 mm"}
PLACES = (-1.1, 0.75, 2.3, 3.75, 4.7, 5.6, 6.85)


def text(*mounts: dict[str, Any], model: bool = True, subframe: str = "steel", **frame: str | None) -> str:
    """A build file.

    mounts: its mounts, keys as in a build file
    model: cross-members are known, so that there is a frame model
    subframe: what lies between it and the rail, empty for none
    frame: keys of the rails in place of the usual ones, None to leave one out
    """
    doc = tomlkit.parse(demo_text("quarry-carrier")).unwrap()
    rails = {key: value for key, value in (RAILS | frame).items() if value is not None}
    doc["chassis"]["frame"] = rails | ({"cross_member": [{"at": f"{x} m", **CROSS} for x in PLACES]} if model else {})
    doc["mount"] = list(mounts)
    if subframe:
        doc["subframe"]["bearing"] = subframe
    else:
        del doc["subframe"]
    return tomlkit.dumps(doc)


def build(*mounts: dict[str, Any], **how: Any) -> Build:
    """The same, read.

    mounts, how: as for `text`
    """
    return read_text(text(*mounts, **how)).build
