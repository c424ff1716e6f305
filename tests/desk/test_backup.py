"""A backup before every migration, and the way back."""

from __future__ import annotations

import sqlite3
from collections.abc import Callable
from contextlib import closing
from dataclasses import replace
from pathlib import Path
from typing import Any

import pytest
from django.conf import settings
from django.core.management import call_command
from django.db import OperationalError, connections

from tunwright.desk import backup, store
from tunwright.desk.models import Build

Ask = Callable[..., Any]
OLDER = "0011_update_proxy_permissions"


def titles(file: Path) -> list[str]:
    with closing(sqlite3.connect(file)) as own:
        return [title for (title,) in own.execute("SELECT title FROM desk_build")]


def migrations(file: Path) -> set[str]:
    with closing(sqlite3.connect(file)) as own:
        return {name for (name,) in own.execute("SELECT name FROM django_migrations WHERE app = 'auth'")}


@pytest.fixture
def older(quarry: str) -> str:
    """A desk whose database is one migration behind."""
    call_command("migrate", "auth", OLDER, verbosity=0)
    return quarry


def test_a_migration_makes_a_backup_first_and_it_can_be_put_back(older: str) -> None:
    said: list[str] = []
    made = backup.migrate(settings.PLACE, say=said.append)
    assert made is not None
    assert str(made) in said[0]
    assert titles(made) == [store.find(older).title]
    assert OLDER in migrations(made)
    assert migrations(settings.PLACE.sqlite) > migrations(made)

    Build.objects.update(title="spoilt")
    connections.close_all()
    before = backup.restore(settings.PLACE, made)
    assert before is not None
    assert titles(before) == ["spoilt"]
    assert migrations(settings.PLACE.sqlite) == migrations(made)
    assert backup.migrate(settings.PLACE, say=said.append) is not None
    assert store.find(older).title != "spoilt"
    assert store.chain_faults(store.find(older)) == []


def test_nothing_to_migrate_makes_no_backup(quarry: str) -> None:
    count = len(list(settings.PLACE.backups.iterdir()))
    assert backup.migrate(settings.PLACE, say=lambda _: None) is None
    assert len(list(settings.PLACE.backups.iterdir())) == count


def test_only_so_many_backups_are_kept(quarry: str) -> None:
    made = [backup.backup(settings.PLACE, why="test") for _ in range(backup.KEPT + 2)]
    kept = sorted(settings.PLACE.backups.glob("*.sqlite3"))
    assert len(kept) == backup.KEPT
    assert kept[-1] == made[-1]


def test_a_running_desk_is_not_overwritten(quarry: str) -> None:
    made = backup.backup(settings.PLACE, why="test")
    assert Build.objects.count() == 1  # holds the database open
    with pytest.raises(ValueError, match="Stop it"):
        backup.restore(settings.PLACE, made)


@pytest.mark.parametrize("content", [b"", b"no database at all, but long enough to look like one" * 40, None])
def test_what_is_no_backup_is_refused(quarry: str, tmp_path: Path, content: bytes | None) -> None:
    file = tmp_path / "copy.sqlite3"
    if content is not None:
        file.write_bytes(content)
    connections.close_all()
    with pytest.raises(ValueError, match=r"no sound database|no backup"):
        backup.restore(settings.PLACE, file)
    assert store.find(quarry).slug == quarry


def test_a_backup_cut_short_is_refused(quarry: str, tmp_path: Path) -> None:
    whole = backup.backup(settings.PLACE, why="test").read_bytes()
    file = tmp_path / "copy.sqlite3"
    file.write_bytes(whole[: len(whole) // 2])
    connections.close_all()
    with pytest.raises(ValueError, match="no sound database"):
        backup.restore(settings.PLACE, file)


def test_a_backup_of_the_other_kind_of_database_is_refused(quarry: str, tmp_path: Path) -> None:
    file = tmp_path / "copy.dump"
    file.write_bytes(b"PGDMP and more")
    with pytest.raises(ValueError, match=r"is a backup of PostgreSQL.*DATABASE_URL"):
        backup.restore(settings.PLACE, file)
    elsewhere = replace(settings.PLACE, database_url="postgresql://host/desk")
    with pytest.raises(ValueError, match=r"is a backup of the built-in database.*DATABASE_URL"):
        backup.restore(elsewhere, backup.backup(settings.PLACE, why="test"))


def test_a_migration_that_fails_is_said(older: str, monkeypatch: pytest.MonkeyPatch) -> None:
    def full(*_: Any, **__: Any) -> None:
        raise OperationalError("database or disk is full")

    monkeypatch.setattr(backup, "call_command", full)
    with pytest.raises(ValueError, match="could not be brought up to this version: database or disk is full"):
        backup.migrate(settings.PLACE, say=lambda _: None)
