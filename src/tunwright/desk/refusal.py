"""What the desk says no to, in a sentence, with what may help to put it right."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import Any

from tunwright.build.problems import Problem


class Refusal(Exception):
    """A request that cannot be met.

    status: 400 wrong, 401 not let in, 404 not there, 409 somebody was faster, 413 too large, 415 another kind
    words: why, as a sentence
    problems: what is wrong in a build file or a request
    extra: what else the answer carries, such as the draft as it stands
    """

    def __init__(
        self, status: int, words: str, *, problems: Sequence[Problem] = (), extra: Mapping[str, Any] | None = None
    ) -> None:
        super().__init__(words)
        self.status, self.words = status, words
        self.problems, self.extra = tuple(problems), dict(extra or {})
