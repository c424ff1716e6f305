"""Files written whole or not at all."""

from __future__ import annotations

import os
import tempfile
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path


@contextmanager
def whole_file(target: Path, suffix: str = ".part") -> Iterator[Path]:
    """A file beside the target to be written in its stead; it takes the target's place at the end, or goes away.

    target: the file; its folders are made where they do not exist
    suffix: end of the name of the file beside it
    Raises OSError, with the name of the target, when it cannot be written.
    """
    try:
        target.parent.mkdir(parents=True, exist_ok=True)
        handle, name = tempfile.mkstemp(prefix=f".{target.name}.", suffix=suffix, dir=target.parent)
        os.close(handle)
        part = Path(name)
        try:
            yield part
            part.chmod(0o644)
            part.replace(target)
        finally:
            part.unlink(missing_ok=True)
    except OSError as error:
        raise OSError(error.errno, error.strerror or str(error), str(target)) from error


def written(target: Path, made: bytes) -> Path:
    """A file with what was made, whole or not at all; gives the file. Raises OSError as `whole_file`.

    target: the file; its folders are made where they do not exist
    made: what it holds
    """
    with whole_file(target) as part:
        part.write_bytes(made)
    return target
