"""Facts of the trade, worked out by the real binary from small sources.

Each names where its figure comes from. Golden figures are computed from the formulas named, outside this project.
"""

import math

import pytest

from harness import build_text, fact

CLOTH = '  material plain is cloth "Plain cloth" { mass = 50 g/m2  width = 150 cm  source = "memory" }\n'
TAIL = '  step look inspect "Look at it"\n'


def panel(tmp_path, shapes, body):
    text = f"use std.shapes {{ {shapes} }}\ndesign given {{\n{CLOTH}  panel it {{\n    cut 1 of plain\n{body}\n  }}\n{TAIL}}}\n"
    design = next(iter(build_text(text, tmp_path).values()))
    return next(p for p in design["pieces"] if p["name"] == "it")


def edge(piece, name):
    return next(e for e in piece["edges"] if e["name"] == name)


def test_half_an_inch_all_round_adds_an_inch_each_way(tmp_path):
    # Common practice, no source.
    raw = 'raw foot, right, head, left because "a sample"'
    piece = panel(tmp_path, "rectangle", f"shape rectangle(width: 20 in, height: 30 in)\nallow 1/2 in\n{raw}")
    assert piece["cut"]["width"] - piece["finished"]["width"] == pytest.approx(25.4, abs=1e-6)
    assert piece["cut"]["height"] - piece["finished"]["height"] == pytest.approx(25.4, abs=1e-6)


def test_rectangle_offset_by_ten(tmp_path):
    # Mitred offset of 600 x 400 by 10: area 260 400, perimeter 2080 (computed).
    raw = 'raw foot, right, head, left because "a sample"'
    piece = panel(tmp_path, "rectangle", f"shape rectangle(width: 600 mm, height: 400 mm)\nallow 10 mm\n{raw}")
    assert piece["cut"]["area"] == pytest.approx(260400, rel=1e-9)
    assert 2 * (piece["cut"]["width"] + piece["cut"]["height"]) == pytest.approx(2080, rel=1e-9)


def test_trapezoid_offset_by_ten(tmp_path):
    # Quilt trapezoid 1300 / 900 x 2000 with 10 all round, mitred: 2 262 601.497 mm2 (computed).
    body = """shape {
      start (200 mm, 0 mm)
      edge foot line to (1100 mm, 0 mm)
      edge right line to (1300 mm, 2000 mm)
      edge head line to (0 mm, 2000 mm)
      edge left line to start
    }
    allow 10 mm
    raw foot, right, head, left because "a sample" """
    piece = panel(tmp_path, "rectangle", body)
    assert edge(piece, "left")["length"] == pytest.approx(2009.975, abs=1e-3)
    assert piece["cut"]["area"] == pytest.approx(2262601.497, abs=1e-1)


@pytest.mark.parametrize("span, sag, length", [(3000, 125, 3013.8442), (1000, 100, 1026.1869), (1000, 20, 1001.0659), (3000, 250, 3054.8537)])
def test_hung_curves_are_catenaries(tmp_path, span, sag, length):
    # S = 2 a sinh(L / 2a) with a (cosh(L / 2a) - 1) = sag (computed).
    body = f"""shape {{
      start (0 mm, 0 mm)
      edge foot hung to ({span} mm, 0 mm) sag {sag} mm
      edge right line to ({span} mm, 1400 mm)
      edge head line to (0 mm, 1400 mm)
      edge left line to start
    }}
    allow 0 mm
    raw foot, right, head, left because "a sample" """
    text = f"design given {{\n{CLOTH.replace('150 cm', '400 cm')}  panel it {{\n    cut 1 of plain\n{body}\n  }}\n{TAIL}}}\n"
    piece = next(iter(build_text(text, tmp_path).values()))["pieces"][0]
    assert edge(piece, "foot")["length"] == pytest.approx(length, abs=2e-3)


def test_cone_laid_flat(tmp_path):
    # R 150, r 100, h 300: slant 304.1381, radii 912.4144 and 608.2763, 59.18364 degrees (computed).
    raw = 'raw foot, right, head, left because "a sample"'
    piece = panel(tmp_path, "cone", f"shape cone(diameter_head: 300 mm, diameter_foot: 200 mm, height: 300 mm)\nallow 0 mm\n{raw}")
    lengths = sorted(e["length"] for e in piece["edges"])
    assert lengths == pytest.approx(sorted([304.1381, 304.1381, 2 * math.pi * 150, 2 * math.pi * 100]), abs=1e-2)
    # Lateral area pi (R + r) l.
    assert piece["finished"]["area"] == pytest.approx(238869.5, rel=1e-5)


