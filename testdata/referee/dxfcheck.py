#!/usr/bin/env python3
"""Judges flat drawings (DXF) by what ezdxf reads of them.

    dxfcheck.py EXPECTED.JSON FILE...   or "-" where nothing is known of the files

Of any file: release 12, millimeters, an audit without a word, layers that are listed
and used, closed outlines, a point at the center of every hole and a mark beside it, and
a text that says the units. Of one that EXPECTED names: the circles of its layers by
place and diameter, which mark stands beside which hole, the areas of its outlines by
their bulges, and the box around them. Prints FAULT and exits with 1 on any complaint.
"""
import json
import math
import os
import sys

import ezdxf

OUTLINES = ("OUTLINE", "TURNING-PROFILE")
HOLES = ("BOLT-HOLES", "COUNTERBORES", "BALL-POCKETS", "JACK-SCREWS", "SPRUE-AND-VENTS", "CLAMP")
MARKED = HOLES + ("BORE-AND-BEARINGS",)
KINDS = ("LINE", "ARC", "CIRCLE", "POLYLINE", "TEXT", "POINT")
PLACE = 2e-4  # mm: places on a pitch circle lie on a lattice of 6e-5 mm
AREA = 1e-5  # of the area: as much follows from places on the lattice


def bulges(entity):
    """The corners of an outline with their bulges; a circle as two half turns."""
    if entity.dxftype() == "CIRCLE":
        c, r = entity.dxf.center, entity.dxf.radius
        return [(c.x - r, c.y, 1.0), (c.x + r, c.y, 1.0)]
    return [(v.dxf.location.x, v.dxf.location.y, v.dxf.bulge) for v in entity.vertices]


def area(corners):
    """By the shoelace formula, and the segment between each arc and its chord."""
    total = 0.0
    for (x0, y0, b), (x1, y1, _) in zip(corners, corners[1:] + corners[:1]):
        total += (x0 * y1 - x1 * y0) / 2
        if b:
            turn = 4 * math.atan(b)
            r = math.hypot(x1 - x0, y1 - y0) / 2 / math.sin(abs(turn) / 2)
            total += r * r / 2 * (turn - math.sin(turn))
    return total


def box(entity):
    """What an outline spans, by the lines and arcs that ezdxf makes of it."""
    x, y = [], []
    for e in [entity] if entity.dxftype() == "CIRCLE" else entity.virtual_entities():
        if e.dxftype() == "LINE":
            x += [e.dxf.start.x, e.dxf.end.x]
            y += [e.dxf.start.y, e.dxf.end.y]
            continue
        c, r = e.dxf.center, e.dxf.radius
        first, last = (0, 360) if e.dxftype() == "CIRCLE" else (e.dxf.start_angle, e.dxf.end_angle)
        turn = (last - first) % 360 or 360
        for a in [first, last] + [q for q in (0, 90, 180, 270) if (q - first) % 360 < turn]:
            x.append(c.x + r * math.cos(math.radians(a)))
            y.append(c.y + r * math.sin(math.radians(a)))
    return [min(x), min(y), max(x), max(y)]


def off(text, center, radius):
    """How far a text, whose letters are no wider than high, lies off a circle."""
    x, y, h = text.dxf.insert.x - center.x, text.dxf.insert.y - center.y, text.dxf.height
    right, top = x + h * len(text.dxf.text), y + h
    near = math.hypot(max(x, -right, 0), max(y, -top, 0))
    far = math.hypot(max(-x, right), max(-y, top))
    return max(near - radius, radius - far, 0)


