"""Frames for cutters, read by ezdxf and measured by shapely.

Kerf: published guides to the kerf of lasers give the example that with a kerf of 0.2 mm a rectangle drawn 2.0 by 4.0 comes out 1.8 by 3.8
as a part and 2.2 by 4.2 as a hole, so that for 2.0 by 4.0 one draws 2.2 by 4.2 and 1.8 by 3.8. Overcut of 1 mm and knives whose tip
trails by a fraction of a millimetre: makers of drag knives. The rest is common practice, no source.
"""

import math
import re

import ezdxf
import ezdxf.path
import pytest
from shapely.affinity import rotate, scale, translate
from shapely.geometry import LineString, Point, Polygon
from shapely.ops import unary_union

from harness import build_text, resolved
from shapes import polygon
from test_plotter import millimetres, strokes

KERF = 0.2

SOURCE = """
use std.finishes {{ rolled_hem }}
use std.shapes {{ circle, rectangle, tapered_rectangle }}

cutter machine is {kind} "Machine" {{
  bed_length = {length} mm  bed_width = {width} mm
  {figures}
  overlap = 24 mm
  draw folds, marks on layer "PEN" colour 5
  cut holes, notches on layer "INNER" colour 3
  cut outlines on layer "OUTER" colour 1
}}

design trial {{
  material cloth is cloth "Cloth" {{ width = 5 m  laser = yes  source = "memory" }}
  cut cloth with machine

  panel plate {{
    cut 1 of cloth
    shape {{
      start (0 mm, 0 mm)
      edge foot  line to (200 mm, 0 mm)
      edge right line to (200 mm, 400 mm)
      edge head  line to (0 mm, 400 mm)
      edge left  line to start
    }}
    allow 0 mm
    raw foot, right, head, left because "as cut"
    hole window = rectangle(width: 20 mm, height: 40 mm) at (60 mm, 80 mm)
    hole port   = circle(diameter: 30 mm) at (140 mm, 300 mm)
    grain along left
  }}

  panel wing {{
    cut 3 mirrored of cloth
    shape {{
      start (0 mm, 0 mm)
      edge foot  line to (310 mm, 30 mm)
      edge right arc to (250 mm, 640 mm) rise 35 mm
      edge head  hung to (20 mm, 600 mm) sag 22 mm
      edge left  line to start
    }}
    allow 10 mm
    allow 14 mm on head
    finish left with rolled_hem(width: 9 mm)
    raw foot, right, head because "a trial"
    notch right at 12 cm from foot
    notch left at 70 mm from head
    mark line fold from (80 mm, 90 mm) to (120 mm, 500 mm)
    grain along left
  }}

  step look inspect "Look at it"
}}
"""

MACHINES = {
    "laser": ("laser", "kerf = 0.2 mm"),
    "knife": ("knife", "offset = 0.5 mm  overcut = 1.5 mm"),
    "blade": ("blade", ""),
}
BEDS = [(900, 700), (500, 400), (310, 230), (170, 900)]


def made(tmp_path, machine, bed):
    kind, figures = MACHINES[machine]
    text = SOURCE.format(kind=kind, figures=figures, length=bed[0], width=bed[1]).replace("cut 3 mirrored", "cut 4 mirrored")
    [(path, design)] = build_text(text, tmp_path / f"{machine}-{bed[0]}").items()
    return path.parent / "cut", design


class Frame:
    """A frame as its file holds it."""

    def __init__(self, path):
        self.path = path
        self.doc = ezdxf.readfile(path)
        self.items = []
        for entity in self.doc.modelspace():
            if entity.dxftype() == "TEXT":
                continue
            flat = [(p.x, p.y) for p in ezdxf.path.make_path(entity).flattening(0.0005)]
            self.items.append((entity.dxf.layer, LineString(flat), entity))

    def on(self, *layers):
        return [line for layer, line, _ in self.items if layer in layers]

    def crosses(self):
        return {(round(c.centroid.x, 3), round(c.centroid.y, 3)) for c in self.on("CROSSES")}


def frames(folder):
    return [Frame(path) for path in sorted(folder.glob("*.dxf"))]


def told(folder):
    """[(stem, [what is on it])] as the page says."""
    page = (folder / "machine.txt").read_text(encoding="utf-8")
    found = re.findall(r"^ +\d+\. (machine_\d+)\.dxf.*\n +(.*(?:\n +(?! |Mark|Lay|Nothing|cut|drawn|tool).*)*)", page, re.M)
    return [(stem, " ".join(what.split())) for stem, what in found]


