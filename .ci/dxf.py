#!/usr/bin/env python3
"""Reads DXF files to cut from with a second reader, ezdxf, and holds them against the table of holes.

usage: dxf.py TABLE.csv CUT.dxf... [--sound DRAWING.dxf...]

Of files behind --sound only the audit is asked. Of the others a file passes when its audit finds no fault, it says that it is in mm, and it has one closed outline, every round hole of the
table once as a circle, each slot and cut-out closed, on the layers OUTLINE, HOLES and ENGRAVE, and nothing else.
"""
import csv
import sys

import ezdxf


def audit(doc):
    found = doc.audit()
    return [f"{e.code}: {e.message}" for e in found.errors + found.fixes]


def faults(name, table):
    doc = ezdxf.readfile(name)
    found = audit(doc)
    if doc.header.get("$INSUNITS") != 4:
        found.append(f"$INSUNITS is {doc.header.get('$INSUNITS')}, not 4 for mm")
    seen, circles, outlines, slots = set(), [], 0, 0
    for e in doc.modelspace():
        kind, layer = e.dxftype(), e.dxf.layer
        if layer not in ("OUTLINE", "HOLES", "ENGRAVE"):
            found.append(f"{kind} on layer {layer}")
        if kind == "CIRCLE" and layer == "HOLES":
            shape = (round(e.dxf.center.x, 3), round(e.dxf.center.y, 3), round(2 * e.dxf.radius, 3))
            circles.append(shape)
        elif kind in ("POLYLINE", "LWPOLYLINE"):
            closed = e.is_closed if kind == "POLYLINE" else e.closed
            if layer != "ENGRAVE" and not closed:
                found.append(f"an open {kind} on layer {layer}")
            points = e.points() if kind == "POLYLINE" else e.vertices()
            shape = tuple(sorted((round(p[0], 3), round(p[1], 3)) for p in points))
            outlines += layer == "OUTLINE"
            slots += layer == "HOLES"
        else:
            found.append(f"{kind} on layer {layer}")
            continue
        if shape in seen and layer != "ENGRAVE":
            found.append(f"{kind} twice at {shape}")
        seen.add(shape)
    if outlines != 1:
        found.append(f"{outlines} outlines")
    with open(table, newline="", encoding="utf-8") as f:
        table_rows = list(csv.DictReader(f))
    rows = [r for r in table_rows if not r["to_x_mm"] and not r["arc_x_mm"]]
    if slots < len(table_rows) - len(rows):
        found.append(f"{slots} closed edges for {len(table_rows) - len(rows)} slots")
    want = sorted((round(float(r["x_mm"]), 3), round(float(r["z_mm"]), 3), round(float(r["d_mm"]), 3)) for r in rows)
    if sorted(circles) != want:
        found.append(f"circles {sorted(circles)}, not {want}")
    return found


def main():
    bad, read, sound = 0, 0, False
    for name in sys.argv[2:]:
        if name == "--sound":
            sound = True
            continue
        read += 1
        for fault in audit(ezdxf.readfile(name)) if sound else faults(name, sys.argv[1]):
            print(f"{name}: {fault}")
            bad += 1
    print(f"{read} DXF files read by ezdxf {ezdxf.__version__}, faults: {bad}")
    return bad > 0


if __name__ == "__main__":
    sys.exit(main())
