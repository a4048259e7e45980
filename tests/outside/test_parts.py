"""Panels split and panels cut on the fold: the exported files, put together again by shapely and ezdxf.

Areas and lengths of the sources are worked out by hand beside each.
"""

import csv
import json
import math
import xml.etree.ElementTree as ET

import ezdxf
import ezdxf.bbox
import pytest
import svgelements
from shapely.geometry import LineString, Point, Polygon
from shapely.ops import unary_union

from harness import build_text, run
from shapes import line, points, polygon
from test_interchange import corners, load, pieces_of, polylines

SVG = "{http://www.w3.org/2000/svg}"

TARP = """
use std.cloths { tarp_cloth }
use std.finishes { felled, rolled_hem }

design tarp "Tarp" {
  panel canopy "Canopy" {
    cut 1 of tarp_cloth
    shape {
      start (0 mm, 0 mm)
      edge foot  arc to (2.6 m, 0 mm) rise -100 mm
      edge right line to (2.4 m, 2.8 m)
      edge head  curve to (0.2 m, 2.8 m) by (1.8 m, 2.6 m), (0.8 m, 2.6 m)
      edge left  line to start
    }
    split middle from (1.3 m, -1 m) to (1.3 m, 3 m) as windward, leeward
    finish foot, right, head, left with rolled_hem(width: 10 mm)
    allow 16 mm on middle
    notch middle at 40 cm, 1.1 m from foot
  }
  seam ridge {
    join windward.middle to leeward.middle
    faces together
    stitch lockstitch 3 mm
    with felled(width: 8 mm)
  }
}
"""

HOOD = """
use std.cloths { light_nylon }

design hood "Hood" {
  panel hood "Hood" {
    cut 1 of light_nylon
    shape {
      start (0 mm, 0 mm)
      edge foot line to (200 mm, 0 mm)
      edge right line to (160 mm, 300 mm)
      edge head arc to (0 mm, 460 mm) rise {rise} mm
      edge left line to start
    }
    place left on fold
    allow 10 mm
    raw foot, right, head because "only the outline matters here"
    notch right at 10 cm from foot
    mark point eye at (100 mm, 250 mm) "eye"
  }
}
""".replace("{rise}", repr(160 * math.sqrt(2) / 2 * math.tan(math.pi / 8)))


def outline(piece):
    return Polygon([p for edge in piece["edges"] for p in points(edge["path"])])


def only(designs):
    (found,) = designs.items()
    return found[0].parent, found[1]


def test_the_pieces_of_a_split_panel_make_the_panel_again(tmp_path):
    folder, design = only(build_text(TARP, tmp_path / "tarp"))
    pieces = {p["name"]: p for p in design["pieces"]}
    assert set(pieces) == {"windward", "leeward"}
    # The outline drawn here by other code: a quarter ends up on neither piece twice.
    chord, rise = 2600, 100
    radius = (chord / 2) ** 2 / (2 * rise) + rise / 2
    centre = (1300, rise - radius)
    half = math.asin(chord / 2 / radius)
    arc = [(centre[0] + radius * math.sin(a), centre[1] + radius * math.cos(a)) for a in (half * (i / 2000 - 1) for i in range(4001))]
    bezier = lambda t: tuple(
        (1 - t) ** 3 * a + 3 * (1 - t) ** 2 * t * b + 3 * (1 - t) * t * t * c + t**3 * d
        for a, b, c, d in zip((2400, 2800), (1800, 2600), (800, 2600), (200, 2800))
    )
    panel = Polygon(arc + [bezier(i / 4000) for i in range(4001)])
    both = [outline(pieces[name]) for name in ("windward", "leeward")]
    assert both[0].intersection(both[1]).area == pytest.approx(0, abs=1)
    assert unary_union([b.buffer(1e-6) for b in both]).symmetric_difference(panel).area < 1e-5 * panel.area
    assert both[0].area + both[1].area == pytest.approx(panel.area, rel=1e-6)
    # Left of the line as one looks from its first point to its second, which is up.
    assert both[0].bounds[2] == pytest.approx(1300, abs=1e-3) and both[1].bounds[0] == pytest.approx(1300, abs=1e-3)
    length = {name: {e["name"]: e["length"] for e in p["edges"]} for name, p in pieces.items()}
    assert length["windward"]["foot"] + length["leeward"]["foot"] == pytest.approx(2 * half * radius, abs=1e-3)
    assert length["windward"]["middle"] == pytest.approx(length["leeward"]["middle"], abs=1e-9)
    assert length["windward"]["middle"] == pytest.approx(bezier(0.5)[1] - 100, abs=0.5)
    # Notches of the split line stand level on both pieces.
    level = [sorted(round(n["point"]["y"], 6) for n in p["notches"]) for p in pieces.values()]
    assert level[0] == level[1] == [500, 1200]
    with open(folder / "cut-list.csv", encoding="utf-8") as file:
        rows = {r["piece"]: r for r in csv.DictReader(file)}
    for name, piece in pieces.items():
        assert float(rows[name]["cut_area_mm2"]) == pytest.approx(polygon(piece["cut_line"]).area, rel=1e-4)


