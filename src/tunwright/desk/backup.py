"""Copies of the database: one before every migration, and the way back."""

from __future__ import annotations

import logging
import os
import shutil
import sqlite3
from collections.abc import Callable
from contextlib import closing
from datetime import UTC, datetime
from pathlib import Path

from django.core.management import call_command
from django.db import Error, connection
from django.db.migrations.executor import MigrationExecutor
from django.db.migrations.recorder import MigrationRecorder

from tunwright.desk import dumps
from tunwright.desk.database import first_line
from tunwright.desk.place import DATABASE, Place

log = logging.getLogger("tunwright.desk")
KEPT = 20
"""Backups kept; the oldest goes first."""
TRUSTED = "TUNWRIGHT_BACKED_UP"
"""Set to 1 by who has backed PostgreSQL up where the program for it is missing."""
_SQLITE, _DUMPED = b"SQLite format 3", b"PGDMP"  # how the files begin


def backup(where: Place, *, why: str) -> Path:
    """Copy the database, whole and checked, while it may be in use. Raises ValueError where the copy is not sound.

    where: the desk
    why: a word for the name of the copy
    """
    where.backups.mkdir(mode=0o700, parents=True, exist_ok=True)
    ending = "dump" if where.database_url else "sqlite3"
    target = where.backups / f"{datetime.now(UTC):%Y%m%d-%H%M%S-%f}-{why}.{ending}"
    if where.database_url:
        dumps.dump(target)
    else:
        _copy(where.sqlite, target)
    for old in sorted(where.backups.glob(f"*.{ending}"))[:-KEPT]:
        old.unlink()
    return target


def _copy(database: Path, target: Path) -> None:
    beside = target.with_suffix(".part")
    with closing(sqlite3.connect(database)) as source, closing(sqlite3.connect(beside)) as copy:
        source.backup(copy)
    _check(beside)
    beside.chmod(0o600)
    beside.replace(target)


def restore(where: Place, source: Path) -> Path | None:
    """Put a backup in the database's place; the desk must not be running. Returns the backup made of what stood there.

    where: the desk
    source: the backup
    """
    if not source.is_file():
        raise ValueError(f"There is no backup {source}. The backups are in {where.backups}.")
    if where.database_url:
        return _restore_dump(where, source)
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


def _restore_dump(where: Place, source: Path) -> Path | None:
    """The same in PostgreSQL."""
    if _starts(source, _SQLITE):
        raise ValueError(
            f"{source} is a backup of the built-in database, but {DATABASE} names PostgreSQL. Take {DATABASE} away to "
            f"put it back there."
        )
    dumps.check(source)
    dumps.unused()
    before = backup(where, why="before-restore") if MigrationRecorder(connection).applied_migrations() else None
    dumps.put_back(source)
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


def _starts(file: Path, mark: bytes) -> bool:
    with file.open("rb") as opened:
        return opened.read(len(mark)) == mark


def _check(copy: Path) -> None:
    if _starts(copy, _DUMPED):
        raise ValueError(
            f"{copy} is a backup of PostgreSQL, but this desk has the built-in database. Name its database in "
            f"{DATABASE} to put it back there."
        )
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
        made = _before(where)
        kept = f"a backup is at {made}" if made else "no backup was made"
        say(f"The database is brought up to this version; {kept}.")
    try:
        call_command("migrate", verbosity=0, interactive=False)
    except Error as error:
        log.exception("migration")
        raise ValueError(
            f"The database could not be brought up to this version: {first_line(error)}. The log says more. In "
            f"PostgreSQL the account must own the database."
        ) from None
    return made


def _before(where: Place) -> Path | None:
    """A backup before a migration; without the program that makes it, somebody's word that there is one."""
    if not where.database_url or dumps.able():
        return backup(where, why="before-migration")
    if os.environ.get(TRUSTED) == "1":
        return None
    raise ValueError(
        f"The database must be brought up to this version, which wants a backup first, and {dumps.DUMP} is not "
        f"installed here. Install it (on Debian: apt install postgresql-client), or back the database up yourself, "
        f"then start again with {TRUSTED}=1."
    )
