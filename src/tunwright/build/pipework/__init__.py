"""The pipework of a build file: what a person writes about points, pipes, pump, outlets and duties."""

from tunwright.build.pipework.duties import Duty, Throttled
from tunwright.build.pipework.outlets import Overflow, Spray, Vent
from tunwright.build.pipework.points import Hydrant, Point
from tunwright.build.pipework.pump import AtRest, CurvePoint, Drive, Pump
from tunwright.build.pipework.runs import Corner, Device, PipeRun, Regulator, Relief, Valve
from tunwright.build.pipework.wetted import Wetted
from tunwright.build.pipework.whole import Frost, Pipework, Sender

__all__ = [
    "AtRest",
    "Corner",
    "CurvePoint",
    "Device",
    "Drive",
    "Duty",
    "Frost",
    "Hydrant",
    "Overflow",
    "PipeRun",
    "Pipework",
    "Point",
    "Pump",
    "Regulator",
    "Relief",
    "Sender",
    "Spray",
    "Throttled",
    "Valve",
    "Vent",
    "Wetted",
]
