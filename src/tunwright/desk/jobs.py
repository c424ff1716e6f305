"""Sheets made in the background: a queue in the data folder, worked off by a thread inside the process."""

from __future__ import annotations

import logging
import os
import secrets
import tempfile
from datetime import timedelta
from pathlib import Path
from typing import Any

from django.conf import settings
from django.db import close_old_connections, connection
from django.utils import timezone
from huey import SqliteHuey
from huey.consumer import Consumer

from tunwright.build.problems import BuildProblems
from tunwright.desk.makers import KINDS, make
from tunwright.desk.models import Build, Job, sha256
from tunwright.desk.pictures import program
from tunwright.desk.refusal import Refusal

log = logging.getLogger("tunwright.desk")
queue = SqliteHuey("tunwright", filename=str(settings.PLACE.jobs), results=False, timeout=20)
KEPT = timedelta(days=30)
"""How long a sheet is kept; it can be made again at any time."""


def ask(build: Build, kind: str, text: str, *, of: str) -> Job:
    """Ask for a sheet; one that was made of the same text by the same program is given again.

    build: the build
    kind: key of `makers.KINDS`
    text: the build file it is made of
    of: what the text is, "r3" or "draft"
    """
    if kind not in KINDS:
        raise Refusal(400, f"There is no sheet called {kind[:40]}. There are: {', '.join(KINDS)}.")
    key = {"build": build, "kind": kind, "sha256": sha256(text), "program": program(), "of": of}
    made = Job.objects.filter(**key).exclude(state="failed").first()
    if made is not None and (made.state != "done" or path_of(made).is_file()):
        return made
    job = Job.objects.create(**key, text=text, words="waiting for its turn")
    work(str(job.pk))
    return job


def path_of(job: Job) -> Path:
    """Where the sheet of a job is kept.

    job: the job
    """
    return settings.PLACE.sheets / f"{job.pk}.bin"


def named(job: Job) -> str:
    """What the file of a job is called.

    job: the job
    """
    return f"{job.build.slug}-{job.of}-{KINDS[job.kind].file}"


@queue.task()
def work(key: str) -> None:
    """Make the sheet of a job, whatever happens; the job says how far it is and how it ended.

    key: id of the job
    """
    job = Job.objects.filter(pk=key, state="waiting").first()
    if job is None:
        return
    try:
        _step(job, 0.0, "beginning", state="running")
        _keep(path_of(job), make(job.kind, job.text, lambda part, words: _step(job, part, words)))
        _step(job, 1.0, "done", state="done", file=named(job), finished=timezone.now())
    except Exception as error:  # noqa: BLE001  # the job ends with a sentence, the log has the trace
        _step(job, job.progress, _why(error), state="failed", finished=timezone.now())
    finally:
        if not connection.in_atomic_block:
            close_old_connections()


def _step(job: Job, part: float, words: str, **also: Any) -> None:
    job.progress, job.words = part, words[:1000]
    for name, value in also.items():
        setattr(job, name, value)
    job.save(update_fields=("progress", "words", *also))


def _why(error: Exception) -> str:
    if isinstance(error, BuildProblems):
        several = f" and {len(error.problems) - 1} more" if len(error.problems) > 1 else ""
        return f"The build file does not read: {error.problems[0].sentence('draft')}{several}"
    mark = secrets.token_hex(4)
    log.error("%s: a sheet could not be made", mark, exc_info=error)
    return f"{error} (id {mark})" if isinstance(error, ValueError) else f"It could not be made; id {mark} in the log."


def _keep(path: Path, content: bytes) -> None:
    """Write a file beside its place, then move it there."""
    handle, beside = tempfile.mkstemp(dir=path.parent, prefix=".part-")
    with os.fdopen(handle, "wb") as file:
        file.write(content)
    Path(beside).replace(path)


def tidy() -> None:
    """On starting: what was cut short is failed, what waits is queued anew, what is old goes with its file."""
    words = "The desk was stopped while this was being made. Ask for it again."
    Job.objects.filter(state="running").update(state="failed", words=words, finished=timezone.now())
    queue.flush()
    for key in Job.objects.filter(state="waiting").order_by("created").values_list("pk", flat=True):
        work(str(key))
    for job in Job.objects.filter(created__lt=timezone.now() - KEPT):
        path_of(job).unlink(missing_ok=True)
        job.delete()


class Worker(Consumer):
    """The thread that works the queue off, without touching the signals of the process."""

    def _set_signal_handlers(self) -> None:
        """Signals are the server's."""


def worker() -> Worker:
    """A worker, to be started and stopped with the server."""
    return Worker(queue, workers=1, periodic=False, initial_delay=0.02, max_delay=0.2, backoff=1.3, shutdown_timeout=8)
