"""Builds, revisions, drafts, jobs, preferences."""

from __future__ import annotations

import uuid
from typing import Any, ClassVar

import django.db.models.deletion
from django.db import migrations, models


class Migration(migrations.Migration):
    """The first tables."""

    initial = True

    dependencies: ClassVar[list[Any]] = []

    operations: ClassVar[list[Any]] = [
        migrations.CreateModel(
            name="Build",
            fields=[
                ("id", models.BigAutoField(auto_created=True, primary_key=True, serialize=False, verbose_name="ID")),
                ("slug", models.SlugField(max_length=80, unique=True)),
                ("title", models.CharField(max_length=250)),
                ("stage", models.CharField(default="design", max_length=40)),
                ("archived", models.BooleanField(default=False)),
                ("created", models.DateTimeField(auto_now_add=True)),
                ("updated", models.DateTimeField(auto_now=True)),
            ],
        ),
        migrations.CreateModel(
            name="Profile",
            fields=[
                ("id", models.BigAutoField(auto_created=True, primary_key=True, serialize=False, verbose_name="ID")),
                ("owner", models.CharField(max_length=150, unique=True)),
                ("units", models.CharField(default="order", max_length=10)),
                ("theme", models.CharField(default="auto", max_length=10)),
            ],
        ),
        migrations.CreateModel(
            name="Job",
            fields=[
                ("id", models.UUIDField(default=uuid.uuid4, editable=False, primary_key=True, serialize=False)),
                ("kind", models.CharField(max_length=40)),
                ("of", models.CharField(max_length=20)),
                ("text", models.TextField()),
                ("sha256", models.CharField(db_index=True, max_length=64)),
                ("program", models.CharField(max_length=100)),
                ("state", models.CharField(default="waiting", max_length=10)),
                ("progress", models.FloatField(default=0.0)),
                ("words", models.CharField(blank=True, max_length=1000)),
                ("file", models.CharField(blank=True, max_length=200)),
                ("created", models.DateTimeField(auto_now_add=True)),
                ("finished", models.DateTimeField(null=True)),
                (
                    "build",
                    models.ForeignKey(
                        on_delete=django.db.models.deletion.CASCADE, related_name="jobs", to="desk.build"
                    ),
                ),
            ],
            options={
                "ordering": ("-created",),
            },
        ),
        migrations.CreateModel(
            name="Draft",
            fields=[
                ("id", models.BigAutoField(auto_created=True, primary_key=True, serialize=False, verbose_name="ID")),
                ("owner", models.CharField(max_length=150)),
                ("text", models.TextField()),
                ("version", models.PositiveIntegerField(default=1)),
                ("base", models.PositiveIntegerField()),
                ("updated", models.DateTimeField(auto_now=True)),
                (
                    "build",
                    models.ForeignKey(
                        on_delete=django.db.models.deletion.CASCADE, related_name="drafts", to="desk.build"
                    ),
                ),
            ],
            options={
                "constraints": [models.UniqueConstraint(fields=("build", "owner"), name="one_draft_an_owner")],
            },
        ),
        migrations.CreateModel(
            name="Revision",
            fields=[
                ("id", models.BigAutoField(auto_created=True, primary_key=True, serialize=False, verbose_name="ID")),
                ("number", models.PositiveIntegerField()),
                ("text", models.TextField()),
                ("sha256", models.CharField(max_length=64)),
                ("parent_sha256", models.CharField(blank=True, max_length=64)),
                ("author", models.CharField(max_length=150)),
                ("note", models.TextField(blank=True)),
                ("created", models.DateTimeField(auto_now_add=True)),
                ("summary", models.JSONField()),
                (
                    "build",
                    models.ForeignKey(
                        on_delete=django.db.models.deletion.PROTECT, related_name="revisions", to="desk.build"
                    ),
                ),
            ],
            options={
                "ordering": ("-number",),
                "constraints": [models.UniqueConstraint(fields=("build", "number"), name="number_once_a_build")],
            },
        ),
    ]
