"""What the frame model has to know of a build, and which keys it misses."""

from __future__ import annotations

from tunwright.build.model import Build

RAILS = ("top", "front", "rear", "width", "rail_height", "rail_flange", "rail_thickness")


def missing(build: Build) -> tuple[str, ...]:
    """Keys without which there is no model of the frame; empty where all is known.

    build: the build
    """
    frame = build.chassis.frame
    found = [f"chassis.frame.{name}" for name in RAILS if getattr(frame, name) is None]
    if not frame.cross_member:
        found.append("chassis.frame.cross_member")
    if not build.mount:
        found.append("mount")
    return tuple(found)


def missing_for_twist(build: Build) -> tuple[str, ...]:
    """Keys without which no wheel can be lifted: rates of springs and tyres, and tracks.

    build: the build
    """
    found: list[str] = []
    grouped = {name for group in build.chassis.group if group.spring_rate is not None for name in group.axles}
    for i, axle in enumerate(build.chassis.axle):
        names = ["tyre_rate", "track"] + ([] if axle.name in grouped else ["spring_rate"])
        found += [f"chassis.axle[{i + 1}].{name}" for name in names if getattr(axle, name) is None]
    return tuple(found)
