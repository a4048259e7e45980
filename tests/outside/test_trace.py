"""Panels traced from drawings that this project did not write: DXF made by ezdxf, SVG written by hand.

What the outline should be is worked out here by shapely and by plain formulas: SVG path data by the rules of the SVG 2
recommendation (W3C, chapter 9), bulges as the tangent of a quarter of the arc's angle (DXF reference, LWPOLYLINE).
"""

import math

import ezdxf
import pytest
from shapely.affinity import affine_transform
from shapely.geometry import LineString, Polygon

from harness import build_text, run
from shapes import points

#: The outline comes back as exactly as this, mm.
OFF = 0.01


def source(drawing, choice, unit, edges, where):
    raw = ", ".join(e.split()[0] for e in edges.split(", ") if e[0].isalpha())
    return f"""
design traced {{
  material plain_cloth is cloth "Plain cloth" {{ mass = 50 g/m2  width = 5 m  source = "memory" }}
  panel piece {{
    cut 1 of plain_cloth
    shape traced from "{drawing}" {choice} unit {unit} edges {edges} where {where}
    allow 0 mm
    raw {raw} because "only the outline matters here"
    grain any
  }}
  step look inspect "Look at the outline"
}}
"""


def traced(folder, drawing, edges, where, choice="", unit="1 mm"):
    """The edges of the piece: {name: its line}, in order."""
    (design,) = build_text(source(drawing, choice, unit, edges, where), folder).values()
    (piece,) = design["pieces"]
    return {e["name"]: points(e["path"]) for e in piece["edges"]}, {e["name"]: e["length"] for e in piece["edges"]}


def ring(edges):
    return Polygon([p for edge in edges.values() for p in edge[:-1]])


def home(figure):
    x, y = figure.bounds[:2]
    return affine_transform(figure, [1, 0, 0, 1, -x, -y])


def assert_same(edges, expected):
    """The outline is the expected figure, moved to the origin."""
    made, wanted = ring(edges), home(expected)
    assert made.exterior.is_ccw
    assert made.exterior.hausdorff_distance(wanted.exterior) < OFF
    assert made.length == pytest.approx(wanted.length, abs=OFF)
    assert made.area == pytest.approx(wanted.area, rel=1e-5)


def arc(centre, radius, start, end, count=2000):
    """Points on a circle between two angles, degrees."""
    angles = [math.radians(start + (end - start) * i / count) for i in range(count + 1)]
    return [(centre[0] + radius * math.cos(a), centre[1] + radius * math.sin(a)) for a in angles]


def bezier(*handles, count=2000):
    """Points on a Bezier curve of any degree, by de Casteljau."""
    found = []
    for i in range(count + 1):
        row, t = list(handles), i / count
        while len(row) > 1:
            row = [((1 - t) * a[0] + t * b[0], (1 - t) * a[1] + t * b[1]) for a, b in zip(row, row[1:])]
        found.append(row[0])
    return found


#: The radius of a quarter turn over a chord of 300.
WIDE = 150 * math.sqrt(2)
#: A foot, an arc of a quarter turn outward, a head, and a side that bends in: the outline of every DXF below, in mm.
FIGURE = Polygon([(0, 0), (400, 0), (400, 100), *arc((200, 100), 200, 0, 90)[1:], (0, 300), *arc((-150, 150), WIDE, 45, -45)[1:-1]])
QUARTER = math.tan(math.radians(90) / 4)


def dxf(tmp_path, version, draw):
    document = ezdxf.new(version)
    draw(document)
    tmp_path.mkdir(parents=True, exist_ok=True)
    document.saveas(tmp_path / "drawing.dxf")


VERTICES = [(0, 0, 0), (400, 0, 0), (400, 100, QUARTER), (200, 300, 0), (0, 300, -QUARTER)]
EDGES, WHERE = "foot, right to (400, 100), bend to (200, 300), head, left", "foot is 40 cm, bend is 31.416 cm"


