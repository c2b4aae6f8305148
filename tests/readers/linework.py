#!/usr/bin/python3
"""What ezdxf sees of a drawing's model space with all inserts exploded, as JSON: one box (in plan) for each entity that is linework.

    linework.py FILE          the boxes of FILE
    linework.py --make FILE   writes a drawing with entities that the sample drawings lack, R2010, to FILE
"""
import json
import math
import sys

import ezdxf
from ezdxf import path
from ezdxf.entities import Insert

SINGLE = ("LINE", "ARC", "CIRCLE", "ELLIPSE", "SPLINE", "LWPOLYLINE", "POLYLINE")


def box(points):
    xs = [p.x for p in points]
    ys = [p.y for p in points]
    return [min(xs), min(ys), max(xs), max(ys)]


def flattened(made):
    size = max((p - made.start).magnitude for p in made.control_vertices()) or 1.0
    return list(made.flattening(size * 1e-5))


def points_of(entity):
    kind = entity.dxftype()
    if kind == "LINE":
        return [entity.dxf.start, entity.dxf.end]
    if kind in ("SOLID", "TRACE"):
        return list(entity.wcs_vertices())
    if kind == "MLINE":
        return [p for line in entity.virtual_entities() if line.dxftype() == "LINE" for p in (line.dxf.start, line.dxf.end)]
    if kind == "HATCH":
        return [p for made in path.from_hatch(entity) for p in flattened(made)]
    if kind == "POLYLINE" and not (entity.is_2d_polyline or entity.is_3d_polyline):
        return []
    if kind in SINGLE:
        return flattened(path.make_path(entity))
    return []


def written(entity):
    """Place and text without formatting, blanks and line ends, which readers treat differently."""
    if entity.dxftype() == "MTEXT":
        text, at = entity.plain_text(), entity.dxf.insert
    else:
        justified = (entity.dxf.get("halign", 0), entity.dxf.get("valign", 0)) != (0, 0)
        fits = entity.dxf.get("halign", 0) in (3, 5)
        point = entity.dxf.align_point if justified and not fits and entity.dxf.hasattr("align_point") else entity.dxf.insert
        text, at = entity.plain_text(), entity.ocs().to_wcs(point)
    return ["".join(text.split()), at[0], at[1]]


def walk(entities, found, frozen, texts, depth=0):
    for entity in entities:
        if entity.dxf.get("invisible", 0) == 1 or entity.dxf.get("paperspace", 0) == 1:
            continue
        if isinstance(entity, Insert):
            if entity.dxf.layer.lower() in frozen or depth > 32 or entity.block() is None:
                continue
            copies = entity.multi_insert() if entity.mcount > 1 else [entity]
            for copy in copies:
                walk(copy.virtual_entities(), found, frozen, texts, depth + 1)
            texts.extend(written(attribute) for attribute in entity.attribs if not attribute.is_invisible)
            continue
        if entity.dxftype() in ("TEXT", "MTEXT"):
            texts.append(written(entity))
        points = points_of(entity)
        if points:
            found.append([entity.dxftype(), *box(points)])


