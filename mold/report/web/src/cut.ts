// A plane that cuts the parts where they stand: what lies before it goes, and what it
// meets is filled, hatched and outlined.

import {
  BufferAttribute, BufferGeometry, Group, LineSegments, Mesh, PlaneGeometry, Quaternion, ShaderMaterial, Vector3,
} from "three";
import { cap, hex, mask, outlines } from "./paint";
import type { Model, Part } from "./scene";

export type CutBy = "none" | "x" | "y" | "z" | "sprue";

// Planes of a mold lie at round figures, where a cut along a face would show both
// sides at once; this much into what is kept, mm, it shows that. Coordinates as the
// graphics unit knows them are good to some 1e-4.
const intoKept = 0.01;

interface Section {
  part: Part;
  mask: Mesh;
  cap: Mesh<PlaneGeometry, ShaderMaterial>;
  outline: LineSegments;
}

// Cut is the plane and what it leaves to see.
export class Cut {
  by: CutBy = "none";
  share = 0.5; // of the way through the parts
  flipped = false;
  distance = 0; // from the axis, for z from the mold's frame, mm
  private readonly group = new Group();
  private readonly sections: Section[];

  constructor(private readonly model: Model, private readonly toward: Vector3) {
    const side = 4 * model.radius();
    const plane = new PlaneGeometry(side, side);
    const lines = outlines(model.shared);
    const marker = mask(model.shared);
    this.sections = model.parts.map((part, i) => this.section(part, i, plane, lines, marker));
    this.group.visible = false;
    model.scene.add(this.group);
  }

  private section(part: Part, i: number, plane: PlaneGeometry, lines: ShaderMaterial, marker: ShaderMaterial): Section {
    const { color, hatch } = part.data;
    const s: Section = {
      part,
      mask: new Mesh(part.body.geometry, marker),
      cap: new Mesh(plane, cap(hex(color), hatch.gap, this.model.shared)),
      outline: new LineSegments(new BufferGeometry(), lines),
    };
    // One bit of the stencil serves all: each cap wipes it for the next mask.
    s.mask.renderOrder = 2 * i + 1;
    s.cap.renderOrder = 2 * i + 2;
    s.outline.renderOrder = 2 * this.model.parts.length + 1;
    for (const o of [s.mask, s.cap, s.outline]) o.frustumCulled = false;
    this.group.add(s.mask, s.cap, s.outline);
    return s;
  }

  // normal points to what is cut away: toward the viewer of the first look.
  private normal(): Vector3 {
    const [x, y] = this.model.data.sprue;
    const n = new Vector3();
    if (this.by === "sprue") n.set(y, -x, 0).normalize();
    else n.set(Number(this.by === "x"), Number(this.by === "y"), Number(this.by === "z"));
    if (n.dot(this.toward) < 0) n.negate();
    return this.flipped ? n.negate() : n;
  }

  // update brings everything in line with the plane and the parts as they stand.
  update(): void {
    const on = this.by !== "none";
    this.group.visible = on;
    if (!on) {
      this.model.shared.cut.value.set(0, 0, 0, 1);
      return;
    }
    const n = this.normal();
    this.distance = this.place(n);
    const at = this.distance - intoKept;
    this.model.shared.cut.value.set(n.x, n.y, n.z, at);
    const turn = new Quaternion().setFromUnitVectors(new Vector3(0, 0, 1), n);
    for (const s of this.sections) {
      const seen = s.part.group.visible;
      for (const o of [s.mask, s.cap, s.outline]) o.visible = seen;
      if (!seen) continue;
      s.mask.position.copy(s.part.group.position);
      s.outline.position.copy(s.part.group.position);
      s.cap.position.copy(n).multiplyScalar(at);
      s.cap.quaternion.copy(turn);
      s.cap.material.uniforms.across.value.copy(across(n, s.part.data.hatch.angle));
      const lines = outline(s.part, n, at - n.dot(s.part.group.position));
      renew(s.outline);
      s.outline.geometry.setAttribute("position", new BufferAttribute(lines, 3));
    }
  }

  // forget drops what the graphics unit holds: once it has lost that, it may no longer
  // be told to.
  forget(): void {
    for (const s of this.sections) renew(s.outline);
  }

  // place turns the share into a distance along n. Upright planes run as far to either
  // side, so that the middle is the axis.
  private place(n: Vector3): number {
    let [low, high] = this.model.reach(n);
    if (n.z === 0) {
      high = Math.max(-low, high);
      low = -high;
    }
    const share = n.dot(this.toward) < 0 ? 1 - this.share : this.share;
    return low + share * (high - low);
  }
}

// renew takes away an outline's lines.
function renew(outline: LineSegments): void {
  outline.geometry.dispose();
  outline.geometry = new BufferGeometry();
}

// across is the direction in the plane at right angles to lines that rise by so many
// degrees from the level.
function across(n: Vector3, degrees: number): Vector3 {
  const level = new Vector3(-n.y, n.x, 0);
  if (level.lengthSq() < 0.01) level.set(1, 0, 0);
  level.normalize();
  const steep = n.clone().cross(level);
  const angle = (degrees * Math.PI) / 180;
  return steep.multiplyScalar(Math.cos(angle)).addScaledVector(level, -Math.sin(angle));
}

// outline returns the lines in which a plane meets a part's facets, ends in the part's
// frame.
function outline(part: Part, n: Vector3, distance: number): Float32Array {
  const { position: p, index } = part.mesh;
  const height = new Float32Array(p.length / 3);
  for (let i = 0; i < height.length; i++) {
    height[i] = p[3 * i] * n.x + p[3 * i + 1] * n.y + p[3 * i + 2] * n.z - distance;
  }
  const out: number[] = [];
  for (let t = 0; t < index.length; t += 3) {
    const above = Number(height[index[t]] > 0) + Number(height[index[t + 1]] > 0) + Number(height[index[t + 2]] > 0);
    if (above === 0 || above === 3) continue;
    for (let k = 0; k < 3; k++) {
      const a = index[t + k], b = index[t + ((k + 1) % 3)];
      if (height[a] > 0 === height[b] > 0) continue;
      const s = height[a] / (height[a] - height[b]);
      for (let j = 0; j < 3; j++) out.push(p[3 * a + j] + s * (p[3 * b + j] - p[3 * a + j]));
    }
  }
  return new Float32Array(out);
}
