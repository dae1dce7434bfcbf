// Makes what is drawn of a mesh: normals that are smooth except across creases, and
// the creases as lines.

import type { Packed } from "./unpack";

export interface Surface {
  position: Float32Array;
  normal: Float32Array;
  index: Uint32Array;
  edges: Float32Array; // end points of the creases, six numbers to a line
}

// A fillet in facets of up to this angle looks round; corners of pieces are sharper.
const creaseDegrees = 30;

// surfaceOf splits vertices along creases. Around a vertex, the facets between two
// creases share a normal, each counted by its area: large flat faces stay flat where
// they run out into a fillet.
export function surfaceOf(mesh: Packed): Surface {
  const facets = facetNormals(mesh);
  const twin = pairEdges(mesh);
  steady(mesh, facets, twin);
  const { group, edges } = joinFacets(mesh, facets, twin);
  const corners = mesh.index.length;
  const number = new Int32Array(corners).fill(-1); // of a group's vertex
  const index = new Uint32Array(corners);
  const from = new Uint32Array(corners); // the mesh's vertex of each new one
  let vertices = 0;
  for (let c = 0; c < corners; c++) {
    const root = find(group, c);
    if (number[root] < 0) {
      from[vertices] = mesh.index[c];
      number[root] = vertices++;
    }
    index[c] = number[root];
  }
  const position = new Float32Array(3 * vertices);
  const normal = new Float32Array(3 * vertices);
  for (let v = 0; v < vertices; v++) {
    for (let k = 0; k < 3; k++) position[3 * v + k] = mesh.position[3 * from[v] + k];
  }
  for (let c = 0; c < corners; c++) {
    const facet = c - (c % 3);
    for (let k = 0; k < 3; k++) normal[3 * index[c] + k] += facets[facet + k];
  }
  return { position, normal, index, edges };
}

// facetNormals returns a normal for each facet, twice the area long.
function facetNormals({ position: p, index }: Packed): Float32Array {
  const out = new Float32Array(index.length);
  for (let t = 0; t < index.length; t += 3) {
    const a = 3 * index[t], b = 3 * index[t + 1], c = 3 * index[t + 2];
    const ux = p[b] - p[a], uy = p[b + 1] - p[a + 1], uz = p[b + 2] - p[a + 2];
    const vx = p[c] - p[a], vy = p[c + 1] - p[a + 1], vz = p[c + 2] - p[a + 2];
    out[t] = uy * vz - uz * vy;
    out[t + 1] = uz * vx - ux * vz;
    out[t + 2] = ux * vy - uy * vx;
  }
  return out;
}

// pairEdges returns for each corner the one at which the edge to the next corner starts
// in the neighboring facet, or -1 where there is none.
function pairEdges({ index }: Packed): Int32Array {
  const twin = new Int32Array(index.length).fill(-1);
  // Edges by their ends: a table with open addressing, half full at most where every
  // edge finds its second facet. Neighbors in the mesh stay neighbors in the table.
  const size = 2 ** Math.ceil(Math.log2(index.length + 2));
  const table = new Int32Array(size).fill(-1);
  const slot = (a: number, b: number): number => (31 * a + 3 * b) & (size - 1);
  for (let c = 0; c < index.length; c++) {
    const a = index[c], b = index[after(c)];
    let at = slot(b, a);
    let e = table[at]; // one that waits for its second facet, the other way round
    while (e >= 0 && !(index[e] === b && index[after(e)] === a && twin[e] < 0)) {
      at = (at + 1) & (size - 1);
      e = table[at];
    }
    if (e >= 0) {
      twin[c] = e;
      twin[e] = c;
      continue;
    }
    at = slot(a, b);
    while (table[at] >= 0) at = (at + 1) & (size - 1);
    table[at] = c;
  }
  return twin;
}

// after is the next corner of the same facet.
function after(c: number): number {
  return c % 3 === 2 ? c - 2 : c + 1;
}

// A facet lower than this many steps leans anyhow, or stands on its head, since its
// corners were rounded: by up to 1.5 steps, which is 11 degrees at eight.
const lowestSteps = 8;

// steady gives facets that are too low to have a direction that of their neighbor
// along the longest edge, or of one farther on where that is too low as well.
function steady(mesh: Packed, facets: Float32Array, twin: Int32Array): void {
  const { position: p, index, step } = mesh;
  const long: number[] = []; // the longest edges of low facets
  const low = new Uint8Array(index.length / 3);
  for (let t = 0; t < index.length; t += 3) {
    let most = -1, edge = t;
    for (let c = t; c < t + 3; c++) {
      const a = 3 * index[c], b = 3 * index[after(c)];
      const x = p[a] - p[b], y = p[a + 1] - p[b + 1], z = p[a + 2] - p[b + 2];
      const l = x * x + y * y + z * z;
      if (l > most) {
        most = l;
        edge = c;
      }
    }
    if (size(facets, t) < lowestSteps * step * Math.sqrt(most)) {
      low[t / 3] = 1;
      long.push(edge);
    }
  }
  for (const edge of long) {
    let c = edge;
    for (let tries = 0; tries < 8 && twin[c] >= 0; tries++) {
      const u = Math.floor(twin[c] / 3);
      if (!low[u]) {
        const t = edge - (edge % 3);
        // Too small to turn what it is added to.
        for (let k = 0; k < 3; k++) facets[t + k] = 1e-6 * facets[3 * u + k];
        break;
      }
      // On across the neighbor, by the edge after the one that was crossed.
      c = after(twin[c]);
    }
  }
}

// joinFacets goes along every edge between two facets: the corners of a smooth pair come
// into one group (a forest, see find), the edge of a sharp one becomes a line.
function joinFacets({ position, index }: Packed, facets: Float32Array, twin: Int32Array) {
  const group = new Int32Array(index.length);
  for (let c = 0; c < group.length; c++) group[c] = c;
  const sharp = Math.cos((creaseDegrees * Math.PI) / 180);
  const lines: number[] = [];
  for (let c = 0; c < group.length; c++) {
    const e = twin[c];
    if (e < c) continue; // the other corner's turn, or an edge of one facet
    if (cosine(facets, c - (c % 3), e - (e % 3)) < sharp) {
      const a = 3 * index[c], b = 3 * index[e];
      lines.push(position[a], position[a + 1], position[a + 2], position[b], position[b + 1], position[b + 2]);
    } else {
      // Neighbors run along their edge in opposite ways.
      join(group, c, after(e));
      join(group, after(c), e);
    }
  }
  return { group, edges: new Float32Array(lines) };
}

// cosine is that of the angle between two facets; one without area goes with any.
function cosine(n: Float32Array, s: number, t: number): number {
  const both = size(n, s) * size(n, t);
  return both === 0 ? 1 : (n[s] * n[t] + n[s + 1] * n[t + 1] + n[s + 2] * n[t + 2]) / both;
}

function size(n: Float32Array, t: number): number {
  return Math.sqrt(n[t] * n[t] + n[t + 1] * n[t + 1] + n[t + 2] * n[t + 2]); // ten times faster than hypot
}

// find returns the root of a member of a forest, and shortens the way to it.
function find(parent: Int32Array, i: number): number {
  while (parent[i] !== i) {
    parent[i] = parent[parent[i]];
    i = parent[i];
  }
  return i;
}

function join(parent: Int32Array, i: number, j: number): void {
  parent[find(parent, i)] = find(parent, j);
}
