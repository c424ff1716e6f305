"""What every answer carries, so that a page runs nothing but the desk's own scripts and no other page frames it."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any, NoReturn

from django.core.files.uploadhandler import FileUploadHandler, StopUpload
from django.http import HttpRequest, HttpResponse

POLICY = (
    "default-src 'self'; img-src 'self' data: blob:; object-src 'none'; base-uri 'none'; form-action 'self'; "
    "frame-ancestors 'self'"
)
_ALWAYS = {
    "Content-Security-Policy": POLICY,
    "X-Content-Type-Options": "nosniff",
    "X-Frame-Options": "SAMEORIGIN",
    "Referrer-Policy": "same-origin",
    "Cross-Origin-Opener-Policy": "same-origin",
    "Cross-Origin-Resource-Policy": "same-origin",
}


def headers(get_response: Callable[[HttpRequest], HttpResponse]) -> Callable[[HttpRequest], HttpResponse]:
    """Middleware: refuse names the desk does not answer to, add the headers, keep answers out of shared caches.

    get_response: what comes after
    """

    def middleware(request: HttpRequest) -> HttpResponse:
        request.get_host()
        response = get_response(request)
        for name, value in _ALWAYS.items():
            response.headers.setdefault(name, value)
        response.headers.setdefault("Cache-Control", "no-store")
        return response

    return middleware


class NoFiles(FileUploadHandler):
    """The desk takes texts in JSON; files in forms are not read at all."""

    def new_file(self, *_: Any, **__: Any) -> NoReturn:
        """Stop."""
        raise StopUpload(connection_reset=True)

    def receive_data_chunk(self, raw_data: bytes, start: int) -> bytes:
        """Never reached: `new_file` stops first."""
        return raw_data

    def file_complete(self, file_size: int) -> None:
        """No file."""