def laid(piece, mirrored):
    """The cut line as it lies on the bed, its warp along x."""
    figure = polygon(piece["cut_line"])
    angle = math.degrees(piece["grain"]["angle"])
    if mirrored:
        figure, angle = scale(figure, xfact=-1, origin=(0, 0)), 180 - angle
    return rotate(figure, -angle, origin=(0, 0))


def widened(figure, by):
    return figure.buffer(by, join_style="mitre", mitre_limit=5) if by else figure


def at_origin(figure):
    x, y, _, _ = figure.bounds
    return translate(figure, -x, -y)


def same(one, other, within):
    one, other = at_origin(one), at_origin(other)
    return one.hausdorff_distance(other) < within and abs(one.length - other.length) < within


@pytest.mark.parametrize("machine", MACHINES)
@pytest.mark.parametrize("bed", BEDS)
def test_every_frame_is_sound_and_on_its_bed(tmp_path, machine, bed):
    folder, _ = made(tmp_path, machine, bed)
    all_frames = frames(folder)
    assert all_frames
    for frame in all_frames:
        audit = frame.doc.audit()
        assert not audit.errors and not audit.fixes, frame.path
        order = ["CROSSES", "PEN", "INNER", "OUTER"]
        layers = [order.index(layer) for layer, _, _ in frame.items]
        assert layers == sorted(layers), f"{frame.path}: passes out of order"
        for layer, line, _ in frame.items:
            x0, y0, x1, y1 = line.bounds
            assert min(x0, y0) > -0.001 and x1 < bed[0] + 0.001 and y1 < bed[1] + 0.001, f"{frame.path} {layer}"
        assert {layer.dxf.name: layer.dxf.color for layer in frame.doc.layers}.items() >= {"PEN": 5, "INNER": 3, "OUTER": 1}.items()
        assert frame.path.with_suffix(".plt").exists() == (machine != "laser")


@pytest.mark.parametrize("machine", MACHINES)
@pytest.mark.parametrize("bed", BEDS)
def test_no_line_is_cut_twice(tmp_path, machine, bed):
    folder, _ = made(tmp_path, machine, bed)
    for frame in frames(folder):
        cuts = frame.on("INNER", "OUTER")
        for i, a in enumerate(cuts):
            for b in cuts[i + 1 :]:
                shared = a.buffer(0.005).intersection(b).length
                assert shared < 0.05, f"{frame.path}: {shared} mm in common"


def test_a_kerf_is_made_up_for_outside_and_inside(tmp_path):
    folder, design = made(tmp_path, "laser", (900, 700))
    outer = [line for frame in frames(folder) for line in frame.on("OUTER")]
    inner = [line for frame in frames(folder) for line in frame.on("INNER")]
    closed = [item for frame in frames(folder) for layer, _, item in frame.items if layer == "OUTER"]
    assert all(entity.is_closed for entity in closed)
    plate, wing = design["pieces"]
    # Ten and a hundred times the published example: 20 by 40 and 200 by 400, a kerf of 0.2.
    sizes = {tuple(round(v, 4) for v in (line.bounds[2] - line.bounds[0], line.bounds[3] - line.bounds[1])) for line in outer + inner}
    assert (400.2, 200.2) in sizes and (39.8, 19.8) in sizes, sizes
    port = next(line for line in inner if abs(line.bounds[2] - line.bounds[0] - 29.8) < 0.001)
    assert Polygon(port).area == pytest.approx(math.pi * 14.9**2, rel=1e-4)
    found = [Polygon(line) for line in outer]
    for piece in (plate, wing):
        for copy in piece["copies"]:
            wanted = widened(laid(piece, copy["mirrored"]), KERF / 2)
            fits = [f for f in found if same(f.exterior, wanted.exterior, 0.02)]
            assert fits, piece["name"]
            found.remove(fits[0])
    assert not found, "cut too often"


def test_arcs_stay_arcs(tmp_path):
    folder, _ = made(tmp_path, "laser", (900, 700))
    bulges = [v.dxf.bulge for f in frames(folder) for layer, _, e in f.items if layer == "OUTER" for v in e.vertices if v.dxf.get("bulge", 0)]
    assert bulges, "the wing's side is an arc"


