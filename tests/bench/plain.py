"""The same quilt family drawn by a plain script: shapely for the outlines, ezdxf for the DXF files, the rest by hand.

It is what a maker who programs would write instead, and what run.py times the compiler against. It knows nothing but this
quilt's figures. For each size it draws the sheet of all pieces and a sheet of each (SVG with labels, legend and check
squares), a cutter file (DXF release 12), a plot (HP-GL), a pattern for others (a DXF block a piece: boundary, sew line,
notches, grain, marks, texts) and the lists: cut list and goods as CSV, both as text and as JSON, and the outlines as JSON.
Of all sizes together it makes the nested drawing, one pattern file and the table of sizes.

What it does not do: check anything, take other units, say in which order to sew and why, trace a figure back to
the measures it was made of, find room for labels, or leave an older build whole when it fails.

Usage: plain.py OUT
"""

import csv
import html
import json
import pathlib
import sys

import ezdxf
from shapely.geometry import LineString, Point, Polygon, box

SIZES = {"as-drawn": (1760, 1180), "short": (1630, 1030), "regular": (1760, 1180), "long": (1900, 1260)}
TITLE = "Larch, a top quilt for three seasons"
NYLON, BATTING = "Quilt nylon, 160 cm", "Polyester batting, 165 cm"
GRAMS = {NYLON: 33, BATTING: 100}  # per m2
EUROS = {NYLON: 9.40, BATTING: 6.20}  # per m of roll
ROLL = {NYLON: 1600 - 2 * 20, BATTING: 1650 - 2 * 10}
GAP, NOTCH = 50, 5
COLOURS = ["#000000", "#0072b2", "#d55e00", "#009e73"]
PENS = {"TEXT": 1, "MARK": 1, "GRAIN": 1, "STITCH": 2, "CUT": 3}


class Piece:
    """An outline with what is drawn on it, its cut line's lower left corner at the origin."""

    def __init__(self, name, label, count, cloth, finished, cut, notches=(), marks=(), folds=()):
        self.name, self.label, self.count, self.cloth = name, label, count, cloth
        x, y = cut.bounds[:2]
        move = lambda points: [(px - x, py - y) for px, py in points]
        self.finished, self.cut = move(finished.exterior.coords), move(cut.exterior.coords)
        self.width, self.height = cut.bounds[2] - x, cut.bounds[3] - y
        self.finished_size = (finished.bounds[2] - finished.bounds[0], finished.bounds[3] - finished.bounds[1])
        self.finished_area, self.cut_area = finished.area, cut.area
        ring, inside = cut.exterior, finished.centroid
        self.notches = []
        for at in notches:
            foot = ring.interpolate(ring.project(Point(at)))
            inward = LineString([foot, inside]).interpolate(NOTCH)
            self.notches.append(move([(foot.x, foot.y), (inward.x, inward.y)]))
        self.marks = [(text, move([at])[0]) for text, at in marks]
        self.folds = [move(line) for line in folds]
        middle, reach = self.width / 2, self.height * 0.3
        self.grain = [(middle, self.height / 2 - reach), (middle, self.height / 2 + reach)]
        self.letter = min(20, max(3, 0.03 * min(self.width, self.height)))

    def lines(self):
        yield "STITCH", self.finished
        for line in self.folds:
            yield "MARK", line
        yield "GRAIN", self.grain
        for line in self.notches:
            yield "CUT", line
        yield "CUT", self.cut

    def texts(self, size):
        x, y = self.width * 0.1, self.height / 2
        for i, text in enumerate([self.label, f"cut {self.count} of {self.cloth}", f"size {size}"]):
            yield text, (x, y - i * 1.6 * self.letter)
        for text, (mx, my) in self.marks:
            yield text, (mx, my)


