"""Plotter files, drawn by a small reader of the open plotter language and measured by shapely.

Read, in public descriptions of it: 40 units a millimetre, whole numbers. 297 mm are 11 880 units (computed).
"""

import math

import pytest
from shapely.affinity import translate
from shapely.geometry import LineString, Polygon

from harness import build_text, resolved
from shapes import line, polygon

UNITS = 40
#: Chords stray by 0.02 mm, and rounding by half of a unit's diagonal, 0.0177 mm.
MM = 0.05


def strokes(text):
    """[(pen, [(x, y), ...])] in units, and the labels; as a plotter would draw them."""
    drawn, labels = [], []
    pen, at, down, absolute = 0, (0, 0), False, False
    rest = text.lstrip()
    while rest:
        name, rest = rest[:2], rest[2:]
        given, rest = rest.split("\x03" if name == "LB" else ";", 1)
        rest = rest.lstrip()
        if name == "SP":
            pen = int(given)
        elif name == "PA":
            absolute = True
        elif name in ("PU", "PD"):
            numbers = [int(n) for n in given.split(",")] if given else []
            assert absolute or not numbers, "places before PA"
            assert len(numbers) % 2 == 0
            if name == "PD" and not down:
                drawn.append((pen, [at]))
            down = name == "PD"
            for place in zip(numbers[::2], numbers[1::2]):
                at = place
                if down:
                    drawn[-1][1].append(at)
        elif name == "LB":
            labels.append((pen, given, at))
        else:
            assert name in ("IN", "DI", "SI"), name
    assert pen == 0 and not down, "the pen is left down or out"
    return drawn, labels


def millimetres(points):
    return [(x / UNITS, y / UNITS) for x, y in points]


def everything(examples):
    for out in examples.values():
        for path, design in resolved(out).items():
            yield path.parent, design


def test_what_is_cut_is_the_cut_lines(examples):
    seen = 0
    for folder, design in everything(examples):
        drawn, _ = strokes((folder / "cutter.plt").read_text(encoding="ascii"))
        cuts = [millimetres(points) for pen, points in drawn if pen == 3]
        for piece in design["pieces"]:
            where = f"{folder} {piece['name']}"
            # Within a piece: its holes, its notches, its outline.
            mine, cuts = cuts[: len(piece["holes"]) + len(piece["notches"]) + 1], cuts[len(piece["holes"]) + len(piece["notches"]) + 1 :]
            assert mine[-1][0] == mine[-1][-1], f"{where}: an open outline"
            theirs, ours = Polygon(mine[-1]), polygon(piece["cut_line"])
            dx, dy = theirs.centroid.x - ours.centroid.x, theirs.centroid.y - ours.centroid.y
            assert theirs.exterior.hausdorff_distance(translate(ours, dx, dy).exterior) < MM, where
            assert theirs.area == pytest.approx(ours.area, rel=1e-3), where
            for found, hole in zip(mine, piece["holes"]):
                assert Polygon(found).exterior.hausdorff_distance(translate(polygon(hole["path"]), dx, dy).exterior) < MM, where
            for found, notch in zip(mine[len(piece["holes"]) :], piece["notches"]):
                at, deep = notch["point"], notch["depth"]
                end = (at["x"] + notch["inward"]["x"] * deep + dx, at["y"] + notch["inward"]["y"] * deep + dy)
                assert math.dist(found[0], (at["x"] + dx, at["y"] + dy)) < MM and math.dist(found[-1], end) < MM, where
            seen += 1
        assert not cuts, f"{folder}: cuts of no piece"
    assert seen >= 30


def test_stitch_lines_and_folds_are_drawn_with_the_second_pen(examples):
    for folder, design in everything(examples):
        drawn, labels = strokes((folder / "cutter.plt").read_text(encoding="ascii"))
        length = sum(LineString(millimetres(points)).length for pen, points in drawn if pen == 2)
        wanted = 0
        for piece in design["pieces"]:
            wanted += sum(line(e["path"]).length for e in piece["edges"]) + sum(line(f["path"]).length for f in piece["folds"])
        assert length == pytest.approx(wanted, rel=1e-3), folder
        assert [pen for pen, _ in drawn] == sorted(pen for pen, _ in drawn), "all is drawn before anything is cut"
        assert labels and all(pen == 1 for pen, _, _ in labels), folder


def test_all_of_it_lies_on_the_positive_side(examples):
    for folder, _ in everything(examples):
        drawn, labels = strokes((folder / "cutter.plt").read_text(encoding="ascii"))
        places = [p for _, points in drawn for p in points] + [at for _, _, at in labels]
        assert min(x for x, _ in places) >= 0 and min(y for _, y in places) >= 0, folder


def test_a_square_of_a_hundred_millimetres(tmp_path):
    text = """use std.shapes { rectangle }
design given {
  material plain is cloth "Plain cloth" { mass = 50 g/m2  width = 150 cm  source = "memory" }
  panel it {
    cut 1 of plain
    shape rectangle(width: 100 mm, height: 100 mm)
    allow 0 mm
    raw foot, right, head, left because "a sample"
  }
  step look inspect "Look at it"
}
"""
    build_text(text, tmp_path)
    written = (tmp_path / "out" / "as-drawn" / "cutter.plt").read_text(encoding="ascii")
    assert written.startswith("IN;")
    assert "SP3;PA;\nPU0,0;PD4000,0,4000,4000,0,4000,0,0;\n" in written
    wide = text.replace("width: 100 mm", "width: 297 mm")
    build_text(wide, tmp_path / "wide")
    assert "PD11880,0,11880,4000,0,4000,0,0;" in (tmp_path / "wide" / "out" / "as-drawn" / "cutter.plt").read_text(encoding="ascii")
