"""Ways for two allowances to meet, against shapely: round joins, hems stepped, points trimmed."""

import math
import random

import pytest
from shapely.affinity import affine_transform
from shapely.geometry import Polygon

import outlines
from harness import build_text
from outlines import LIMIT, generate
from shapes import polygon
from test_offsets import NEAR, alike, dropped


def joined(given, folder, kind, more=""):
    """The pieces of outlines all of whose corners meet in one way."""
    panels = []
    for i, outline in enumerate(given):
        count = len(outline.corners)
        corners = ", ".join(f"e{k}-e{(k + 1) % count}" for k in range(count))
        lines = [line for line in outline.source(f"p{i}").splitlines() if not (more and (" allow " in line or " raw " in line))]
        edges = ", ".join(f"e{k}" for k in range(count))
        said = more.format(width=outline.allowances[0], edges=edges)
        panels.append("\n".join([*lines[:-1], f"    corner {corners} is {kind}", f"    {said}", "  }"]))
    text = outlines.source([]).replace("  step look", "\n".join(panels) + "\n  step look")
    hem = "finish one_fold(width: length) { allow width folds at 0 mm encloses raw edges }\n" if more else ""
    (design,) = build_text(hem + text, folder).values()
    pieces = {piece["name"]: piece for piece in design["pieces"]}
    return [polygon(pieces[f"p{i}"]["cut_line"]) for i in range(len(given))]


def test_rounded_corners_are_shapelys_round_buffer(tmp_path):
    """Round join style, every family of outline, corners inward and outward."""
    dice = random.Random(7_1)
    given = [o for family in ("convex", "star", "trapezoid", "bent") for o in generate(dice, family, 125, alike=True)]
    for i, (outline, cut) in enumerate(zip(given, joined(given, tmp_path, "rounded"))):
        expected = outlines.finished(outline).buffer(outline.allowances[0], join_style="round", quad_segs=512)
        alike(cut, expected, f"{outline.family} {i}", NEAR + dropped(outline))


def rays(outline, k):
    """A corner, and the ways its two edges run: in to it and out of it."""
    count = len(outline.corners)
    before, at, after = outline.corners[k - 1], outline.corners[k], outline.corners[(k + 1) % count]
    return at, outlines.unit(before, at), outlines.unit(at, after)


def test_stepped_hems_are_the_mitred_buffer_without_what_lies_outside_both_edges(tmp_path):
    dice = random.Random(7_2)
    long = lambda o: min(math.dist(a, b) for a, b, *_ in o.edges()) > 5 * o.allowances[0]
    given = generate(dice, "convex", 60, alike=True, wanted=lambda o: 25 < min(outlines.turns(o)) and max(outlines.turns(o)) < 89 and long(o))
    for i, (outline, cut) in enumerate(zip(given, joined(given, tmp_path, "stepped", "finish {edges} with one_fold(width: {width} mm)"))):
        expected = outlines.finished(outline).buffer(outline.allowances[0], join_style="mitre", mitre_limit=LIMIT)
        for k in range(len(outline.corners)):
            at, first, second = rays(outline, k)
            far = 6 * outline.allowances[0]
            tips = [outlines.along(at, first, far), outlines.along(outlines.along(at, first, far), second, -far), outlines.along(at, second, -far)]
            expected = expected.difference(Polygon([at, *tips]))
        assert abs(cut.area - expected.area) < 1e-4 * expected.area and cut.symmetric_difference(expected).area < NEAR * cut.length, i


def mirrored(figure, at, way):
    """A figure turned over about a line."""
    x, y = way
    a, b, c = x * x - y * y, 2 * x * y, y * y - x * x
    return affine_transform(figure, [a, b, b, c, at[0] - a * at[0] - b * at[1], at[1] - b * at[0] - c * at[1]])


def beside(at, way, far, out):
    """A band as long as twice that, from so far outside a line inward."""
    right = outlines.right(way)
    p, q = outlines.along(at, way, -far), outlines.along(at, way, far)
    return Polygon([outlines.along(p, right, out), outlines.along(q, right, out), outlines.along(q, right, -far), outlines.along(p, right, -far)])


