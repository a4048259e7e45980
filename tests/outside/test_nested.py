"""All sizes of a piece in one drawing, measured by shapely: each size's line and the shared ones make its cut line."""

import xml.etree.ElementTree as ET

import pytest
import svgelements
from shapely.affinity import translate
from shapely.geometry import LineString
from shapely.ops import unary_union

from harness import build, resolved, run, ROOT
from shapes import points, polygon

SVG = "{http://www.w3.org/2000/svg}"
#: Lines within a tenth of a millimetre are one to the eye; chords and rounding come on top.
MM = 0.15


def lines(group):
    """Lines of a group, y up. Words and the groups inside it that are no cut are left out by the caller."""
    found = []
    for element in group.iter(f"{SVG}path"):
        path = svgelements.Path(element.get("d"))
        chain = []
        for segment in path:
            if isinstance(segment, svgelements.Move):
                if len(chain) > 1:
                    found.append(LineString(chain))
                chain = [(segment.end.x, -segment.end.y)]
            elif isinstance(segment, (svgelements.Line, svgelements.Close)):
                chain.append((segment.end.x, -segment.end.y))
            else:
                count = max(16, int(segment.length(error=1e-4)))
                chain.extend((p.x, -p.y) for p in (segment.point(i / count) for i in range(1, count + 1)))
        if len(chain) > 1:
            found.append(LineString(chain))
    return unary_union(found) if found else LineString()


def groups(root, cls):
    return [g for g in root.iter(f"{SVG}g") if g.get("class") == cls]


def title(group):
    return group.find(f"{SVG}title").text


def size_name(design):
    return design["size"] or design["size_title"]


def lower_left(piece):
    """The edge that starts at the corner farthest to the lower left, and that corner; none for a round piece."""
    edges = piece["edges"]
    if len(edges) == 1:
        return None
    start = lambda e: e["path"]["start"]
    edge = min(edges, key=lambda e: (round(start(e)["x"] + start(e)["y"], 3), round(start(e)["y"], 3)))
    return edge["name"]


def common(piece, edge):
    if edge is None:
        box = LineString(points(piece["edges"][0]["path"])).bounds
        return (box[0] + box[2]) / 2, (box[1] + box[3]) / 2
    start = next(e for e in piece["edges"] if e["name"] == edge)["path"]["start"]
    return start["x"], start["y"]


def check(out, chosen=None):
    """Checks every piece of a nest and returns how many lines were measured."""
    root = ET.parse(out / "nested.svg").getroot()
    designs = list(resolved(out).values())
    # As drawn comes first, as in the drawing.
    designs.sort(key=lambda d: d["size"] is not None)
    seen = 0
    for body in groups(root, "piece"):
        mine = [(size_name(d), p) for d in designs for p in d["pieces"] if body.get("id").endswith("-" + "".join(c if c.isalnum() or c == "_" else "-" for c in p["name"])) and p["label"] == title(body)]
        assert mine, body.get("id")
        shared = unary_union([lines(g) for g in groups(body, "shared") for g in groups(g, "cut")])
        own = {}
        for group in groups(body, "size"):
            for name in title(group).split(", "):
                own[name] = lines(group)
        edge = chosen or lower_left(mine[0][1])
        # Where the common point lies on the sheet: found from the first size, and then the same for all.
        drawn = unary_union([shared, *own.values()])
        placed = None
        for name, piece in mine:
            cut = polygon(piece["cut_line"]).exterior
            at = common(piece, edge)
            everything = unary_union([shared, own.get(name, LineString())])
            if placed is None:
                placed = fit(cut, at, mine, edge, drawn)
            here = translate(cut, placed[0] - at[0], placed[1] - at[1])
            missing = here.difference(everything.buffer(MM)).length
            assert missing < 0.5, f"{out} {body.get('id')} {name}: {missing} mm of its cut line are not drawn"
            slits = 12 * len(piece["notches"]) + sum(polygon(h["path"]).length for h in piece["holes"])
            strayed = own.get(name, LineString()).difference(here.buffer(MM)).length
            assert strayed <= slits + 0.5, f"{out} {body.get('id')} {name}: {strayed} mm lie off its cut line"
            seen += 1
    return seen


def fit(cut, at, mine, edge, drawn):
    """Where the common point lies: all cut lines laid over it must fill the box of what is drawn."""
    boxes = []
    for _, piece in mine:
        x, y = common(piece, edge)
        boxes.append(translate(polygon(piece["cut_line"]), -x, -y).bounds)
    left, low = min(b[0] for b in boxes), min(b[1] for b in boxes)
    x0, y0, x1, y1 = drawn.bounds
    assert x1 - x0 == pytest.approx(max(b[2] for b in boxes) - left, abs=0.01)
    assert y1 - y0 == pytest.approx(max(b[3] for b in boxes) - low, abs=0.01)
    return x0 - left, y0 - low


def dashed(group):
    """{(dashes, colour)} of the lines of sizes in a group."""
    outer = [g for g in group.iter(f"{SVG}g") if g.get("stroke")]
    return {(g.get("stroke-dasharray"), o.get("stroke")) for o in outer for g in o.findall(f"{SVG}g") if g.get("stroke-dasharray")}


def test_every_size_is_there_whole_laid_on_its_lower_left_corner(examples):
    assert sum(check(out) for out in examples.values()) >= 40


def test_another_edge_can_be_laid_over_itself(tmp_path):
    build(ROOT / "examples" / "top_quilt" / "top_quilt.fell", tmp_path, "--nest-at", "head")
    assert check(tmp_path, "head") >= 16


def test_an_edge_that_no_piece_has_is_refused(tmp_path):
    done = run("build", ROOT / "examples" / "top_quilt" / "top_quilt.fell", "--out", tmp_path, "--nest-at", "shell.heel")
    assert done.returncode == 2 and "shell.heel" in done.stderr
    assert not (tmp_path / "nested.svg").exists()


def test_lines_of_sizes_differ_and_the_legend_shows_each(examples):
    for out in examples.values():
        root = ET.parse(out / "nested.svg").getroot()
        looks = {}
        for group in groups(root, "size"):
            looks.setdefault(title(group), set()).update(dashed(group))
        looks = {name: found for name, found in looks.items() if found}
        assert looks and all(len(l) == 1 for l in looks.values()), f"{out}: a size looks the same on all pieces"
        styles = [next(iter(l)) for l in looks.values()]
        assert len({d for d, _ in styles}) == len(styles) and len({c for _, c in styles}) == len(styles), out
        sheet = next(g for g in root.iter(f"{SVG}g") if g.get("id") == "sheet")
        assert set(styles) <= dashed(sheet), out
