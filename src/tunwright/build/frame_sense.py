"""What has to fit together in a ladder frame and its mounting."""

from __future__ import annotations

from collections.abc import Iterator
from typing import TYPE_CHECKING

from tunwright.build.base import Wrong
from tunwright.build.typed import metres

if TYPE_CHECKING:
    from tunwright.build.frame import CrossMember, Frame, Liner

_SAME = 0.02
"""Cross-members nearer to each other than this are one written twice [m]."""


def cross_section(member: CrossMember) -> Iterator[Wrong]:
    """A channel or a box without its width, a tube with one, walls too thick."""
    if member.shape == "tube" and member.flange is not None:
        yield Wrong(("flange",), "A tube has a diameter only, its height.", member.flange.text, "no flange")
    if member.shape != "tube" and member.flange is None:
        message = f"A {member.shape} needs its {'flange' if member.shape == 'channel' else 'width, as flange,'} too."
        yield Wrong(("flange",), message, "", "a length above 0 mm", 'flange = "60 mm"')
    least = min(member.height, member.flange or member.height)
    if member.thickness > least / 3:
        message = "The walls are thicker than a third of the section."
        yield Wrong(("thickness",), message, member.thickness.text, f"up to {least / 3 * 1000:.1f} mm", '"6 mm"')


def liner_length(liner: Liner) -> Iterator[Wrong]:
    """A reinforcement that ends before it begins."""
    if liner.end <= liner.start:
        message = "The reinforcement ends before it begins."
        yield Wrong(("to",), message, liner.end.text, f"behind {liner.start:.2f} m", metres(float(liner.start) + 1.0))


def cross_members(frame: Frame) -> Iterator[Wrong]:
    """Cross-members off the rails, or two at one place."""
    places = [float(one.at) for one in frame.cross_member]
    for i, one in enumerate(frame.cross_member):
        if _off(frame.front, one.at, frame.rear):
            allowed = f"from {frame.front:.2f} m to {frame.rear:.2f} m"
            message = "The cross-member does not stand between the ends of the rails."
            example = metres(float(frame.rear or 0.0) - 0.1)
            yield Wrong(("cross_member", i, "at"), message, one.at.text, allowed, example)
        if frame.rail_height is not None and one.height > frame.rail_height:
            message = "The cross-member is higher than the rails it joins."
            allowed, example = f"up to {1000 * frame.rail_height:.0f} mm", metres(0.7 * frame.rail_height)
            yield Wrong(("cross_member", i, "height"), message, one.height.text, allowed, example)
        if any(abs(float(one.at) - x) < _SAME for x in places[:i]):
            message = "There is a cross-member here already."
            yield Wrong(("cross_member", i, "at"), message, one.at.text, "a place of its own")


def _off(low: float | None, place: float, high: float | None) -> bool:
    """Whether a place lies outside two ends that are known and in order."""
    return low is not None and high is not None and low < high and not low <= place <= high


def liners(frame: Frame) -> Iterator[Wrong]:
    """Reinforcements beyond the rails, over one another, or along rails that are not known."""
    unknown = [name for name in ("rail_height", "rail_flange", "rail_thickness") if getattr(frame, name) is None]
    if unknown and frame.liner:
        message = "What a reinforcement weighs and carries follows from the rail it lies in; the rail is not known."
        yield Wrong((unknown[0],), message, "", "the measures of the rail beside its reinforcement")
    for i, one in enumerate(frame.liner):
        for name, place in (("from", one.start), ("to", one.end)):
            if _off(frame.front, place, frame.rear):
                allowed = f"from {frame.front:.2f} m to {frame.rear:.2f} m"
                message = "The reinforcement reaches beyond the rails."
                yield Wrong(("liner", i, name), message, place.text, allowed, metres(float(frame.rear or 0.0)))
        if any(one.start < other.end and other.start < one.end for other in frame.liner[:i]):
            message = "Two reinforcements lie over one another: the model takes one at a time."
            yield Wrong(("liner", i, "from"), message, one.start.text, "ranges that do not overlap")
