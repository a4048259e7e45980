"""Outlines made from others, worked out again by shapely on flattened figures.

Areas agree to 0.01 %, boundaries to 0.05 mm (Hausdorff distance).
"""

import math
import random

import pytest
from shapely import prepare
from shapely.geometry import LineString, Point, Polygon

from harness import resolved, run
from outlines import Outline, along, arc_points, convex, rises, sound, star, tangents, trapezoid, turns
from shapes import line, points

PART, MM = 1e-4, 0.05

CLOTH = 'material plain_cloth is cloth "Plain cloth" { mass = 50 g/m2  width = 5 m  source = "memory" }'
DISC = """outline disc(r: length) {
  start (r, 0 mm)
  edge rim arc to (0 mm, r) rise r - r / sqrt(2)
      then arc to (-r, 0 mm) rise r - r / sqrt(2)
      then arc to (0 mm, -r) rise r - r / sqrt(2)
      then arc to start rise r - r / sqrt(2)
}
"""


def ring(piece):
    found = []
    for edge in piece["edges"]:
        found.extend(points(edge["path"]))
    return Polygon(found)


def same(mine, theirs, where):
    assert mine.is_valid, where
    assert mine.area == pytest.approx(theirs.area, rel=PART), where
    # No point of either ring lies farther from the other: what the Hausdorff distance says, quicker.
    assert theirs.exterior.buffer(MM).covers(mine.exterior) and mine.exterior.buffer(MM).covers(theirs.exterior), where


def finely(start, end, rise):
    """Points on an edge, so close together that no chord strays by a hundredth of a millimetre."""
    half = 2 * math.atan2(2 * abs(rise), math.dist(start, end))
    return arc_points(start, end, rise, step=2 * half / 400) if rise else [start, end]


def figure(outline):
    return Polygon([p for start, end, rise, _ in outline.edges() for p in finely(start, end, rise)[:-1]])


def drawn(outline, name):
    """The lines of an outline in braces."""
    text = outline.source(name).split("shape {")[1].split("    }")[0]
    return "{" + text + "    }"


def names(outline):
    return [f"e{i}" for i in range(len(outline.corners))]


def some(dice, family, bent):
    draw = {"convex": convex, "star": star, "trapezoid": trapezoid}[family]
    while True:
        corners = draw(dice)
        # Gentler bends than those of other tests, which leave corners that turn.
        gentle = [r / 4 for r in rises(dice, corners)]
        outline = Outline(family, corners, [1.0] * len(corners), gentle if bent else [])
        if sound(outline):
            return outline


def design(panels):
    return f'{DISC}design derived {{\n  {CLOTH}\n{panels}\n  step look inspect "Look"\n}}\n'


def panel(name, lines):
    return f"  panel {name} {{\n    cut 1 of plain_cloth\n" + "".join(f"    {l}\n" for l in lines) + "    allow 0 mm\n  }\n"


def pieces(text, folder):
    folder.mkdir(parents=True, exist_ok=True)
    source = folder / "given.fell"
    source.write_text(text, encoding="utf-8")
    done = run("build", source, "--out", folder / "out")
    assert done.returncode == 0, done.stderr[-3000:]
    (built,) = resolved(folder / "out").values()
    return {p["name"]: p for p in built["pieces"]}


def raw(edges):
    return f'raw {", ".join(edges)} because "only the outline matters here"'


@pytest.mark.parametrize("family", ["convex", "star", "trapezoid"])
def test_insets_and_outsets_by_one_distance(family, tmp_path):
    # Shapely's mitre without a limit is the same figure while no edge vanishes.
    dice = random.Random(f"moved {family}")
    panels, wanted = [], {}
    while len(wanted) < 30:
        outline = some(dice, family, bent=False)
        by = round(dice.uniform(1, 15), 3)
        out = dice.random() < 0.5
        theirs = figure(outline).buffer(by if out else -by, join_style="mitre", mitre_limit=1e4)
        turns_kept = not theirs.is_empty and theirs.geom_type == "Polygon" and len(theirs.exterior.coords) - 1 == len(outline.corners)
        if not turns_kept:
            continue
        name = f"p{len(wanted)}"
        word = "outset" if out else "inset"
        panels.append(panel(name, [f"shape {drawn(outline, name)}", f"{word} {by!r} mm", raw(names(outline))]))
        wanted[name] = theirs
    found = pieces(design("".join(panels)), tmp_path)
    for name, theirs in wanted.items():
        same(ring(found[name]), theirs, f"{family} {name}")


