"""The same quilt family drawn by a plain script: shapely offsets, ezdxf files, hand-made SVG, a list of cuts.

It knows nothing but the quilt's figures: no units, no checks, no sewing order. It is what a maker who
programs would write instead, and what tests/bench/run times the compiler against.
Usage: plain.py OUT
"""

import csv
import json
import pathlib
import sys

import ezdxf
from shapely.geometry import Polygon

SIZES = {"as-drawn": (1760, 1180), "short": (1630, 1030), "regular": (1760, 1180), "long": (1900, 1260)}


def pieces(stature, girth):
    long, wide = stature + 80, girth + 220
    narrow = wide - 300
    inset, over = (wide - narrow) / 2, 0.45 * long
    shell = [(inset, 0), (wide - inset, 0), (wide, over), (wide, long), (0, long), (0, over)]
    yield "shell", 2, shell, 12
    yield "sheet", 1, shell, 12
    for name, edge in (("neck_cord", wide), ("foot_cord", narrow)):
        yield name, 1, [(0, 0), (edge - 50, 0), (edge - 50, 30), (0, 30)], 12


def path(points):
    return "M" + "L".join(f"{x:.3f} {-y:.3f}" for x, y in points) + "Z"


def build(folder, stature, girth):
    folder.mkdir(parents=True, exist_ok=True)
    document = ezdxf.new("R12")
    space = document.modelspace()
    left, rows, drawn, data = 0, [], [], []
    for name, count, outline, allowance in pieces(stature, girth):
        finished = Polygon(outline)
        cut = finished.buffer(allowance, join_style="mitre", mitre_limit=4)
        x0, y0, x1, y1 = cut.bounds
        shift = lambda points: [(x - x0 + left, y - y0) for x, y in points]
        for layer, figure in (("CUT", cut), ("STITCH", finished)):
            space.add_polyline2d(shift(figure.exterior.coords[:-1]), close=True, dxfattribs={"layer": layer})
        space.add_text(name, height=20, dxfattribs={"layer": "TEXT"}).set_placement((left + 50, 50))
        svg = f'<g><path class="cut" d="{path(shift(cut.exterior.coords[:-1]))}"/><path class="stitch" d="{path(shift(outline))}"/></g>'
        drawn.append(svg)
        (folder / f"{name}.svg").write_text(f'<svg xmlns="http://www.w3.org/2000/svg">{svg}</svg>')
        rows.append([name, count, round(x1 - x0, 1), round(y1 - y0, 1), round(cut.area, 1)])
        data.append({"name": name, "finished": list(finished.exterior.coords), "cut": list(cut.exterior.coords), "area": cut.area})
        left += x1 - x0 + 50
    document.saveas(folder / "cutter.dxf")
    (folder / "pieces.svg").write_text(f'<svg xmlns="http://www.w3.org/2000/svg">{"".join(drawn)}</svg>')
    (folder / "geometry.json").write_text(json.dumps(data, indent=2))
    with open(folder / "cut-list.csv", "w", newline="") as file:
        csv.writer(file).writerows(rows)


out = pathlib.Path(sys.argv[1])
for size, figures in SIZES.items():
    build(out / size, *figures)
