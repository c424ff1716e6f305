"""Why a drawing gives no outline."""

from __future__ import annotations


class OutlineRefused(ValueError):
    """A drawing that gives no outline; the message says what was found, what is allowed and what to do."""
