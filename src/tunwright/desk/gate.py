"""Who is let in: on this machine whoever has the one-time key, in the network whoever has an account."""

from __future__ import annotations

import secrets
from collections.abc import Callable
from threading import Lock
from urllib.parse import urlencode

from django.conf import settings
from django.core import signing
from django.http import HttpRequest, HttpResponse, HttpResponseRedirect
from django.shortcuts import render

from tunwright.desk.api.route import refused
from tunwright.desk.refusal import Refusal

COOKIE = "tunwright_key"
KEPT = 30 * 24 * 3600
"""How long a browser that came in by key stays let in [s]."""
ALONE = "desk"
"""Owner of what is done without accounts."""
_SALT = "tunwright.desk.gate"
_OPEN = ("/login", "/health")


class Keys:
    """The one-time key; when one is used the next is made and told.

    tell: called with every key made after the first
    """

    def __init__(self) -> None:
        self._lock, self._key = Lock(), secrets.token_urlsafe(24)
        self.tell: Callable[[str], None] = lambda _: None

    @property
    def key(self) -> str:
        """The key that opens next."""
        return self._key

    def use(self, given: str) -> bool:
        """Whether a key opens; if so it never will again.

        given: the key
        """
        with self._lock:
            if not secrets.compare_digest(given.encode(), self._key.encode()):
                return False
            self._key = secrets.token_urlsafe(24)
        self.tell(self._key)
        return True


KEYS = Keys()


def gate(get_response: Callable[[HttpRequest], HttpResponse]) -> Callable[[HttpRequest], HttpResponse]:
    """Middleware: nobody passes who was not let in; sets `request.owner`.

    get_response: what comes after
    """

    def middleware(request: HttpRequest) -> HttpResponse:
        if request.path in _OPEN:
            request.owner = ""
            return get_response(request)
        stopped = _by_account(request) if settings.PLACE.lan else _by_key(request)
        return get_response(request) if stopped is None else stopped

    return middleware


def _by_key(request: HttpRequest) -> HttpResponse | None:
    request.owner = ALONE
    if "key" in request.GET and request.method == "GET" and KEYS.use(request.GET["key"]):
        return _let_in(request)
    if _has_cookie(request):
        return _without_key(request) if "key" in request.GET and request.path == "/" else None
    words = "That key has been used already, or it is not the key of this desk." if "key" in request.GET else ""
    if request.path.startswith("/api/"):
        return refused(Refusal(401, "Not let in: open the address with its key that the desk printed when it started."))
    return render(request, "desk/enter.html", {"words": words}, status=401)


def _let_in(request: HttpRequest) -> HttpResponse:
    response = _without_key(request)
    value = signing.dumps(ALONE, salt=_SALT)
    response.set_cookie(COOKIE, value, max_age=KEPT, httponly=True, samesite="Lax", secure=request.is_secure())
    return response


def _without_key(request: HttpRequest) -> HttpResponse:
    """The same address without its key, so that it stays in no history."""
    rest = request.GET.copy()
    del rest["key"]
    path = "/" + request.path.lstrip("/\\")
    return HttpResponseRedirect(f"{path}?{rest.urlencode()}" if rest else path)


def _has_cookie(request: HttpRequest) -> bool:
    try:
        return bool(signing.loads(request.COOKIES.get(COOKIE, ""), salt=_SALT, max_age=KEPT) == ALONE)
    except signing.BadSignature:
        return False


def _by_account(request: HttpRequest) -> HttpResponse | None:
    if request.user.is_authenticated:
        request.owner = request.user.get_username()
        return None
    request.owner = ""
    if request.path.startswith("/api/"):
        return refused(Refusal(401, "Not let in: log in at /login first."))
    return HttpResponseRedirect(f"{settings.LOGIN_URL}?{urlencode({'next': request.get_full_path()})}")
