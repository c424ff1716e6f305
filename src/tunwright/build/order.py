"""What the customer wants, and the states the build is tried in."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Literal

from tunwright.build.base import Table, Wrong, as_far_as_known, key
from tunwright.build.fields import Braking, Bump, Density, Person, Rest, Size, Slope, Text, Volume
from tunwright.build.problems import nearest
from tunwright.build.typed import listed, quoted
from tunwright.build.units import Quantity
from tunwright.tables.read import rule_set_names

Use = Literal["dust suppression", "potable", "fire support", "irrigation", "general"]


class Order(Table):
    """The order: what is wanted and by which rules it is judged."""

    title: Text = key("what the job is called", example='"Site water carrier, north quarry"')
    number: Text | None = key("job number", None, example='"J-0142"')
    customer: Text | None = key("who ordered it", None, example='"Quarry works"')
    date: Text | None = key("date of the order", None, example='"2026-03-14"')
    use: Use = key("what the water is for", "general", example='"dust suppression"')
    volume: Volume | None = key("what the customer calls the capacity", None)
    volume_means: Literal["gross", "net", "usable"] = key("which capacity that is", "net", example='"net"')
    terrain: Literal["paved", "unpaved", "off-road"] = key("where it runs", "paved", example='"unpaved"')
    rules: list[Text] = key("rule sets it is judged by", ["ratings-only"], example='["eu-96-53"]', min_length=1)
    units: Literal["metric", "us"] = key("units of the printed sheets", "metric", example='"metric"')

    def wrongs(self) -> Iterator[Wrong]:
        """Rule sets that do not exist."""
        return as_far_as_known(*(self._rule_set(i) for i in range(len(self.rules))))

    def _rule_set(self, i: int) -> Iterator[Wrong]:
        known, name = rule_set_names(), self.rules[i]
        if name not in known:
            message = "There is no rule set of this name."
            allowed = listed([quoted(one) for one in known])
            yield Wrong(("rules", i), message, quoted(name), allowed, quoted(nearest(name, known) or known[0]))


class States(Table):
    """The states the build is tried in, and the shop's own values for this job."""

    grade: Slope | None = key("slope along the road it is tried on, nose up and nose down", None)
    side_slope: Slope | None = key("slope across the road it is tried on, each side", None, example='"5 %"')
    braking: Braking | None = key("deceleration it is tried at", None)
    ullage: Rest | None = key("air space left at net fill where the tank has no overflow lip", None)
    heel: Rest | None = key(
        "part of the net volume that stays in a tank without a stated outlet", None, example='"1 %"'
    )
    liquid_density: Density = key("density of the liquid", Quantity(1000.0, "1000 kg/m3", "density"))
    crew_mass: Person | None = key("mass of a person where none is stated", None)
    bump: Bump | None = key("vertical load on rough ground, gravity included", None)
    cornering: Braking | None = key("sideways acceleration the frame is tried at", None, example='"0.3 g"')
    wheel_lift: Size | None = key("height of the kerb or rut one wheel stands on", None, example='"200 mm"')
    emptying: list[list[Text]] = key(
        "orders in which compartments are emptied, by their names",
        [],
        example='[["rear", "middle", "front"]]',
        max_length=40,
    )
