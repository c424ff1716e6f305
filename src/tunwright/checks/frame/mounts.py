"""The mounts of tank and subframe: forces on them, springs that lift, rubber that gives."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence

import numpy as np
from numpy.typing import NDArray

from tunwright.build.fields import slug
from tunwright.build.mounting import Mount
from tunwright.build.shown import show_number as n
from tunwright.checks.finding import Finding, Rule, Step, not_known, verdict
from tunwright.tables.read import shop_value, shop_values
from tunwright.truck.ladder.ladder import Ladder, Trial

Floats = NDArray[np.float64]
SEAT = Rule("how far the mount may lift", mark="maker's")
PRESSED = Rule("how far the rubber may be pressed together", mark="maker's")
RATING = Rule("rating of the mount, of one side", mark="maker's")


def mount_findings(ladder: Ladder, assumed: Sequence[str]) -> Iterator[Finding]:
    """Findings about the mounts.

    ladder: the frame, loaded
    assumed: paths of the assumed inputs
    """
    mounts = ladder.truck.build.mount
    for i, mount in enumerate(mounts):
        if mount.rating is not None:
            yield _rating(ladder, mount, assumed)
        if mount.kind in ("spring", "rubber"):
            yield _travel(ladder, mount, i)
        if mount.kind == "rubber":
            yield _deflection(ladder, mount, i, assumed)
    bare = tuple(f"mount[{i + 1}].rating" for i, mount in enumerate(mounts) if mount.rating is None and not mount.bolts)
    if bare:
        yield not_known("mount-rating", "Are the mounts rated for the forces on them?", RATING, "kN", bare)
    if any(mount.kind == "rubber" for mount in mounts):
        yield _frequency(ladder)


def upright(ladder: Ladder, mount: Mount, trial: Trial) -> Floats:
    """Upright force of a mount by side (sides, fills) [N]: pulling up on the frame positive.

    ladder: the frame, loaded
    mount: the mount
    trial: the case
    """
    force = ladder.link_forces(trial)
    links = ladder.structure.mounted[mount.name]
    sides: dict[str, Floats] = {}
    for i in links:
        _, side, word = ladder.frame.links[i].name.rsplit(", ", 2)
        if word in ("up", "seat", "spring"):
            sides[side] = sides.get(side, 0.0) + force[i]
    return np.array(list(sides.values()))


def extremes(ladder: Ladder, mount: Mount) -> tuple[tuple[float, str], tuple[float, str]]:
    """Greatest press and greatest pull of one side of a mount [N], each with its state in words.

    ladder: the frame, loaded
    mount: the mount
    """
    least, most = (math.inf, ""), (-math.inf, "")
    for trial in (t for t in ladder.trials if not t.lost):
        force = upright(ladder, mount, trial)
        for pick, index in ((np.argmin, 0), (np.argmax, 1)):
            side, fill = np.unravel_index(int(pick(force)), force.shape)
            value = float(force[side, fill])
            words = trial.state(int(fill))
            if index == 0 and value < least[0]:
                least = (value, words)
            if index == 1 and value > most[0]:
                most = (value, words)
    return least, most


def opening(ladder: Ladder, mount: Mount) -> tuple[float, str]:
    """How far a spring or rubber mount lifts at most [m], with its state in words; 0 and none for other mounts.

    A spring's seat opens; rubber is drawn out by its pull over its rate.

    ladder: the frame, loaded
    mount: the mount
    """
    if mount.kind == "rubber":
        _, (pull, words) = extremes(ladder, mount)
        return (pull / float(mount.rate or math.inf), words) if pull > 0.0 else (0.0, "")
    rows = [i for i in ladder.structure.mounted[mount.name] if ladder.frame.links[i].pushes]
    value, state = 0.0, ""
    for trial in (t for t in ladder.trials if not t.lost and rows):
        opened = ladder.frame.rows[rows] @ ladder.displacements(trial)
        opened = np.where(ladder.link_forces(trial)[rows] < 0.0, 0.0, opened)
        side, fill = np.unravel_index(int(opened.argmax()), opened.shape)
        if opened[side, fill] > value:
            value = float(opened[side, fill])
            state = trial.state(int(fill))
    return value, state


def _rating(ladder: Ladder, mount: Mount, assumed: Sequence[str]) -> Finding:
    (press, pressed), (pull, pulled) = extremes(ladder, mount)
    value, state = (-press, f"pressed, {pressed}") if -press >= pull else (pull, f"pulled up, {pulled}")
    limit = float(mount.rating or 0.0) / 1e3
    return Finding(
        f"mount-{slug(mount.name)}",
        f"Is the mount {mount.name} rated for the force on it?",
        state,
        value / 1e3,
        limit,
        "kN",
        "at_most",
        verdict(value / 1e3, limit, "at_most"),
        RATING,
        working=(
            Step("greatest press, one side", "frame model", pressed, f"{n(-press / 1e3, 1)} kN"),
            Step("greatest pull upwards, one side", "frame model", pulled, f"{n(pull / 1e3, 1)} kN"),
            Step(
                "against the rating",
                "force / rating",
                f"{n(value / 1e3, 1)} / {n(limit, 1)}",
                f"{100 * value / 1e3 / limit:.0f} %",
            ),
        ),
        assumed=tuple(path for path in assumed if path.startswith("mount")),
    )


def _travel(ladder: Ladder, mount: Mount, index: int) -> Finding:
    """How far the seat of a spring mount opens, or rubber is drawn out."""
    key, question = f"mount-lift-{slug(mount.name)}", f"Does the mount {mount.name} lift no farther than it may?"
    if mount.travel is None:
        return not_known(key, question, SEAT, "m", (f"mount[{index + 1}].travel",))
    value, state = opening(ladder, mount)
    limit = float(mount.travel)
    return Finding(key, question, state, value, limit, "m", "at_most", verdict(value, limit, "at_most"), SEAT)


def _deflection(ladder: Ladder, mount: Mount, index: int, assumed: Sequence[str]) -> Finding:
    """How far rubber is pressed together."""
    key, question = (
        f"mount-deflection-{slug(mount.name)}",
        f"Is the rubber of {mount.name} pressed no farther than it may be?",
    )
    if mount.deflection is None:
        return not_known(key, question, PRESSED, "m", (f"mount[{index + 1}].deflection",))
    (press, state), _ = extremes(ladder, mount)
    rate, limit = float(mount.rate or math.inf), float(mount.deflection)
    value = max(0.0, -press) / rate
    step = Step(
        "pressed together",
        "force / rate",
        f"{n(-press / 1e3, 1)} kN / {n(rate / 1e6, 2)} kN/mm",
        f"{n(1e3 * value, 1)} mm",
    )
    mine = tuple(path for path in assumed if path.startswith("mount"))
    judged = verdict(value, limit, "at_most")
    return Finding(key, question, state, value, limit, "m", "at_most", judged, PRESSED, working=(step,), assumed=mine)


def _frequency(ladder: Ladder) -> Finding:
    """The full tank bouncing on its mounts."""
    truck = ladder.truck
    stiff = sum(
        ladder.frame.links[i].stiffness
        for links in ladder.structure.mounted.values()
        for i in links
        if ladder.frame.links[i].name.endswith((", up", ", seat"))
    )
    water = float(truck.volumes.net.sum()) * float(truck.build.states.liquid_density)
    dry = truck.weights.on_mounts
    mass = dry + water
    value, limit = math.sqrt(stiff / mass) / (2 * math.pi), shop_value("mount_frequency")
    return Finding(
        "mount-frequency",
        "Is the full tank's bounce on its mounts well above that of the vehicle on its springs?",
        "full",
        value,
        limit,
        "Hz",
        "at_least",
        verdict(value, limit, "at_least"),
        Rule("lowest frequency of a tank on its mounts", mark=shop_values()["mount_frequency"].mark),
        working=(
            Step("mass on the mounts", "tank and subframe + water", f"{n(dry)} + {n(water)}", f"{n(mass)} kg"),
            Step(
                "bounce", "√(k / m) / 2π", f"k = {n(stiff / 1e6, 2)} kN/mm", f"{n(value, 2)} Hz", "one mass on springs"
            ),
        ),
    )