@pytest.mark.parametrize("machine", ["blade", "knife", "laser"])
@pytest.mark.parametrize("bed", BEDS)
def test_frames_put_together_are_the_pieces(tmp_path, machine, bed):
    folder, design = made(tmp_path, machine, bed)
    by_stem = {frame.path.stem: frame for frame in frames(folder)}
    parted = {}
    for stem, what in told(folder):
        match = re.fullmatch(r"(.*): frame (\d+) of (\d+)", what)
        if match:
            parted.setdefault((match[1], int(match[3])), []).append(by_stem[stem])
    step = (bed[0] - 24, bed[1] - 24)
    checked = 0
    for (name, count), own in parted.items():
        assert len(own) == count
        piece = next(p for p in design["pieces"] if name.startswith(p["label"]))
        wanted = laid(piece, "mirrored" in name)
        rows = 1 if wanted.bounds[3] - wanted.bounds[1] < bed[1] - 1 else math.ceil((wanted.bounds[3] - wanted.bounds[1] - 24) / step[1])
        assert count % rows == 0
        placed = {}
        for index, frame in enumerate(own):
            column, row = divmod(index, rows)
            placed[column, row] = (frame, column * step[0], row * step[1])
        # Neighbours have their crosses at the same places of the piece.
        moved = lambda at: {(round(x + at[1], 2), round(y + at[2], 2)) for x, y in at[0].crosses()}
        for column, row in placed:
            for beside in ((column + 1, row), (column, row + 1)):
                if beside in placed:
                    assert len(moved(placed[column, row]) & moved(placed[beside])) >= 2, f"{name} {column} {row}"
        bits = [translate(line, dx, dy) for frame, dx, dy in placed.values() for line in frame.on("OUTER")]
        total = sum(bit.length for bit in bits)
        ring = widened(wanted, KERF / 2 if machine == "laser" else 0).exterior
        if machine == "knife":
            # Each break is gone over once, by the overcut.
            past = (total - ring.length) / 1.5
            assert past == pytest.approx(round(past), abs=0.1) and round(past) >= len(bits) - len(own)
            whole = unary_union(bits)
        else:
            assert total == pytest.approx(ring.length, abs=0.1), name
            # Every end lies on one other end, so that the bits make one closed line.
            ends = [end for bit in bits if not bit.is_ring for end in (bit.coords[0], bit.coords[-1])]
            for i, end in enumerate(ends):
                assert sum(math.dist(end, other) < 0.002 for j, other in enumerate(ends) if j != i) == 1, name
            whole = unary_union(bits)
        assert at_origin(whole).hausdorff_distance(at_origin(ring)) < 0.1, name
        checked += 1
    assert checked or bed == (900, 700)


def test_a_knife_goes_past_its_start(tmp_path):
    folder, design = made(tmp_path, "knife", (900, 700))
    outer = [line for frame in frames(folder) for line in frame.on("OUTER")]
    lengths = sorted(laid(p, c["mirrored"]).exterior.length for p in design["pieces"] for c in p["copies"])
    for line, ring in zip(sorted(outer, key=lambda l: l.length), lengths):
        assert line.length == pytest.approx(ring + 1.5, abs=0.05)
        assert line.interpolate(line.length - 1.5).distance(Point(line.coords[0])) < 0.02
        # It starts on a straight, a blade's offset and more from any corner.
        before, after = line.interpolate(line.length - 1.5 - 20), line.interpolate(20)
        assert LineString([before, after]).distance(Point(line.coords[0])) < 1e-3


def test_travel_is_what_the_page_says(tmp_path):
    folder, _ = made(tmp_path, "blade", (900, 700))
    page = (folder / "machine.txt").read_text(encoding="utf-8")
    said = re.findall(r"tool up ([\d.]+) (mm|cm|m)\b", page)
    scales = {"mm": 1, "cm": 10, "m": 1000}
    for frame, (figure, unit) in zip(frames(folder), said, strict=True):
        at, travel = (0.0, 0.0), 0.0
        for layer, line, entity in frame.items:
            if layer == "CROSSES":
                continue
            travel += math.dist(at, line.coords[0])
            at = line.coords[-1]
        assert travel == pytest.approx(float(figure) * scales[unit], abs=1), frame.path
        cuts = frame.on("INNER", "OUTER")
        # Better than the order in which a careless list has them: pieces from right to left.
        worst = sorted(cuts, key=lambda l: -l.coords[0][0])
        assert travel < 4 * sum(math.dist(a.coords[-1], b.coords[0]) for a, b in zip(worst, worst[1:])) + 2000


