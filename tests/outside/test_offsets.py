"""Cut lines of generated outlines against shapely's buffer, against plain arithmetic, and against what is known of every offset.

The outlines come from a fixed walk; the real binary drafts them, many to a design.
"""

import math
import random

import pytest
import shapely
from shapely.geometry import Polygon

import outlines
from harness import build_text
from outlines import LIMIT, SHARPEST, Outline, generate
from shapes import polygon

#: Lines may lie this far (mm) apart.
NEAR = 0.05


def drafted(given, folder):
    """The pieces the binary makes of outlines, in their order."""
    (design,) = build_text(outlines.source(given), folder).values()
    pieces = {piece["name"]: piece for piece in design["pieces"]}
    assert len(pieces) == len(given)
    return [pieces[f"p{i}"] for i in range(len(given))]


def alike(ours, theirs, where, near=NEAR):
    """Two closed lines lie nowhere farther apart than that, and enclose the same but for a rim as wide."""
    assert ours.is_valid and ours.exterior.is_ccw, where
    # Far fewer points, and none a micron off.
    ours, theirs = ours.simplify(1e-3), theirs.simplify(1e-3)
    distance = shapely.hausdorff_distance(ours.exterior, theirs.exterior)
    assert distance <= near, f"{where}: {distance:.4f} mm apart"
    rim = ours.symmetric_difference(theirs).area / ours.length
    assert rim <= near and abs(ours.area - theirs.area) <= near * ours.length, f"{where}: a rim of {rim:.4f} mm"


def dropped(outline):
    """Shapely's buffer drops points of inward curves first, as long as that moves them by no more than a hundredth of the distance
    (a factor fixed in the library beneath it). The plain arithmetic holds those outlines to 0.05 mm as it does all."""
    return max(outline.allowances) / 100 if min(outline.rises) < 0 else 0


@pytest.fixture(scope="module")
def even(tmp_path_factory):
    """Outlines with one allowance all round, and their pieces."""
    dice = random.Random(6_2)
    given = [o for family, count in FAMILIES.items() for o in generate(dice, family, count, alike=True)]
    return list(zip(given, drafted(given, tmp_path_factory.mktemp("even"))))


@pytest.fixture(scope="module")
def uneven(tmp_path_factory):
    """Outlines with an allowance of its own on every edge, and their pieces."""
    dice = random.Random(6_3)
    given = [o for family, count in FAMILIES.items() for o in generate(dice, family, count, alike=False)]
    return list(zip(given, drafted(given, tmp_path_factory.mktemp("uneven"))))


FAMILIES = {"convex": 90, "star": 90, "trapezoid": 60, "bent": 110}


def test_one_allowance_all_round_is_shapelys_mitred_buffer(even):
    assert len(even) >= 350
    for i, (outline, piece) in enumerate(even):
        expected = outlines.finished(outline).buffer(outline.allowances[0], join_style="mitre", mitre_limit=LIMIT)
        alike(polygon(piece["cut_line"]), expected, f"{outline.family} {i}", NEAR + dropped(outline))


def test_every_edge_keeps_its_own_allowance(even, uneven):
    assert len(uneven) >= 350
    for i, (outline, piece) in enumerate(even + uneven):
        alike(polygon(piece["cut_line"]), outlines.by_lines(outline), f"{outline.family} {i}")


def test_between_the_narrowest_and_the_widest_all_round(uneven):
    for i, (outline, piece) in enumerate(uneven):
        cut, figure = polygon(piece["cut_line"]), outlines.finished(outline)
        least = figure.buffer(min(outline.allowances) - NEAR, quad_segs=64)
        most = figure.buffer(max(outline.allowances) + NEAR + dropped(outline), join_style="mitre", mitre_limit=4 * LIMIT)
        assert least.within(cut) and cut.within(most), f"{outline.family} {i}"