def pieces(stature, girth):
    long, wide = stature + 80, girth + 220
    narrow = wide - 300
    inset, over = (wide - narrow) / 2, 0.45 * long
    shell = Polygon([(inset, 0), (wide - inset, 0), (wide, over), (wide, long), (0, long), (0, over)])
    cut = shell.buffer(12, join_style="mitre", mitre_limit=4)
    left = LineString([(0, long), (0, over), (inset, 0)])
    down = lambda distance: left.interpolate(distance).coords[0]
    mirrored = lambda p: (wide - p[0], p[1])
    at_80 = down(800)
    notches = [(wide / 2, long), (wide / 2, 0), at_80, mirrored(at_80)]
    marks = []
    for part in (0.14, 0.34, 0.52):
        place = down(part * left.length)
        text = f"loop, {part * left.length / 10:.1f} cm from head"
        marks += [(text, place), (text, mirrored(place))]
    marks += [("snap", (15, long - 40)), ("snap", (wide - 15, long - 40))]
    ties = [(wide / 3, long / 4), (2 * wide / 3, long / 4), (wide / 2, long / 2), (wide / 4, 3 * long / 4), (3 * wide / 4, 3 * long / 4)]
    marks += [("tie", place) for place in ties]
    all_pieces = [
        Piece("shell", "Shell", 2, NYLON, shell, cut, notches, marks),
        Piece("sheet", "Batting", 1, BATTING, shell, cut, notches, [("tie", place) for place in ties]),
    ]
    for name, edge in (("neck_cord", wide), ("foot_cord", narrow)):
        strip = box(0, 0, edge - 50, 30)
        fold = [(-10, 15), (edge - 40, 15)]
        label = f"Casing strip for {name}"
        all_pieces.append(Piece(f"{name}.strip", label, 1, NYLON, strip, box(-10, -12, edge - 40, 42), folds=[fold]))
    return all_pieces


def goods(all_pieces, wide, narrow):
    """What to buy: name, amount, unit, grams, euros."""
    rows = []
    for cloth in (NYLON, BATTING):
        on_it = [p for p in all_pieces if p.cloth == cloth]
        area = sum(p.cut_area * p.count for p in on_it)
        roll = sum(p.height * p.count if p.width <= ROLL[cloth] else p.width * p.count for p in on_it if p.width > 200 and p.height > 200)
        rows.append([cloth, round(area), "mm2", area / 1e6 * GRAMS[cloth], roll / 1000 * EUROS[cloth]])
    cord = wide + narrow + 2 * 135
    rows += [
        ["Ribbon, 15 mm", 480, "mm", 1.92, 0.216],
        ["Cord, 2 mm", cord, "mm", cord * 0.0025, cord / 1000 * 0.30],
        ["Cord lock", 2, "pieces", 4, 0.70],
        ["Snap", 1, "pieces", 1, 0.15],
        ["Zipper", 450, "mm", 4.95, 1.395],
        ["Slider", 1, "pieces", 2, 0.40],
    ]
    return rows


def data(points, left, low, height):
    return "M" + "L".join(f"{x + left:.3f} {height - y - low:.3f}" for x, y in points)


def words(text, x, y, size):
    return f'<text x="{x:.3f}" y="{y:.3f}" font-size="{size:.2f}">{html.escape(text)}</text>'


def furniture(width, height, size):
    """Border, title, check squares and legend along the foot of a sheet."""
    out = [f'<rect x="5" y="5" width="{width - 10:.1f}" height="{height - 10:.1f}" fill="none" stroke="#000"/>']
    out += [words(TITLE, 20, height - 30, 10), words(f"Size {size}. One unit is one millimetre.", 20, height - 15, 6)]
    for left, side, text in ((20, 100, "10 cm"), (140, 101.6, "4 in")):
        out.append(f'<rect x="{left}" y="{height - 160:.1f}" width="{side}" height="{side}" fill="none" stroke="#000"/>')
        out.append(words(text, left + 5, height - 65, 6))
    for i, layer in enumerate(PENS):
        out.append(f'<path class="{layer.lower()}" d="M260 {height - 150 + 12 * i:.1f}h30"/>')
        out.append(words(layer.lower(), 295, height - 148 + 12 * i, 6))
    return out


STYLE = "path{fill:none;stroke:#000}.stitch{stroke:#07a;stroke-dasharray:6 3}.grain,.mark{stroke:#888}"


def svg(body, width, height):
    head = f'<svg xmlns="http://www.w3.org/2000/svg" width="{width:.1f}mm" height="{height:.1f}mm" viewBox="0 0 {width:.1f} {height:.1f}">'
    return f"{head}<style>{STYLE}</style>" + "\n".join(body) + "</svg>\n"


