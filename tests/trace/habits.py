#!/usr/bin/python3
"""One house in several habits of drawing, written by ezdxf: outside 8000 by 5000 mm, walls 200 thick, a wall of 150 in the middle of its length.

    habits.py HABIT FILE
"""
import sys

import ezdxf

WALL = "S-FNDN-WALL"
RING = [(100, 100), (7900, 100), (7900, 4900), (100, 4900)]
STEM = [(4000, 100), (4000, 4900)]
OUTER = [(0, 0), (8000, 0), (8000, 5000), (0, 5000)]
ROOMS = [
    [(200, 200), (3925, 200), (3925, 4800), (200, 4800)],
    [(4075, 200), (7800, 200), (7800, 4800), (4075, 4800)],
]


def wide(space):
    attribs = {"layer": WALL}
    space.add_lwpolyline(RING, close=True, dxfattribs={**attribs, "const_width": 200})
    space.add_lwpolyline(STEM, dxfattribs={**attribs, "const_width": 150})


def hatch(space, edges):
    fill = space.add_hatch(dxfattribs={"layer": WALL + "-PATT"})
    fill.set_pattern_fill("ANSI31", scale=20)
    for ring in [OUTER, *ROOMS]:
        if edges:
            path = fill.paths.add_edge_path()
            for a, b in zip(ring, ring[1:] + ring[:1]):
                path.add_line(a, b)
        else:
            fill.paths.add_polyline_path(ring, is_closed=True)


def multiline(doc, space, elements):
    for name, half in (("W200", 100), ("W150", 75)):
        style = doc.mline_styles.new(name)
        for share in elements:
            style.elements.append(share * half)
    space.add_mline(RING, close=True, dxfattribs={"layer": WALL, "style_name": "W200", "justification": 1})
    # The stem goes from face to face.
    space.add_mline([(4000, 200), (4000, 4800)], dxfattribs={"layer": WALL, "style_name": "W150", "justification": 1})


def draw(habit, doc):
    space = doc.modelspace()
    if habit == "wide":
        wide(space)
    elif habit == "hatch":
        hatch(space, False)
    elif habit == "hatch-edges":
        hatch(space, True)
    elif habit == "mline":
        multiline(doc, space, (1, -1))
    elif habit == "mline-centre":
        multiline(doc, space, (1, 0, -1))
    elif habit == "blocks":
        # Half the size, in a block within a block, mirrored about x = 4000.
        inner = doc.blocks.new("HALF")
        attribs = {"layer": "0"}
        half = [(x / 2, y / 2) for x, y in RING]
        inner.add_lwpolyline(half, close=True, dxfattribs={**attribs, "const_width": 100})
        inner.add_lwpolyline([(x / 2, y / 2) for x, y in STEM], dxfattribs={**attribs, "const_width": 75})
        doc.blocks.new("SITE").add_blockref("HALF", (0, 0), dxfattribs={"layer": "0"})
        space.add_blockref("SITE", (8000, 0), dxfattribs={"layer": WALL, "xscale": -2, "yscale": 2})
    else:
        sys.exit(f"no habit {habit}")


def main():
    habit, file = sys.argv[1:]
    doc = ezdxf.new("R2010", units=4)
    draw(habit, doc)
    doc.saveas(file)


main()
