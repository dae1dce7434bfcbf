// What the page's scene-data element holds. Lengths are millimeters in the mold's
// frame: the wheel's axis is z, up in the pour.

export type Triple = [number, number, number];

export interface PartData {
  name: string;
  color: string; // #rrggbb
  hatch: { angle: number; gap: number }; // of cuts: degrees, mm on paper
  apart: Triple; // way when fully drawn apart
  mesh: string; // mesh/pack, base64
}

export interface BallData {
  part: string; // that keeps it, and is hidden with it
  at: Triple;
  diameter: number;
  apart: Triple;
}

export interface MarkData {
  kind: "trap" | "vent";
  at: Triple;
  apart: Triple;
  label: string;
  text: string;
}

export interface SceneData {
  step: number;
  center: Triple;
  sprue: Triple; // direction of the first one
  parts: PartData[];
  balls: BallData[];
  ball: string; // color of them all, #rrggbb
  marks: MarkData[];
}

// readScene returns the page's scene, or null where it has none.
export function readScene(): SceneData | null {
  const text = document.getElementById("scene-data")?.textContent;
  return text ? (JSON.parse(text) as SceneData) : null;
}
