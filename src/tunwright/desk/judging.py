"""Verdicts, charts and remedies worked out in a process of their own: drawing and loads never wait for them."""

from __future__ import annotations

import logging
import multiprocessing
import os
import signal
from collections.abc import Callable, Mapping, Sequence
from concurrent.futures import CancelledError, Future, ProcessPoolExecutor
from concurrent.futures.process import BrokenProcessPool
from threading import Lock, Thread
from typing import Any, TypeVar
from weakref import WeakSet

from tunwright.desk.live import Change, assessed, changed, look
from tunwright.desk.refusal import Refusal
from tunwright.truck.solid import TankSolid

SLOW = frozenset({"first", "findings", "remedies", "window", "charts", "frame"})
"""Parts of a look that may wait a moment, and with them whatever else is asked for in the same breath."""

Judged = tuple[dict[str, Any], dict[tuple[object, ...], Any]]
"""What has been found, and the water that was worked out on the way: the desk needs it when something moves next."""

T = TypeVar("T")
_GENTLE = 10  # how far the judge stands back behind drawing
log = logging.getLogger("tunwright.desk")


class Judge:
    """One process that judges, one look after the other; a newer look of a page takes the place of its older ones."""

    def __init__(self) -> None:
        self._lock = Lock()
        self._waiting: dict[str, list[Future[Judged]]] = {}
        self._pool = _pool()

    def newer(self, page: str) -> None:
        """What a page still waits for is dropped, because it has changed since.

        page: the page's own mark
        """
        with self._lock:
            for one in self._waiting.pop(page, []):
                one.cancel()

    def look(
        self, page: str, text: str, changes: Sequence[Change], state: Mapping[str, Any], parts: Sequence[str]
    ) -> dict[str, Any]:
        """`live.look` in the judge's process, or here where that has died. Raises Refusal where a newer one came.

        page: the page's own mark
        text: the draft
        changes: values to put in place first
        state: the load state
        parts: what is asked for
        """
        self.newer(page)
        pool = self._pool
        try:
            found, water = self._asked(page, pool.submit(_look, text, changes, state, parts))
        except CancelledError:
            raise Refusal(409, "A newer look has taken the place of this one.") from None
        except BrokenProcessPool:
            self._renew(pool)
            return look(text, changes, state, parts)
        if water:
            assessed(changed(text, changes), state.get("units")).truck.solid.take(water)
        return found

    def work(self, work: Callable[[str], T], text: str) -> T:
        """What is worked out of a text; here where the process has died.

        work: what is done, a function of a module
        text: a build file that reads
        """
        pool = self._pool
        try:
            return pool.submit(work, text).result()
        except BrokenProcessPool:
            self._renew(pool)
            return work(text)

    def _asked(self, page: str, waiting: Future[Judged]) -> Judged:
        """What the judge's process says; a page without a mark neither drops looks nor has its own dropped."""
        if page:
            with self._lock:
                self._waiting.setdefault(page, []).append(waiting)
        try:
            return waiting.result()
        finally:
            self._tidy(page)

    def _renew(self, broken: ProcessPoolExecutor) -> None:
        """A new process in place of one that has died, once for all who waited for it."""
        with self._lock:
            if self._pool is broken:
                log.warning("the judge's process has ended; a new one is started")
                self._pool = _pool()

    def _tidy(self, page: str) -> None:
        with self._lock:
            left = [one for one in self._waiting.pop(page, []) if not one.done()]
            if left:
                self._waiting[page] = left

    def stop(self) -> None:
        """End the process; what is under way is finished."""
        self._pool.shutdown(cancel_futures=True)


_handed: WeakSet[TankSolid] = WeakSet()  # in the judge: whose water the desk has
_judge: Judge | None = None


def start() -> None:
    """Judge in a process of its own from now on."""
    global _judge  # noqa: PLW0603  # one a process
    _judge = Judge()


def stop() -> None:
    """Judge here again."""
    global _judge  # noqa: PLW0603  # one a process
    if _judge is not None:
        _judge.stop()
    _judge = None


def judged(
    page: str,
    text: str,
    changes: Sequence[Change],
    state: Mapping[str, Any],
    parts: Sequence[str],
    *,
    hurry: bool = False,
) -> dict[str, Any]:
    """A look: drawing and loads here and at once, the rest in the judge's process where there is one.

    page: the page's own mark; its older looks that still wait are dropped
    text: the draft
    changes: values to put in place first
    state: the load state
    parts: what is asked for
    hurry: see `live.look`
    """
    judge = _judge
    if judge is not None and SLOW.intersection(parts):
        return judge.look(page, text, changes, state, parts)
    if judge is not None:
        judge.newer(page)
    return look(text, changes, state, parts, hurry=hurry)


def apart(work: Callable[[str], T], text: str) -> T:
    """What is worked out of a text, in the judge's process where there is one.

    work: what is done, a function of a module
    text: a build file that reads
    """
    judge = _judge
    return work(text) if judge is None else judge.work(work, text)


def _pool() -> ProcessPoolExecutor:
    pool = ProcessPoolExecutor(1, mp_context=multiprocessing.get_context("spawn"), initializer=_settle)
    pool.submit(os.getpid)  # starts it now, not with the first look
    return pool


def _look(text: str, changes: Sequence[Change], state: Mapping[str, Any], parts: Sequence[str]) -> Judged:
    """In the judge's process: a look, and the water of a tank whose shape is new."""
    found = look(text, changes, state, parts)
    if found["problems"]:
        return found, {}
    solid = assessed(changed(text, changes), state.get("units")).truck.solid
    if not solid.tabled or solid in _handed:
        return found, {}
    _handed.add(solid)
    return found, solid.solved


def _settle() -> None:
    """In the judge's process: stand back, leave Ctrl+C to the desk, and end with it."""
    signal.signal(signal.SIGINT, signal.SIG_IGN)
    if hasattr(os, "nice"):
        os.nice(_GENTLE)
    desk = multiprocessing.parent_process()
    if desk is not None:
        Thread(target=_end_with, args=(desk,), daemon=True).start()


def _end_with(desk: multiprocessing.process.BaseProcess) -> None:
    desk.join()
    os._exit(0)
