"""Starting the desk: what it is to do goes into the environment, then `running` puts it up.

Nothing here may touch Django before the environment stands.
"""

from __future__ import annotations

import os
from pathlib import Path

import django

from tunwright.desk import tls
from tunwright.desk.database import reach
from tunwright.desk.place import DATA, HOSTS, LAN, place, prepare

PORT = 8321


def serve(
    port: int = PORT,
    data: Path | None = None,
    *,
    open_browser: bool = True,
    lan: bool = False,
    cert: Path | None = None,
    key: Path | None = None,
) -> None:
    """Run the desk until it is told to stop. Raises ValueError or OSError, with a sentence, where it cannot start.

    port: port it listens at, 0 for any that is free
    data: folder of its data, None for the usual one
    open_browser: open the browser where there is one
    lan: open to the network, with accounts and HTTPS; else to this machine alone
    cert: certificate for HTTPS, PEM; None makes one
    key: its key, PEM
    """
    if (cert or key) and not lan:
        raise ValueError("A certificate is for a desk that is open to the network: add --lan.")
    environment(data, lan=lan)
    certificate = _certificate(cert, key) if lan else None
    django.setup()
    from tunwright.desk import running  # noqa: PLC0415  # Django must be set up before

    running.run(port, certificate, open_browser=open_browser)


def environment(data: Path | None = None, *, lan: bool = False) -> None:
    """Say in the environment what the settings read, and make the data folder.

    data: folder of the data, None for what the environment says, else the usual one
    lan: open to the network
    """
    os.environ["DJANGO_SETTINGS_MODULE"] = "tunwright.desk.settings"
    os.environ[LAN] = "1" if lan else "0"
    if data is not None:
        os.environ[DATA] = str(data.expanduser().resolve())
    if lan:
        named = [host.strip() for host in os.environ.get(HOSTS, "").split(",") if host.strip()]
        os.environ[HOSTS] = ",".join(dict.fromkeys([*named, *tls.local_names()]))
    prepare(place())


def _certificate(cert: Path | None, key: Path | None) -> tls.Certificate:
    """The certificate given, else the desk's own."""
    found = tls.given(cert, key)
    return found or tls.made(place().data, place().hosts)


def account(name: str, data: Path | None = None) -> str:
    """Make an account, or give one a new password, which is returned. Refusal where the name is bad.

    name: letters, digits and @ . + - _
    data: folder of the desk's data, None for the usual one
    """
    environment(data, lan=True)
    django.setup()
    from tunwright.desk import accounts, running  # noqa: PLC0415  # Django must be set up before

    running.ready()
    return accounts.set_account(name)


def restored(source: Path, data: Path | None = None) -> Path | None:
    """Put a backup in the database's place; the desk must be stopped. Returns what stood there, kept as a backup.

    source: the backup
    data: folder of the desk's data, None for the usual one
    """
    environment(data, lan=False)
    django.setup()
    from tunwright.desk.backup import restore  # noqa: PLC0415  # Django must be set up before

    if place().database_url:
        reach(place())
    return restore(place(), source)
