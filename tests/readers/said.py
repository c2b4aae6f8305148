#!/usr/bin/python3
"""What ezdxf sees besides plain linework, inserts exploded, as JSON: leaders, placed blocks, hatched areas, lines of MLINEs, widths, line types.

    said.py FILE                 what FILE says
    said.py --make NAME FOLDER   writes a drawing that has all of it: FOLDER/NAME.dxf, and FOLDER/NAME.bin.dxf in binary form
"""
import json
import math
import sys

import ezdxf
from ezdxf import path
from ezdxf.entities import Insert
from ezdxf.math import Vec2, Vec3


def xy(points):
    return [[p[0], p[1]] for p in points]


def area(made):
    size = max((p - made.start).magnitude for p in made.control_vertices()) or 1.0
    points = list(made.flattening(size * 1e-6))
    return abs(sum(a.x * b.y - b.x * a.y for a, b in zip(points, points[1:] + points[:1]))) / 2


def widths_of(entity):
    if entity.dxftype() == "LWPOLYLINE":
        pairs = [(p[0], p[1]) for p in entity.get_points("se")]
        if not any(a or b for a, b in pairs):
            return entity.dxf.get("const_width", 0.0)
        closed = entity.closed
    else:
        start, end = entity.dxf.get("default_start_width", 0.0), entity.dxf.get("default_end_width", 0.0)
        pairs = [(v.dxf.get("start_width", start), v.dxf.get("end_width", end)) for v in entity.vertices]
        closed = entity.is_closed
    if not closed:
        pairs = pairs[:-1]
    one = pairs[0][0]
    return one if all(math.isclose(a, one) and math.isclose(b, one) for a, b in pairs) else 0.0


def multi_leader(entity):
    """Points of each line and the text, by the public data of the entity."""
    found = []
    context = entity.context
    for leader in context.leaders:
        end = leader.last_leader_point
        along = leader.dogleg_vector
        tail = end + along.normalize(leader.dogleg_length) if along.magnitude else end
        for line in leader.lines:
            found.append(xy([*line.vertices, end, tail]))
    return found, context.mtext


def walk(entities, said, frozen, doc, depth=0):
    for entity in entities:
        if entity.dxf.get("invisible", 0) == 1 or entity.dxf.get("paperspace", 0) == 1:
            continue
        kind = entity.dxftype()
        if isinstance(entity, Insert):
            if entity.dxf.layer.lower() in frozen or depth > 32 or entity.block() is None:
                continue
            tags = sorted([a.dxf.tag, a.dxf.text.strip()] for a in entity.attribs)
            for copy in entity.multi_insert() if entity.mcount > 1 else [entity]:
                at = copy.ocs().to_wcs(copy.dxf.insert)
                turned = copy.ocs().to_wcs(Vec3.from_deg_angle(copy.dxf.rotation)).angle_deg
                said["inserts"].append([copy.dxf.name, at[0], at[1], turned, depth, tags])
                walk(copy.virtual_entities(), said, frozen, doc, depth + 1)
        elif kind == "LEADER":
            said["leaders"].append(xy(entity.vertices))
        elif kind in ("MULTILEADER", "MLEADER"):
            lines, text = multi_leader(entity)
            said["leaders"].extend(lines)
            if text is not None:
                said["notes"].append([text.insert[0], text.insert[1]])
        elif kind == "HATCH":
            made = [area(p) for p in path.from_hatch(entity)]
            said["hatches"].append([entity.dxf.pattern_name.upper() if not entity.dxf.solid_fill else "SOLID", sorted(made)])
        elif kind == "MLINE":
            lines = [(l.dxf.start, l.dxf.end) for l in entity.virtual_entities() if l.dxftype() == "LINE"]
            # Caps come as two halves that end in their middle.
            while lines:
                start, end = lines.pop(0)
                if lines and lines[0][1].isclose(end) and not lines[0][0].isclose(start):
                    end = lines.pop(0)[0]
                said["mlines"].append(xy([start, end]))
        elif kind == "LWPOLYLINE" or (kind == "POLYLINE" and entity.is_2d_polyline):
            if depth == 0:
                said["widths"].append(widths_of(entity))
        if depth == 0 and kind in ("LINE", "CIRCLE", "ARC"):
            if kind == "LINE" and (entity.dxf.start - entity.dxf.end).vec2.magnitude == 0:
                continue
            name = entity.dxf.get("linetype", "BYLAYER")
            if name.upper() == "BYLAYER":
                layer = doc.layers.get(entity.dxf.layer) if doc.layers.has_entry(entity.dxf.layer) else None
                name = layer.dxf.linetype if layer else "CONTINUOUS"
            # In no block there is no line type to take over.
            name = "CONTINUOUS" if name.upper() == "BYBLOCK" else name
            said["lineTypes"].append(name.upper())