def test_needles_are_cut_off_one_allowance_past_their_point(tmp_path):
    dice = random.Random(6_4)
    given = []
    while len(given) < 60:
        # A kite with a point of 6 to 28 degrees.
        half, long, short = math.radians(dice.uniform(3, 14)), dice.uniform(200, 900), dice.uniform(60, 190)
        wide = long * math.tan(half)
        turn = dice.uniform(0, math.tau)
        ring = [(long, 0.0), (0.0, wide), (-max(short, wide), 0.0), (0.0, -wide)]
        ring = [(x * math.cos(turn) - y * math.sin(turn), x * math.sin(turn) + y * math.cos(turn)) for x, y in ring]
        outline = Outline("needle", ring, [dice.uniform(2, 20)] * 4)
        if outlines.sound(outline) and max(outlines.turns(outline)) > 180 - SHARPEST:
            given.append(outline)
    for i, (outline, piece) in enumerate(zip(given, drafted(given, tmp_path))):
        cut = polygon(piece["cut_line"])
        alike(cut, outlines.blunted(outline), f"needle {i}")
        # Nothing of it lies nearer than the allowance, the blunt tip neither.
        assert outlines.finished(outline).exterior.distance(cut.exterior) == pytest.approx(outline.allowances[0], abs=1e-3)


def test_mitred_cut_lines_grow_as_the_identity_says(even):
    """Straight and convex: P' = P + 2 d sum tan(t/2), A' = A + P d + d^2 sum tan(t/2), t the exterior angles."""
    seen = 0
    for i, (outline, piece) in enumerate(even):
        turns = outlines.turns(outline)
        if not outline.straight or min(turns) <= 0:
            continue
        d, tangents = outline.allowances[0], sum(math.tan(math.radians(t) / 2) for t in turns)
        figure, cut = Polygon(outline.corners), polygon(piece["cut_line"])
        assert cut.length == pytest.approx(figure.length + 2 * d * tangents, abs=1e-3), f"{outline.family} {i}"
        assert cut.area == pytest.approx(figure.area + figure.length * d + d * d * tangents, rel=1e-7), f"{outline.family} {i}"
        seen += 1
    assert seen >= 150


def test_rounded_convex_outlines_grow_as_steiner_says(tmp_path):
    """Smooth and convex: P' = P + 2 pi d, A' = A + P d + pi d^2."""
    dice = random.Random(6_5)
    given = generate(dice, "convex", 80, alike=True, wanted=lambda o: max(outlines.turns(o)) < 150)
    radius, panels = 2.0, []
    for i, outline in enumerate(given):
        count = len(outline.corners)
        corners = ", ".join(f"e{k}-e{(k + 1) % count}" for k in range(count))
        names = [f"e{k}_e{(k + 1) % count}" for k in range(count)]
        lines = outline.source(f"p{i}").splitlines()
        panels.append("\n".join([*lines[:-1], f"    round corner {corners} by {radius} mm", f'    raw {", ".join(names)} because "arcs"', "  }"]))
    text = outlines.source([]).replace("  step look", "\n".join(panels) + "\n  step look")
    (design,) = build_text(text, tmp_path).values()
    pieces = {piece["name"]: piece for piece in design["pieces"]}
    for i, outline in enumerate(given):
        d, cut = outline.allowances[0], polygon(pieces[f"p{i}"]["cut_line"])
        # The polygon drawn in by the radius, mitred, is where the centres run; round it grows by both.
        core = Polygon(outline.corners).buffer(-radius, join_style="mitre", mitre_limit=100)
        length, area = core.length + math.tau * radius, core.area + core.length * radius + math.pi * radius**2
        assert cut.length == pytest.approx(length + math.tau * d, abs=NEAR), i
        assert cut.area == pytest.approx(area + length * d + math.pi * d * d, abs=NEAR * cut.length), i
        alike(cut, core.buffer(radius + d, quad_segs=512), f"rounded {i}")


def test_the_tables_rectangle_and_trapezoid(tmp_path):
    """600 x 400 with 10 all round; a quilt 1300 and 900 wide, 2000 long, likewise: figures worked out by hand."""
    rectangle = Outline("rectangle", [(0.0, 0.0), (600.0, 0.0), (600.0, 400.0), (0.0, 400.0)], [10.0] * 4)
    quilt = Outline("trapezoid", [(200.0, 0.0), (1100.0, 0.0), (1300.0, 2000.0), (0.0, 2000.0)], [10.0] * 4)
    first, second = (polygon(piece["cut_line"]) for piece in drafted([rectangle, quilt], tmp_path))
    # 620 x 420; round corners would make 260 314.16 and 2062.83.
    assert first.area == pytest.approx(260_400, abs=1e-3) and first.length == pytest.approx(2080, abs=1e-3)
    assert first.buffer(-10).buffer(10, quad_segs=512).area == pytest.approx(260_314.16, abs=0.1)
    assert second.area == pytest.approx(2_262_601.50, abs=0.05) and second.length == pytest.approx(6300.35, abs=0.005)
    x0, _, x1, _ = second.bounds
    assert x1 - x0 == pytest.approx(1322.10, abs=0.005)


