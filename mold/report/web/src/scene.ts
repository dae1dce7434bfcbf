// The mold as three.js objects: pieces and rubber, balls, marks.

import { BufferAttribute, BufferGeometry, Group, LineSegments, Mesh, Scene, SphereGeometry, Vector3 } from "three";
import type { BallData, PartData, SceneData, Triple } from "./data";
import { makeMark, type Mark } from "./marks";
import { creases, hex, Shared, surface, wholeSurface } from "./paint";
import { surfaceOf } from "./surface";
import { unpack, type Packed } from "./unpack";

export interface Part {
  data: PartData;
  mesh: Packed; // in place, for cutting
  body: Mesh;
  group: Group; // moves when drawn apart
  low: Vector3; // box in place
  high: Vector3;
}

export interface Ball {
  data: BallData;
  body: Mesh;
}

// Model is all that is shown, and where it stands.
export class Model {
  readonly scene = new Scene();
  readonly shared = new Shared();
  readonly parts: Part[];
  readonly balls: Ball[];
  readonly marks: Mark[];
  private readonly hidden = new Set<string>();
  private share = 0; // 0 together, 1 fully apart

  constructor(readonly data: SceneData) {
    const lines = creases(this.shared);
    this.parts = data.parts.map((p) => this.addPart(p, lines));
    this.balls = data.balls.map((b) => this.addBall(b));
    this.marks = data.marks.map(makeMark);
    for (const m of this.marks) this.scene.add(m.sprite);
  }

  private addPart(data: PartData, lines: ReturnType<typeof creases>): Part {
    const mesh = unpack(data.mesh);
    const s = surfaceOf(mesh);
    const geometry = new BufferGeometry();
    geometry.setAttribute("position", new BufferAttribute(s.position, 3));
    geometry.setAttribute("normal", new BufferAttribute(s.normal, 3));
    geometry.setIndex(new BufferAttribute(s.index, 1));
    geometry.computeBoundingBox();
    const edges = new BufferGeometry();
    edges.setAttribute("position", new BufferAttribute(s.edges, 3));
    const body = new Mesh(geometry, surface(hex(data.color), this.shared));
    const group = new Group();
    group.add(body, new LineSegments(edges, lines));
    this.scene.add(group);
    const box = geometry.boundingBox!;
    return { data, mesh, body, group, low: box.min, high: box.max };
  }

  private addBall(data: BallData): Ball {
    const body = new Mesh(new SphereGeometry(data.diameter / 2, 24, 16), wholeSurface(hex(this.data.ball), this.shared));
    this.scene.add(body);
    return { data, body };
  }

  // drawApart moves everything to its place between together (0) and apart (1).
  drawApart(share: number): void {
    this.share = share;
    for (const p of this.parts) p.group.position.set(...p.data.apart).multiplyScalar(share);
    for (const b of this.balls) b.body.position.copy(placed(b.data, share));
    for (const m of this.marks) m.sprite.position.copy(placed(m.data, share));
  }

  // show shows or hides a part by name, or all "balls" or "marks".
  show(name: string, on: boolean): void {
    if (on) this.hidden.delete(name);
    else this.hidden.add(name);
  }

  // arrange settles what is seen: what was hidden is not, nor balls of a hidden part,
  // nor balls and marks whose middle is cut off.
  arrange(): void {
    const { x, y, z, w } = this.shared.cut.value;
    const kept = (p: Vector3): boolean => x * p.x + y * p.y + z * p.z <= w;
    for (const p of this.parts) p.group.visible = !this.hidden.has(p.data.name);
    for (const b of this.balls) b.body.visible = !this.hidden.has("balls") && !this.hidden.has(b.data.part) && kept(b.body.position);
    for (const m of this.marks) m.sprite.visible = !this.hidden.has("marks") && kept(m.sprite.position);
  }

  // reach returns how far parts, as they stand, reach along a direction of length 1.
  reach(along: Vector3): [number, number] {
    let low = Infinity, high = -Infinity;
    const shift = new Vector3();
    for (const p of this.parts) {
      const by = shift.set(...p.data.apart).dot(along) * this.share;
      const q = p.mesh.position;
      for (let i = 0; i < q.length; i += 3) {
        const d = q[i] * along.x + q[i + 1] * along.y + q[i + 2] * along.z + by;
        if (d < low) low = d;
        if (d > high) high = d;
      }
    }
    return low < high ? [low, high] : [-1, 1];
  }

  // radius is that of a ball about the mold's middle that holds everything, apart too.
  radius(): number {
    const middle = new Vector3(...this.data.center);
    let far = 1;
    for (const p of this.parts) {
      const half = p.low.distanceTo(p.high) / 2;
      const at = p.low.clone().add(p.high).multiplyScalar(0.5).sub(middle);
      far = Math.max(far, half + at.length(), half + at.add(new Vector3(...p.data.apart)).length());
    }
    return far;
  }
}

// placed is where something stands that has gone a share of its way.
function placed(data: { at: Triple; apart: Triple }, share: number): Vector3 {
  return new Vector3(...data.apart).multiplyScalar(share).add(new Vector3(...data.at));
}
