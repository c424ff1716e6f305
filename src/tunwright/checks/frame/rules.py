"""Rules for building on a frame: where the first mount stands, how a subframe begins, where no hole or weld may be."""

from __future__ import annotations

from collections.abc import Iterator

from tunwright.build.mounting_sense import hole
from tunwright.checks.finding import Finding, Sense, not_known, shop_rule, verdict
from tunwright.tables.read import shop_value
from tunwright.truck.fastening import weld
from tunwright.truck.fastening.pattern import to_flange
from tunwright.truck.truck import Truck


def rule_findings(truck: Truck) -> Iterator[Finding]:
    """Findings about subframe, reinforcements, drilled holes and welds.

    truck: the truck
    """
    build = truck.build
    if build.subframe is not None:
        if build.mount:
            yield from _first_mount(truck)
        yield _taper(truck)
        yield from _liner_ends(truck)
    if build.mount and build.chassis.frame.cross_member:
        yield from _clear_of_cross_members(truck)
    if build.mount and build.chassis.frame.liner:
        yield _clear_of_liners(truck)
    if any(one.bolts for one in build.mount):
        yield from _holes(truck)
    yield from _welds(truck)


def _judged(
    key: str, question: str, state: str, value: float, limit: float, sense: Sense, shop: str, unit: str = "m"
) -> Finding:
    rule = shop_rule(shop)
    return Finding(key, question, state, value, limit, unit, sense, verdict(value, limit, sense), rule)


def _first_mount(truck: Truck) -> Iterator[Finding]:
    sub, first = truck.build.subframe, min(truck.build.mount, key=lambda one: float(one.at))
    if sub is None:
        return
    value = float(first.at) - float(sub.start)
    least, most = shop_value("first_mount_least"), shop_value("first_mount_most")
    question = "Does the first mount stand far enough behind the front end of the subframe, and not too far?"
    sense: Sense = "at_least" if value < 0.5 * (least + most) else "at_most"
    name, limit = ("first_mount_least", least) if sense == "at_least" else ("first_mount_most", most)
    yield _judged("frame-first-mount", question, first.name, value, limit, sense, name)


def _taper(truck: Truck) -> Finding:
    question = "Is the front end of the subframe tapered, so that the rail meets no step?"
    sub = truck.build.subframe
    rule = shop_rule("subframe_taper")
    if sub is None or sub.taper is None:
        return not_known("frame-taper", question, rule, "m", ("subframe.taper",), sense="at_least")
    return _judged(
        "frame-taper", question, "", float(sub.taper), shop_value("subframe_taper"), "at_least", "subframe_taper"
    )


def _liner_ends(truck: Truck) -> Iterator[Finding]:
    """A reinforcement must not end where the subframe begins."""
    frame, sub = truck.build.chassis.frame, truck.build.subframe
    if not frame.liner or sub is None or frame.rail_height is None:
        return
    ends = [(float(x), float(sub.start)) for one in frame.liner for x in (one.start, one.end)]
    end, start = min(ends, key=lambda pair: abs(pair[0] - pair[1]))
    limit = shop_value("liner_beyond") * float(frame.rail_height)
    question = "Do reinforcement and subframe end well apart, so that stiffness does not jump at one place?"
    state = f"reinforcement ends at {end:.2f} m, subframe begins at {start:.2f} m"
    yield _judged("frame-step", question, state, abs(end - start), limit, "at_least", "liner_beyond")


def _clear_of_cross_members(truck: Truck) -> Iterator[Finding]:
    places = [float(one.at) for one in truck.build.chassis.frame.cross_member]
    mounts = [one for one in truck.build.mount if one.kind != "pivot"]
    pairs = [(abs(float(m.at) - x), m.name, x) for m in mounts for x in places]
    if not pairs:
        return
    question = "Do brackets, plates and clamps stay clear of the cross-members' ends in the web?"
    gap, name, x = min(pairs)
    state = f"{name}, cross-member at {x:.2f} m"
    limit = shop_value("mount_to_cross_member")
    yield _judged("mount-clear", question, state, gap, limit, "at_least", "mount_to_cross_member")


def _clear_of_liners(truck: Truck) -> Finding:
    ends = [float(x) for one in truck.build.chassis.frame.liner for x in (one.start, one.end)]
    gap, name, x = min((abs(float(m.at) - end), m.name, end) for m in truck.build.mount for end in ends)
    question = "Do the mounts stay clear of the ends of the reinforcements?"
    state = f"{name}, reinforcement ends at {x:.2f} m"
    limit = shop_value("mount_to_liner_end")
    return _judged("mount-liner-end", question, state, gap, limit, "at_least", "mount_to_liner_end")


def _welds(truck: Truck) -> Iterator[Finding]:
    """Rails are not welded: the welds of brackets end above them."""
    build, question = truck.build, "Do the welds of all brackets stay off the chassis rails?"
    welded = [(one.name, one.weld, weld.rise(build, one.weld)) for one in build.mount if one.weld is not None]
    known = [(weld.lowest(one, high), name) for name, one, high in welded if high is not None]
    if known:
        gap, name = min(known)
        yield _judged("weld-rail", question, name, gap, shop_value("weld_to_rail"), "at_least", "weld_to_rail")


def _holes(truck: Truck) -> Iterator[Finding]:
    """Holes drilled into the web: distance to the flange, size, number above each other. Clamps need none."""
    frame = truck.build.chassis.frame
    bolted = [(one.name, one.bolts) for one in truck.build.mount if one.bolts is not None and one.kind != "clamp"]
    if not bolted:
        return
    largest, name = max((hole(bolts), name) for name, bolts in bolted)
    question = "Is no hole in the rail's web too large?"
    yield _judged("hole-size", question, name, largest, shop_value("hole_largest"), "at_most", "hole_largest")
    rows, name = max((bolts.rows, name) for name, bolts in bolted)
    question = "Are there not too many holes above each other?"
    yield _judged("hole-rows", question, name, float(rows), shop_value("hole_rows"), "at_most", "hole_rows", "holes")
    question = "Do all holes in the rail's web stay clear of the flanges?"
    if frame.rail_height is None:
        rule = shop_rule("hole_to_flange")
        yield not_known("hole-flange", question, rule, "m", ("chassis.frame.rail_height",), sense="at_least")
        return
    gap, name = min((to_flange(bolts, float(frame.rail_height)), name) for name, bolts in bolted)
    yield _judged("hole-flange", question, name, gap, shop_value("hole_to_flange"), "at_least", "hole_to_flange")