def make(name, folder):
    doc = ezdxf.new("R2010", setup=True)
    space = doc.modelspace()
    doc.layers.add("AXES", linetype="CENTER")
    space.add_line((0, 0), (100, 0), dxfattribs={"layer": "AXES"})
    space.add_line((0, 5), (100, 5), dxfattribs={"layer": "AXES", "linetype": "DASHED"})
    space.add_leader([(0, 0), (30, 40), (60, 40)])
    space.add_leader([(-5, 8), (-30, 44), (-60, 44), (-61, 45)])
    builder = space.add_multileader_mtext("Standard")
    builder.set_content("T.O.W.\\P+0.150", char_height=2.5)
    builder.add_leader_line(ezdxf.render.mleader.ConnectionSide.left, [Vec2(-40, -15), Vec2(-20, -30)])
    builder.add_leader_line(ezdxf.render.mleader.ConnectionSide.left, [Vec2(-45, 15)])
    builder.add_leader_line(ezdxf.render.mleader.ConnectionSide.right, [Vec2(90, 20)])
    builder.build(insert=Vec2(5, 0))
    door = doc.blocks.new("DOOR", base_point=(2, 1))
    door.add_line((0, 0), (90, 0))
    door.add_attdef("WIDTH", (0, 0), "900")
    door.add_leader([(0, 0), (9, 9)])
    door.add_lwpolyline([(0, 0, 7, 7), (10, 0, 7, 7), (10, 10, 7, 7)], format="xyse")
    for turn, scale in ((0, 1), (33, 1), (180, 2)):
        insert = space.add_blockref("DOOR", (500 + turn, 7), dxfattribs={"rotation": turn, "xscale": scale, "yscale": scale, "zscale": scale})
        insert.add_attrib("WIDTH", str(900 + turn), (0, 0)).is_invisible = turn > 0
        insert.add_attrib("MARK", f"D{turn}", (0, 0))
    space.add_blockref("DOOR", (800, 0), dxfattribs={"rotation": 20, "column_count": 3, "row_count": 2, "column_spacing": 150, "row_spacing": 90})
    space.add_blockref("DOOR", (800, 400), dxfattribs={"rotation": 20, "xscale": -1})
    space.add_blockref("DOOR", (800, 500), dxfattribs={"rotation": 20, "extrusion": (0, 0, -1)})
    group = doc.blocks.new("GROUP")
    group.add_blockref("DOOR", (10, 20), dxfattribs={"rotation": 45})
    group.add_blockref("DOOR", (10, 90), dxfattribs={"rotation": 45, "xscale": -1})
    space.add_blockref("GROUP", (1000, 0), dxfattribs={"rotation": 30})
    space.add_blockref("GROUP", (1000, 300), dxfattribs={"yscale": -1})
    space.add_lwpolyline([(0, 0, 5, 5), (10, 0, 5, 5), (10, 10, 0, 0)], format="xyse")
    space.add_lwpolyline([(0, 0, 5, 5), (10, 0, 5, 5), (10, 10, 0, 0)], format="xyse", close=True)
    space.add_lwpolyline([(0, 0), (10, 0), (10, 10)], dxfattribs={"const_width": 12.5})
    space.add_polyline2d([(0, 0, 4, 4), (10, 0, 4, 4), (10, 10, 4, 4)], format="xyse")
    space.add_polyline2d([(0, 0, 4, 2), (10, 0, 2, 4), (10, 10, 4, 4)], format="xyse")

    def hatch(pattern):
        made = space.add_hatch()
        if pattern:
            made.set_pattern_fill(pattern, scale=0.5)
        return made

    made = hatch("ANSI31")
    made.paths.add_polyline_path([(200, 0, 0.3), (260, 0), (260, 40, -0.2), (200, 40)], is_closed=True, flags=1)
    made.paths.add_polyline_path([(210, 10), (220, 10), (220, 20), (210, 20)], is_closed=True, flags=16)
    made = hatch("AR-CONC")
    edge = made.paths.add_edge_path(flags=1)
    edge.add_line((210, 10), (230, 10))
    edge.add_arc((230, 20), 10, start_angle=270, end_angle=90, ccw=True)
    edge.add_line((230, 30), (210, 30))
    edge.add_arc((210, 20), 10, start_angle=90, end_angle=270, ccw=True)
    edge = made.paths.add_edge_path(flags=16)
    edge.add_arc((220, 20), 3, start_angle=0, end_angle=360, ccw=False)
    made = hatch(None)
    edge = made.paths.add_edge_path()
    edge.add_line((300, 0), (320, 0))
    edge.add_line((320, 0), (320, 30))
    edge.add_arc((310, 30), 10, start_angle=180, end_angle=360, ccw=False)
    edge.add_line((300, 30), (300, 0))
    made = hatch("NET")
    edge = made.paths.add_edge_path()
    edge.add_line((0, 500), (40, 500))
    edge.add_arc((40, 520), 20, start_angle=90, end_angle=270, ccw=False)
    edge.add_line((40, 540), (0, 540))
    edge.add_line((0, 540), (0, 500))
    made = hatch("EARTH")
    edge = made.paths.add_edge_path()
    edge.add_ellipse((350, 20), major_axis=(30, 10), ratio=0.5, start_angle=0, end_angle=360)
    edge = made.paths.add_edge_path()
    edge.add_ellipse((450, 20), major_axis=(30, 0), ratio=0.4, start_angle=0, end_angle=180)
    edge.add_line((420, 20), (480, 20))
    edge = made.paths.add_edge_path()
    edge.add_spline(control_points=[(600, 0), (620, 40), (650, -30), (660, 10)], degree=3, knot_values=[0, 0, 0, 0, 1, 1, 1, 1])
    edge.add_line((660, 10), (600, -60))
    edge.add_line((600, -60), (600, 0))
    wall = doc.mline_styles.new("WALL")
    wall.elements.append(100, 7, "BYLAYER")
    wall.elements.append(0, 1, "CENTER")
    wall.elements.append(-50, 7, "BYLAYER")
    wall.dxf.flags = 16 + 256
    for at, (justification, scale, closed) in enumerate(((0, 1, False), (1, 1, False), (2, 1, False), (1, 2.5, True), (0, -1, False))):
        x = 2000 + 1500 * at
        space.add_mline(
            [(x, 0), (x + 900, 0), (x + 900, 700), (x + 300, 1100)],
            close=closed,
            dxfattribs={"scale_factor": scale, "justification": justification, "style_name": "WALL", "layer": "AXES"},
        )
    space.add_mline([(2000, 3000), (2900, 3000), (2900, 3700)], dxfattribs={"style_name": "WALL", "extrusion": (0, 0, -1), "justification": 0})
    doc.saveas(f"{folder}/{name}.dxf")
    doc.saveas(f"{folder}/{name}.bin.dxf", fmt="bin")


def main():
    if sys.argv[1] == "--make":
        make(sys.argv[2], sys.argv[3])
        return
    doc = ezdxf.readfile(sys.argv[1])
    frozen = {layer.dxf.name.lower() for layer in doc.layers if layer.is_frozen()}
    said = {key: [] for key in ("leaders", "notes", "inserts", "hatches", "mlines", "widths", "lineTypes")}
    walk(doc.modelspace(), said, frozen, doc)
    json.dump(said, sys.stdout)


main()
