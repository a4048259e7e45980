"""Every piece of every example and size, recomputed by shapely from what was written and compared with the resolved geometry.

Lengths agree to 0.1 mm and areas to 0.01 %.
"""

import math
import pathlib
import xml.etree.ElementTree as ET

import ezdxf
import ezdxf.path
import pytest
from shapely.geometry import LineString, Point, Polygon

from harness import build_text, resolved
from shapes import line, points, polygon, svg_polygon

SVG = "{http://www.w3.org/2000/svg}"
MM, PART = 0.1, 1e-4


def everything(examples):
    for out in examples.values():
        for path, design in resolved(out).items():
            yield path.parent, design


def outline(piece):
    found = []
    for edge in piece["edges"]:
        found.extend(points(edge["path"]))
    return Polygon(found)


def net(piece, figure):
    return figure.area - sum(polygon(h["path"]).area for h in piece["holes"])


def test_lengths_areas_and_boxes_of_the_resolved_geometry(examples):
    seen = 0
    for folder, design in everything(examples):
        for piece in design["pieces"]:
            where = f"{folder} {piece['name']}"
            finished, cut = outline(piece), polygon(piece["cut_line"])
            assert finished.is_valid and cut.is_valid, where
            assert finished.exterior.is_ccw and cut.exterior.is_ccw, where
            assert net(piece, finished) == pytest.approx(piece["finished"]["area"], rel=PART), where
            assert net(piece, cut) == pytest.approx(piece["cut"]["area"], rel=PART), where
            for figure, box in ((finished, piece["finished"]), (cut, piece["cut"])):
                x0, y0, x1, y1 = figure.bounds
                assert x1 - x0 == pytest.approx(box["width"], abs=MM), where
                assert y1 - y0 == pytest.approx(box["height"], abs=MM), where
            for edge in piece["edges"]:
                assert line(edge["path"]).length == pytest.approx(edge["length"], abs=MM), f"{where}.{edge['name']}"
                seen += 1
    assert seen > 100


def test_the_cut_line_lies_one_allowance_off_every_edge(examples):
    seen = 0
    for folder, design in everything(examples):
        for piece in design["pieces"]:
            cut = polygon(piece["cut_line"])
            for edge in piece["edges"]:
                curve = line(edge["path"])
                # Far from the ends, where a neighbour's allowance may be narrower or a fold mirrors the side.
                room = 4 * max(e["allowance"] for e in piece["edges"]) + 5
                if curve.length < 2.5 * room:
                    continue
                for part in (0.3, 0.5, 0.7):
                    at = curve.interpolate(part, normalized=True)
                    near = min(room, curve.length * 0.2)
                    ahead, behind = curve.interpolate(curve.project(at) + near), curve.interpolate(curve.project(at) - near)
                    if min(at.distance(ahead), at.distance(behind)) < near * 0.5:
                        continue
                    distance = cut.exterior.distance(at)
                    assert distance == pytest.approx(edge["allowance"], abs=0.05), f"{folder} {piece['name']}.{edge['name']}"
                    seen += 1
    assert seen > 100


def test_one_allowance_all_round_is_shapelys_mitred_buffer(examples):
    seen = 0
    for folder, design in everything(examples):
        for piece in design["pieces"]:
            allowances = {round(e["allowance"], 6) for e in piece["edges"]}
            straight = all(s["kind"] == "line" for e in piece["edges"] for s in e["path"]["segments"])
            folded = any(e["finish"] and e["finish"]["folds"] for e in piece["edges"])
            if len(allowances) != 1 or folded or not straight:
                continue
            expected = outline(piece).buffer(allowances.pop(), join_style="mitre", mitre_limit=4)
            cut = polygon(piece["cut_line"])
            assert cut.symmetric_difference(expected).area < PART * expected.area, f"{folder} {piece['name']}"
            seen += 1
    assert seen >= 8


def groups(root, cls):
    return [g for g in root.iter(f"{SVG}g") if g.get("class") == cls]


