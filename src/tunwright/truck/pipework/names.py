"""Names of what the network of a pipework has besides the points and parts of its build file."""

from __future__ import annotations


def air(spray: str) -> str:
    """Name of the free air behind a spray or an open end.

    spray: its name
    """
    return f"air at {spray}"


def main(point: str) -> str:
    """Name of the main behind a hydrant.

    point: the point it is coupled at
    """
    return f"main at {point}"


def hydrant(point: str) -> str:
    """Name of what water passes from the main to where a hydrant is coupled.

    point: the point it is coupled at
    """
    return f"hydrant at {point}"


def fall(point: str) -> str:
    """Name of where water falls to from a mouth that stands above it.

    point: its name
    """
    return f"under {point}"
