"""What the desk keeps: builds, their revisions as given, drafts, jobs, preferences."""

from __future__ import annotations

import hashlib
import uuid
from typing import Any, NoReturn

from django.db import models

from tunwright.desk.refusal import Refusal


def sha256(text: str) -> str:
    """SHA-256 of a text.

    text: the text
    """
    return hashlib.sha256(text.encode()).hexdigest()


class Build(models.Model):
    """One vehicle to be built."""

    slug = models.SlugField(max_length=80, unique=True)
    title = models.CharField(max_length=250)
    stage = models.CharField(max_length=40, default="design")
    archived = models.BooleanField(default=False)
    created = models.DateTimeField(auto_now_add=True)
    updated = models.DateTimeField(auto_now=True)

    def __str__(self) -> str:
        return str(self.slug)


class Unchanging(models.QuerySet):
    """Rows that are added and read, never changed or taken away."""

    def update(self, **_: Any) -> NoReturn:
        """Refuse."""
        raise _unchanging()

    def bulk_update(self, *_: Any, **__: Any) -> NoReturn:
        """Refuse."""
        raise _unchanging()

    def delete(self) -> NoReturn:
        """Refuse."""
        raise _unchanging()


def _unchanging() -> Refusal:
    return Refusal(409, "A revision is never changed or deleted; save a new one, or archive the build.")


class Revision(models.Model):
    """A build file as it was saved, word for word, chained to the one before by its hash."""

    build = models.ForeignKey(Build, on_delete=models.PROTECT, related_name="revisions")
    number = models.PositiveIntegerField()
    text = models.TextField()
    sha256 = models.CharField(max_length=64)
    parent_sha256 = models.CharField(max_length=64, blank=True)
    author = models.CharField(max_length=150)
    note = models.TextField(blank=True)
    created = models.DateTimeField(auto_now_add=True)
    summary = models.JSONField()

    objects = Unchanging.as_manager()

    class Meta:
        """Newest first; a number once a build."""

        ordering = ("-number",)
        constraints = (models.UniqueConstraint(fields=("build", "number"), name="number_once_a_build"),)

    def save(self, *args: Any, **kwargs: Any) -> None:
        """Add the row; refuse to change one."""
        if not self._state.adding:
            raise _unchanging()
        self.sha256 = sha256(self.text)
        super().save(*args, **kwargs)

    def delete(self, *_: Any, **__: Any) -> NoReturn:
        """Refuse."""
        raise _unchanging()

    def __str__(self) -> str:
        return f"{self.build.slug} r{self.number}"


class Draft(models.Model):
    """What one owner is working on; it may be broken."""

    build = models.ForeignKey(Build, on_delete=models.CASCADE, related_name="drafts")
    owner = models.CharField(max_length=150)
    text = models.TextField()
    version = models.PositiveIntegerField(default=1)
    base = models.PositiveIntegerField()
    updated = models.DateTimeField(auto_now=True)

    class Meta:
        """One a build and owner."""

        constraints = (models.UniqueConstraint(fields=("build", "owner"), name="one_draft_an_owner"),)

    def __str__(self) -> str:
        return f"{self.build.slug} by {self.owner}"


class Job(models.Model):
    """A sheet to be made, being made, or made."""

    id = models.UUIDField(primary_key=True, default=uuid.uuid4, editable=False)
    build = models.ForeignKey(Build, on_delete=models.CASCADE, related_name="jobs")
    kind = models.CharField(max_length=40)
    of = models.CharField(max_length=20)  # "r3" or "draft"
    text = models.TextField()
    sha256 = models.CharField(max_length=64, db_index=True)
    program = models.CharField(max_length=100)  # version and tables it is made with
    state = models.CharField(max_length=10, default="waiting")
    progress = models.FloatField(default=0.0)
    words = models.CharField(max_length=1000, blank=True)
    file = models.CharField(max_length=200, blank=True)
    created = models.DateTimeField(auto_now_add=True)
    finished = models.DateTimeField(null=True)

    class Meta:
        """Newest first."""

        ordering = ("-created",)

    def __str__(self) -> str:
        return f"{self.kind} of {self.build.slug} {self.of}"


class Profile(models.Model):
    """Preferences of an owner."""

    owner = models.CharField(max_length=150, unique=True)
    units = models.CharField(max_length=10, default="order")
    theme = models.CharField(max_length=10, default="auto")

    def __str__(self) -> str:
        return str(self.owner)
