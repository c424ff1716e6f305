"""All lists of the pipework, in the order they are printed in."""

from __future__ import annotations

from tunwright.build.kind import System
from tunwright.checks.assess import Assessment
from tunwright.sheets.pipework.cutting.lists import cutting_lists
from tunwright.sheets.pipework.dosing import dosing_list
from tunwright.sheets.pipework.emergency import emergency_list
from tunwright.sheets.pipework.flows import asked, findings_of, plumbed
from tunwright.sheets.pipework.frost import frost_list
from tunwright.sheets.pipework.jets import jet_list
from tunwright.sheets.pipework.listing import Listing
from tunwright.sheets.pipework.lists import fitting_list, line_list, valve_list
from tunwright.sheets.pipework.materials import material_list
from tunwright.sheets.pipework.plate import operating_plate
from tunwright.sheets.pipework.pump_test import pump_test
from tunwright.sheets.pipework.road.engines import engine_list
from tunwright.sheets.pipework.road.load import permitted
from tunwright.sheets.pipework.road.spreading import spreading_list
from tunwright.sheets.pipework.sender import sender_list

_WHERE_FILLED = ("bends", "flanges", "bolting", "cutting", "emergency", "jets", "frost", "dosing")
"""Lists that are left out where they hold nothing."""


def pipework_lists(assessment: Assessment, system: System) -> tuple[Listing, ...]:
    """All lists of the pipework. Raises ValueError where the build has none.

    assessment: the assessment
    system: "metric" or "us"
    """
    plumbing, duties, allowed = plumbed(assessment), asked(assessment, None), permitted(assessment)
    found = (
        line_list(plumbing, system),
        valve_list(plumbing, system),
        fitting_list(plumbing, system),
        *cutting_lists(plumbing, system),
        material_list(plumbing, system),
        operating_plate(plumbing, duties, findings_of(assessment), allowed, system),
        emergency_list(plumbing, duties, system),
        jet_list(plumbing, duties, system),
        spreading_list(duties, allowed, system),
        engine_list(duties, plumbing, system),
        frost_list(plumbing, system),
        pump_test(plumbing, duties),
        sender_list(assessment),
        dosing_list(assessment),
    )
    return tuple(one for one in found if one.rows or one.key not in _WHERE_FILLED)
