"""Notches in the files that are cut from: read back by ezdxf, and from the plotter's text by a few lines of Python."""

import math
import re

import ezdxf
import pytest
import svgelements
from shapely.geometry import Polygon

from harness import build_text

#: Form, and what one of them takes from the cloth where it is 5 mm deep and wide (worked out by hand).
TAKEN = {
    "slit": 0,
    "tee": 0,
    "vee": 5 * 5 / 2,
    "castle": 5 * 5,
    "check": 5 * 5 / 2,
    "u": 5 * 2.5 + math.pi * 2.5**2 / 2,
}


def made(tmp_path, kind):
    """A rectangle of 200 by 120 with 10 all round: three notches on one side, a double one on another; and its folder."""
    text = f"""use std.shapes {{ rectangle }}
design given {{
  material plain is cloth "Plain cloth" {{ mass = 50 g/m2  width = 150 cm  source = "memory" }}
  panel it {{
    cut 1 of plain
    shape rectangle(width: 200 mm, height: 120 mm)
    allow 10 mm
    raw foot, right, head, left because "a sample"
    notch foot at quarters as {kind}
    notch right at 40 mm from foot as double {kind}
    mark drill lug at (100 mm, 60 mm) wide 5 mm
  }}
  step look inspect "Look at it"
}}
"""
    build_text(text, tmp_path)
    return next(p.parent for p in (tmp_path / "out").rglob("cutter.dxf"))


@pytest.mark.parametrize("kind", TAKEN)
def test_the_cutters_outline_holds_the_notches(tmp_path, kind):
    folder = made(tmp_path, kind)
    document = ezdxf.readfile(folder / "cutter.dxf")
    cut = [e for e in document.modelspace() if e.dxf.layer == "CUT"]
    assert len(cut) == 1
    outline = Polygon([(p.x, p.y) for p in ezdxf.path.make_path(cut[0]).flattening(1e-4)])
    assert outline.is_valid and outline.area == pytest.approx(220 * 140 - 5 * TAKEN[kind], abs=0.02)
    apart = [e for e in document.modelspace() if e.dxf.layer == "NOTCH"]
    assert len(apart) == {"slit": 5, "tee": 10}.get(kind, 0)
    # What is cut apart starts on the outline or lies within the allowance: 2 mm clear of the stitch line.
    x0, y0, x1, y1 = outline.bounds
    inside = Polygon([(x0 + 12, y0 + 12), (x1 - 12, y0 + 12), (x1 - 12, y1 - 12), (x0 + 12, y1 - 12)]).buffer(-1e-6)
    for entity in apart:
        line = [(p.x, p.y) for p in ezdxf.path.make_path(entity).flattening(1e-4)]
        assert not inside.intersects(Polygon([*line, line[0], line[-1]]).boundary), line
    drilled = [e for e in document.modelspace() if e.dxftype() == "CIRCLE" and e.dxf.layer == "MARK"]
    assert sorted(e.dxf.radius for e in drilled)[-1] == pytest.approx(2.5)


@pytest.mark.parametrize("kind", TAKEN)
def test_the_plotters_outline_holds_the_notches(tmp_path, kind):
    text = next(made(tmp_path, kind).rglob("*.plt")).read_text(encoding="ascii")
    # Forty units a millimetre. The last line of the last pen is the outline.
    last = text.rsplit("PU", 2)[1] if text.rstrip().endswith("PU;\nSP0;") else text.rsplit("PU", 1)[1]
    numbers = [int(n) / 40 for n in re.findall(r"-?\d+", last.split("SP")[0])]
    outline = Polygon(list(zip(numbers[::2], numbers[1::2])))
    assert outline.area == pytest.approx(220 * 140 - 5 * TAKEN[kind], abs=2.5)


@pytest.mark.parametrize("kind", TAKEN)
def test_the_drawing_shows_the_notches_as_they_are_cut(tmp_path, kind):
    folder = made(tmp_path, kind)
    drawn = svgelements.SVG.parse(str(folder / "pieces.svg"))
    areas = []
    for path in drawn.elements(lambda e: isinstance(e, svgelements.Path)):
        points = [path.point(i / 4000) for i in range(4001)]
        figure = Polygon([(p.x, p.y) for p in points])
        scale = 25.4 / 96
        areas.append(figure.area * scale * scale if figure.is_valid else 0)
    assert any(abs(a - (220 * 140 - 5 * TAKEN[kind])) < 12 for a in areas), sorted(areas)[-5:]
