"""Tunwright: the build desk of a workshop that turns a bare truck chassis into a water carrier."""

from __future__ import annotations

__version__ = "0.1.0"