@pytest.mark.parametrize("version", ["R12", "R2000", "R2018"])
def test_polylines_with_bulges(tmp_path, version):
    def draw(document):
        space = document.modelspace()
        polyline = space.add_polyline2d if version == "R12" else space.add_lwpolyline
        polyline(VERTICES, format="xyb", close=True, dxfattribs={"layer": "OUTLINE"})
        space.add_line((100, 100), (100, 200), dxfattribs={"layer": "GRAIN"})
        space.add_text("ANNOTATION", dxfattribs={"layer": "WORDS"})

    dxf(tmp_path, version, draw)
    edges, lengths = traced(tmp_path, "drawing.dxf", EDGES, WHERE, 'layer "outline"')
    assert_same(edges, FIGURE)
    assert lengths["bend"] == pytest.approx(200 * math.pi / 2, abs=1e-6)
    assert lengths["left"] == pytest.approx(WIDE * math.pi / 2, abs=1e-6)


@pytest.mark.parametrize("version", ["R12", "R2000"])
def test_straights_and_arcs_in_any_order_and_direction(tmp_path, version):
    def draw(document):
        space = document.modelspace()
        space.add_arc((-150, 150), WIDE, 315, 45)
        space.add_line((400, 100), (400, 0))
        space.add_line((200, 300), (0, 300))
        space.add_arc((200, 100), 200, 0, 90)
        space.add_line((0, 0), (400, 0))

    dxf(tmp_path, version, draw)
    assert_same(traced(tmp_path, "drawing.dxf", EDGES, WHERE)[0], FIGURE)


def test_a_block_of_a_pattern(tmp_path):
    def draw(document):
        block = document.blocks.new("HOOD_M")
        wide = [(x * 1.1, y * 1.1, b) for x, y, b in VERTICES]
        block.add_polyline2d(wide, format="xyb", close=True, dxfattribs={"layer": "1"})
        block.add_polyline2d(VERTICES, format="xyb", close=True, dxfattribs={"layer": "14"})
        document.modelspace().add_blockref("HOOD_M", (1000, 50))

    dxf(tmp_path, "R12", draw)
    assert_same(traced(tmp_path, "drawing.dxf", EDGES, WHERE, 'block "HOOD_M" layer "14"')[0], FIGURE)


def test_circles_one_in_the_other_and_inches(tmp_path):
    def draw(document):
        document.modelspace().add_circle((3, 4), 5)
        document.modelspace().add_circle((3, 4), 2)

    dxf(tmp_path, "R2000", draw)
    edges, lengths = traced(tmp_path, "drawing.dxf", "rim", "rim is 319.19 mm", "around (3, 5.5)", "1 in")
    assert_same(edges, Polygon(arc((0, 0), 50.8, 0, 360)[:-1]))
    assert lengths["rim"] == pytest.approx(2 * math.pi * 50.8, abs=1e-6)


def svg(tmp_path, inside, root='viewBox="0 0 500 400"'):
    tmp_path.mkdir(parents=True, exist_ok=True)
    (tmp_path / "drawing.svg").write_text(f'<?xml version="1.0"?>\n<svg xmlns="http://www.w3.org/2000/svg" {root}>\n{inside}\n</svg>\n', encoding="utf-8")


def flipped(all_points):
    return [(x, -y) for x, y in all_points]


#: The same outline with y down: foot at 300, its head at 0.
DOWN = "M0 300 H400 V200 A200 200 0 0 0 200 0 H0 A212.132034 212.132034 0 0 1 0 300 Z"
DOWN_EDGES = "foot, right to (400, 200), bend to (200, 0), head, left"


def test_path_data_absolute_relative_and_squeezed(tmp_path):
    for i, data in enumerate([DOWN, "m0,300h400v-100a200 200 0 00-200-200h-200a212.132034 212.132034 0 010 300z", "M0 300L400 300L400 200A200 200,0,0,0,200 0L0 0A212.132034 212.132034 0 0 1 0 300"]):
        svg(tmp_path / str(i), f'<path d="{data}"/>')
        edges, lengths = traced(tmp_path / str(i), "drawing.svg", DOWN_EDGES, WHERE)
        assert_same(edges, FIGURE)
        assert lengths["bend"] == pytest.approx(200 * math.pi / 2, abs=1e-6), "an arc stays an arc"


