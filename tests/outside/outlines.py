"""Outlines by the hundred from a fixed walk, each as source text, as plain figures, and as the cut line other ways of working it out give.

An outline is a counter-clockwise ring of corners, a rise (outward, 0 for a straight) and an allowance for each edge.
"""

import math
from dataclasses import dataclass, field

from shapely.geometry import Polygon

#: A corner's tip lies no farther off than this many times the allowance.
LIMIT = 4
#: Corners sharper than this (degrees) reach the limit: 2 asin(1/4) is 28.955.
SHARPEST = 29
#: Edges that turn by less than this (degrees) step instead of meeting when their allowances differ.
HARDLY = 5


@dataclass
class Outline:
    family: str
    corners: list
    allowances: list
    rises: list = field(default_factory=list)

    def __post_init__(self):
        # As a maker would write them, without exponents.
        self.corners = [(round(x, 6) + 0.0, round(y, 6) + 0.0) for x, y in self.corners]
        self.allowances = [round(a, 6) for a in self.allowances]
        self.rises = [round(r, 6) for r in self.rises] or [0.0] * len(self.corners)

    @property
    def straight(self):
        return not any(self.rises)

    def edges(self):
        ends = self.corners[1:] + self.corners[:1]
        return list(zip(self.corners, ends, self.rises, self.allowances))

    def source(self, name):
        """The panel in the language."""
        at = lambda p: f"({p[0]!r} mm, {p[1]!r} mm)"
        names = [f"e{i}" for i in range(len(self.corners))]
        lines = [f"  panel {name} {{", "    cut 1 of plain_cloth", "    shape {", f"      start {at(self.corners[0])}"]
        for edge, (_, end, rise, _) in zip(names, self.edges()):
            to = "start" if edge == names[-1] else at(end)
            lines.append(f"      edge {edge} " + (f"arc to {to} rise {rise!r} mm" if rise else f"line to {to}"))
        lines.append("    }")
        if len(set(self.allowances)) == 1:
            lines.append(f"    allow {self.allowances[0]!r} mm")
        else:
            lines += [f"    allow {width!r} mm on {edge}" for edge, width in zip(names, self.allowances)]
        return "\n".join(lines + [f'    raw {", ".join(names)} because "only the outline matters here"', "  }"])


def source(outlines):
    """All of them in one design."""
    panels = "\n".join(o.source(f"p{i}") for i, o in enumerate(outlines))
    cloth = 'material plain_cloth is cloth "Plain cloth" { mass = 50 g/m2  width = 5 m  source = "memory" }'
    return f'design outlines {{\n  {cloth}\n{panels}\n  step look inspect "Look at the outlines"\n}}\n'


def minus(a, b):
    return a[0] - b[0], a[1] - b[1]


def along(p, direction, distance):
    return p[0] + direction[0] * distance, p[1] + direction[1] * distance


def unit(a, b):
    length = math.dist(a, b)
    return (b[0] - a[0]) / length, (b[1] - a[1]) / length


def right(d):
    return d[1], -d[0]


def cross(a, b):
    return a[0] * b[1] - a[1] * b[0]


def dot(a, b):
    return a[0] * b[0] + a[1] * b[1]


def circle(start, end, rise):
    """Centre and signed radius of the circle an arc lies on; positive when it bulges out, to the right of travel."""
    chord = math.dist(start, end)
    radius = (chord * chord / 4 + rise * rise) / (2 * rise)
    middle = ((start[0] + end[0]) / 2, (start[1] + end[1]) / 2)
    return along(middle, right(unit(start, end)), rise - radius), radius


def tangents(start, end, rise):
    """Directions in which an edge leaves its start and reaches its end."""
    d = unit(start, end)
    if not rise:
        return d, d
    # Half the arc's angle, from chord and rise; an edge that bulges out leaves to the right and turns left.
    half = 2 * math.atan2(2 * rise, math.dist(start, end))
    turned = lambda a: (d[0] * math.cos(a) - d[1] * math.sin(a), d[0] * math.sin(a) + d[1] * math.cos(a))
    return turned(-half), turned(half)


