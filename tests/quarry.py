"""The quarry demo's pipework without ways, flanges, meter and wanted depth, so that tests may give it their own."""

from __future__ import annotations

import re

from tunwright.demos import demo_text

_OWN = re.compile(r"^(?:corner = \[\n(?:  \{.*\n)*\]|(?:bend_radius|flange|flanged|lays) = .*)\n", re.MULTILINE)
_METER = re.compile(r'\[\[pipework\.device\]\]\nname = "meter"\n(?:.+\n)+\n')


def bare() -> str:
    """The build file."""
    before, mark, work = demo_text("quarry-carrier").partition("[pipework]\n")
    work, meters = _METER.subn("", work)
    work, own = _OWN.subn("", work)
    assert (meters, own) == (1, 13), "the demo has changed: look at what is taken out here"
    return before + mark + work
