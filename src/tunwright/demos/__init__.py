"""Demo builds of an invented workshop: three that work, one whose frame is too weak, one that cannot work."""

from __future__ import annotations

from importlib.resources import files

NAMES = ("quarry-carrier", "village-carrier", "brush-carrier", "ridge-carrier", "lane-carrier")
"""The demos, the one that cannot work last."""


def demo_text(name: str) -> str:
    """The build file of a demo; KeyError where there is none of that name.

    name: one of NAMES
    """
    if name not in NAMES:
        raise KeyError(name)
    return files("tunwright.demos").joinpath(f"{name}.toml").read_text("utf-8")