def arc_points(start, end, rise, out=0.0, step=0.004):
    """Points on the arc, or on the one a distance outside it; neighbours are `step` of an angle apart."""
    centre, radius = circle(start, end, rise)
    grown = (radius + out) / radius
    first = minus(start, centre)
    half = 2 * math.atan2(2 * rise, math.dist(start, end))
    count = max(8, math.ceil(abs(2 * half) / step))
    found = []
    for i in range(count + 1):
        a = 2 * half * i / count
        x = first[0] * math.cos(a) - first[1] * math.sin(a)
        y = first[0] * math.sin(a) + first[1] * math.cos(a)
        found.append((centre[0] + x * grown, centre[1] + y * grown))
    return found


def finished(outline):
    """The outline as a polygon, arcs flattened. At its ends a flattened arc first follows its tangent for a hair."""
    ring = []
    for start, end, rise, _ in outline.edges():
        if not rise:
            ring.append(start)
            continue
        leaving, arriving = tangents(start, end, rise)
        found = arc_points(start, end, rise)
        ring += [start, along(start, leaving, 1e-3), *found[1:-1], along(end, arriving, -1e-3)]
    return Polygon(ring)


def turns(outline):
    """The angle (degrees) by which each edge's end turns into the next edge; positive to the left, a corner that points out."""
    ends = [tangents(*e[:3]) for e in outline.edges()]
    return [math.degrees(math.atan2(cross(a[1], b[0]), dot(a[1], b[0]))) for a, b in zip(ends, ends[1:] + ends[:1])]


def by_lines(outline):
    """The cut line by plain arithmetic: each edge moved out by its own allowance, neighbours met by Cramer's rule. Where
    different allowances meet too far off because the edges hardly turn, the line steps across.

    None where that is no cut line: a needle, an edge that nothing is left of, a crossing.
    """
    sides = []
    for start, end, rise, width in outline.edges():
        leaving, arriving = tangents(start, end, rise)
        sides.append((along(start, right(leaving), width), along(end, right(arriving), width), leaving, arriving))
    ways = []
    for i, turn in enumerate(turns(outline)):
        j = (i + 1) % len(sides)
        way = corner(outline.corners[j], turn, sides[i], sides[j], (outline.allowances[i], outline.allowances[j]))
        bent = outline.rises[i] or outline.rises[j]
        if way is None or bent and not runs_on(way, sides[i], sides[j]):
            return None
        ways.append(way)
    ring = []
    for i, (start, end, rise, width) in enumerate(outline.edges()):
        before, after = ways[i - 1][-1], ways[i][0]
        if dot(minus(after, before), unit(start, end)) <= 0.5:
            return None
        ring += ways[i - 1]
        if rise:
            if rise < 0 and circle(start, end, rise)[1] + width > -1:
                return None
            ring += arc_points(start, end, rise, width)
    figure = Polygon(ring)
    return figure if figure.is_valid and figure.covers(finished(outline).buffer(-1e-6)) else None


def corner(at, turn, first, second, widths):
    """The points of the cut line round one corner: where both lines meet, or the ends of both where it steps."""
    (_, last, _, arriving), (start, _, leaving, _) = first, second
    steps = [last, start]
    if turn < 0:
        # Inward, the wider line ends square to its edge: there the narrower one begins, or ends.
        wide, narrow = (first, second) if widths[0] > widths[1] else (second, first)
        edge, on, direction = (wide[1], narrow[0], narrow[2]) if wide is first else (wide[0], narrow[1], narrow[3])
        out = minus(edge, at)
        met = along(on, direction, cross(minus(at, on), out) / cross(direction, out))
        steps = [edge, met] if wide is first else [met, edge]
    if abs(turn) < HARDLY and widths[0] != widths[1]:
        return steps
    on = cross(minus(start, last), leaving) / cross(arriving, leaving)
    tip = along(last, arriving, on)
    # Seen along one edge, the wider line is past the narrower one already at the corner.
    clear = min(widths) < max(widths) * math.cos(math.radians(turn))
    if (turn > 0 or clear) and math.dist(tip, at) > LIMIT * max(widths):
        return steps if abs(turn) < 90 else None
    return [tip]


