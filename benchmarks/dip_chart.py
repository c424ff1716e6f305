"""The dip chart against slicing with shapely at equal accuracy: `python benchmarks/dip_chart.py`.

Both find the litres at 101 levels of the same dished, rounded tank on a 5 % grade. Shapely cuts the tank into slices
across x and clips each at the level; its number of slices and of outline points is raised until its error, against a
very fine run of ours, is no larger than a millionth of the whole. Prints times, errors and the ratio.
"""

from __future__ import annotations

import time

import numpy as np
import shapely
import shapely.affinity

from tunwright.handbook.bodies import Cap, Run
from tunwright.handbook.heads import dish
from tunwright.handbook.liquid import wet_volume
from tunwright.handbook.outline import Outline, rounded_box

LENGTH, GRADE, LEVELS = 5.0, 0.05, np.linspace(0.0, 1.4, 101)


def section() -> Outline:
    return rounded_box(
        width=2.3, height=1.3, top_radius=4.0, side_radius=2.2, bottom_radius=4.0, top_corner=0.35, bottom_corner=0.35
    )


def ours() -> np.ndarray:
    outline = section()
    head = dish(area=outline.area, depth=0.12)
    bodies = [
        Run(outline, 0.0, LENGTH),
        Cap(outline, head, 0.0, -1.0, outline.centroid),
        Cap(outline, head, LENGTH, 1.0, outline.centroid),
    ]
    return wet_volume(bodies, c=LEVELS - GRADE * LENGTH / 2, a=np.full(len(LEVELS), GRADE))[0]


def sliced(slices: int, thin: int) -> np.ndarray:
    outline = section()
    head = dish(area=outline.area, depth=0.12)
    full = shapely.Polygon(outline.points[::thin])
    y, z = outline.centroid
    per_head = max(8, slices // 4)
    cuts = [((i + 0.5) * LENGTH / slices, LENGTH / slices, 1.0) for i in range(slices)]
    distance, scale = head.meridian(points=2 * per_head + 1)
    for i in range(1, len(distance), 2):
        width = distance[i + 1] - distance[i - 1]
        cuts += [(-distance[i], width, scale[i]), (LENGTH + distance[i], width, scale[i])]
    out = np.zeros(len(LEVELS))
    for x, width, k in cuts:
        cut = shapely.affinity.scale(full, k, k, origin=(y, z))
        tops = LEVELS - GRADE * LENGTH / 2 + GRADE * x
        out += width * shapely.area(shapely.intersection(cut, shapely.box(-9.0, -9.0, 9.0, tops)))
    return out


def timed(job, *args):
    best, value = 1e9, None
    for _ in range(5):
        start = time.perf_counter()
        value = job(*args)
        best = min(best, time.perf_counter() - start)
    return best, value


def main() -> None:
    seconds, volumes = timed(ours)
    reference = sliced(3000, 1)
    whole = volumes[-1]
    off = np.abs(volumes - reference).max() / whole
    print(
        f"tunwright: {1e3 * seconds:.2f} ms for {len(LEVELS)} levels, off the finest slicing by {off:.1e} of the whole"
    )
    for slices in (50, 100, 200, 400, 800):
        took, found = timed(sliced, slices, 1)
        error = np.abs(found - reference).max() / whole
        times = took / seconds
        print(
            f"shapely, {slices:4} slices: {1e3 * took:7.1f} ms, error {error:.1e} of the whole, {times:6.0f} times ours"
        )


if __name__ == "__main__":
    main()
