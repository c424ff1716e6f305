"""Backups of PostgreSQL by its own programs; the password goes by the environment, so no list of processes shows it."""

from __future__ import annotations

import os
import re
import shutil
import subprocess
import tempfile
from pathlib import Path
from typing import Any

from django.db import connection

DUMP, READ, PUT = "pg_dump", "pg_restore", "psql"
OWN = ("auth_", "desk_", "django_")
"""How the names of a desk's tables begin; a restore takes all of these out and no others."""
_NEEDED = re.compile(r" TABLE DATA \S+ desk_build ")


def able() -> bool:
    """Whether the program that backs up is on this machine."""
    return shutil.which(DUMP) is not None


def dump(target: Path) -> None:
    """Back the database up, whole and checked, while it may be in use. Raises ValueError where that cannot be done.

    target: the file to make
    """
    beside = target.with_suffix(".part")
    beside.touch(mode=0o600)
    try:
        _run(DUMP, "--format=custom", "--no-owner", "--no-privileges", f"--file={beside}", into_database=True)
        check(beside)
        beside.replace(target)
    finally:
        beside.unlink(missing_ok=True)


def check(copy: Path) -> None:
    """Raises ValueError for what is no backup of a desk.

    copy: the file
    """
    try:
        listed = _run(READ, "--list", str(copy))
    except ValueError as error:
        raise ValueError(f"{copy} is no sound backup of a desk in PostgreSQL. {error}") from None
    if not _NEEDED.search(listed):
        raise ValueError(f"{copy} is no backup of a desk in PostgreSQL: its tables miss.")


def unused() -> None:
    """Refuse while another connection to the database is open."""
    with connection.cursor() as cursor:
        cursor.execute(
            "SELECT count(*) FROM pg_stat_activity WHERE datname = current_database() AND pid <> pg_backend_pid() "
            "AND usesysid IS NOT NULL"
        )
        (others,) = cursor.fetchone()
    if others:
        raise ValueError(
            f"The desk is running on this database, or somebody is at work in it: {others} other connections are open. "
            f"Stop the desk, then restore."
        )


def put_back(source: Path) -> None:
    """Put a backup in the place of the desk's tables, all of it or nothing.

    source: the backup
    """
    with tempfile.TemporaryDirectory() as folder:
        clear, fill = Path(folder) / "clear.sql", Path(folder) / "fill.sql"
        clear.write_text("".join(f"DROP TABLE {name} CASCADE;\n" for name in _tables()), encoding="utf-8")
        _run(READ, "--no-owner", "--no-privileges", f"--file={fill}", str(source))
        connection.close()
        once = ("--no-psqlrc", "--quiet", "--single-transaction", "--set=ON_ERROR_STOP=1")
        _run(PUT, *once, f"--file={clear}", f"--file={fill}", into_database=True)


def _tables() -> list[str]:
    """The desk's tables as they stand."""
    found = connection.introspection.table_names()
    return [connection.ops.quote_name(name) for name in found if name.startswith(OWN)]


def _run(name: str, *words: str, into_database: bool = False) -> str:
    """Run a program of PostgreSQL; what it prints. Raises ValueError, with its last words, where it fails."""
    program = shutil.which(name)
    if program is None:
        raise ValueError(
            f"{name} is not installed on this machine; it comes with the client programs of PostgreSQL (on Debian: "
            f"apt install postgresql-client). Install it, then try again."
        )
    address, secret = _address() if into_database else ("", {})
    where = (f"--dbname={address}",) if into_database else ()
    run = subprocess.run(  # noqa: S603  # the program is the database's own, its words are ours
        [program, *words, *where], capture_output=True, text=True, check=False, env={**os.environ, **secret}
    )
    if run.returncode != 0:
        raise ValueError(f"{name} failed, so nothing was changed: {' '.join(run.stderr.split())[-300:]}")
    return run.stdout


def _address() -> tuple[str, dict[str, Any]]:
    """The database as its programs take it, and its password for their environment."""
    given = connection.settings_dict
    parts = {"dbname": given["NAME"], "user": given["USER"], "host": given["HOST"], "port": given["PORT"]}
    named = {key: value for key, value in {**parts, **given["OPTIONS"]}.items() if value}
    secret = {"PGPASSWORD": given["PASSWORD"]} if given["PASSWORD"] else {}
    return connection.Database.conninfo.make_conninfo(**named), secret