def runs_on(way, first, second):
    """Whether a way round a corner begins past the end of one line and ends before the start of the next: arcs are not cut short."""
    (_, last, _, arriving), (start, _, leaving, _) = first, second
    return dot(minus(way[0], last), arriving) >= 0 and dot(minus(way[-1], start), leaving) <= 0


def blunted(outline):
    """The cut line of a polygon with needles, one allowance all round: shapely's mitre without a limit, cut off square to the
    needle's halving line one allowance past its corner."""
    width = outline.allowances[0]
    figure = Polygon(outline.corners).buffer(width, join_style="mitre", mitre_limit=1e4)
    for i, turn in enumerate(turns(outline)):
        if turn <= 180 - SHARPEST:
            continue
        j = (i + 1) % len(outline.corners)
        point = outline.corners[j]
        (_, arriving), (leaving, _) = tangents(*outline.edges()[i][:3]), tangents(*outline.edges()[j][:3])
        out = unit((0.0, 0.0), minus(arriving, leaving))
        base, far = along(point, out, width), 1e4
        side = right(out)
        ends = [along(base, side, far), along(base, side, -far)]
        figure = figure.difference(Polygon([*ends, *(along(e, out, 2 * far) for e in reversed(ends))]))
    return figure


# ---------------------------------------------------------------- The families


def convex(dice):
    """Corners on an ellipse at rising angles."""
    count = dice.randint(3, 10)
    steps = [dice.uniform(0.3, 1.0) for _ in range(count)]
    a, b, turn = dice.uniform(60, 900), dice.uniform(60, 900), dice.uniform(0, math.tau)
    angle, corners = turn, []
    for s in steps:
        angle += s / sum(steps) * math.tau
        corners.append((a * math.cos(angle), b * math.sin(angle)))
    return corners


def star(dice):
    """Corners round a middle, near and far."""
    count = dice.randint(4, 12)
    return [
        (r * math.cos(math.tau * i / count), r * math.sin(math.tau * i / count))
        for i, r in enumerate(dice.uniform(120, 500) for _ in range(count))
    ]


def trapezoid(dice):
    """A quilt's or a sack's side: two ends of different widths, its sides slanted each by its own amount."""
    foot, height = dice.uniform(200, 1500), dice.uniform(200, 2200)
    left, right_ = dice.uniform(0, 0.3) * foot, dice.uniform(0, 0.3) * foot
    return [(0.0, 0.0), (foot, 0.0), (foot - right_, height), (left, height)]


def allowances(dice, count, widest, alike):
    if alike:
        return [dice.uniform(1, widest)] * count
    return [dice.uniform(1, widest) for _ in range(count)]


def rises(dice, corners):
    """Straights and arcs, in and out, by turns."""
    found = []
    for start, end in zip(corners, corners[1:] + corners[:1]):
        share = dice.choice([0.0, dice.uniform(0.03, 0.2), -dice.uniform(0.03, 0.15)])
        found.append(share * math.dist(start, end))
    return found


def generate(dice, family, count, alike, wanted=lambda outline: by_lines(outline) is not None):
    """So many outlines of a family for which the plain arithmetic has an answer."""
    draw = {"convex": convex, "star": star, "trapezoid": trapezoid, "bent": lambda d: d.choice([convex, star, trapezoid])(d)}[family]
    found = []
    for _ in range(count * 400):
        corners = draw(dice)
        widest = 12 if family == "bent" else 30
        bends = rises(dice, corners) if family == "bent" else []
        outline = Outline(family, corners, allowances(dice, len(corners), widest, alike), bends)
        if not sound(outline):
            continue
        if wanted(outline):
            found.append(outline)
            if len(found) == count:
                return found
    raise AssertionError(f"only {len(found)} of {count} {family} outlines")


def sound(outline):
    """A simple ring, whose arcs neither meet nor crowd their neighbours."""
    figure = finished(outline)
    return figure.is_valid and figure.exterior.is_ccw and min(math.dist(a, b) for a, b, *_ in outline.edges()) > 15

