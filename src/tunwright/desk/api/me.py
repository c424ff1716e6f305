"""The asker's own preferences and password."""

from __future__ import annotations

from typing import Literal

from django.conf import settings
from django.contrib.auth import update_session_auth_hash
from django.middleware.csrf import get_token
from pydantic import Field

from tunwright.desk.accounts import address_of, change_password
from tunwright.desk.api.route import Call, route
from tunwright.desk.api.shapes import Asked, Given, Nothing
from tunwright.desk.preferences import prefer, preferences
from tunwright.desk.refusal import Refusal

Units = Literal["metric", "us", "order"]
Theme = Literal["auto", "light", "dark"]


class Prefer(Asked):
    """Preferences to keep; what is left out stays."""

    units: Units | None = None
    theme: Theme | None = None


class Me(Given):
    """Who asks, and what they prefer."""

    owner: str
    accounts: bool = Field(description="Whether the desk has accounts.")
    units: Units
    theme: Theme


def _me(owner: str) -> Me:
    units, theme = preferences(owner)
    return Me.model_validate({"owner": owner, "accounts": settings.PLACE.lan, "units": units, "theme": theme})


@route("GET", "/api/me", answers=Me)
def me(call: Call) -> Me:
    """Who asks, and what they prefer. Sets the cookie csrftoken, which requests that change something repeat."""
    get_token(call.request)
    return _me(call.owner)


@route("PUT", "/api/me", asks=Prefer, answers=Me)
def preferred(call: Call) -> Me:
    """Keep preferences."""
    prefer(call.owner, units=call.body.units, theme=call.body.theme)
    return _me(call.owner)


class NewPassword(Asked):
    """The password so far, and the one to be."""

    old: str = Field(max_length=200)
    new: str = Field(max_length=200)


@route("PUT", "/api/me/password", asks=NewPassword, answers=Nothing)
def password(call: Call) -> Nothing:
    """Change one's own password; only where the desk has accounts."""
    if not settings.PLACE.lan:
        raise Refusal(400, "This desk has no accounts, so there is no password to change.")
    change_password(call.request.user, call.body.old, call.body.new, address=address_of(call.request))
    update_session_auth_hash(call.request, call.request.user)
    return Nothing()