def sheet(placed, size):
    """Pieces, each with its left side, side by side."""
    width = max(360, max(left + piece.width for left, piece in placed)) + 40
    height = max(piece.height for _, piece in placed) + 220
    body = furniture(width, height, size)
    for left, piece in placed:
        body.append(f'<g id="{piece.name}"><title>{html.escape(piece.label)}</title>')
        body += [f'<path class="{layer.lower()}" d="{data(line, left + 20, 200, height)}"/>' for layer, line in piece.lines()]
        body += [words(text, x + left + 20, height - y - 200, piece.letter) for text, (x, y) in piece.texts(size)]
        body += [f'<circle cx="{x + left + 20:.3f}" cy="{height - y - 200:.3f}" r="3"/>' for _, (x, y) in piece.marks]
        body.append("</g>")
    return svg(body, width, height)


def cutter(placed, size):
    document = ezdxf.new("R12")
    for layer, pen in PENS.items():
        document.layers.add(layer, color=pen)
    space = document.modelspace()
    for left, piece in placed:
        move = lambda points: [(x + left, y) for x, y in points]
        for layer, line in piece.lines():
            closed = line[0] == line[-1]
            space.add_polyline2d(move(line[:-1] if closed else line), close=closed, dxfattribs={"layer": layer})
        for text, (x, y) in piece.texts(size):
            space.add_text(text, height=piece.letter, dxfattribs={"layer": "TEXT"}).set_placement((x + left, y))
        for _, (x, y) in piece.marks:
            space.add_circle((x + left, y), 3, dxfattribs={"layer": "MARK"})
    return document


def pattern(families):
    """A block for each piece in each of these sizes, and each inserted once."""
    document = ezdxf.new("R12")
    space = document.modelspace()
    top = 0
    for size, placed in families:
        top -= max(piece.height for _, piece in placed) + GAP
        for left, piece in placed:
            name = f"{piece.name}_{size}".replace(".", "-").upper()
            block = document.blocks.new(name)
            for layer, line in (("1", piece.cut), ("14", piece.finished)):
                block.add_polyline2d(line, close=True, dxfattribs={"layer": layer})
                for point in line[:-1]:
                    block.add_point(point, dxfattribs={"layer": "2"})
            for line in piece.folds:
                block.add_polyline2d(line, dxfattribs={"layer": "8"})
            block.add_line(*piece.grain, dxfattribs={"layer": "7"})
            for foot, _ in piece.notches:
                block.add_point(foot, dxfattribs={"layer": "4"})
            for text, at in piece.marks:
                block.add_point(at, dxfattribs={"layer": "13"})
                block.add_text(text, height=piece.letter, dxfattribs={"layer": "15"}).set_placement(at)
            said = [f"PIECE NAME: {piece.name}", f"SIZE: {size}", f"QUANTITY: {piece.count}", f"MATERIAL: {piece.cloth}"]
            for i, text in enumerate(said):
                at = (piece.width / 2, piece.height / 2 - i * 1.6 * piece.letter)
                block.add_text(text, height=piece.letter, dxfattribs={"layer": "1"}).set_placement(at)
            space.add_blockref(name, (left, top), dxfattribs={"layer": "1"})
    return document


def plot(placed, size):
    """Text and marks first, cuts last; forty units a millimetre."""
    out = ["IN;"]
    for pen in (1, 2, 3):
        out.append(f"PU;SP{pen};PA;")
        for left, piece in placed:
            for layer, line in piece.lines():
                if PENS[layer] == pen:
                    (x, y), *rest = [(round((x + left) * 40), round(y * 40)) for x, y in line]
                    out.append(f"PU{x},{y};PD{','.join(f'{x},{y}' for x, y in rest)};")
            if pen == 1:
                for text, (x, y) in piece.texts(size):
                    out.append(f"PU{round((x + left) * 40)},{round(y * 40)};SI{piece.letter * 0.04:.3f},{piece.letter * 0.07:.3f};LB{text}\x03")
    return "\n".join(out + ["PU;", "SP0;"]) + "\n"


