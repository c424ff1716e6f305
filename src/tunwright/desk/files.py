"""The desk's own files, as they were when it started: what changes on the disk is served after the next start."""

from __future__ import annotations

import hashlib
from collections.abc import Callable, Iterable
from dataclasses import dataclass
from pathlib import Path
from typing import Any

Application = Callable[[dict[str, Any], Callable[..., Any]], Iterable[bytes]]
KINDS = {".css": "text/css; charset=utf-8", ".js": "text/javascript; charset=utf-8", ".svg": "image/svg+xml"}


@dataclass(frozen=True)
class File:
    """One file.

    content: all of it
    mark: changes with the content
    head: headers of every answer
    """

    content: bytes
    mark: str
    head: tuple[tuple[str, str], ...]


def file(path: Path) -> File:
    """A file, read now.

    path: where it stands; its kind is one of `KINDS`
    """
    content = path.read_bytes()
    mark = f'"{hashlib.sha256(content).hexdigest()[:32]}"'
    head = (("ETag", mark), ("Cache-Control", "no-cache"), ("X-Content-Type-Options", "nosniff"))
    return File(content, mark, (("Content-Type", KINDS[path.suffix]), *head))


def with_files(application: Application, folder: Path, *, under: str) -> Application:
    """A WSGI application that serves the files of a folder, held in memory, before another.

    application: the other
    folder: the folder, with the folders in it
    under: beginning of their addresses
    """
    own = (one for one in folder.rglob("*") if one.suffix in KINDS)
    held = {under + one.relative_to(folder).as_posix(): file(one) for one in own}

    def serve(environ: dict[str, Any], start: Callable[..., Any]) -> Iterable[bytes]:
        found = held.get(environ["PATH_INFO"])
        if found is None or environ["REQUEST_METHOD"] not in ("GET", "HEAD"):
            return application(environ, start)
        if found.mark in environ.get("HTTP_IF_NONE_MATCH", ""):
            start("304 Not Modified", list(found.head[1:]))
            return ()
        start("200 OK", [*found.head, ("Content-Length", str(len(found.content)))])
        return () if environ["REQUEST_METHOD"] == "HEAD" else (found.content,)

    return serve
