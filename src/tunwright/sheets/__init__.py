"""What leaves the workshop office: drawings and charts, each described once and written by several writers.

Where to find what:

- `drawing`   the entities of a drawing, in metres of the real thing, and a worked example of their use
- `layers`    line weights, dashes, colours and fills, each with its meaning
- `layout`    extents, choice of a standard scale, several views side by side, `compose`
- `svg`       a drawing as SVG, for paper or for a page that recolours it
- `dxf`       a drawing as DXF in millimetres, 1:1, with real dimensions
- `chart`     a chart description, its SVG and its table
- `views`     the vehicle from the side, from behind and from above, and the general arrangement
- `figures`   the charts of a build: loads over the water, loads over the place of the tank, dip chart
- `dips`      the dip table
- `output`    the drawings of a build as files

The other modules serve these: `geometry` (arcs, moving), `lettering` (text boxes), `placing` (do boxes and lines meet),
`annotate` (dimensions, gauges and marks into lines), `settle` (dimension texts that must move), `pen` (SVG elements).
"""