def nested(families):
    """Each piece in all its sizes, their lower left corners together."""
    first = families[0][1]
    wide = [max(placed[i][1].width for _, placed in families) for i in range(len(first))]
    height = max(piece.height for _, placed in families for _, piece in placed) + 220
    width = sum(wide) + GAP * len(wide) + 40
    body = furniture(width, height, "all")
    left = 20
    for i, (_, shown) in enumerate(first):
        body.append(f'<g id="{shown.name}"><title>{html.escape(shown.label)}</title>')
        for colour, (size, placed) in zip(COLOURS, families):
            piece = placed[i][1]
            body.append(f'<path style="stroke:{colour}" d="{data(piece.cut, left, 200, height)}"><title>{size}</title></path>')
            body.append(words(size, left + piece.width - 60, height - 200 - piece.height + 20, 6))
        body.append("</g>")
        left += wide[i] + GAP
    for i, (colour, (size, _)) in enumerate(zip(COLOURS, families)):
        body.append(f'<path style="stroke:{colour}" d="M360 {height - 150 + 12 * i:.1f}h30"/>')
        body.append(words(size, 395, height - 148 + 12 * i, 6))
    return svg(body, width, height)


def measure(piece):
    wide, high = piece.finished_size
    return f"{wide / 10:g} x {high / 10:g} cm"


def lists(folder, size, all_pieces, bought):
    cut_list = [
        [p.name, p.label, p.count, p.cloth, *p.finished_size, round(p.width, 1), round(p.height, 1), round(p.finished_area, 1),
         round(p.cut_area, 1), round(p.cut_area * p.count / 1e6 * GRAMS[p.cloth], 1)]
        for p in all_pieces
    ]  # fmt: skip
    with open(folder / "cut-list.csv", "w", newline="") as file:
        heads = "piece label count material finished_width finished_height cut_width cut_height finished_area cut_area grams"
        csv.writer(file).writerows([heads.split(), *cut_list])
    with open(folder / "goods.csv", "w", newline="") as file:
        csv.writer(file).writerows([["what", "amount", "unit", "grams", "euros"], *bought])
    (folder / "materials.json").write_text(json.dumps({"size": size, "cut_list": cut_list, "goods": bought}, indent=2))
    text = [TITLE, f"Size {size}", "", f"{'Piece':<30}{'Cut':>4}{'Finished':>20}"]
    text += [f"{p.label:<30}{p.count:>4}{measure(p):>20}" for p in all_pieces]
    text += ["", f"{'What':<30}{'Amount':>12} {'':<7}{'Mass':>9}{'Cost':>11}"]
    text += [f"{what:<30}{amount:>12.0f} {unit:<7}{grams:>7.1f} g{euros:>7.2f} EUR" for what, amount, unit, grams, euros in bought]
    text.append(f"{'Total':<50}{sum(r[3] for r in bought):>7.1f} g{sum(r[4] for r in bought):>7.2f} EUR")
    (folder / "materials.txt").write_text("\n".join(text) + "\n")


def build(folder, size, stature, girth):
    (folder / "pieces").mkdir(parents=True, exist_ok=True)
    all_pieces = pieces(stature, girth)
    bought = goods(all_pieces, girth + 220, girth - 80)
    left, placed = 0, []
    for piece in all_pieces:
        placed.append((left, piece))
        left += piece.width + GAP
    (folder / "pieces.svg").write_text(sheet(placed, size))
    for piece in all_pieces:
        (folder / "pieces" / f"{piece.name}.svg").write_text(sheet([(0, piece)], size))
    cutter(placed, size).saveas(folder / "cutter.dxf")
    (folder / "cutter.plt").write_text(plot(placed, size))
    pattern([(size, placed)]).saveas(folder / "pattern.dxf")
    lists(folder, size, all_pieces, bought)
    shapes = [{"name": p.name, "finished": p.finished, "cut": p.cut, "notches": p.notches, "marks": p.marks, "area": p.cut_area} for p in all_pieces]
    (folder / "geometry.json").write_text(json.dumps(shapes, indent=2))
    return placed, bought


def main(out):
    families, table = [], [TITLE, ""]
    for size, (stature, girth) in SIZES.items():
        placed, bought = build(out / size, size, stature, girth)
        families.append((size, placed))
        table += [size, *(f"  {piece.label:<30}{piece.count:>4}{measure(piece):>20}" for _, piece in placed)]
        table += [f"  mass {sum(r[3] for r in bought):.1f} g, goods {sum(r[4] for r in bought):.2f} EUR", ""]
    (out / "nested.svg").write_text(nested(families))
    pattern(families).saveas(out / "pattern.dxf")
    (out / "sizes.txt").write_text("\n".join(table))


main(pathlib.Path(sys.argv[1]))
