// The reference solid of mesh/solid/solidtest by mesh booleans, for comparison
// with the time that the exact boundary takes: yardstick.mjs TOLERANCE RUNS
// prints the median milliseconds and the triangles of one run. With OUT as a third
// argument it prints the seconds of RUNS runs, the first one cold, and writes the
// triangles of the last to OUT as float64, for testdata/bench.
import fs from 'node:fs';
import Module from 'manifold-3d';

const tolerance = Number(process.argv[2]);
const runs = Number(process.argv[3]);
const wasm = await Module();
wasm.setup();
const { Manifold, CrossSection } = wasm;

let garbage = [];
const keep = (shape) => (garbage.push(shape), shape);

// Facets around a circle of radius r that keep the tolerance, a multiple of 4.
const around = (r) => 4 * Math.max(3, Math.ceil(Math.PI / Math.acos(1 - tolerance / r) / 4));

const drill = (r, z0, z1, x, y, top = r) =>
  keep(keep(Manifold.cylinder(z1 - z0, r, top, around(Math.max(r, top)))).translate([x, y, z0]));
const turned = (points, r) => keep(Manifold.revolve(keep(new CrossSection([points])), around(r)));

function solid() {
  const block = keep(keep(Manifold.cube([240, 240, 40])).translate([-120, -120, 0]));
  const cavity = [[0, -1], [90, -1], [90, 12], [75, 12], [75, 20], [60, 20], [60, 12], [0, 12]];
  const tools = [turned(cavity, 90), drill(3.2, 18, 42, 67.5, 0, 12.8)];
  const ball = keep(Manifold.sphere(6, 4 * Math.ceil(around(6) * 0.4)));
  for (const x of [-100, 100]) for (const y of [-100, 100]) tools.push(keep(ball.translate([x, y, 0])));
  for (const [x, y] of [[108, 0], [-108, 0], [0, 108], [0, -108]]) tools.push(drill(3.3, -1, 41, x, y));
  for (let k = 0; k < 6; k++) {
    const a = (30 + 60 * k) * Math.PI / 180;
    tools.push(drill(1.5, 18, 42, 67.5 * Math.cos(a), 67.5 * Math.sin(a)));
  }
  const slot = keep(keep(Manifold.cube([12, 14, 4])).translate([110, 53, -1]));
  for (let q = 0; q < 4; q++) tools.push(keep(slot.rotate([0, 0, 90 * q])));
  const register = turned([[0, -8], [24.5, -8], [25, 0], [25, 14], [0, 14]], 25);
  return keep(keep(block.subtract(keep(Manifold.union(tools)))).add(register));
}

const out = process.argv[4];
const times = [];
let mesh;
for (let i = out ? 1 : 0; i <= runs; i++) {
  const start = performance.now();
  mesh = solid().getMesh();
  if (i > 0) times.push(performance.now() - start); // the other warms up
  garbage.forEach((shape) => shape.delete());
  garbage = [];
}
if (out) {
  const { triVerts, vertProperties, numProp } = mesh;
  const coordinates = Float64Array.from({ length: 3 * triVerts.length }, (_, i) => vertProperties[triVerts[Math.floor(i / 3)] * numProp + i % 3]);
  fs.writeFileSync(out, coordinates);
  console.log(times.map((t) => t / 1000).join('\n'));
} else {
  times.sort((a, b) => a - b);
  console.log(`${times[times.length >> 1]} ${mesh.numTri}`);
}
