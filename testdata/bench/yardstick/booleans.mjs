// A yardstick: the solids of the bench by mesh booleans (npm manifold-3d, WASM).
//
//   node booleans.mjs PROGRAM TOLERANCE RUNS OUT
//
// PROGRAM is what writeProgram says. Prints the seconds of every run, the first one cold,
// and writes the triangles of the last as float64.
import fs from 'node:fs';
import Module from '../../referee/node_modules/manifold-3d/manifold.js';

const [program, toleranceText, runsText, out] = process.argv.slice(2);
const tolerance = Number(toleranceText);
const lines = fs.readFileSync(program, 'utf8').trim().split('\n').map((line) => line.trim().split(/\s+/));
const wasm = await Module();
wasm.setup();
const { Manifold, CrossSection } = wasm;

let garbage = [];
const keep = (shape) => (garbage.push(shape), shape);

// Facets around a full circle of radius r that keep a tolerance.
const around = (r, tolerance) => Math.max(12, 4 * Math.ceil(Math.PI / Math.acos(1 - tolerance / r) / 4));

// points of an outline, its arcs as chords.
function points(segments, tolerance) {
  const list = [];
  for (const [kind, ...text] of segments) {
    const [ax, ay, , , cx, cy, r, t0, t1] = text.map(Number);
    list.push([ax, ay]);
    if (kind !== 'arc') continue;
    const n = Math.ceil(Math.abs(t1 - t0) / (2 * Math.PI) * around(r, tolerance));
    for (let i = 1; i < n; i++) {
      const t = t0 + (t1 - t0) * i / n;
      list.push([cx + r * Math.cos(t), cy + r * Math.sin(t)]);
    }
  }
  return list;
}

// ball returns the radius and the height of the center where an outline is half a circle
// about the axis, for which the library has a mesh of its own.
function ball([segments, ...others]) {
  const arcs = segments.filter(([kind]) => kind === 'arc').map((arc) => arc.slice(5).map(Number));
  const axis = segments.filter(([kind]) => kind === 'line').every(([, ax, , bx]) => Number(ax) === 0 && Number(bx) === 0);
  if (others.length > 0 || arcs.length === 0 || !axis) return null;
  const [[cx, cz, r]] = arcs;
  return arcs.every((arc) => arc[0] === 0 && arc[1] === cz && arc[2] === r) && cx === 0 ? { r, cz } : null;
}

// A ball's facets keep the tolerance with 1.6 times as many around it as a circle needs.
const sphere = ({ r, cz }) => keep(keep(Manifold.sphere(r, 4 * Math.ceil(0.4 * around(r, tolerance)))).translate([0, 0, cz]));

// swept makes a leaf in a frame of its own. Where an arc is revolved its facets sag both
// ways, and each way gets half of the tolerance.
function swept(sweep, z0, z1, outlines) {
  const whole = sweep === 'revolve' && ball(outlines);
  if (whole) return sphere(whole);
  const curved = sweep === 'revolve' && outlines.flat().some(([kind]) => kind === 'arc');
  const share = curved ? tolerance / 2 : tolerance;
  const polygons = outlines.map((segments) => points(segments, share));
  const section = keep(new CrossSection(polygons, 'EvenOdd'));
  if (sweep === 'revolve') return keep(Manifold.revolve(section, around(Math.max(...polygons.flat().map(([r]) => r)), share)));
  return keep(keep(Manifold.extrude(section, z1 - z0)).translate([0, 0, z0]));
}

// leaf brings it into its frame. What is the same but for that, such as bolt holes, is
// made once.
function leaf([, sweep, ...text], outlines, made) {
  const [z0, z1, ox, oy, oz, xx, xy, xz, yx, yy, yz, zx, zy, zz] = text.map(Number);
  const key = [sweep, z0, z1, outlines].join();
  if (!made.has(key)) made.set(key, swept(sweep, z0, z1, outlines));
  return keep(made.get(key).transform([xx, xy, xz, 0, yx, yy, yz, 0, zx, zy, zz, 0, ox, oy, oz, 1]));
}

function solid() {
  const stack = [];
  const made = new Map();
  for (let i = 0; i < lines.length; i++) {
    const [word] = lines[i];
    if (word === 'leaf') {
      const outlines = [];
      const head = lines[i];
      for (let n = Number(head.at(-1)); n > 0; n--) {
        const count = Number(lines[++i][1]);
        outlines.push(lines.slice(i + 1, i + 1 + count));
        i += count;
      }
      stack.push(leaf(head, outlines, made));
      continue;
    }
    const kids = stack.splice(stack.length - Number(lines[i][1]));
    if (word === 'union') stack.push(keep(Manifold.union(kids)));
    else if (word === 'intersect') stack.push(keep(Manifold.intersection(kids)));
    else stack.push(kids.length > 1 ? keep(Manifold.difference(kids)) : kids[0]);
  }
  return stack[0];
}

let mesh;
for (let i = 0; i < Number(runsText); i++) {
  const start = performance.now();
  mesh = solid().getMesh();
  console.log((performance.now() - start) / 1000);
  garbage.forEach((shape) => shape.delete());
  garbage = [];
}
const { triVerts, vertProperties, numProp } = mesh;
const coordinates = new Float64Array(3 * triVerts.length);
for (let i = 0; i < triVerts.length; i++) {
  for (let k = 0; k < 3; k++) coordinates[3 * i + k] = vertProperties[triVerts[i] * numProp + k];
}
fs.writeFileSync(out, coordinates);