def test_svg_pieces_have_the_areas_and_lengths_of_the_resolved_geometry(examples):
    seen = 0
    for folder, design in everything(examples):
        for piece in design["pieces"]:
            root = ET.parse(folder / "pieces" / f"{piece['name']}.svg").getroot()
            assert root.get("width") == f"{root.get('viewBox').split()[2]}mm"
            body = groups(root, "piece")
            assert len(body) == 1
            closed = {}
            for cls in ("cut", "stitch"):
                ds = [p.get("d") for g in groups(body[0], cls) for p in g.iter(f"{SVG}path")]
                closed[cls] = max((svg_polygon(d) for d in ds if d.rstrip().endswith("Z")), key=lambda p: p.area)
            where = f"{folder} {piece['name']}"
            cut = polygon(piece["cut_line"])
            assert closed["cut"].area == pytest.approx(cut.area, rel=PART), where
            assert closed["cut"].length == pytest.approx(cut.length, abs=MM), where
            assert closed["stitch"].area == pytest.approx(outline(piece).area, rel=PART), where
            assert closed["stitch"].length == pytest.approx(sum(e["length"] for e in piece["edges"]), abs=MM), where
            seen += 1
    assert seen >= 30


def dxf_polygon(entity):
    path = ezdxf.path.make_path(entity)
    return Polygon([(v.x, v.y) for v in path.flattening(0.001)])


def test_dxf_loads_clean_and_measures_the_same(examples):
    seen = 0
    for folder, design in everything(examples):
        document = ezdxf.readfile(folder / "cutter.dxf")
        auditor = document.audit()
        assert not auditor.errors and not auditor.fixes, folder
        assert document.header["$INSUNITS"] == 4, "read: the DXF units table says 4 is millimetres"
        outlines = [e for e in document.modelspace() if e.dxf.layer == "CUT"]
        for insert in document.modelspace().query("INSERT"):
            outlines += [e for e in insert.virtual_entities() if e.dxf.layer == "CUT"]
        figures = []
        for entity in outlines:
            if entity.dxftype() == "CIRCLE":
                figures.append(Point(entity.dxf.center.x, entity.dxf.center.y).buffer(entity.dxf.radius, 4096))
            else:
                assert entity.is_closed, f"{folder}: an open outline"
                figures.append(dxf_polygon(entity))
        mine = [polygon(p["cut_line"]) for p in design["pieces"]]
        figures = sorted(figures, key=lambda f: f.area)
        mine = sorted(mine, key=lambda f: f.area)
        assert len(figures) == len(mine), folder
        for theirs, ours in zip(figures, mine):
            assert theirs.area == pytest.approx(ours.area, rel=PART), folder
            assert theirs.length == pytest.approx(ours.length, abs=MM), folder
            seen += 1
    assert seen >= 30


def test_dxf_handles_and_names_are_unique(examples):
    for folder, _ in everything(examples):
        lines = pathlib.Path(folder / "cutter.dxf").read_text(encoding="ascii").splitlines()
        pairs = list(zip(lines[::2], lines[1::2]))
        handles = [v for c, v in pairs if c.strip() == "5"]
        assert len(handles) == len(set(handles)), folder
        blocks = [pairs[i + k][1] for i, (c, v) in enumerate(pairs) if (c.strip(), v) == ("0", "BLOCK") for k in range(1, 8) if pairs[i + k][0].strip() == "2"]
        assert len(blocks) == len(set(blocks)), folder
        inserted = [pairs[i + k][1] for i, (c, v) in enumerate(pairs) if (c.strip(), v) == ("0", "INSERT") for k in range(1, 8) if pairs[i + k][0].strip() == "2"]
        assert set(inserted) <= set(blocks), folder
        assert not any(math.isnan(float(v)) for c, v in pairs if c.strip() in ("10", "20", "40", "42")), folder


def test_arcs_that_run_on_smoothly_are_the_ends_of_a_buffered_line(tmp_path):
    text = """
design track {
  material plain_cloth is cloth "Plain cloth" { mass = 50 g/m2  width = 150 cm  source = "memory" }
  panel loop {
    cut 1 of plain_cloth
    shape {
      start (0 mm, 0 mm)
      edge foot  line to (200 mm, 0 mm)
      edge right arc to (200 mm, 120 mm) smooth
      edge head  line to (0 mm, 120 mm)
      edge left  arc to start smooth
    }
    allow 10 mm
    raw foot, right, head, left because "only the outline matters"
  }
  step look inspect "Look at it"
}
"""
    (design,) = build_text(text, tmp_path / "track").values()
    (piece,) = design["pieces"]
    middle = LineString([(0, 60), (200, 60)])
    for figure, radius in ((outline(piece), 60), (polygon(piece["cut_line"]), 70)):
        track = middle.buffer(radius, quad_segs=2000)
        assert figure.symmetric_difference(track).area < 1e-4 * track.area
        assert figure.hausdorff_distance(track) < 1e-3
