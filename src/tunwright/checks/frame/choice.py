"""Choosing: for a frame whose stresses fail, the lightest reinforcement or subframe with which all of them hold.

What may be put on stands in `tables/reinforcements.toml`; how it is searched in `frame_search`.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

from tunwright.build.edit import with_value, without
from tunwright.build.shown import show, show_number
from tunwright.checks.assess import Assessment
from tunwright.checks.finding import TINY
from tunwright.checks.frame.candidate import Change, bare
from tunwright.checks.frame.frame import Framework
from tunwright.checks.frame.load import stress_limits
from tunwright.checks.frame.search import Progress, Search, Tried
from tunwright.truck.truck import Truck

KEYS = ("frame-rail-rest", "frame-rail", "frame-subframe")
"""Findings about stress that a choice cures."""

_NOTHING = "Nothing in the table of reinforcements and subframes suits this frame."


@dataclass(frozen=True)
class Choice:
    """What a choice came to.

    found: the lightest way that holds, None where there is none or none is needed
    changes: what writes it into the build file, in order
    tried: all that was tried, lightest first
    share: greatest stress over its limit as it stands, planned reinforcements left out [-]
    needed: something is over its limit
    why: why nothing could be tried, in a sentence
    unlined: why no reinforcement of the rails was tried, in a sentence; empty where some were, or none was called for
    missing: keys to give before anything can be chosen; `why` names them too
    """

    found: Tried | None = None
    changes: tuple[Change, ...] = ()
    tried: tuple[Tried, ...] = ()
    share: float = 0.0
    needed: bool = True
    why: str = ""
    unlined: str = ""
    missing: tuple[str, ...] = ()

    @property
    def best(self) -> Tried | None:
        """The way tried that came nearest."""
        return min(self.tried, key=lambda one: (one.share, one.mass), default=None)


def choice(base: Assessment, progress: Progress | None = None, *, on_flange: bool = False, most: int = 200) -> Choice:
    """The lightest reinforcement, subframe or both with which all stresses of the frame hold.

    base: the assessment of the build
    progress: called with the part done and what is being tried
    on_flange: the maker allows holes or welds in the rails' flanges
    most: ways that are tried at most
    """
    frame, limits = base.framework, stress_limits(base.build)
    if frame.missing or limits is None:
        missing = frame.missing or ("chassis.frame.yield_strength",)
        return Choice(why=unchosen(missing), missing=missing)
    if frame.trouble:
        return Choice(why=f"{frame.trouble} Nothing can be chosen before that is put right.")
    plain = bare(base.build)
    start = frame if plain is base.build else Framework(Truck(plain))
    search = Search(base, start, on_flange=on_flange, progress=progress)
    if search.share <= 1.0 + TINY:
        return Choice(share=search.share, needed=False)
    found = search.run(most)
    tried = tuple(sorted(search.tried, key=lambda one: one.mass))
    changes = () if found is None else tuple(found.candidate.changes(base.build))
    return Choice(found, changes, tried, search.share, why="" if tried else _NOTHING, unlined=search.unlined)


def unchosen(what: Iterable[str]) -> str:
    """Why nothing can be chosen, in a sentence.

    what: what is missing: keys, or their words
    """
    return f"Nothing can be chosen before these are given: {'; '.join(what)}."


def written(text: str, changes: tuple[Change, ...]) -> str:
    """A build file with what was chosen.

    text: the build file
    changes: of a choice made for it
    """
    for one in changes:
        text = without(text, one.path) if one.value is None else with_value(text, one.path, one.value)
    return text


def told(made: Tried, key: str) -> str:
    """What to do and what comes of it.

    made: a way that was tried
    key: of the finding it is for
    """
    units = made.after.build.order.units
    said = f"{made.words}, {show(made.mass, 'mass', system=units, digits=0)}"
    after = next((f for f in made.after.findings if f.key == key), None)
    if after is None or after.value is None or after.limit is None:
        return said
    stress = show(after.value * 1e6, "stress", system=units)
    return f"{said}: then the worst stress is {stress}, {show_number(100 * after.value / after.limit)} % of the limit"
