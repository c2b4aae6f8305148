"""What ezdxf, an independent reader, finds in a written drawing; and blank drawings made by it.

    ezdxf_layout.py blank FOLDER VERSION...     blank-VERSION-text.dxf and blank-VERSION-binary.dxf in the folder
    ezdxf_layout.py dump|count FILE...

The dump is a JSON list, for each file: audit errors, model space entities by type and layer, and every insert with its attributes and its block's linework in place (count: without).
"""
import json
import sys
from collections import Counter

import ezdxf


def blank(folder, version):
    doc = ezdxf.new(version, setup=True)
    doc.layers.add("W\u00e4nde" if version != "R12" else "WALLS")
    space = doc.modelspace()
    space.add_line((0, -100), (6000, -100), dxfattribs={"layer": "0"})
    space.add_text("NOTE", dxfattribs={"insert": (100, 3000), "height": 100})
    block = doc.blocks.new("GRID")
    block.add_circle((0, 0), 250)
    block.add_attdef("AXIS", (0, 0))
    insert = space.add_blockref("GRID", (1000, 4000))
    insert.add_attrib("AXIS", "A", (1000, 4000))
    doc.saveas(f"{folder}/blank-{version}-text.dxf", fmt="asc")
    doc.saveas(f"{folder}/blank-{version}-binary.dxf", fmt="bin")


def points(entity):
    kind = entity.dxftype()
    if kind == "LINE":
        return [entity.dxf.start, entity.dxf.end]
    if kind == "LWPOLYLINE":
        return list(entity.vertices_in_wcs())
    if kind == "POLYLINE":
        return [v.dxf.location for v in entity.vertices]
    if kind == "SOLID":
        return list(entity.wcs_vertices())
    return []


def insert(entity, with_lines):
    parts = list(entity.virtual_entities()) if with_lines else []
    return {
        "block": entity.dxf.name,
        "layer": entity.dxf.layer,
        "at": [entity.dxf.insert.x, entity.dxf.insert.y],
        "attributes": {a.dxf.tag: a.dxf.text for a in entity.attribs},
        "shown": [a.dxf.tag for a in entity.attribs if not a.is_invisible],
        "marked": all(a.has_xdata("SHUTTERWRIGHT") for a in [entity, *entity.attribs]),
        "lines": [[[p.x, p.y] for p in map(ezdxf.math.Vec3, points(e))] for e in parts if e.dxftype() == "LINE"],
        "outline": [[p.x, p.y] for e in parts for p in map(ezdxf.math.Vec3, points(e))],
    }


def layout(sheet):
    views = [v for v in sheet.query("VIEWPORT") if v.dxf.id > 1 and v.has_xdata("SHUTTERWRIGHT")]
    return {
        "name": sheet.name,
        "tab": sheet.dxf.taborder,
        "viewports": [
            {"scale": round(v.dxf.view_height / v.dxf.height, 9), "centre": [v.dxf.view_center_point.x, v.dxf.view_center_point.y]}
            for v in views
        ],
    }


def dump(path, with_lines):
    doc = ezdxf.readfile(path)
    space = list(doc.modelspace())
    unmarked = [str(e) for e in space if e.dxf.layer.startswith("S-FORM") and not e.has_xdata("SHUTTERWRIGHT")]
    result = {
        "version": doc.dxfversion,
        "unit": doc.header.get("$INSUNITS", None),
        "counts": {f"{layer} {kind}": n for (layer, kind), n in Counter((e.dxf.layer, e.dxftype()) for e in space).items()},
        "texts": [[e.dxf.layer, e.dxf.text] for e in space if e.dxftype() == "TEXT"],
        "unmarked": unmarked,
        "layers": {layer.dxf.name: [layer.dxf.color, layer.dxf.get("lineweight", None), layer.dxf.linetype] for layer in doc.layers},
        "layouts": [layout(doc.layouts.get(name)) for name in doc.layouts.names_in_taborder() if name != "Model"],
        "inserts": [insert(e, with_lines) for e in space if e.dxftype() == "INSERT"],
    }
    # The audit takes faulty entities out: it comes last.
    auditor = doc.audit()
    return {**result, "errors": [e.message for e in auditor.errors], "fixes": [e.message for e in auditor.fixes]}


if sys.argv[1] == "blank":
    for version in sys.argv[3:]:
        blank(sys.argv[2], version)
else:
    json.dump([dump(path, sys.argv[1] == "dump") for path in sys.argv[2:]], sys.stdout)
