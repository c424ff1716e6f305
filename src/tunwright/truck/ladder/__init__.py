"""The ladder frame under the tank: rails, cross-members, subframe, mounts and axles as one elastic frame.

- `known`      what has to be known, and what is missing
- `sections`   sections of rails, cross-members and subframe
- `stations`   where along the frame something happens
- `structure`  nodes, beams and mounts
- `running`    axles, springs and tyres
- `weights`    what weighs, and where it hangs
- `cases`      what the frame is tried with
- `ladder`     all of it put together: forces in mounts, springs and beams
- `stress`     stresses in the rails and the subframe
"""
