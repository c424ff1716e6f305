"""Drawings of the loaded frame and of how it is mounted.

Where to find what:

- `chosen`     which case at which fill is drawn; why nothing can be
- `cases`      the cases as rows of a table
- `diagrams`   moment, shear and stress under the side view: one case, or the envelope of all
- `twisted`    the frame in its worst twist, exaggerated, in an `oblique` view
- `mounting`   the mounting sheet
- `hole_sheets` the sheets of the holes, and the `web` true to size for the DXF
- `holes`      the holes to be drilled, and where none may be
- `sheets`     the sheets of the loaded frame in their frames
- `files`      all of it as SVG, DXF and PDF

The other modules serve these: `quantities` and `panel` (a diagram), `envelope`, `side`, `mount_marks`, `mounting_view`,
`ordinates`, `framed` (a view with tables, notes and title block).
"""
