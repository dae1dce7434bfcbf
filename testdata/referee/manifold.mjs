// Judges binary STL files with manifold-3d: after corners with identical
// coordinates are welded, a file must be an oriented 2-manifold of finite
// vertices that encloses a positive volume.
//
// It does not see shells or facets that cut through each other.
//
//   node manifold.mjs FILE...
//
// Prints a line per file; exits with 1 if one is faulty, 2 if it cannot judge.
import {readFileSync} from 'node:fs';
import Module from 'manifold-3d';

function read(path) {
  const b = readFileSync(path);
  if (b.length < 84) throw new Error(`${b.length} bytes are no binary STL`);
  const n = b.readUInt32LE(80);
  if (b.length !== 84 + 50 * n) throw new Error(`${b.length} bytes for ${n} facets`);
  const place = new Map(), vertices = [], triangles = new Uint32Array(3 * n);
  for (let i = 0; i < 3 * n; i++) {
    const at = 84 + 50 * Math.floor(i / 3) + 12 + 12 * (i % 3);
    const p = [0, 4, 8].map((k) => b.readFloatLE(at + k) + 0);
    const key = p.join();
    if (!place.has(key)) {
      place.set(key, vertices.length / 3);
      vertices.push(...p);
    }
    triangles[i] = place.get(key);
  }
  return {numProp: 3, vertProperties: new Float32Array(vertices), triVerts: triangles};
}

function judge({Manifold, Mesh}, path) {
  const solid = Manifold.ofMesh(new Mesh(read(path)));
  try {
    if (solid.status() !== 'NoError') throw new Error(solid.status());
    const volume = solid.volume(), facets = solid.numTri();
    if (facets === 0) throw new Error('nothing in it');
    if (!(volume > 0)) throw new Error(`volume ${volume}`);
    return `${facets} facets, volume ${volume.toFixed(3)}, genus ${solid.genus()}`;
  } finally {
    solid.delete();
  }
}

const files = process.argv.slice(2);
if (files.length === 0) {
  console.error('usage: node manifold.mjs FILE...');
  process.exit(2);
}
const api = await Module();
api.setup();
let faulty = false;
for (const path of files) {
  try {
    console.log(`manifold: ${path}: ok, ${judge(api, path)}`);
  } catch (e) {
    faulty = true;
    console.log(`manifold: ${path}: FAULT ${e.message ?? e}`);
  }
}
process.exit(faulty ? 1 : 0);
