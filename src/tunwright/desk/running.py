"""The running desk: backup, migration, demos, worker, server, browser; and taking it down in order."""

from __future__ import annotations

import gc
import logging
import signal
import sys
import webbrowser
from os import environ
from threading import Event, Thread
from typing import Any

from cheroot.wsgi import Server
from django.conf import settings
from django.core.wsgi import get_wsgi_application
from django.db import connections

from tunwright.demos import NAMES
from tunwright.desk import accounts, jobs, judging, store
from tunwright.desk.backup import migrate
from tunwright.desk.database import reach
from tunwright.desk.files import with_files
from tunwright.desk.gate import ALONE, KEYS
from tunwright.desk.models import Build
from tunwright.desk.place import LOOPBACK, prepare
from tunwright.desk.tls import Adapter, Certificate, explained

THREADS = 16
QUEUE = 128  # connections that may wait: with the usual 5, twenty people at once see some of theirs reset
_LONGEST_BODY = 3_000_000  # refused before it is read [bytes]
_LONGEST_HEADER = 64_000  # [bytes]
_IDLE = 20  # a connection that says nothing is closed [s]
_ALLOCATED = 50_000  # objects made before the young ones are looked through; a drawing makes some 20 000
_LOOK = 0.5  # how often it is looked whether to stop [s]
log = logging.getLogger("tunwright.desk.server")


class DeskServer(Server):
    """The server; what it has to say goes to the log, and no caller holds a thread before it says something."""

    def process_conn(self, conn: Any) -> None:
        """Hand a connection to a thread; a new one waits until something is there to read.

        Browsers open some ahead, and as many silent ones as there are threads would shut everybody out.

        conn: the connection
        """
        if conn.last_used is None:
            self._connections.put(conn)  # type: ignore[attr-defined]  # its type file leaves it out
        else:
            super().process_conn(conn)

    def error_log(self, msg: str = "", level: int = logging.INFO, traceback: bool = False) -> None:  # noqa: FBT001, FBT002  # its shape
        """Note something down.

        msg: what
        level: how grave, as in logging
        traceback: with the error at hand
        """
        error = sys.exc_info()[1]
        if isinstance(error, OSError):  # a caller that left, or does not speak HTTPS; no fault of the desk's
            log.info("%s: %s", msg, error)
        else:
            log.log(level, msg, exc_info=traceback)


def run(port: int, certificate: Certificate | None, *, open_browser: bool) -> None:
    """Run the desk until it is told to stop. Raises ValueError where the port is taken.

    port: port it listens at, 0 for any that is free
    certificate: for HTTPS in the network; None serves this machine alone
    open_browser: open the browser where there is one
    """
    told = Event()
    before = {one: signal.signal(one, lambda *_: told.set()) for one in (signal.SIGINT, signal.SIGTERM)}
    try:
        set_up()
        server = _listening(port, certificate)
        address = _alone(server) if certificate is None else _in_the_network(server, certificate)
        _say("Stop it with Ctrl+C.")
        if open_browser and _has_screen():
            webbrowser.open(address)
        _serve(server, told)
        _say("Stopped.")
    finally:
        for one, handler in before.items():
            signal.signal(one, handler)


def _listening(port: int, certificate: Certificate | None) -> DeskServer:
    """The server, listening; a port that is taken is said."""
    server = make_server(port, certificate)
    try:
        server.prepare()
    except OSError as error:
        raise ValueError(
            f"Port {port} cannot be used ({error.strerror or error}): perhaps a desk runs there already. "
            f"Give another: --port {port + 1}."
        ) from None
    return server


def set_up() -> None:
    """Make the data ready: folders, backup, migration, demos on the first start, the queue tidied."""
    ready()
    if not Build.objects.exists():
        _say("First start: the demo builds are loaded.")
        for name in reversed(NAMES):
            store.from_demo(name, author=ALONE)
    jobs.tidy()


def ready() -> None:
    """Make folders and database ready; nothing a running desk minds."""
    prepare(settings.PLACE)
    reach(settings.PLACE)
    migrate(settings.PLACE, say=_say)


def make_server(port: int, certificate: Certificate | None) -> DeskServer:
    """The server, not yet listening.

    port: port it listens at, 0 for any that is free
    certificate: for HTTPS, without which it serves this machine alone
    """
    if settings.PLACE.lan != (certificate is not None):
        raise ValueError("HTTPS and accounts go together: beyond this machine the desk speaks nothing else.")
    host = "0.0.0.0" if settings.PLACE.lan else "127.0.0.1"  # noqa: S104  # asked for, with accounts and HTTPS
    server = DeskServer(
        (host, port),
        application(),
        numthreads=THREADS,
        request_queue_size=QUEUE,
        server_name="tunwright",
        timeout=_IDLE,
    )
    server.max_request_body_size, server.max_request_header_size = _LONGEST_BODY, _LONGEST_HEADER
    server.shutdown_timeout = 3
    if certificate is not None:
        server.ssl_adapter = Adapter(certificate)
    return server


def application() -> Any:
    """The WSGI application: the desk's own files, then Django."""
    return with_files(get_wsgi_application(), settings.STATIC, under=settings.STATIC_URL)


def _alone(server: DeskServer) -> str:
    """Say how to get in on this machine."""
    base = f"http://127.0.0.1:{server.bind_addr[1]}/"
    KEYS.tell = lambda made: _say(f"To let another browser in: {base}?key={made}")
    _say(f"Data: {settings.PLACE.data}")
    _say(f"The desk is at {base}?key={KEYS.key}")
    _say(f"The key lets one browser in, once; from then on {base} will do there.")
    return f"{base}?key={KEYS.key}"


def _in_the_network(server: DeskServer, certificate: Certificate) -> str:
    """Say how to get in from the network."""
    port = server.bind_addr[1]
    _say(f"Data: {settings.PLACE.data}")
    _say(explained(certificate))
    password = accounts.first_account()
    if password is not None:
        _say(f"First account: name {accounts.FIRST}, password {password}  (shown this once; change it under Settings)")
    hosts = [host for host in settings.PLACE.hosts if host not in (*LOOPBACK, "127.0.1.1")]
    _say("The desk is at " + "  ".join(f"https://{host}:{port}/" for host in hosts or ["localhost"]))
    return f"https://localhost:{port}/"


def _has_screen() -> bool:
    """Whether there is a screen to open a browser on; one that runs in the terminal is none."""
    return sys.platform in ("win32", "darwin") or bool(environ.get("DISPLAY") or environ.get("WAYLAND_DISPLAY"))


def _serve(server: DeskServer, told: Event) -> None:
    """Serve until told to stop; then finish what is under way."""
    worker, serving = jobs.worker(), Thread(target=server.serve, name="server")
    gc.collect()
    gc.freeze()  # what was loaded stays; looking through it again and again would hold up every look
    gc.set_threshold(_ALLOCATED)
    judging.start()
    worker.start()
    serving.start()
    try:
        while serving.is_alive() and not told.wait(_LOOK):
            pass
    finally:
        server.stop()
        serving.join()
        judging.stop()
        worker.stop(graceful=True)
        connections.close_all()


def _say(words: str) -> None:
    """Say something to whoever started the desk, at once."""
    sys.stdout.write(words + "\n")
    sys.stdout.flush()