def test_split_pieces_stand_in_the_pattern_as_pieces_of_their_own(tmp_path):
    folder, design = only(build_text(TARP, tmp_path / "tarp"))
    blocks = pieces_of(load(folder / "pattern.dxf"))
    areas = sorted(Polygon(corners(polylines(b, "14")[0])).area for b in blocks)
    assert areas == pytest.approx(sorted(outline(p).area for p in design["pieces"]), rel=1e-4)


def drawn(path, cls):
    """The lines of a layer of one piece's drawing, up being up."""
    root = ET.parse(path).getroot()
    found = []
    for group in root.iter(f"{SVG}g"):
        if group.get("class") == "piece":
            for layer in group.iter(f"{SVG}g"):
                if layer.get("class") == cls:
                    found.extend(p.get("d") for p in layer.iter(f"{SVG}path"))
    lines = []
    for d in found:
        sampled = []
        for segment in svgelements.Path(d):
            count = 1 if isinstance(segment, (svgelements.Move, svgelements.Line, svgelements.Close)) else 400
            sampled.extend(segment.point(i / count) for i in range(1, count + 1))
        lines.append(LineString([(p.x, -p.y) for p in sampled]))
    return lines


def test_a_half_on_the_fold_is_cut_whole_and_printed_as_a_half(tmp_path):
    folder, design = only(build_text(HOOD, tmp_path / "hood"))
    (piece,) = design["pieces"]
    # Half: a trapezoid 200 and 160 wide, 300 high, under a quarter disc of radius 160.
    half = (200 + 160) / 2 * 300 + math.pi * 160**2 / 4
    whole, cut = outline(piece), polygon(piece["cut_line"])
    assert whole.area == pytest.approx(2 * half, rel=1e-6)
    assert piece["finished"]["area"] == pytest.approx(2 * half, rel=1e-6)
    lengths = {e["name"]: e["length"] for e in piece["edges"]}
    right = math.hypot(40, 300)
    assert lengths == pytest.approx({"foot": 400, "right": right, "head": math.pi * 160, "right_opposite": right}, rel=1e-6)
    mirrored = Polygon([(-x, y) for x, y in cut.exterior.coords])
    assert cut.symmetric_difference(mirrored).area < 1e-6 * cut.area
    fold = line(piece["fold_line"])
    assert fold.length == pytest.approx(460 + 2 * 10, abs=1e-6) and fold.bounds[0] == fold.bounds[2] == 0
    # What a cutter cuts, and what another pattern program reads, is the whole.
    document = ezdxf.readfile(folder / "cutter.dxf")
    lines = [e for e in document.modelspace() if e.dxf.layer.lower() == "cut"]
    box = ezdxf.bbox.extents(lines)
    x0, _, x1, _ = cut.bounds
    assert box.size.x == pytest.approx(x1 - x0, abs=1e-3)
    (block,) = pieces_of(load(folder / "pattern.dxf"))
    assert Polygon(corners(polylines(block, "1")[0])).area == pytest.approx(cut.area, rel=1e-4)
    assert not polylines(block, "6"), "the piece is whole, so it has no mirror line"
    centre = [LineString(corners(p)) for p in polylines(block, "8")]
    assert any(c.length == pytest.approx(fold.length, abs=1e-3) for c in centre)
    # The printed half: its cut line begins and ends on the fold, and closed along it is half of the whole.
    (cut_half,) = drawn(folder / "pieces" / "hood.svg", "cut")
    first, last = Point(cut_half.coords[0]), Point(cut_half.coords[-1])
    assert first.x == pytest.approx(last.x, abs=1e-3) and first.distance(last) == pytest.approx(fold.length, abs=1e-3)
    assert Polygon(cut_half.coords).area == pytest.approx(cut.area / 2, rel=1e-4)
    text = (folder / "pieces" / "hood.svg").read_text(encoding="utf-8")
    assert "place on fold" in text and "cut 1 on the fold" in text and "half of head" in text
    assert text.count(">eye<") == 1


