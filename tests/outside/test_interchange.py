"""Pattern interchange after ASTM D6673, read back by a general-purpose DXF library and measured by shapely.

The layers' numbers and the keywords are from memory of the standard, not read in it.
"""

import csv
import math

import ezdxf
import pytest
from shapely.geometry import LineString, Point, Polygon

from harness import build_text, resolved
from shapes import polygon

#: Two places nearer than this (mm) are one.
SAME = 1e-3
#: A curve's chords stray by 0.02 mm; what lies on the curve lies so near the chord.
CHORD = 0.025
KNOWN = {"1", "2", "3", "4", "7", "8", "11", "13", "14", "15", "80", "81", "82", "83"}


def texts(entities, layer):
    return [e.dxf.text for e in entities if e.dxftype() == "TEXT" and e.dxf.layer == layer]


def said(entities):
    """{keyword: value} of the texts on layer 1."""
    found = {}
    for text in texts(entities, "1"):
        keyword, value = text.split(": ", 1)
        assert keyword not in found, f"{keyword} is said twice"
        found[keyword] = value
    return found


def polylines(block, layer):
    return [e for e in block if e.dxftype() == "POLYLINE" and e.dxf.layer == layer]


def corners(polyline):
    """Vertices, the repeated first of a closed line left out."""
    points = [(v.dxf.location.x, v.dxf.location.y) for v in polyline.vertices]
    if polyline.is_closed:
        assert points[0] == points[-1], "a closed line also ends with its first vertex"
        points.pop()
    return points


def points(block, layer):
    return [(e.dxf.location.x, e.dxf.location.y) for e in block if e.dxftype() == "POINT" and e.dxf.layer == layer]


def cells(all_points):
    """Points by square of a grid, so that near ones are found without trying all."""
    grid = {}
    for p in all_points:
        grid.setdefault((math.floor(p[0]), math.floor(p[1])), []).append(p)
    return grid


def near(grid, p):
    x, y = math.floor(p[0]), math.floor(p[1])
    found = (q for i in (x - 1, x, x + 1) for j in (y - 1, y, y + 1) for q in grid.get((i, j), ()))
    return [q for q in found if math.dist(p, q) <= SAME]


def pieces_of(document):
    """Blocks that are pieces: all but the library's own two spaces."""
    return [b for b in document.blocks if not b.name.startswith("*")]


def load(path):
    document = ezdxf.readfile(path)
    auditor = document.audit()
    assert not auditor.errors and not auditor.fixes, path
    return document


def size_name(design):
    return design["size"] or design["size_title"]


@pytest.fixture(scope="module")
def files(examples):
    """Every interchange file with the designs it must hold: each size's own, and the one of all sizes."""
    found = []
    for out in examples.values():
        designs = resolved(out)
        for path, design in designs.items():
            found.append((path.parent / "pattern.dxf", [(path.parent, design)]))
        found.append((out / "pattern.dxf", [(path.parent, d) for path, d in designs.items()]))
    assert len(found) >= 4 * 4
    return found


def blocks_with_pieces(files):
    """(where, block, folder, design, piece) of every block of every file."""
    for path, designs in files:
        blocks = {(s["PIECE NAME"], s["SIZE"]): b for b in pieces_of(load(path)) for s in [said(b)]}
        for folder, design in designs:
            for piece in design["pieces"]:
                block = blocks.pop((piece["name"], size_name(design)))
                yield f"{path} {block.name}", block, folder, design, piece
        assert not blocks, f"{path}: blocks of no piece: {list(blocks)}"


def boundary(block):
    [outline] = polylines(block, "1")
    assert outline.is_closed
    return Polygon(corners(outline))


