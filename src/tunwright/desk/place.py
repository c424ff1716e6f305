"""Where the desk keeps its data, and what it was started with: all of it in the environment, nothing else."""

from __future__ import annotations

import os
import secrets
import sys
from collections.abc import Mapping
from dataclasses import dataclass
from pathlib import Path

DATA, LAN, HOSTS, DATABASE = "TUNWRIGHT_DATA", "TUNWRIGHT_LAN", "TUNWRIGHT_HOSTS", "DATABASE_URL"
LOOPBACK = ("127.0.0.1", "localhost", "[::1]")
"""Names under which a desk answers that only this machine may reach."""


@dataclass(frozen=True)
class Place:
    """What a desk was started with.

    data: folder of the database, the sheets, the backups and the log
    lan: open to the network, with accounts and HTTPS
    hosts: names it answers to
    database_url: database elsewhere, empty for SQLite in the data folder
    """

    data: Path
    lan: bool
    hosts: tuple[str, ...]
    database_url: str

    @property
    def sqlite(self) -> Path:
        """The SQLite database."""
        return self.data / "desk.sqlite3"

    @property
    def jobs(self) -> Path:
        """The queue of jobs."""
        return self.data / "jobs.sqlite3"

    @property
    def sheets(self) -> Path:
        """Folder of the sheets made."""
        return self.data / "sheets"

    @property
    def pictures(self) -> Path:
        """Folder of the small drawings; may be deleted at any time."""
        return self.data / "pictures"

    @property
    def backups(self) -> Path:
        """Folder of the backups."""
        return self.data / "backups"


def place(environment: Mapping[str, str] = os.environ) -> Place:
    """What the environment says.

    environment: its variables
    """
    data = environment.get(DATA)
    named = tuple(host for host in environment.get(HOSTS, "").split(",") if host)
    return Place(
        data=Path(data) if data else default_data(environment),
        lan=environment.get(LAN) == "1",
        hosts=(*LOOPBACK, *named),
        database_url=environment.get(DATABASE, ""),
    )


def default_data(environment: Mapping[str, str] = os.environ) -> Path:
    """Where programs of this system keep a user's data.

    environment: its variables
    """
    if sys.platform == "win32":
        return Path(environment.get("LOCALAPPDATA") or Path.home() / "AppData" / "Local") / "tunwright"
    if sys.platform == "darwin":
        return Path.home() / "Library" / "Application Support" / "tunwright"
    return Path(environment.get("XDG_DATA_HOME") or Path.home() / ".local" / "share") / "tunwright"


def prepare(where: Place) -> None:
    """Make the folders, for this account alone. Raises OSError where that cannot be done.

    where: the place
    """
    for folder in (where.data, where.sheets, where.pictures, where.backups):
        folder.mkdir(mode=0o700, parents=True, exist_ok=True)


def secret(where: Place) -> str:
    """The key cookies are signed with; made once, readable for this account alone.

    where: the place
    """
    file = where.data / "secret.key"
    where.data.mkdir(mode=0o700, parents=True, exist_ok=True)
    try:
        handle = os.open(file, os.O_WRONLY | os.O_CREAT | os.O_EXCL, 0o600)
    except FileExistsError:
        return file.read_text("ascii")
    with os.fdopen(handle, "w", encoding="ascii") as new:
        new.write(secrets.token_urlsafe(48))
    return file.read_text("ascii")
