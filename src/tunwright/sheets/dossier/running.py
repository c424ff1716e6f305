"""What stands in the head and the foot of every page."""

from __future__ import annotations

from typing import Any

from tunwright import __version__
from tunwright.tables.read import tables_hash

SHORT = 12
"""Letters of a hash in print."""


def shortened(title: str, letters: int) -> str:
    """A title, cut where it is too long.

    title: the title
    letters: that it has at most
    """
    return title if len(title) <= letters else f"{title[: letters - 1].rstrip()}…"


def running(title: str, head: str, *, number: str | None, build: str | None) -> dict[str, Any]:
    """Title of the sheets, and what stands in the head and the foot of every page, for the press.

    title: of the sheets
    head: what stands in the head
    number: of the job, None or empty where it has none
    build: hash of the build file, None without one
    """
    return {
        "title": title,
        "running": head,
        "job": f"job {number}" if number else "no job number",
        "build_short": "none" if build is None else build[:SHORT],
        "tables_short": tables_hash()[:SHORT],
        "program": f"Tunwright {__version__}",
    }
