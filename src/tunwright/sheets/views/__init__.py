"""The truck's own drawings: side view, rear view, plan, and the sheet that carries all three.

side = side_view(assessment, state=state)      # entities, in metres
drawing = general_arrangement(assessment)      # a finished sheet
"""

from tunwright.sheets.views.plan import plan_view
from tunwright.sheets.views.rear import rear_view
from tunwright.sheets.views.sheet import general_arrangement
from tunwright.sheets.views.side import side_view

__all__ = ["general_arrangement", "plan_view", "rear_view", "side_view"]
