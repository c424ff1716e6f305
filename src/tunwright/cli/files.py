"""Files the command line writes: whole or not at all, and never over something else unasked."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path


def write_whole(path: Path, text: str) -> None:
    """Write a text file beside its place, then move it there.

    path: the file
    text: its new text
    """
    path.parent.mkdir(parents=True, exist_ok=True)
    beside = path.with_name(f".{path.name}.part")
    beside.write_text(text, encoding="utf-8", newline="\n")
    beside.replace(path)


def write_new(path: Path, text: str) -> None:
    """Write a file that must not be there yet.

    path: the file
    text: its text
    ValueError: there is such a file already
    """
    if path.exists():
        raise ValueError(
            f"{path} is there already and is left as it is. Give another name, such as {path.stem}-2.toml."
        )
    write_whole(path, text)


def take_outline(drawing: Path, build: Path | None, *, unit: str | None, layer: str | None) -> Iterator[str]:
    """Put the outline of a drawing into a build file, and say what was done.

    drawing: the DXF drawing
    build: the build file, None to print the section instead
    unit: unit of a drawing that names none
    layer: layer the outline is on
    """
    from tunwright.build.dxf_outline import outline_from_dxf
    from tunwright.build.edit import section_text, with_outline
    from tunwright.build.reading import read_file, read_text

    found = outline_from_dxf(drawing, unit=unit, layer=layer)
    yield from found.warnings
    if build is None:
        yield section_text(found)
        return
    document = read_file(build)
    text = with_outline(document.text, found)
    read_text(text, name=str(build))
    write_whole(build, text)
    points = f"{len(found.points_mm)} points, SHA-256 {found.sha256[:12]}…"
    yield f"{build}: the tank section now follows {found.file_name} ({points})."