@pytest.mark.parametrize("kind, sticks_out", [("mitred", True), ("trimmed", False)])
def test_pressed_open_a_trimmed_corner_shows_nothing(tmp_path, kind, sticks_out):
    """The allowance mirrored at its stitch line lies inside the other edge's cut line; that of a mitred corner does not."""
    dice = random.Random(7_3)
    sharp = lambda o: any(t > 100 for t in outlines.turns(o)) and min(outlines.turns(o)) > 0 and max(outlines.turns(o)) < 150
    given = generate(dice, "convex", 50, alike=True, wanted=sharp)
    found = []
    for i, (outline, cut) in enumerate(zip(given, joined(given, tmp_path, kind))):
        d = outline.allowances[0]
        for k, turn in enumerate(outlines.turns(outline)):
            at, first, second = rays(outline, k)
            if turn <= 95:
                continue
            for own, other in ((first, second), (second, first)):
                near = Polygon([outlines.along(outlines.along(at, own, x), outlines.right(own), y) for x, y in ((-3 * d, 0), (4 * d, 0), (4 * d, 2 * d), (-3 * d, 2 * d))])
                pressed = mirrored(cut.intersection(near), at, own)
                found.append(pressed.difference(beside(at, other, 40 * d, d + 1e-6)).area / d**2)
        mitred = outlines.finished(outline).buffer(d, join_style="mitre", mitre_limit=LIMIT)
        assert cut.within(mitred.buffer(1e-3)) and outlines.finished(outline).within(cut), i
    assert len(found) >= 50
    assert max(found) > 0.05 if sticks_out else max(found) < 1e-6


def test_the_point_of_a_trimmed_triangle(tmp_path):
    """Equilateral, sides of 200, allowance 10: the mitred triangle has sides of 200 + 20 sqrt 3; each point loses a triangle of
    height 10 and base 20 tan 30 (worked out by hand)."""
    ring = [(0.0, 0.0), (200.0, 0.0), (100.0, 100 * math.sqrt(3))]
    (cut,) = joined([outlines.Outline("triangle", ring, [10.0] * 3)], tmp_path, "trimmed")
    whole = math.sqrt(3) / 4 * (200 + 20 * math.sqrt(3)) ** 2
    assert cut.area == pytest.approx(whole - 3 * 10 * 10 * math.tan(math.radians(30)), abs=1e-3)


def test_a_dart_folded_and_pressed_lies_within_the_cut_line(tmp_path):
    """The half of the dart beside each leg, mirrored at that leg, ends on the cut line beside it."""
    dice = random.Random(7_4)
    darts, panels = [], []
    for i in range(40):
        deep = dice.uniform(40, 200)
        darts.append((dice.uniform(250, 400), dice.uniform(8, min(60, deep)), deep, dice.uniform(4, 20)))
        at, wide, deep, allowance = (round(n, 6) for n in darts[-1])
        ring = outlines.Outline("dart", [(0.0, 0.0), (700.0, 0.0), (700.0, 500.0), (0.0, 500.0)], [allowance] * 4)
        lines = ring.source(f"p{i}").splitlines()
        panels.append("\n".join([*lines[:-1], f"    dart e0 at {at!r} mm from e3 wide {wide!r} mm deep {deep!r} mm", "  }"]))
    text = outlines.source([]).replace("  step look", "\n".join(panels) + "\n  step look")
    (design,) = build_text(text, tmp_path).values()
    for i, (at, wide, deep, allowance) in enumerate(darts):
        piece = next(p for p in design["pieces"] if p["name"] == f"p{i}")
        cut = polygon(piece["cut_line"])
        tip = (at, deep)
        level = Polygon([(-100, -allowance), (800, -allowance), (800, 600), (-100, 600)])
        for side in (-1, 1):
            leg = outlines.unit(tip, (at + side * wide / 2, 0.0))
            far = outlines.along(tip, leg, 2 * deep + 200)
            half = cut.intersection(Polygon([tip, far, (at, -2 * deep)]))
            pressed = mirrored(half, tip, leg)
            assert pressed.difference(level.buffer(1e-4)).area < 1e-3, i
            # And it reaches that line wherever it lies: what is short of it has no area.
            strip = Polygon([(-100, 0), (800, 0), (800, -allowance), (-100, -allowance)])
            wedge = mirrored(Polygon([tip, far, (at, -2 * deep)]), tip, leg)
            assert strip.intersection(wedge).difference(pressed).area < 1e-3, i