def test_insets_of_bent_edges(tmp_path):
    # A point lies inside the inset when it lies inside the outline and no nearer to it than the distance: shapely's buffer of the
    # flattened outline, whose own corners are rounded or mitred only where the outline turns inward.
    dice = random.Random("bent insets")
    panels, wanted = [], {}
    while len(wanted) < 12:
        outline = some(dice, "convex", bent=True)
        by = round(dice.uniform(1, 8), 3)
        # An edge that vanishes is refused, and not what is looked at here.
        if min(turns(outline)) < 5 or min(math.dist(a, b) for a, b, *_ in outline.edges()) < 6 * by:
            continue
        theirs = figure(outline).buffer(-by, join_style="mitre", mitre_limit=1e4)
        if theirs.geom_type != "Polygon" or theirs.is_empty:
            continue
        if any(r > 0 and abs((math.dist(a, b) ** 2 / 4 + r * r) / (2 * r)) < 2 * by for a, b, r, _ in outline.edges()):
            continue
        name = f"p{len(wanted)}"
        panels.append(panel(name, [f"shape {drawn(outline, name)}", f"inset {by!r} mm", raw(names(outline))]))
        wanted[name] = theirs
    found = pieces(design("".join(panels)), tmp_path)
    for name, theirs in wanted.items():
        same(ring(found[name]), theirs, name)


def half_planes(outline, by):
    """A convex outline whose straights are moved in each by its own distance: what is left of the cloth once each strip is cut off."""
    left = figure(outline)
    for (start, end, _, _), distance in zip(outline.edges(), by):
        d = ((end[0] - start[0]) / math.dist(start, end), (end[1] - start[1]) / math.dist(start, end))
        far = 1e4
        a = (start[0] - d[0] * far, start[1] - d[1] * far)
        b = (end[0] + d[0] * far, end[1] + d[1] * far)
        inward = (-d[1], d[0])
        left = left.difference(Polygon([a, b, along(b, inward, distance), along(a, inward, distance)]))
    return left


def test_each_edge_by_its_own_distance(tmp_path):
    dice = random.Random("each its own")
    panels, wanted = [], {}
    while len(wanted) < 30:
        outline = some(dice, "convex", bent=False)
        by = [round(dice.uniform(0.5, 20), 3) for _ in outline.corners]
        theirs = half_planes(outline, by)
        if theirs.geom_type != "Polygon" or len(theirs.exterior.coords) - 1 != len(outline.corners):
            continue
        name = f"p{len(wanted)}"
        lines = [f"inset {d!r} mm on {e}" for d, e in zip(by, names(outline))]
        panels.append(panel(name, [f"shape {drawn(outline, name)}", *lines, raw(names(outline))]))
        wanted[name] = theirs
    found = pieces(design("".join(panels)), tmp_path)
    for name, theirs in wanted.items():
        same(ring(found[name]), theirs, name)