@pytest.mark.parametrize("degrees, factor", [(30, 3.864), (45, 2.613), (60, 2.0), (90, 1.414), (120, 1.155)])
def test_mitre_tips_stand_where_they_should(tmp_path, degrees, factor):
    """Distance of the tip from its corner: d / sin(half the interior angle)."""
    slant = math.radians(degrees)
    corner = Outline("corner", [(0.0, 0.0), (400.0, 0.0), (400 * math.cos(slant), 400 * math.sin(slant))], [10.0] * 3)
    (piece,) = drafted([corner], tmp_path)
    # The corner's halving line leaves the tip backwards.
    tips = [p for p in polygon(piece["cut_line"]).exterior.coords if p[0] < 0 and abs(math.atan2(-p[1], -p[0]) - slant / 2) < 1e-6]
    assert math.hypot(*tips[0]) == pytest.approx(10 * factor, abs=6e-3)


def test_arcs_stay_arcs_and_are_longer_outside_by_their_radius(even):
    """Cut edge to stitch line: (r + d) / r where it bulges out, (r - d) / r where it goes in."""
    seen = {True: 0, False: 0}
    for i, (outline, piece) in enumerate(even):
        arcs = [s for s in piece["cut_line"]["segments"] if s["kind"] == "arc"]
        drawn = [e for e in outline.edges() if e[2]]
        assert len(arcs) == len(drawn), f"{outline.family} {i}"
        found = lengths(piece["cut_line"])
        for start, end, rise, d in drawn:
            radius = outlines.circle(start, end, rise)[1]
            stitched = abs(radius) * 4 * math.atan(abs(2 * rise) / math.dist(start, end))
            expected = stitched * (radius + d) / radius
            assert min(abs(expected - length) for length in found) < 1e-4, f"{outline.family} {i}"
            seen[rise > 0] += 1
    assert min(seen.values()) >= 20


def lengths(path):
    """Lengths of a path's arcs, from chord and bulge."""
    at, found = path["start"], []
    for segment in path["segments"]:
        end = segment["end"]
        if segment["kind"] == "arc":
            angle = 4 * math.atan(abs(segment["bulge"]))
            found.append(math.hypot(end["x"] - at["x"], end["y"] - at["y"]) / (2 * math.sin(angle / 2)) * angle)
        at = end
    return found


def test_tapered_sides_are_mitred_where_the_taper_ends(tmp_path):
    dice = random.Random(6_6)
    panels, expected = [], []
    for i in range(60):
        wide, high, d = (round(dice.uniform(*r), 6) for r in ((300, 1500), (400, 2200), (3, 25)))
        by, over = round(dice.uniform(20, 0.3 * wide), 6), round(dice.uniform(0.3, 0.9) * high, 6)
        lines = Outline("taper", [(0.0, 0.0), (wide, 0.0), (wide, high), (0.0, high)], [d] * 4).source(f"p{i}").splitlines()
        panels.append("\n".join([*lines[:-1], f"    taper e1, e3 by {by!r} mm over {over!r} mm from e2", "  }"]))
        low = high - over
        figure = Polygon([(0, 0), (wide, 0), (wide, low), (wide - by, high), (by, high), (0, low)])
        expected.append(figure.buffer(d, join_style="mitre", mitre_limit=LIMIT))
    text = outlines.source([]).replace("  step look", "\n".join(panels) + "\n  step look")
    (design,) = build_text(text, tmp_path).values()
    pieces = {piece["name"]: piece for piece in design["pieces"]}
    for i, figure in enumerate(expected):
        alike(polygon(pieces[f"p{i}"]["cut_line"]), figure, f"tapered {i}")
