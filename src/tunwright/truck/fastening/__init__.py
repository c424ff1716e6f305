"""How tank and subframe are fastened: forces at the mounts, on their bolts and in their welds.

- `held`        which ways a mount holds, and how stiffly
- `securing`    the brim-full tank as a stiff body on its mounts, thrown forwards, sideways, up and down
- `sides`       forces on each side of each mount in all cases, those of the frame model beside them
- `pattern`     the bolts of one side as a group in the rail's web
- `tightening`  torque and the range of preload it gives
- `resist`      what one bolt can bear
- `joint`       bolts in the web: shear and pull of each, and what part of its resistance they use
- `clamp`       U-bolts round rail and subframe
- `weld`        the welds of a bracket's plate
"""