def judge(name):
    """Yields complaints about any file."""
    doc = ezdxf.readfile(name)
    audit = doc.audit()
    for e in audit.errors + audit.fixes:
        yield f"audit: {e.message}"
    if doc.dxfversion != "AC1009":
        yield f"release {doc.dxfversion}"
    if doc.header.get("$INSUNITS") != 4 or doc.header.get("$MEASUREMENT") != 1:
        yield f"units {doc.header.get('$INSUNITS')}, measurement {doc.header.get('$MEASUREMENT')}: no millimeters"
    for l in doc.layers:
        if l.dxf.linetype not in doc.linetypes:
            yield f"layer {l.dxf.name}: no line type {l.dxf.linetype}"
    listed = {l.dxf.name for l in doc.layers} - {"0", "Defpoints"}
    used = set()
    points = [(p.dxf.location.x, p.dxf.location.y) for p in doc.modelspace().query('POINT[layer=="CENTERS"]')]
    marks = list(doc.modelspace().query('TEXT[layer=="HOLE-MARKS"]'))
    holes = [c for c in doc.modelspace().query("CIRCLE") if c.dxf.layer in HOLES]
    widest = {}
    for c in holes:
        at = (round(c.dxf.center.x, 6), round(c.dxf.center.y, 6))
        widest[at] = max(widest.get(at, 0), c.dxf.radius)
    for (x, y), r in widest.items():
        if not any(off(t, ezdxf.math.Vec3(x, y), r) < t.dxf.height / 2 for t in marks):
            yield f"no mark beside the hole at {x:g}, {y:g}"
    millimeters = False
    for e in doc.modelspace():
        used.add(e.dxf.layer)
        if e.dxftype() not in KINDS:
            yield f"a {e.dxftype()}"
        if e.dxf.layer in OUTLINES and not (e.dxftype() == "CIRCLE" or e.dxftype() == "POLYLINE" and e.is_closed):
            yield f"an open {e.dxftype()} on {e.dxf.layer}"
        if e.dxf.layer in HOLES and e.dxftype() == "CIRCLE":
            c = e.dxf.center
            if not any(math.hypot(x - c.x, y - c.y) < 1e-9 for x, y in points):
                yield f"no point at the center of a hole on {e.dxf.layer} at {c.x:g}, {c.y:g}"
        millimeters = millimeters or e.dxftype() == "TEXT" and "millimeters" in e.dxf.text
    if used != listed:
        yield f"layers listed and not used, or used and not listed: {sorted(used ^ listed)}"
    if not used & set(OUTLINES):
        yield "no outline"
    if not millimeters:
        yield "no text states millimeters"


def compare(name, want):
    """Yields where a file differs from what is expected of it."""
    space = ezdxf.readfile(name).modelspace()
    for layer, circles in want["circles"].items():
        got = [(c.dxf.center.x, c.dxf.center.y, 2 * c.dxf.radius) for c in space.query(f'CIRCLE[layer=="{layer}"]')]
        if len(got) != len(circles):
            yield f"{layer}: {len(got)} circles, not {len(circles)}"
        for x, y, d in circles:
            near = [g for g in got if math.hypot(g[0] - x, g[1] - y) < PLACE and abs(g[2] - d) < PLACE]
            if len(near) != 1:
                yield f"{layer}: {len(near)} circles of {d:g} mm at {x:g}, {y:g}"
    marks = list(space.query('TEXT[layer=="HOLE-MARKS"]'))
    circles = [c for c in space.query("CIRCLE") if c.dxf.layer in MARKED]
    for mark, x, y in want["marks"]:
        own = [c for c in circles if math.hypot(c.dxf.center.x - x, c.dxf.center.y - y) < PLACE]
        others = [c for c in circles if c not in own]
        if not own:
            yield f"no circle at {x:g}, {y:g}, where {mark} is"
            continue
        away = lambda t, some: min((off(t, c.dxf.center, c.dxf.radius) for c in some), default=math.inf)
        beside = [t for t in marks if away(t, own) < t.dxf.height / 2 and away(t, own) <= away(t, others)]
        if [t.dxf.text for t in beside] != [mark]:
            yield f"beside the hole at {x:g}, {y:g} stands {[t.dxf.text for t in beside]}, not {mark}"
    outlines = [e for e in space if e.dxf.layer in OUTLINES]
    if len(outlines) != len(want["outlines"]):
        yield f"{len(outlines)} outlines, not {len(want['outlines'])}"
        return
    for e, o in zip(outlines, want["outlines"]):
        a = area(bulges(e))
        if not abs(a - o["area"]) <= AREA * abs(o["area"]):
            yield f"an outline of {a:.4f} mm2, not {o['area']:.4f}"
        if max(abs(p - q) for p, q in zip(box(e), o["box"])) > 1e-3:
            yield f"an outline within {box(e)}, not {o['box']}"


def main():
    if len(sys.argv) < 3:
        sys.exit(__doc__)
    expected = {}
    if sys.argv[1] != "-":
        with open(sys.argv[1]) as f:
            expected = json.load(f)
    bad = 0
    for name in sys.argv[2:]:
        try:
            faults = list(judge(name))
            if os.path.basename(name) in expected:
                faults += compare(name, expected[os.path.basename(name)])
            elif expected:
                faults.append("nothing is expected of it")
        except (OSError, ezdxf.DXFError, ValueError) as e:
            faults = [f"cannot be read: {e}"]
        for fault in faults:
            print(f"FAULT {name}: {fault}")
        bad += bool(faults)
    print(f"ezdxf {ezdxf.__version__}: {len(sys.argv) - 2} files, {bad} with faults")
    sys.exit(1 if bad else 0)


main()