def test_every_block_has_an_outline_a_grain_line_and_its_texts(files):
    seen = 0
    for where, block, _, design, piece in blocks_with_pieces(files):
        outline = boundary(block)
        assert outline.is_valid and outline.exterior.is_ccw, where
        [grain] = [e for e in block if e.dxftype() == "LINE" and e.dxf.layer == "7"]
        line = LineString([grain.dxf.start.vec2, grain.dxf.end.vec2])
        assert line.length > 1 and outline.covers(line), where
        if piece["grain"]["angle"] is not None:
            lies = math.atan2(grain.dxf.end.y - grain.dxf.start.y, grain.dxf.end.x - grain.dxf.start.x)
            assert math.sin(lies - piece["grain"]["angle"]) == pytest.approx(0, abs=1e-4), where
        words = said(block)
        assert words["QUANTITY"] == str(len(piece["copies"])), where
        assert words["MATERIAL"].isascii() and words["MATERIAL"], where
        mirrored = sum(c["mirrored"] for c in piece["copies"])
        assert ("mirrored" in words["ANNOTATION"]) == (mirrored > 0), where
        assert {e.dxf.layer for e in block} <= KNOWN, where
        seen += 1
    assert seen >= 80


def test_one_insert_a_block_and_one_block_a_piece_and_size(files):
    for path, designs in files:
        document = load(path)
        names = [b.name for b in pieces_of(document)]
        inserted = [e.dxf.name for e in document.modelspace().query("INSERT")]
        assert sorted(names) == sorted(inserted), path
        assert len(names) == sum(len(design["pieces"]) for _, design in designs), path
        assert all(len(n) <= 31 and " " not in n for n in names), path
        style = said(document.modelspace())
        assert style["STYLE NAME"] == designs[0][1]["name"], path
        assert style["UNITS"] == "METRIC", path
        assert style["SAMPLE SIZE"] in {size_name(design) for _, design in designs}, path
        # As inserted, no piece lies on another.
        boxes = []
        for insert in document.modelspace().query("INSERT"):
            outline = next(e for e in insert.virtual_entities() if e.dxftype() == "POLYLINE" and e.dxf.layer == "1")
            boxes.append(Polygon([(v.dxf.location.x, v.dxf.location.y) for v in outline.vertices]).envelope)
        assert not any(a.intersects(b) for i, a in enumerate(boxes) for b in boxes[i + 1 :]), path


def test_every_vertex_is_either_a_turn_or_on_a_curve(files):
    curved = 0
    for where, block, *_ in blocks_with_pieces(files):
        turns, curves = points(block, "2"), points(block, "3")
        turn_cells, curve_cells = cells(turns), cells(curves)
        vertices = {layer: [p for line in polylines(block, layer) for p in corners(line)] for layer in ("1", "8", "11", "14")}
        for p in [p for layer in vertices.values() for p in layer]:
            assert len(near(turn_cells, p)) + len(near(curve_cells, p)) == 1, f"{where} {p}"
        every = cells([p for layer in vertices.values() for p in layer])
        assert all(near(every, p) for p in turns + curves), f"{where}: a point on no vertex"
        assert turns, where
        curved += bool(curves)
    assert curved >= 10


def test_an_outline_turns_where_it_has_a_corner(files):
    for where, block, _, _, piece in blocks_with_pieces(files):
        line = piece["cut_line"]
        if all(s["kind"] == "line" for s in line["segments"]):
            turns = cells(points(block, "2"))
            assert all(near(turns, (s["end"]["x"], s["end"]["y"])) for s in line["segments"]), where


def test_notches_lie_on_the_outline_and_the_rest_inside(files):
    notches = inside = 0
    for where, block, _, _, piece in blocks_with_pieces(files):
        outline = boundary(block)
        found = points(block, "4")
        assert len(found) == len(piece["notches"]), where
        for (x, y), notch in zip(found, piece["notches"]):
            assert math.dist((x, y), (notch["point"]["x"], notch["point"]["y"])) < SAME, where
            assert outline.exterior.distance(Point(x, y)) < CHORD, where
            notches += 1
        room = outline.buffer(CHORD)
        lines = [p for layer in ("8", "14", "11") for line in polylines(block, layer) for p in corners(line)]
        for p in lines + points(block, "13"):
            assert room.covers(Point(p)), f"{where} {p}"
            inside += 1
        assert len(polylines(block, "11")) == len(piece["holes"]), where
    assert notches > 20 and inside > 400