@pytest.mark.parametrize("bed", BEDS)
def test_plotter_files_hold_the_same_cuts(tmp_path, bed):
    folder, _ = made(tmp_path, "knife", bed)
    for frame in frames(folder):
        drawn, _ = strokes(frame.path.with_suffix(".plt").read_text(encoding="ascii"))
        pens = [pen for pen, _ in drawn]
        assert pens == sorted(pens)
        outer = frame.on("OUTER")
        if not outer:
            continue
        mine = [LineString(millimetres(points)) for pen, points in drawn if pen == (4 if frame.crosses() else 3)]
        assert len(mine) == len(outer)
        for a, b in zip(mine, outer):
            assert a.hausdorff_distance(b) < 0.06


def test_frames_of_the_examples(examples):
    seen = 0
    for out in examples.values():
        for path, design in resolved(out).items():
            for file in sorted((path.parent / "cut").glob("*.dxf")):
                frame = Frame(file)
                audit = frame.doc.audit()
                assert not audit.errors and not audit.fixes, file
                seen += 1
            hand = (path.parent / "cutter.dxf").read_text(encoding="ascii")
            assert "OUTER" not in hand, "files for scissors know nothing of cutters"
    assert seen >= 4


NOTCHED = """
use std.shapes { rectangle }

cutter machine is laser "Machine" {
  bed_length = 400 mm  bed_width = 400 mm  kerf = 1 mm
  cut notches on layer "INNER" colour 3
  cut outlines on layer "OUTER" colour 1
}

design trial {
  material cloth is cloth "Cloth" { width = 5 m  laser = yes  source = "memory" }
  cut cloth with machine
  accept finer-than-cutter because "one notch is"

  panel plate {
    cut 1 of cloth
    shape rectangle(width: 200 mm, height: 300 mm)
    allow 12 mm
    raw foot, right, head, left because "as cut"
    notch left at 40 mm from foot
    notch left at 80 mm from foot as tee
    notch left at 120 mm from foot as vee
    notch left at 160 mm from foot as castle
    notch left at 200 mm from foot as check
    notch left at 240 mm from foot as u
    notch right at 150 mm from foot as castle deep 0.8 mm
    grain along left
  }
  step look inspect "Look at it"
}
"""


def test_what_a_laser_leaves_is_the_piece_with_its_notches(tmp_path):
    """The burn of every line, half a kerf to either side, taken out of the bed."""
    (design,) = build_text(NOTCHED, tmp_path).values()
    (path,) = resolved(tmp_path / "out")
    lines = [line for frame in frames(path.parent / "cut") for line in frame.on("INNER", "OUTER")]
    burnt = unary_union([line.buffer(0.5, quad_segs=32) for line in lines])
    bed = Polygon([(-10, -10), (410, -10), (410, 410), (-10, 410)])
    left = max((p for p in bed.difference(burnt).geoms if not p.touches(bed.boundary)), key=lambda p: p.area)
    # On the bed its warp runs along x, the head to the right: the panel's left edge, its allowance and all, lies at the far side.
    left = translate(left, -left.bounds[0] - 12, -left.bounds[1])
    assert left.bounds[2] + 12 == pytest.approx(324, abs=1e-3) and left.bounds[3] == pytest.approx(224, abs=1e-3)
    far = 224

    def gone(x):
        return 60 - left.intersection(Polygon([(x - 5, far - 6), (x + 5, far - 6), (x + 5, far), (x - 5, far)])).area

    # Slit: 5 deep and as wide as the burn, its end round. The bar of a tee as long as it is deep, 4 + 1 with round ends.
    corner = 0.25 * (1 - math.pi / 4)
    slit = 5 - 2 * corner
    assert gone(40) == pytest.approx(slit, abs=0.01)
    assert gone(80) == pytest.approx(4 + 5 - 4 * corner, abs=0.01)
    # Where sides meet inside at an angle a, a round burn leaves r² (1 / tan (a / 2) - (pi - a) / 2).
    left_by = lambda angle: 0.25 * (1 / math.tan(angle / 2) - (math.pi - angle) / 2)
    assert gone(120) == pytest.approx(12.5 - left_by(2 * math.atan(0.5)), abs=0.01)
    assert gone(160) == pytest.approx(25 - 2 * corner, abs=0.01)
    assert gone(200) == pytest.approx(12.5 - left_by(math.atan(1)), abs=0.01)
    assert gone(240) == pytest.approx(12.5 + math.pi * 2.5**2 / 2, abs=0.01)
    # Narrower than the burn: as deep as it is drawn, as wide as the burn.
    near = left.intersection(Polygon([(145, 0), (155, 0), (155, 6), (145, 6)]))
    assert 60 - near.area == pytest.approx(0.8 - 2 * corner, abs=0.01)
    assert min(near.exterior.distance(Point(150, y)) for y in (0.8, 0.79, 0.81)) < 0.011
