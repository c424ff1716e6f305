"""From the text of a build file to a Build, or to all that is wrong with it."""

from __future__ import annotations

import hashlib
import re
from collections.abc import Mapping
from dataclasses import dataclass
from pathlib import Path

from pydantic import ValidationError

from tunwright.build.complaints import problems
from tunwright.build.locate import locate
from tunwright.build.model import FORMAT, Build
from tunwright.build.problems import BuildProblems, Problem
from tunwright.build.syntax import NotToml, beside, parsed
from tunwright.build.typed import printable
from tunwright.build.upgrade import upgraded

LARGEST = 1_000_000
"""Largest build file read [bytes]."""

_HALVES = re.compile("[\ud800-\udfff]")  # of characters, which no file can hold


@dataclass(frozen=True)
class Document:
    """A build file that can be built.

    name: what the file is called in messages
    text: the file, word for word
    build: what it says
    """

    name: str
    text: str
    build: Build

    @property
    def sha256(self) -> str:
        """SHA-256 of the text."""
        return hashlib.sha256(self.text.encode()).hexdigest()


def read_file(path: Path) -> Document:
    """Read a build file. Raises BuildProblems with everything wrong with it.

    path: the file
    """
    return read_text(_text(path), name=str(path))


def _text(path: Path) -> str:
    """The text of a file, or why there is none."""
    try:
        if path.is_dir():
            raise _refused(str(path), "This is a folder, not a build file.")
        if path.exists() and not path.is_file():
            raise _refused(str(path), "This is a device, not a build file.")
        if path.stat().st_size > LARGEST:
            raise _too_large(str(path), path.stat().st_size)
        raw = path.read_bytes()
    except FileNotFoundError:
        raise _refused(str(path), "There is no such file.") from None
    except OSError as error:
        raise _refused(str(path), f"The file cannot be read: {error.strerror or error}.") from None
    except ValueError:
        raise _refused(str(path), "This is no name of a file.") from None
    try:
        return raw.decode("utf-8-sig").replace("\r\n", "\n")
    except UnicodeDecodeError as error:
        line = raw.count(b"\n", 0, error.start) + 1
        message = "The file is not UTF-8 text; save it as UTF-8 in the editor."
        raise _refused(str(path), message, line, given=_row(raw, line)) from None


def _row(raw: bytes, line: int) -> str:
    """A line of a file, what is not UTF-8 in it replaced."""
    return raw.split(b"\n")[line - 1][:200].decode("utf-8", "replace").strip("\x00\ufeff\r ")


def _refused(name: str, message: str, line: int | None = None, *, given: str = "") -> BuildProblems:
    allowed = "a text file in the form of TOML, of the kind that tunwright new writes"
    return BuildProblems(name, [Problem(line, "", printable(given), message, allowed, "")])


def _too_large(name: str, size: int) -> BuildProblems:
    return _refused(name, f"The file is {size / 1e6:.1f} MB large; a build file has at most {LARGEST / 1e6:.0f} MB.")


def read_text(text: str, *, name: str = "build.toml") -> Document:
    """Read the text of a build file. Raises BuildProblems with everything wrong with it.

    text: the document
    name: what it is called in messages
    """
    if len(text) > LARGEST:
        raise _too_large(name, len(text))
    if _HALVES.search(text):
        raise _refused(name, "The text holds halves of characters; save it as UTF-8 in the editor.")
    try:
        raw, mended, found = parsed(text)
    except NotToml as error:
        raise BuildProblems(name, error.problems) from None
    raw = upgraded(raw, name, lambda: locate(mended).get(("format",)))
    tank = raw.get("tank")
    context = {"tank_material": tank.get("material", "S235") if isinstance(tank, Mapping) else "S235"}
    try:
        build = Build.model_validate(raw, context=context)
    except ValidationError as error:
        found = [*found, *beside(problems(error, raw, mended, context), found)]
        raise BuildProblems(name, found) from None
    if found:
        raise BuildProblems(name, found)
    return Document(name, text, build)


__all__ = ["FORMAT", "Document", "read_file", "read_text"]