def test_round_base(tmp_path):
    # D 150 with 10 allowance: base cut 170 across; a tube round it is pi D wide (computed).
    piece = panel(tmp_path, "circle", 'shape circle(diameter: 150 mm)\nallow 10 mm\nraw rim because "a sample"')
    assert piece["cut"]["width"] == pytest.approx(170, abs=1e-6)
    assert edge(piece, "rim")["length"] == pytest.approx(math.pi * 150, abs=1e-3)
    assert piece["cut"]["area"] == pytest.approx(math.pi * 85**2, rel=1e-6)


def test_double_hem_consumes_turn_and_hem(tmp_path):
    # 1/2 in turned under and a 1 in hem consume 1.5 in = 38.1 mm: read, US Army FM 10-16 (public domain).
    text = f"""use std.finishes {{ double_hem }}
use std.shapes {{ rectangle }}
design given {{
{CLOTH}  panel it {{
    cut 1 of plain
    shape rectangle(width: 20 in, height: 30 in)
    allow 0 mm
    finish head with double_hem(width: 1 in, turn: 1/2 in)
    raw foot, right, left because "a sample"
  }}
{TAIL}}}
"""
    piece = next(iter(build_text(text, tmp_path).values()))["pieces"][0]
    assert edge(piece, "head")["allowance"] == pytest.approx(38.1, abs=1e-9)
    assert piece["cut"]["height"] - piece["finished"]["height"] == pytest.approx(38.1, abs=1e-6)


def test_hem_on_a_tapered_side_folds_back_flush(tmp_path):
    # Sides at 5.7106 degrees, hem 25 deep: mirrored, not extrapolated, 2 x 25 x tan 5.71 = 5.0 mm a side (computed).
    text = f"""use std.finishes {{ selvedge_hem }}
design given {{
{CLOTH}  panel it {{
    cut 1 of plain
    shape {{
      start (200 mm, 0 mm)
      edge foot line to (1100 mm, 0 mm)
      edge right line to (1300 mm, 2000 mm)
      edge head line to (0 mm, 2000 mm)
      edge left line to start
    }}
    allow 0 mm
    finish foot with selvedge_hem(width: 25 mm)
    raw right, head, left because "a sample"
  }}
{TAIL}}}
"""
    piece = next(iter(build_text(text, tmp_path).values()))["pieces"][0]
    low = [p for p in ([piece["cut_line"]["start"]] + [s["end"] for s in piece["cut_line"]["segments"]]) if p["y"] < -24.9]
    width = max(p["x"] for p in low) - min(p["x"] for p in low)
    tangent = math.tan(math.radians(5.7106))
    extrapolated = 900 - 2 * 25 * tangent
    assert width == pytest.approx(900 + 2 * 25 * tangent, abs=0.01)
    assert (width - extrapolated) / 2 == pytest.approx(5.0, abs=0.01)


def test_loop_of_ribbon(tmp_path):
    # Cut length = 2 x (visible + caught): common practice, no source. Caught 12, cut 80: 28 show.
    text = f"""use std.trims {{ ribbon_loop }}
use std.shapes {{ rectangle }}
design given {{
{CLOTH}  panel it {{
    cut 1 of plain
    shape rectangle(width: 40 cm, height: 60 cm)
    allow 12 mm
    raw foot, right, head, left because "a sample"
  }}
  attach loop = ribbon_loop(cut: 80 mm) at middle on it.left
  seam side {{ join it.left to it.right  faces together }}
}}
"""
    design = next(iter(build_text(text, tmp_path).values()))
    loop = design["attachments"][0]
    assert loop["depth"] == pytest.approx(80 / 2 - 12)
    assert loop["uses"][0]["amount"] == {"length": 80.0}
    assert fact(design, "loop.1") == pytest.approx(300)


def test_casing_an_inch_shorter_than_its_edge(tmp_path):
    # A casing cut 1 in shorter than its edge leaves half an inch at each end: common practice, no source.
    text = f"""use std.trims {{ cord_casing }}
use std.shapes {{ rectangle }}
design given {{
{CLOTH}  panel it {{
    cut 1 of plain
    shape rectangle(width: 40 in, height: 60 cm)
    allow 12 mm
    raw foot, right, head, left because "a sample"
  }}
  attach draw = cord_casing(cloth: plain, short: 1/2 in) along it.foot
  seam tube {{ join it.foot to it.head  faces together }}
}}
"""
    design = next(iter(build_text(text, tmp_path).values()))
    strip = next(p for p in design["pieces"] if p["name"] == "draw.strip")
    assert strip["finished"]["width"] == pytest.approx((40 - 1) * 25.4)
