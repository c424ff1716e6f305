"""Which ways a mount holds the tank, and how stiffly: the same as in the model of the ladder frame."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from tunwright.build.mounting import Mount
from tunwright.tables.read import shop_value

UP, RIGHT, LONG = (0.0, 0.0, 1.0), (0.0, 1.0, 0.0), (1.0, 0.0, 0.0)
SIDES = ("left", "right")


@dataclass(frozen=True)
class Hold:
    """One way in which one side of a mount holds.

    word: up, seat, spring, across or along
    way: its direction
    stiffness: [N/m]
    pushes: it can only push
    preset: force in it before anything moves [N], pulling the tank down positive
    """

    word: str
    way: tuple[float, float, float]
    stiffness: float
    pushes: bool = False
    preset: float = 0.0


def holds(mount: Mount, *, friction: bool = False) -> Iterator[Hold]:
    """The ways in which one side of a mount holds.

    mount: the mount
    friction: a clamp is taken to hold fore and aft as well, by friction
    """
    stiff = shop_value("mount_stiffness")
    if mount.kind == "spring":
        preset = float(mount.preload or 0.0)
        yield Hold("seat", UP, stiff, pushes=True, preset=-preset)
        yield Hold("spring", UP, float(mount.rate or 0.0), preset=preset)
        yield Hold("across", RIGHT, stiff)
        return
    upright = float(mount.rate or 0.0) if mount.kind == "rubber" else stiff
    sideways = 0.3 * upright if mount.kind == "rubber" else stiff
    yield Hold("up", UP, upright)
    yield Hold("across", RIGHT, sideways)
    if holds_along(mount) or (friction and mount.kind == "clamp"):
        yield Hold("along", LONG, sideways)


def holds_along(mount: Mount) -> bool:
    """Whether a mount holds fore and aft by its shape.

    mount: the mount
    """
    return mount.kind in ("plate", "pivot", "rubber")


def by_friction(mounts: Sequence[Mount]) -> bool:
    """Whether nothing but the friction of clamps holds the tank fore and aft.

    mounts: all mounts
    """
    return not any(map(holds_along, mounts)) and any(one.kind == "clamp" for one in mounts)


def sides(mount: Mount) -> tuple[str, ...]:
    """The sides a mount has: left and right, or one bearing in the middle.

    mount: the mount
    """
    return ("middle",) if mount.kind == "pivot" else SIDES