@pytest.mark.parametrize("kind", ["keep", "remove", "add"])
def test_outlines_laid_on_others(kind, tmp_path):
    # Bent outlines and discs about points and corners of them.
    dice = random.Random(f"laid {kind}")
    panels, wanted, kept = [], {}, {"keep": "intersection", "remove": "difference", "add": "union"}[kind]
    while len(wanted) < 16:
        outline = some(dice, dice.choice(["convex", "star", "trapezoid"]), bent=True)
        base = figure(outline)
        r = round(dice.uniform(20, 300), 3)
        name = f"p{len(wanted)}"
        if dice.random() < 0.5:
            i = dice.randrange(len(outline.corners))
            at, where = outline.corners[i], f"corner e{i - 1 if i else len(outline.corners) - 1}-e{i}"
        else:
            x0, y0, x1, y1 = base.bounds
            at = (round(dice.uniform(x0, x1), 3), round(dice.uniform(y0, y1), 3))
            where = f"({at[0]!r} mm, {at[1]!r} mm)"
        disc = Point(at).buffer(r, quad_segs=1024)
        theirs = getattr(base, kept)(disc)
        plain = theirs.geom_type == "Polygon" and not theirs.is_empty and not theirs.interiors and theirs.area > 100
        if not plain or theirs.equals(base):
            continue
        # Just touching, or hanging on by a thread, is judged either way.
        if theirs.buffer(-0.2).geom_type != "Polygon" or abs(theirs.buffer(0.2).buffer(-0.2).area - theirs.area) > 1e-3 * theirs.area:
            continue
        panels.append((name, [f"shape {drawn(outline, name)}", f"{kind} tool = disc(r: {r!r} mm) at {where}"]))
        wanted[name] = (theirs, base, disc, outline)
    text = design("".join(panel(n, [*lines, raw(bits(*wanted[n][1:], wanted[n][0]))]) for n, lines in panels))
    found = pieces(text, tmp_path)
    arcs = 0
    for name, (theirs, *_) in wanted.items():
        same(ring(found[name]), theirs, f"{kind} {name}")
        arcs += sum(s["kind"] == "arc" for e in found[name]["edges"] if e["name"].startswith("tool") for s in e["path"]["segments"])
    assert arcs > 16


def bits(base, disc, outline, result):
    """The names the edges must have, by shapely: each edge's line held against the boundary of the result."""
    found = []
    rim = result.exterior
    for i, (start, end, rise, _) in enumerate(outline.edges()):
        course = LineString(finely(start, end, rise))
        found += numbered(f"e{i}", pieces_on(course, rim))
    return found + numbered("tool", pieces_on(disc.exterior, rim, closed=True))


def pieces_on(course, rim, closed=False):
    """How many separate stretches of a line lie on a ring."""
    count = 1000
    prepare(rim)
    on = [rim.dwithin(course.interpolate((k + 0.5) / count, normalized=True), 0.03) for k in range(count)]
    starts = sum(a and not b for a, b in zip(on, [on[-1] if closed else False] + on[:-1]))
    return starts or (1 if closed and all(on) else 0)


def numbered(name, count):
    return [name] if count == 1 else [f"{name}_{i + 1}" for i in range(count)]


def test_strips_along_straight_and_bent_edges(tmp_path):
    dice = random.Random("strips")
    panels, wanted = [], {}
    while len(wanted) < 12:
        outline = some(dice, dice.choice(["convex", "trapezoid"]), bent=True)
        count = len(outline.corners)
        i, wide = dice.randrange(count), round(dice.uniform(5, 25), 3)
        start, end, rise, _ = outline.edges()[i]
        lengths = [math.dist(a, b) for a, b, *_ in outline.edges()]
        if lengths[i - 1] < 4 * wide or lengths[(i + 1) % count] < 4 * wide or lengths[i] < 4 * wide:
            continue
        if min(turns(outline)[i - 1], turns(outline)[i]) < 20 or max(turns(outline)[i - 1], turns(outline)[i]) > 80:
            continue
        course = LineString(finely(start, end, rise))
        # What lies within the distance of the edge, its ends run straight on past the neighbours.
        leaving, arriving = tangents(start, end, rise)
        longer = LineString([along(start, leaving, -200), *course.coords, along(end, arriving, 200)])
        theirs = figure(outline).intersection(longer.buffer(wide, cap_style="flat", quad_segs=64))
        theirs = max(getattr(theirs, "geoms", [theirs]), key=lambda g: g.area)
        if theirs.interiors:
            continue
        name = f"p{len(wanted)}"
        other = f"o{len(wanted)}"
        ends = f"e{(i + 1) % count}", f"e{(i - 1) % count}"
        panels.append(panel(other, [f"shape {drawn(outline, other)}", raw(names(outline))]))
        panels.append(panel(name, [f"shape strip of {other}.e{i} wide {wide!r} mm", raw(["outer", ends[0], "inner", ends[1]])]))
        wanted[name] = (theirs, course.length)
    found = pieces(design("".join(panels)), tmp_path)
    for name, (theirs, length) in wanted.items():
        same(ring(found[name]), theirs, name)
        outer = next(e for e in found[name]["edges"] if e["name"] == "outer")
        assert line(outer["path"]).length == pytest.approx(length, abs=0.01)


