"""Accounts of a desk that is open to the network: logging in, leaving, making an account."""

from __future__ import annotations

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

from tunwright.desk.refusal import Refusal

TRIES, WITHIN = 10, 300.0
"""Failed log-ins let through from one address within so many seconds."""
FIRST = "lead"
"""Name of the account made when a desk first opens to the network."""


class Tries:
    """Counts failed log-ins by address."""

    def __init__(self) -> None:
        self._lock, self._at = Lock(), dict[str, deque[float]]()

    def many(self, address: str) -> bool:
        """Whether an address has failed too often lately.

        address: of the other machine
        """
        with self._lock:
            kept = [t for t in self._at.get(address, ()) if t > time.monotonic() - WITHIN]
            self._at[address] = deque(kept, maxlen=TRIES)
            if not kept:
                del self._at[address]
            return len(kept) >= TRIES

    def failed(self, address: str) -> None:
        """Count one.

        address: of the other machine
        """
        with self._lock:
            self._at.setdefault(address, deque(maxlen=TRIES)).append(time.monotonic())


FAILED = Tries()


class _Login(views.LoginView):
    """The page to log in; context: form (username, password, errors), next."""

    template_name = "desk/login.html"

    def dispatch(self, request: HttpRequest, *args: Any, **kwargs: Any) -> HttpResponse:
        """Only where there are accounts, and not for whoever guesses."""
        if not settings.PLACE.lan:
            raise Http404
        if request.method == "POST" and FAILED.many(request.META.get("REMOTE_ADDR", "")):
            return HttpResponse("Too many failed log-ins. Wait five minutes.\n", status=429, content_type="text/plain")
        return super().dispatch(request, *args, **kwargs)

    def form_invalid(self, form: Any) -> HttpResponse:
        """Count the failure."""
        FAILED.failed(self.request.META.get("REMOTE_ADDR", ""))
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


def change_password(user: Any, old: str, new: str) -> None:
    """Change a user's own password. Refusal where the old one is wrong or the new one is bad.

    user: the user
    old: password so far
    new: password to be
    """
    if not user.check_password(old):
        raise Refusal(400, "The present password is not right.")
    set_account(user.get_username(), new)
    user.refresh_from_db()


def first_account() -> str | None:
    """The password of the first account, made where there is none yet."""
    return None if get_user_model().objects.exists() else set_account(FIRST)