def test_curves_of_two_and_three_handles_and_smooth_ones(tmp_path):
    svg(tmp_path, '<path d="M0 300 L400 300 Q450 220 400 150 T400 0 C300 -40 250 60 200 20 S50 -20 0 0 Z"/>')
    foot_right = (400, 300)
    first = bezier(foot_right, (450, 220), (400, 150))
    second = bezier((400, 150), (350, 80), (400, 0))
    third = bezier((400, 0), (300, -40), (250, 60), (200, 20))
    fourth = bezier((200, 20), (150, -20), (50, -20), (0, 0))
    expected = Polygon(flipped([(0, 300), *first, *second[1:], *third[1:], *fourth[1:]]))
    edges, lengths = traced(tmp_path, "drawing.svg", "foot, right, head, left", "left is 30 cm")
    assert_same(edges, expected)
    assert lengths["right"] == pytest.approx(LineString(first).length + LineString(second).length, abs=OFF)


def test_transforms_are_followed_and_turn_arcs_of_circles_into_arcs(tmp_path):
    # translate(50 20) rotate(30) scale(-2 2): turned over, so the outline now runs the other way.
    cos, sin = math.cos(math.radians(30)), math.sin(math.radians(30))
    svg(tmp_path, f'<g transform="translate(50,20)"><g transform="rotate(30) scale(-2 2)"><path id="p" d="{DOWN}"/></g></g>')
    down = affine_transform(FIGURE, [1, 0, 0, -1, 0, 300])
    moved = affine_transform(down, [-2 * cos, -2 * sin, -2 * sin, 2 * cos, 50, 20])
    expected = affine_transform(moved, [1, 0, 0, -1, 0, 0])
    place = lambda x, y: f"({-2 * cos * x - 2 * sin * y + 50:.4f}, {-2 * sin * x + 2 * cos * y + 20:.4f})"
    # Turned over, the edges follow each other the other way round; turned, the foot's left end is the lowest corner.
    names = f"left, head to {place(200, 0)}, bend to {place(400, 200)}, right, foot"
    edges, lengths = traced(tmp_path, "drawing.svg", names, "foot is 80 cm")
    assert_same(edges, expected)
    assert lengths["bend"] == pytest.approx(200 * math.pi, abs=1e-3) and lengths["left"] == pytest.approx(WIDE * math.pi, abs=1e-3)


def write(tmp_path, edges, where):
    path = tmp_path / "given.fell"
    path.write_text(source("drawing.svg", "", "1 mm", edges, where), encoding="utf-8")
    return path


def test_a_stretched_circle_becomes_an_ellipse(tmp_path):
    svg(tmp_path, '<g transform="scale(2 1)"><path d="M50 100 A50 50 0 0 0 150 100 A50 50 0 0 0 50 100 Z"/></g>')
    edges, _ = traced(tmp_path, "drawing.svg", "rim", "rim is 484.42 mm")
    ellipse = affine_transform(Polygon(arc((0, 0), 1, 0, 360, 20000)[:-1]), [100, 0, 0, 50, 0, 0])
    assert_same(edges, ellipse)


def test_a_wrong_unit_is_found_and_mended(tmp_path):
    svg(tmp_path, f'<path d="{DOWN}" transform="scale({72 / 25.4})"/>')
    scaled = DOWN_EDGES.replace("(400, 200)", f"({400 * 72 / 25.4:.3f}, {200 * 72 / 25.4:.3f})").replace("(200, 0)", f"({200 * 72 / 25.4:.3f}, 0)")
    done = run("check", write(tmp_path, scaled, "foot is 40 cm"))
    assert done.returncode != 0 and "72 units an inch" in done.stdout, done.stdout
    edges, _ = traced(tmp_path, "drawing.svg", scaled, "foot is 40 cm", "", "1/72 in")
    assert_same(edges, FIGURE)


