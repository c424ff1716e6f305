"""Load states in words, with the lifted axles by name."""

from __future__ import annotations

from dataclasses import replace

from tunwright.truck.states import LoadState
from tunwright.truck.truck import Truck


def lifted_words(truck: Truck, stance: int) -> str:
    """Which axles are lifted: "rear axle lifted"; empty where none is.

    truck: the truck
    stance: index of the choice of lifted axles
    """
    names = [truck.axles.axle[i].called.removeprefix("the ") for i in truck.axles.stances[stance].lifted]
    return f"{' and '.join(names)} lifted" if names else ""


def state_words(truck: Truck, state: LoadState) -> str:
    """A load state as a person would say it.

    truck: the truck
    state: the state
    """
    lifted = lifted_words(truck, state.stance)
    return ", ".join(part for part in (replace(state, stance=0).words, lifted) if part)


def named(truck: Truck, words: str) -> str:
    """A state said without the names of its lifted axles, with them where only one choice can be meant.

    truck: the truck
    words: the state in words
    """
    choices = [said for i in range(1, len(truck.axles.stances)) if (said := lifted_words(truck, i))]
    return words.replace("axles lifted", choices[0]) if len(choices) == 1 else words