def test_the_file_is_release_12_in_plain_ascii(files):
    for path, _ in files:
        raw = path.read_bytes()
        assert max(raw) < 128, path
        lines = raw.decode("ascii").splitlines()
        pairs = [(code.strip(), value) for code, value in zip(lines[::2], lines[1::2])]
        kinds = {value for code, value in pairs if code == "0"}
        assert kinds <= {"SECTION", "ENDSEC", "EOF", "BLOCK", "ENDBLK", "INSERT", "POLYLINE", "VERTEX", "SEQEND", "LINE", "POINT", "TEXT"}, path
        sections = [pairs[i + 1][1] for i, pair in enumerate(pairs) if pair == ("0", "SECTION")]
        assert sections == ["HEADER", "BLOCKS", "ENTITIES"], path
        assert "CREATION" not in raw.decode("ascii"), path


def test_areas_are_those_of_the_cut_list(files):
    seen = 0
    for where, block, folder, _, piece in blocks_with_pieces(files):
        with open(folder / "cut-list.csv", newline="", encoding="utf-8") as table:
            listed = {row["piece"]: float(row["cut_area_mm2"]) for row in csv.DictReader(table)}
        holes = sum(Polygon(corners(hole)).area for hole in polylines(block, "11"))
        assert boundary(block).area - holes == pytest.approx(listed[piece["name"]], rel=1e-3), where
        seen += 1
    assert seen >= 80


def test_outlines_are_the_cut_lines(files):
    for where, block, _, _, piece in blocks_with_pieces(files):
        assert boundary(block).exterior.hausdorff_distance(polygon(piece["cut_line"]).exterior) < CHORD, where


def test_holes_notches_and_point_marks_come_through(tmp_path):
    text = """use std.shapes { rectangle, circle }
design given {
  material plain is cloth "Größe ½ — 50 g/m²" { mass = 50 g/m2  width = 150 cm  source = "memory" }
  panel it {
    cut 2 mirrored of plain as left, right
    shape rectangle(width: 200 mm, height: 120 mm)
    allow 10 mm
    raw foot, right, head, left because "a sample"
    notch foot at 50 mm from left
    notch foot at 100 mm from left as tee
    notch right at 20 mm from foot as castle deep 4 mm
    notch right at 60 mm from foot as check
    notch head at quarters as double u
    notch left at middle as vee
    mark drill lug at (100 mm, 60 mm)
    mark point chalk at (120 mm, 60 mm)
    mark line fold from (20 mm, 30 mm) to (180 mm, 30 mm)
  }
  panel disc {
    cut 1 of plain
    shape circle(diameter: 150 mm)
    allow 10 mm
    raw rim because "a sample"
  }
  step look inspect "Look at it"
}
"""
    design = next(iter(build_text(text, tmp_path).values()))
    document = load(tmp_path / "out" / "pattern.dxf")
    it, ring = pieces_of(document)
    # Layers of notches by their form: 4 slit and vee, 80 tee, 81 castle, 82 check, 83 u (from memory of the standard).
    assert points(it, "4") == [(50.0, -10.0), (-10.0, 60.0)]
    assert points(it, "80") == [(100.0, -10.0)] and points(it, "81") == [(210.0, 20.0)] and points(it, "82") == [(210.0, 60.0)]
    # Mouths of 5 mm with 3 mm of cloth between, about 50, 100 and 150 mm.
    assert sorted(x for x, _ in points(it, "83")) == [46.0, 54.0, 96.0, 104.0, 146.0, 154.0]
    # Only what is drilled is a hole; a point to chalk is a cross of two lines.
    assert points(it, "13") == [(100.0, 60.0)]
    strokes = {frozenset(corners(p)) for p in polylines(it, "8")}
    fold = frozenset([(20.0, 30.0), (180.0, 30.0)])
    cross = {frozenset([(117.0, 60.0), (123.0, 60.0)]), frozenset([(120.0, 57.0), (120.0, 63.0)])}
    assert strokes == {fold} | cross
    words = said(it)
    assert words["QUANTITY"] == "2" and "1 mirrored" in words["ANNOTATION"] and "right" in words["ANNOTATION"]
    assert words["MATERIAL"] == "Grosse 1/2 - 50 g/m2"
    # A circle has no corner: its lines start with their only turn, and have all other points on layer 3.
    assert len(points(ring, "2")) == 2 and len(points(ring, "3")) > 100
    assert boundary(ring).area == pytest.approx(math.pi * 85**2, rel=1e-3)
    assert len(design["pieces"]) == 2