@pytest.mark.parametrize("ratio, right", [(1.004, True), (0.996, True), (1.006, False), (0.994, False)])
def test_half_a_percent_is_let_pass_and_no_more(tmp_path, ratio, right):
    svg(tmp_path, f'<path d="{DOWN}"/>')
    done = run("check", write(tmp_path, DOWN_EDGES, f"foot is {400 * ratio:.3f} mm"))
    assert (done.returncode == 0) == right, done.stdout


def test_links_out_of_the_folder_are_not_followed(tmp_path):
    outside, project = tmp_path / "elsewhere", tmp_path / "project"
    svg(outside, f'<path d="{DOWN}"/>')
    project.mkdir()
    (project / "drawing.svg").symlink_to(outside / "drawing.svg")
    done = run("check", write(project, DOWN_EDGES, "foot is 40 cm"))
    assert done.returncode != 0 and "drawing-outside" in done.stdout, done.stdout


@pytest.mark.parametrize("degree", [2, 3])
def test_splines_and_half_an_ellipse_that_follow_each_other(tmp_path, degree):
    """The curve of the spline is worked out by ezdxf, that of the ellipse by its formula."""
    spline = ezdxf.math.BSpline([(0, 0), (90, -70), (160, 60), (230, -40), (310, 30), (400, 0)], order=degree + 1)

    def draw(document):
        space = document.modelspace()
        space.add_spline().apply_construction_tool(spline)
        space.add_ellipse((200, 0), (200, 0), ratio=0.6, start_param=0, end_param=math.pi)

    dxf(tmp_path, "R2000", draw)
    foot = [(p.x, p.y) for p in spline.approximate(4000)]
    dome = [(200 + 200 * math.cos(t), 120 * math.sin(t)) for t in (math.pi * i / 4000 for i in range(4001))]
    edges, lengths = traced(tmp_path, "drawing.dxf", "foot, dome", f"foot is {LineString(foot).length:.3f} mm")
    assert_same(edges, Polygon([*foot, *dome[1:-1]]))
    assert lengths["dome"] == pytest.approx(LineString(dome).length, abs=OFF)


def test_a_whole_ellipse_that_is_turned(tmp_path):
    dxf(tmp_path, "R2000", lambda document: document.modelspace().add_ellipse((30, 40), (90, 60), ratio=0.5))
    long = math.hypot(90, 60)
    circle = Polygon(arc((0, 0), 1, 0, 360, 20000)[:-1])
    turn = math.atan2(60, 90)
    cos, sin = math.cos(turn), math.sin(turn)
    expected = affine_transform(circle, [long * cos, -long / 2 * sin, long * sin, long / 2 * cos, 30, 40])
    assert_same(traced(tmp_path, "drawing.dxf", "rim", f"rim is {expected.length:.3f} mm")[0], expected)


def test_basic_shapes_of_svg(tmp_path):
    svg(tmp_path / "rect", '<rect x="50" y="60" width="300" height="200" rx="40"/>')
    edges, _ = traced(tmp_path / "rect", "drawing.svg", "rim", "rim is 931.33 mm")
    assert_same(edges, Polygon([(50, 60), (350, 60), (350, 260), (50, 260)]).buffer(-40).buffer(40, quad_segs=4000))
    svg(tmp_path / "oval", '<ellipse cx="100" cy="90" rx="80" ry="30" transform="rotate(20)"/>')
    oval = affine_transform(Polygon(arc((0, 0), 1, 0, 360, 20000)[:-1]), [80, 0, 0, 30, 0, 0])
    cos, sin = math.cos(math.radians(-20)), math.sin(math.radians(-20))
    expected = affine_transform(oval, [cos, -sin, sin, cos, 0, 0])
    assert_same(traced(tmp_path / "oval", "drawing.svg", "rim", f"rim is {expected.length:.3f} mm")[0], expected)
