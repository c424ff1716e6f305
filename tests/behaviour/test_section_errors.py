"""Sections and beams that cannot exist are refused in a sentence that names what was given."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

import numpy as np
import pytest

from tunwright.handbook.rail_sections import (
    AngleLiner,
    ChannelLiner,
    StripLiner,
    angle,
    box,
    channel,
    channel_with_liner,
    flat,
)
from tunwright.handbook.thin_section import SectionError, thin_section

RAIL = {"height": 0.25, "flange": 0.08, "thickness": 0.008, "inner_radius": 0.012}
SQUARE = [[0, 0], [0.1, 0], [0.1, 0.1], [0, 0.1]]


def lined(liner: Any, **more: Any) -> Callable[[], Any]:
    return lambda: channel_with_liner(**RAIL, liner=liner, **more)


@pytest.mark.parametrize(
    ("make", "said"),
    [
        (lambda: thin_section([[0, 0, 0]], [(0, 1)], 0.01), "pairs of finite numbers"),
        (lambda: thin_section([[0, 0], [np.nan, 0]], [(0, 1)], 0.01), "pairs of finite numbers"),
        (lambda: thin_section(SQUARE, [], 0.01), "one wall or more"),
        (lambda: thin_section(SQUARE, [(0, 4)], 0.01), "points 0 to 3"),
        (lambda: thin_section(SQUARE, [(0, 1), (1, 2), (2, 3)], [0.01, 0.0, 0.01]), "above 0, not 0 m"),
        (lambda: thin_section(SQUARE, [(0, 1), (1, 1), (1, 2), (2, 3)], 0.01), "from point 1 to point 1 has no length"),
        (
            lambda: thin_section(SQUARE, [(0, 1), (2, 3)], 0.01),
            r"to point 2; join them, for example links = \[\(0, 2\)\]",
        ),
        (lambda: thin_section(SQUARE, [(0, 1), (2, 3)], 0.01, [(0, 2), (2, 1), (1, 0)]), "make a ring"),
        (
            lambda: channel(height=0.1, flange=0.05, thickness=-0.01),
            "thickness of a section must be above 0, not -0.01",
        ),
        (lambda: channel(height=0.1, flange=0.05, thickness=0.005, inner_radius=-0.001), "0 or more, not -0.001"),
        (
            lambda: channel(height=0.04, flange=0.05, thickness=0.01, inner_radius=0.01),
            "do not fit into a height of 0.04",
        ),
        (lambda: box(height=0.1, width=0.03, thickness=0.01, inner_radius=0.01), "do not fit"),
        (lambda: angle(height=0.015, width=0.1, thickness=0.01, inner_radius=0.01), "do not fit"),
        (lambda: flat(height=0.0, width=0.1), "height of a section must be above 0"),
        (lined(ChannelLiner(thickness=0.006, flange=0.07)), "does not go into the rail's corners"),
        (
            lined(ChannelLiner(thickness=0.006, flange=0.09, inner_radius=0.03, outside=True)),
            "does not go around the rail's corners: its inner radius is 0.03 m, the rail's outer radius 0.02 m",
        ),
        (lined(AngleLiner(thickness=0.006, upright=0.3, flange=0.06, inner_radius=0.006)), "only 0.234 m high"),
        (lined(StripLiner(thickness=0.006, width=0.06, inside=True)), "0.02 m or more from its back, not 0 m"),
        (lined(StripLiner(thickness=0.006, width=0.06, from_back=0.1)), "touches the rail nowhere"),
        (lined(StripLiner(thickness=0.006, width=0.06), rows=(0.07,)), "0.0200 to 0.0600 m, not at 0.07 m"),
        (lined(StripLiner(thickness=0.006, width=0.06), rows=()), "one row of fasteners or more"),
    ],
)
def test_what_cannot_exist(make: Callable[[], Any], said: str) -> None:
    with pytest.raises(SectionError, match=said):
        make()


def test_a_section_is_not_written_to() -> None:
    section = channel(**RAIL)
    with pytest.raises(ValueError, match="read-only"):
        section.unit_flow[0, 0, 0] = 1.0