WIDE = """
use std.cloths {{ tarp_cloth }}
use std.finishes {{ rolled_hem }}

design sheet {{
  panel sheet {{
    cut 1 of tarp_cloth
    shape {{
      start (0 mm, 0 mm)
      edge foot  line to ({width} mm, 30 mm)
      edge right line to ({width} mm, 2 m)
      edge head  line to (0 mm, 2 m)
      edge left  line to start
    }}
    finish foot, right, head, left with rolled_hem(width: 10 mm)
    {splits}
  }}
}}
"""


@pytest.mark.parametrize("width", [1500, 1999, 2777, 3600, 4100, 7000])
def test_the_splits_shown_for_a_piece_too_wide_make_pieces_that_fit(width):
    source = WIDE.format(width=width, splits="")
    told = run("check", "-", "--format", "json", stdin=source).stdout
    found = [d for d in json.loads(told) if d["code"] == "wider-than-cloth"]
    assert len(found) == 1
    shown = [part for part in found[0]["help"].split("`")[1::2] if part.startswith("split ")]
    assert len(shown) >= 1
    names = ", ".join(s.split()[1] for s in shown)
    splits = "\n    ".join(shown) + f"\n    allow 20 mm on {names}"
    told = run("check", "-", "--format", "json", stdin=WIDE.format(width=width, splits=splits)).stdout
    codes = {d["code"] for d in json.loads(told)}
    # Not sewn yet, but nothing is too wide any more.
    assert "edge-unused" in codes and codes <= {"edge-unused", "panel-unused"}, codes


def test_a_half_split_across_its_fold_makes_the_whole_again(tmp_path):
    _, whole = only(build_text(HOOD, tmp_path / "whole"))
    slanted = '    place left on fold\n    split yoke from (0 mm, 180 mm) to (220 mm, 240 mm) as upper, lower\n    allow 10 mm on yoke\n'
    source = HOOD.replace("    place left on fold\n", slanted).replace("mark point eye", "mark line rib from (60 mm, 100 mm) to (60 mm, 350 mm)\n    mark point eye")
    seam = """
  seam yokes {
    join upper.yoke then upper.yoke_opposite to lower.yoke then lower.yoke_opposite
    faces together
    stitch lockstitch 3 mm
  }
}
"""
    source = source.rstrip()[:-1] + seam
    folder, split = only(build_text(source, tmp_path / "split"))
    pieces = {p["name"]: p for p in split["pieces"]}
    assert set(pieces) == {"upper", "lower"}
    (hood,) = whole["pieces"]
    both = [outline(p) for p in pieces.values()]
    assert both[0].intersection(both[1]).area == pytest.approx(0, abs=1)
    assert unary_union([b.buffer(1e-6) for b in both]).symmetric_difference(outline(hood)).area < 1e-5 * outline(hood).area
    for piece in pieces.values():
        figure = polygon(piece["cut_line"])
        # The same on both sides of the fold, which is the line x = 0.
        image = Polygon([(-x, y) for x, y in figure.exterior.coords])
        assert figure.symmetric_difference(image).area < 1e-3
        fold = line(piece["fold_line"])
        down_the_middle = LineString([(0, -1000), (0, 1000)]).intersection(figure)
        assert fold.length == pytest.approx(down_the_middle.length, abs=1e-3) and {x for x, _ in fold.coords} == {0}
    # The marked line is on both, and its image too, up to where the split is at 60: 180 + 60 · 60 / 220.
    at = 180 + 3600 / 220
    lengths = {name: sorted(line(m["shape"]["path"]).length for m in p["marks"] if m["shape"]["kind"] == "line") for name, p in pieces.items()}
    assert lengths["lower"] == pytest.approx([at - 100] * 2, abs=1e-3)
    assert lengths["upper"] == pytest.approx([350 - at] * 2, abs=1e-3)
    assert (folder / "pieces" / "upper.svg").exists() and (folder / "pieces" / "lower.svg").exists()