def test_the_rim_of_an_oval_is_as_long_as_asked(tmp_path):
    # The length of the curve as drawn, by shapely; and the ellipse it stands for, by Ramanujan's second formula, to 0.03 %.
    shares = [0.25, 0.3, 0.45, 0.6, 0.8, 1, 1.5, 2.5, 4]
    panels = [panel(f"p{i}", [f"shape oval_of_rim(rim: {137 * (i + 3)} mm, share: {s})", raw(["rim"])]) for i, s in enumerate(shares)]
    found = pieces("use std.shapes { oval_of_rim }\n" + design("".join(panels)).removeprefix(DISC), tmp_path)
    for i, share in enumerate(shares):
        piece = found[f"p{i}"]
        wanted = 137 * (i + 3)
        (rim,) = piece["edges"]
        assert line(rim["path"]).length == pytest.approx(wanted, abs=0.1), share
        a, b = piece["finished"]["width"] / 2, piece["finished"]["height"] / 2
        assert b / a == pytest.approx(share, rel=1e-9)
        h = ((a - b) / (a + b)) ** 2
        assert math.pi * (a + b) * (1 + 3 * h / (10 + math.sqrt(4 - 3 * h))) == pytest.approx(wanted, rel=3e-4), share


def test_hung_edges_and_edges_that_lie_on_each_other(tmp_path):
    # The base as resolved is flattened here; all that is made from it is made from that by shapely.
    dice = random.Random("hung")
    shape = "shape tarp_half(length_ridge: 2 m, width: 80 cm, sag_eave: 7%, sag_end: 4%)"
    panels = [panel("base", [shape, raw(["eave", "right", "ridge", "left"])])]
    laid = {}
    for i in range(9):
        kind = ["keep", "remove", "add"][i % 3]
        r = round(dice.uniform(60, 250), 3)
        # A disc over the eave; and a rectangle flush with the ridge, or standing on it.
        x, y = round(dice.uniform(600, 1350), 3), 130.0
        edges = {"keep": ["eave", "tool"], "remove": ["eave_1", "tool", "eave_2", "right", "ridge", "left"]}
        edges["add"] = ["eave_1", "tool", "eave_2", "right", "ridge", "left"]
        panels.append(panel(f"d{i}", ["shape as base", f"{kind} tool = disc(r: {r!r} mm) at ({x!r} mm, {y!r} mm)", raw(edges[kind])]))
        laid[f"d{i}"] = (kind, Point(x, y).buffer(r, quad_segs=1024))
        wide, high = round(dice.uniform(50, 300), 3), round(dice.uniform(50, 300), 3)
        low = 800.0 if kind == "add" else 800.0 - high
        box = Polygon([(x, low), (x + wide, low), (x + wide, low + high), (x, low + high)])
        rest = ["eave", "right", "ridge_1", "ridge_2", "left", "tool_left", "tool_right"]
        edges = {"keep": ["ridge", "tool_left", "tool_foot", "tool_right"], "remove": [*rest, "tool_foot"], "add": [*rest, "tool_head"]}
        call = f"rectangle(width: {wide!r} mm, height: {high!r} mm)"
        panels.append(panel(f"b{i}", ["shape as base", f"{kind} tool = {call} at ({x!r} mm, {round(low, 3)!r} mm)", raw(edges[kind])]))
        laid[f"b{i}"] = (kind, box)
    panels.append(panel("facing", ["shape strip of base.eave wide 40 mm", raw(["outer", "right", "inner", "left"])]))
    panels.append(panel("smaller", ["shape as base", "inset 5 mm", raw(["eave", "right", "ridge", "left"])]))
    found = pieces("use std.shapes { rectangle, tarp_half }\n" + design("".join(panels)).replace(DISC, "") + DISC, tmp_path)
    base = ring(found["base"])
    act = {"keep": base.intersection, "remove": base.difference, "add": base.union}
    for name, (kind, tool) in laid.items():
        same(ring(found[name]), act[kind](tool), f"{name} {kind}")
    eave = line(next(e for e in found["base"]["edges"] if e["name"] == "eave")["path"])
    same(ring(found["facing"]), base.intersection(eave.buffer(40, quad_segs=64)), "facing")
    same(ring(found["smaller"]), base.buffer(-5, join_style="mitre", mitre_limit=1e4), "smaller")