def make(name):
    document = ezdxf.new("R2010")
    space = document.modelspace()
    document.header["$INSUNITS"] = 4
    space.add_ellipse((10, 20), major_axis=(50, 20), ratio=0.4, start_param=0.3, end_param=4.1)
    space.add_ellipse((-10, 20), major_axis=(5, -20), ratio=0.7)
    space.add_ellipse((30, 0), major_axis=(10, 10), ratio=0.5, start_param=5.5, end_param=7.5, dxfattribs={"extrusion": (0, 0, -1)})
    space.add_open_spline([(0, 0), (30, 60), (60, -40), (90, 10), (120, 0)], degree=3)
    space.add_rational_spline([(0, 100), (50, 160), (100, 100), (150, 130)], weights=[1, 3, 1, 2], degree=2)
    space.add_lwpolyline([(0, 0, 0, 0, 0.5), (100, 0, 0, 0, -0.3), (100, 80, 0, 0, 1)], close=True, dxfattribs={"extrusion": (0, 0, -1), "elevation": 5})
    space.add_circle((40, 50, 3), 20, dxfattribs={"extrusion": (0, 1, 1)})
    space.add_arc((40, 50, 3), 20, 30, 200, dxfattribs={"extrusion": (1, 0, 0.2)})
    for extrusion in ((0.3, 0.1, 1), (0.001, -0.002, 1), (-0.015, 0.02, -1)):
        space.add_lwpolyline([(0, 0), (40, 0), (40, 9), (5, 20)], dxfattribs={"extrusion": extrusion, "elevation": 8})
    space.add_solid([(0, 0), (10, 0), (0, 10), (10, 12)], dxfattribs={"extrusion": (0, 0, -1)})
    space.add_polyline3d([(0, 0, 0), (10, 5, 20), (30, -5, 10)])
    space.add_polyline2d([(0, 0, 1), (10, 5, 0), (30, -5, -0.5)], format="xyb", dxfattribs={"flags": 1})
    hatch = space.add_hatch()
    hatch.paths.add_polyline_path([(200, 0, 0.3), (260, 0), (260, 40), (200, 40)], is_closed=True)
    edge = hatch.paths.add_edge_path()
    edge.add_line((210, 10), (230, 10))
    edge.add_arc((230, 20), 10, start_angle=270, end_angle=90, ccw=True)
    edge.add_line((230, 30), (210, 30))
    edge.add_arc((210, 20), 10, start_angle=90, end_angle=270, ccw=True)
    other = space.add_hatch()
    edge = other.paths.add_edge_path()
    edge.add_line((300, 0), (320, 0))
    edge.add_line((320, 0), (320, 30))
    edge.add_arc((310, 30), 10, start_angle=180, end_angle=360, ccw=False)
    edge.add_line((300, 30), (300, 0))
    third = space.add_hatch()
    edge = third.paths.add_edge_path()
    edge.add_ellipse((350, 20), major_axis=(30, 10), ratio=0.5, start_angle=0, end_angle=360)
    fourth = space.add_hatch()
    edge = fourth.paths.add_edge_path()
    edge.add_ellipse((450, 20), major_axis=(30, 0), ratio=0.4, start_angle=0, end_angle=180)
    edge.add_line((420, 20), (480, 20))
    fifth = space.add_hatch()
    edge = fifth.paths.add_edge_path()
    edge.add_ellipse((550, 20), major_axis=(30, 0), ratio=0.4, start_angle=20, end_angle=130, ccw=False)
    sixth = space.add_hatch()
    edge = sixth.paths.add_edge_path()
    edge.add_spline(control_points=[(600, 0), (620, 40), (650, -30), (660, 10)], degree=3, knot_values=[0, 0, 0, 0, 1, 1, 1, 1])
    edge.add_line((660, 10), (600, 0))
    for extrusion in ((0, 0, -1), (0.2, 0.1, 1)):
        below = space.add_hatch(dxfattribs={"extrusion": extrusion, "elevation": (0, 0, 7)})
        below.paths.add_polyline_path([(700, 0, 0.6), (760, 0), (760, 40, -0.3), (700, 40)], is_closed=True)
        edge = below.paths.add_edge_path()
        edge.add_line((710, 10), (730, 10))
        edge.add_arc((730, 20), 10, start_angle=270, end_angle=90, ccw=True)
        edge.add_line((730, 30), (710, 30))
        edge.add_arc((700, 20), 14.142135623730951, start_angle=315, end_angle=45, ccw=False)
        edge = below.paths.add_edge_path()
        edge.add_ellipse((850, 20), major_axis=(30, 10), ratio=0.5, start_angle=30, end_angle=250)
    if hasattr(space, "add_mline"):
        style = document.mline_styles.get("Standard")
        space.add_mline([(0, 200), (100, 200), (100, 300), (200, 350)], close=False, dxfattribs={"scale_factor": 20.0})
        space.add_mline([(300, 200), (400, 200), (400, 300)], close=True, dxfattribs={"scale_factor": 12.0, "justification": 1})
        assert style is not None
    inner = document.blocks.new("INNER", base_point=(3, 4))
    inner.add_line((0, 0), (20, 7))
    inner.add_arc((5, 5), 4, 20, 140)
    inner.add_circle((1, -3), 2)
    inner.add_lwpolyline([(0, 0, 0, 0, 0.4), (6, 0, 0, 0, -0.2), (6, 6)], close=True, dxfattribs={"extrusion": (0, 0, -1)})
    inner.add_ellipse((2, 2), major_axis=(4, 1), ratio=0.3, start_param=0, end_param=2)
    outer = document.blocks.new("OUTER", base_point=(-5, 2))
    outer.add_blockref("INNER", (10, 10), dxfattribs={"rotation": 33, "xscale": -1.5, "yscale": 1.5, "zscale": 1.5})
    outer.add_blockref("INNER", (50, 10), dxfattribs={"rotation": 200, "xscale": 2, "yscale": 2, "extrusion": (0, 0, -1)})
    outer.add_lwpolyline([(0, 0), (10, 0, 0, 0, 1), (10, 10)])
    space.add_blockref("OUTER", (1000, 0), dxfattribs={"rotation": 77})
    space.add_blockref("OUTER", (1200, 0), dxfattribs={"rotation": -15, "xscale": 1, "yscale": -1})
    space.add_blockref("OUTER", (1500, 0), dxfattribs={"rotation": 40, "column_count": 3, "row_count": 2, "column_spacing": 150, "row_spacing": 90, "xscale": 0.5, "yscale": 0.5, "zscale": 0.5})
    space.add_blockref("OUTER", (1000, 500), dxfattribs={"rotation": 10, "extrusion": (0, 0, -1)})
    stretched = document.blocks.new("STRETCHED")
    stretched.add_line((0, 0), (20, 7))
    stretched.add_arc((5, 5), 4, 20, 140)
    stretched.add_circle((1, -3), 2)
    space.add_blockref("STRETCHED", (1000, 900), dxfattribs={"rotation": 20, "xscale": 3, "yscale": 0.7})
    space.add_blockref("STRETCHED", (1300, 900), dxfattribs={"rotation": -50, "xscale": -3, "yscale": 1.7, "extrusion": (0, 0, -1)})
    document.saveas(name)


def main():
    if sys.argv[1] == "--make":
        make(sys.argv[2])
        return
    document = ezdxf.readfile(sys.argv[1])
    frozen = {layer.dxf.name.lower() for layer in document.layers if layer.is_frozen()}
    dimensions = [
        abs(dim.get_measurement()) if dim.dimtype == 0 else (dim.dxf.defpoint3 - dim.dxf.defpoint2).magnitude
        for dim in document.modelspace().query("DIMENSION")
        if dim.dimtype in (0, 1)
    ]
    # Exploding an insert can turn the dimensions in it into their lines, which are no linework of the drawing.
    for block in document.blocks:
        if not block.is_any_layout:
            for dim in list(block.query("DIMENSION")):
                block.delete_entity(dim)
    found, texts = [], []
    walk(document.modelspace(), found, frozen, texts)
    counts = {}
    for entity in document.modelspace():
        counts[entity.dxftype()] = counts.get(entity.dxftype(), 0) + 1
    boxes = [entry for entry in found if all(map(math.isfinite, entry[1:]))]
    json.dump({"counts": counts, "boxes": boxes, "texts": texts, "dimensions": dimensions}, sys.stdout)


main()
