"""Accounts of a desk that is open to the network: logging in, leaving, making an account."""

from __future__ import annotations

import math
import secrets
import time
from collections import deque
from threading import Lock
from typing import Any

from django.conf import settings
from django.contrib.auth import get_user_model, views
from django.contrib.auth.password_validation import validate_password
from django.core.exceptions import ValidationError
from django.http import Http404, HttpRequest, HttpResponse
from django.views.decorators.http import require_POST

from tunwright.build.problems import Problem
from tunwright.desk.refusal import Refusal

TRIES, WITHIN = 5, 300.0
"""Failed log-ins let through from one address within so many seconds."""
FIRST = "lead"
"""Name of the account made when a desk first opens to the network."""


class Tries:
    """Counts wrong passwords by address."""

    def __init__(self) -> None:
        self._lock, self._at = Lock(), dict[str, deque[float]]()

    def wait(self, address: str) -> float:
        """How long an address must wait [s], because it has failed too often lately; 0 where it need not.

        address: of the other machine
        """
        now = time.monotonic()
        with self._lock:
            kept = [t for t in self._at.pop(address, ()) if t > now - WITHIN]
            if kept:
                self._at[address] = deque(kept, maxlen=TRIES)
            return kept[0] + WITHIN - now if len(kept) >= TRIES else 0.0

    def failed(self, address: str) -> None:
        """Count one.

        address: of the other machine
        """
        with self._lock:
            self._at.setdefault(address, deque(maxlen=TRIES)).append(time.monotonic())


FAILED = Tries()


def _patience(seconds: float) -> str:
    """What somebody is told who must wait [s]."""
    minutes = math.ceil(seconds / 60)
    several = "s" if minutes > 1 else ""
    return f"Too many wrong passwords came from this device. Try again in {minutes} minute{several}."


def address_of(request: HttpRequest) -> str:
    """Address of the machine that asks.

    request: the request
    """
    return str(request.META.get("REMOTE_ADDR", ""))


class _Login(views.LoginView):
    """The page to log in; context: form (username, password, errors), next, words (why nobody is let in now)."""

    template_name = "desk/login.html"

    def dispatch(self, request: HttpRequest, *args: Any, **kwargs: Any) -> HttpResponse:
        """Only where there are accounts, and not for whoever guesses."""
        if not settings.PLACE.lan:
            raise Http404
        wait = FAILED.wait(address_of(request)) if request.method == "POST" else 0.0
        if wait:
            given = self.get_context_data(form=self.get_form_class()(), words=_patience(wait))
            return self.render_to_response(given, status=429, headers={"Retry-After": str(math.ceil(wait))})
        return super().dispatch(request, *args, **kwargs)

    def form_invalid(self, form: Any) -> HttpResponse:
        """Count the failure."""
        FAILED.failed(address_of(self.request))
        return super().form_invalid(form)


login = _Login.as_view()
logout = require_POST(views.LogoutView.as_view())


def set_account(name: str, password: str | None = None) -> str:
    """Make an account, or give one a new password; returns the password. Refusal for a name or password that is bad.

    name: letters, digits and @ . + - _
    password: the password, None makes one
    """
    users = get_user_model()
    user = users.objects.filter(username=name).first() or users(username=name)
    password = password or secrets.token_urlsafe(12)
    try:
        user.full_clean(exclude=("password",))
        validate_password(password, user)
    except ValidationError as error:
        raise Refusal(400, " ".join(error.messages)) from None
    user.set_password(password)
    user.save()
    return password


def change_password(user: Any, old: str, new: str, *, address: str) -> None:
    """Change a user's own password. Refusal, which names `old` or `new`, where one of the two will not do.

    user: the user
    old: password so far
    new: password to be
    address: of the machine that asks; it must wait after too many wrong ones
    """
    wait = FAILED.wait(address)
    if wait:
        raise Refusal(429, _patience(wait))
    if not user.check_password(old):
        FAILED.failed(address)
        raise _refused("old", "The present password is not right.")
    if new == old:
        raise _refused("new", "The new password is the present one.")
    try:
        set_account(user.get_username(), new)
    except Refusal as error:
        raise _refused("new", error.words) from None
    user.refresh_from_db()


def _refused(field: str, words: str) -> Refusal:
    """A refusal that names the field it is about, without what was typed there."""
    return Refusal(400, words, problems=(Problem(None, field, "", words, "", ""),))


def first_account() -> str | None:
    """The password of the first account, made where there is none yet."""
    return None if get_user_model().objects.exists() else set_account(FIRST)
