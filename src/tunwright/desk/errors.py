"""Pages for what went wrong: a sentence and an id that stands in the log, never a trace."""

from __future__ import annotations

import logging
import secrets
import sys

from django.core.exceptions import DisallowedHost, RequestDataTooBig
from django.db import OperationalError
from django.http import HttpRequest, HttpResponse
from django.shortcuts import render

from tunwright.desk.api.route import NO_DATABASE, refused
from tunwright.desk.refusal import Refusal

log = logging.getLogger("tunwright.desk")
_BARE = "<!doctype html><meta charset=utf-8><title>{title}</title><h1>{title}</h1><p>{words}</p><p>{id}</p>"


def _said(request: HttpRequest, status: int, title: str, words: str) -> HttpResponse:
    """The page, or for the API the answer."""
    if request.path.startswith("/api/"):
        return refused(Refusal(status, words))
    context = {"title": title, "words": words, "id": secrets.token_hex(4)}
    if status >= 500:
        log.error("%s: %s %s", context["id"], request.method, request.path, exc_info=sys.exc_info())
    else:
        log.info("%s: %s %s %s", context["id"], status, request.method, request.path)
    try:
        return render(request, "desk/error.html", context, status=status)
    except Exception:
        log.exception("%s: the error page itself", context["id"])
        return HttpResponse(_BARE.format(**context), status=status)


def wrong(request: HttpRequest, exception: Exception | None = None) -> HttpResponse:
    """400: the request cannot be met.

    request: the request
    exception: why
    """
    if isinstance(exception, DisallowedHost):
        words = (
            "The desk does not answer to the name in this address. Use the address it printed when it started; more "
            "names are given with TUNWRIGHT_HOSTS."
        )
        return _said(request, 400, "Another address", words)
    if isinstance(exception, RequestDataTooBig):
        return _said(request, 413, "Too large", "The request is too large: at most 2.5 MB are taken.")
    return _said(request, 400, "That cannot be read", "The request cannot be read. Go back and try again.")


def forbidden(request: HttpRequest, exception: Exception | None = None) -> HttpResponse:  # noqa: ARG001  # Django hands it over
    """403: not allowed.

    request: the request
    exception: why
    """
    return _said(request, 403, "Not allowed", "That is not allowed here.")


def forged(request: HttpRequest, **_: object) -> HttpResponse:
    """403: the request does not carry the mark of a page of the desk.

    request: the request
    """
    words = "The request did not come from a page of this desk, or the page is too old. Load the page again."
    return _said(request, 403, "Load the page again", words)


def missing(request: HttpRequest, exception: Exception | None = None) -> HttpResponse:  # noqa: ARG001  # Django hands it over
    """404: there is nothing at the address.

    request: the request
    exception: why
    """
    return _said(request, 404, "Nothing there", "There is nothing at this address. Go back to the builds.")


def failed(request: HttpRequest) -> HttpResponse:
    """500: something nobody foresaw; 503 where the database does not answer.

    request: the request
    """
    if isinstance(sys.exc_info()[1], OperationalError):
        request.owner = ""  # whose preferences stand in the database
        return _said(request, 503, "No database", NO_DATABASE)
    words = (
        "Something went wrong here that nobody foresaw. What was saved is safe. The id stands in the log of the desk."
    )
    return _said(request, 500, "Something went wrong", words)
