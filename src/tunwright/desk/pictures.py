"""The small side view of a build, kept by what it is drawn from; the folder may be emptied at any time."""

from __future__ import annotations

import hashlib
import os
import tempfile
from pathlib import Path
from typing import Literal

from tunwright import __version__
from tunwright.desk.live import SCALE, assessed
from tunwright.sheets.drawing import Entity, Group, LinearDimension
from tunwright.sheets.layout import compose
from tunwright.sheets.svg import write_svg
from tunwright.sheets.views import side_view
from tunwright.tables.read import tables_hash

Theme = Literal["paper", "css"]
_LETTERED = frozenset({"names", "load", "centre", "middle", "gravity", "dip"})


def program() -> str:
    """What results are made with: version and tables, as a short text."""
    return f"{__version__} {tables_hash()[:16]}"


def side_picture(text: str, *, folder: Path, theme: Theme = "paper") -> str:
    """The vehicle from the side, full, without letters; always at the same scale. Raises BuildProblems.

    text: a build file
    folder: where pictures are kept
    theme: "paper" to stand alone, "css" to be put into a page
    """
    key = hashlib.sha256(f"{program()}\n{theme}\n{text}".encode()).hexdigest()
    kept = folder / f"{key}.svg"
    try:
        return kept.read_text("utf-8")
    except FileNotFoundError:
        made = _drawn(text, theme)
    handle, beside = tempfile.mkstemp(dir=folder, prefix=".part-")
    with os.fdopen(handle, "w", encoding="utf-8", newline="\n") as file:
        file.write(made)
    Path(beside).replace(kept)
    return made


def _drawn(text: str, theme: Theme) -> str:
    assessment = assessed(text)
    entities = [one for one in side_view(assessment, scale=SCALE, window=False) if not _lettered(one)]
    title = f"{assessment.build.order.title}, side view"
    return write_svg(compose(title, entities, scale=SCALE, margin_mm=1.0, description=title), theme=theme)


def _lettered(entity: Entity) -> bool:
    """Whether an entity is there to be read, which it cannot be at this size."""
    return isinstance(entity, LinearDimension) or (isinstance(entity, Group) and entity.name in _LETTERED)
