"""Copies of the database: one before every migration, and the way back."""

from __future__ import annotations

import os
import shutil
import sqlite3
import subprocess
from collections.abc import Callable
from contextlib import closing
from datetime import UTC, datetime
from pathlib import Path

from django.core.management import call_command
from django.db import connection
from django.db.migrations.executor import MigrationExecutor

from tunwright.desk.place import Place

KEPT = 20
"""Backups kept; the oldest goes first."""
TRUSTED = "TUNWRIGHT_BACKED_UP"
_DUMP = "pg_dump"


def backup(where: Place, *, why: str) -> Path:
    """Copy the database, whole and checked, while it may be in use. Raises ValueError where the copy is not sound.

    where: the desk
    why: a word for the name of the copy
    """
    where.backups.mkdir(mode=0o700, parents=True, exist_ok=True)
    stamp = datetime.now(UTC).strftime("%Y%m%d-%H%M%S-%f")
    target = where.backups / f"{stamp}-{why}.sqlite3"
    beside = target.with_suffix(".part")
    with closing(sqlite3.connect(where.sqlite)) as source, closing(sqlite3.connect(beside)) as copy:
        source.backup(copy)
    _check(beside)
    beside.chmod(0o600)
    beside.replace(target)
    for old in sorted(where.backups.glob("*.sqlite3"))[:-KEPT]:
        old.unlink()
    return target


def restore(where: Place, source: Path) -> Path | None:
    """Put a backup in the database's place; the desk must not be running. Returns the backup made of what stood there.

    where: the desk
    source: the backup
    """
    if not source.is_file():
        raise ValueError(f"There is no backup {source}. The backups are in {where.backups}.")
    _check(source)
    _unused(where)
    before = backup(where, why="before-restore") if where.sqlite.exists() else None
    beside = where.sqlite.with_suffix(".part")
    shutil.copyfile(source, beside)
    beside.chmod(0o600)
    for tail in ("-wal", "-shm"):
        where.sqlite.with_name(where.sqlite.name + tail).unlink(missing_ok=True)
    beside.replace(where.sqlite)
    return before


def _unused(where: Place) -> None:
    """Refuse while another process holds the database; folds the write-ahead log into it."""
    if not where.sqlite.exists():
        return
    try:
        with closing(sqlite3.connect(where.sqlite, timeout=1.0, isolation_level=None)) as own:
            own.execute("PRAGMA locking_mode=EXCLUSIVE")
            own.execute("BEGIN EXCLUSIVE")
            own.execute("ROLLBACK")
            own.execute("PRAGMA wal_checkpoint(TRUNCATE)")
    except sqlite3.DatabaseError as error:
        if "locked" in str(error):
            raise ValueError("The desk is running on this data folder. Stop it, then restore.") from None


def _check(copy: Path) -> None:
    try:
        with closing(sqlite3.connect(copy)) as own:
            (found,) = own.execute("PRAGMA integrity_check").fetchone()
            tables = {name for (name,) in own.execute("SELECT name FROM sqlite_master WHERE type = 'table'")}
    except sqlite3.DatabaseError as error:
        raise ValueError(f"{copy} is no sound database: {error}.") from None
    if found != "ok" or "django_migrations" not in tables:
        raise ValueError(f"{copy} is no sound database of a desk: {found if found != 'ok' else 'its tables miss'}.")


def migrate(where: Place, *, say: Callable[[str], None]) -> Path | None:
    """Bring the database up to the program, after a backup of what is there; returns the backup, None for none due.

    where: the desk
    say: told what is done
    """
    executor = MigrationExecutor(connection)
    if not executor.migration_plan(executor.loader.graph.leaf_nodes()):
        return None
    made = None
    if executor.loader.applied_migrations:
        made = backup(where, why="before-migration") if connection.vendor == "sqlite" else _dumped(where)
        say(f"The database is brought up to this version; a backup is at {made}.")
    call_command("migrate", verbosity=0, interactive=False)
    return made


def _dumped(where: Place) -> Path | None:
    """A dump of PostgreSQL by its own program; without that program, somebody's word that there is a backup."""
    program = shutil.which(_DUMP)
    if program is None:
        if os.environ.get(TRUSTED) == "1":
            return None
        raise ValueError(
            f"The database must be brought up to this version, which wants a backup first, and {_DUMP} is not "
            f"installed here. Back it up yourself, then start again with {TRUSTED}=1."
        )
    target = where.backups / f"{datetime.now(UTC):%Y%m%d-%H%M%S-%f}-before-migration.dump"
    run = subprocess.run(  # noqa: S603  # the program is the database's own, the address is the operator's
        [program, "--format=custom", f"--file={target}", where.database_url],
        capture_output=True,
        text=True,
        check=False,
    )
    if run.returncode != 0:
        raise ValueError(f"{_DUMP} could not back the database up, so nothing was changed: {run.stderr.strip()[-300:]}")
    return target
