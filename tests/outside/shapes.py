"""Paths of the resolved geometry, of SVG and of DXF as shapely figures, each flattened by other people's code."""

import math

import svgelements
from shapely.geometry import LineString, Polygon

#: A chord of this length strays under 1e-4 mm from any arc of 2 mm radius or more.
STEP = 0.05


def _arc(start, end, bulge):
    """Points of a circular arc from its bulge (tangent of a quarter of its angle)."""
    (x0, y0), (x1, y1) = start, end
    angle = 4 * math.atan(bulge)
    chord = math.hypot(x1 - x0, y1 - y0)
    radius = chord / (2 * math.sin(abs(angle) / 2))
    middle = ((x0 + x1) / 2, (y0 + y1) / 2)
    # The centre lies off the chord's middle by the apothem, left of travel for a left turn of under half a circle.
    apothem = radius * math.cos(abs(angle) / 2) * math.copysign(1, bulge)
    centre = (middle[0] - (y1 - y0) / chord * apothem, middle[1] + (x1 - x0) / chord * apothem)
    first = math.atan2(y0 - centre[1], x0 - centre[0])
    count = max(64, int(abs(angle) * radius / STEP))
    return [
        (centre[0] + radius * math.cos(first + angle * i / count), centre[1] + radius * math.sin(first + angle * i / count))
        for i in range(1, count)
    ] + [end]


def _cubic(start, leaving, arriving, end):
    """Points of a cubic curve."""
    count = max(64, int(math.dist(start, end) / STEP / 4))
    points = []
    for i in range(1, count + 1):
        t = i / count
        s = 1 - t
        points.append(
            tuple(s**3 * a + 3 * s * s * t * b + 3 * s * t * t * c + t**3 * d for a, b, c, d in zip(start, leaving, arriving, end))
        )
    return points


def points(path):
    """Points along a path of the resolved geometry."""
    xy = lambda p: (p["x"], p["y"])
    at = xy(path["start"])
    found = [at]
    for segment in path["segments"]:
        end = xy(segment["end"])
        if segment["kind"] == "line":
            found.append(end)
        elif segment["kind"] == "arc":
            found.extend(_arc(at, end, segment["bulge"]))
        else:
            found.extend(_cubic(at, xy(segment["leaving"]), xy(segment["arriving"]), end))
        at = end
    return found


def line(path):
    """A path as a line."""
    return LineString(points(path))


def polygon(path):
    """A closed path as a polygon."""
    return Polygon(points(path))


def svg_polygon(d):
    """The polygon of one closed `d` attribute."""
    path = svgelements.Path(d)
    found = []
    for segment in path:
        if isinstance(segment, svgelements.Move):
            found.append((segment.end.x, -segment.end.y))
        elif isinstance(segment, (svgelements.Line, svgelements.Close)):
            found.append((segment.end.x, -segment.end.y))
        else:
            count = max(64, int(segment.length(error=1e-4) / STEP))
            for i in range(1, count + 1):
                p = segment.point(i / count)
                found.append((p.x, -p.y))
    return Polygon(found)
