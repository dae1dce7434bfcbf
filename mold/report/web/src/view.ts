// The camera, and drawing on demand: nothing is drawn until something has changed.

import { ColorManagement, LinearSRGBColorSpace, OrthographicCamera, Vector3, WebGLRenderer } from "three";
import { OrbitControls } from "three/addons/controls/OrbitControls.js";
import type { Cut } from "./cut";
import { paintMark, sizeMark } from "./marks";
import type { Model } from "./scene";
import { readTheme } from "./theme";

// Where a viewer stands: azimuth from x toward y, and elevation, degrees. The corner
// is that of the still picture.
const looks: Record<string, [number, number]> = {
  corner: [-26, 22],
  front: [-90, 0],
  side: [0, 0],
  top: [-90, 90],
  below: [-90, -90],
};

const margin = 0.04; // of the picture, left free around the mold
const pixelsPerPaperMM = 96 / 25.4; // CSS pixels
const poleDegrees = 89.99; // straight down, the camera would not know what is up

// toward is the direction of a look's viewer.
export function toward(look: string): Vector3 {
  const [azimuth, elevation] = looks[look] ?? looks.corner;
  const a = (azimuth * Math.PI) / 180;
  const e = (Math.max(-poleDegrees, Math.min(elevation, poleDegrees)) * Math.PI) / 180;
  return new Vector3(Math.cos(e) * Math.cos(a), Math.cos(e) * Math.sin(a), Math.sin(e));
}

// contextOf returns the means to draw. Edges are smoothed unless the browser has no
// graphics unit to do it: reckoned by the processor, a frame takes more than twice as
// long with it.
function contextOf(canvas: HTMLCanvasElement): WebGL2RenderingContext {
  const wish = { alpha: true, depth: true, stencil: true };
  const context =
    canvas.getContext("webgl2", { ...wish, antialias: true, failIfMajorPerformanceCaveat: true }) ??
    canvas.getContext("webgl2", { ...wish, antialias: false });
  if (!context) throw new Error("this browser has no WebGL 2, or it is switched off");
  return context;
}

// View draws a model into a canvas.
export class View {
  readonly canvas: HTMLCanvasElement;
  readonly orbit: OrbitControls;
  private readonly renderer: WebGLRenderer;
  private readonly camera = new OrthographicCamera();
  private readonly radius: number;
  private fitted = { zoom: 1, target: new Vector3() };
  private due = false;
  private size = ""; // of the canvas, when it was last taken

  // The constructor throws where the browser has no WebGL.
  constructor(private readonly model: Model, private readonly cut: Cut) {
    ColorManagement.enabled = false; // colors are as the page writes them
    this.canvas = document.createElement("canvas");
    this.renderer = new WebGLRenderer({ canvas: this.canvas, context: contextOf(this.canvas) });
    this.renderer.outputColorSpace = LinearSRGBColorSpace;
    this.radius = model.radius();
    this.camera.up.set(0, 0, 1);
    this.camera.position.set(1, 0, 0); // any that is not the target's
    this.orbit = new OrbitControls(this.camera, this.canvas);
    this.orbit.zoomToCursor = true;
    this.orbit.minZoom = 0.2;
    this.orbit.maxZoom = 60;
    this.orbit.addEventListener("change", () => this.redraw());
    this.repaint();
  }

  // lost is while the browser has taken back what it draws with.
  get lost(): boolean {
    return this.renderer.getContext().isContextLost();
  }

  // look turns to a named look and makes the model fill the picture.
  look(name: string): void {
    this.orbit.target.set(...this.model.data.center);
    this.stand(toward(name));
    this.fit();
  }

  private stand(direction: Vector3): void {
    this.camera.position.copy(this.orbit.target).addScaledVector(direction, 4 * this.radius);
  }

  // fit makes the model fill the picture from where the viewer stands.
  fit(): void {
    const direction = this.camera.position.clone().sub(this.orbit.target).normalize();
    const right = new Vector3().crossVectors(this.camera.up, direction).normalize();
    const up = new Vector3().crossVectors(direction, right);
    const [left, rightmost] = this.model.reach(right);
    const [bottom, top] = this.model.reach(up);
    const middle = new Vector3(...this.model.data.center);
    this.orbit.target
      .copy(middle)
      .addScaledVector(right, (left + rightmost) / 2 - middle.dot(right))
      .addScaledVector(up, (bottom + top) / 2 - middle.dot(up));
    this.stand(direction);
    const free = 1 - 2 * margin;
    const { left: l, right: r, top: t, bottom: b } = this.camera;
    this.camera.zoom = Math.min(((r - l) * free) / (rightmost - left), ((t - b) * free) / (top - bottom));
    this.camera.updateProjectionMatrix();
    this.fitted = { zoom: this.camera.zoom, target: this.orbit.target.clone() };
    this.orbit.update();
    this.redraw();
  }

  // follow fits again after parts have moved, unless the reader has chosen a detail.
  follow(): void {
    // The controls round the target's last digits.
    const still = this.orbit.target.distanceTo(this.fitted.target) < 1e-6 * this.radius;
    if (still && this.camera.zoom === this.fitted.zoom) this.fit();
  }

  // resize takes the canvas as large as the page has it now, and reports whether that
  // is news.
  resize(): boolean {
    const { clientWidth: width, clientHeight: height } = this.canvas;
    const smooth = this.renderer.getContext().getContextAttributes()?.antialias;
    const ratio = smooth ? Math.min(devicePixelRatio, 2) : 1;
    const size = `${width} ${height} ${ratio}`;
    if (!(width > 0 && height > 0) || size === this.size) return false;
    this.size = size;
    this.renderer.setPixelRatio(ratio);
    this.renderer.setSize(width, height, false);
    const half = this.radius;
    const wide = (half * width) / height;
    Object.assign(this.camera, { left: -wide, right: wide, top: half, bottom: -half, near: 0.1 * half, far: 8 * half });
    this.camera.updateProjectionMatrix();
    this.redraw();
    return true;
  }

  // repaint takes over the page's colors.
  repaint(): void {
    const theme = readTheme();
    this.model.shared.line.value.set(...theme.line);
    for (const m of this.model.marks) paintMark(m, theme);
    this.redraw();
  }

  // redraw asks for a frame, one for any number of changes.
  redraw(): void {
    if (this.due) return;
    this.due = true;
    requestAnimationFrame(() => {
      if (this.due) this.draw();
    });
  }

  // draw draws now. Whoever hears "scene-drawn" may read the canvas at once.
  draw(): void {
    this.due = false;
    this.model.arrange();
    this.cut.update();
    this.model.arrange(); // balls and marks, by the plane as it is now
    const shared = this.model.shared;
    const scale = this.pixelsPerMM();
    this.camera.updateMatrixWorld();
    shared.up.value.set(0, 0, 1).transformDirection(this.camera.matrixWorldInverse);
    shared.above.value = this.camera.position.z < this.orbit.target.z ? -1 : 1;
    // In steps of two, so that a hatching does not crawl while one zooms.
    shared.perPaperMM.value = 2 ** Math.round(Math.log2(pixelsPerPaperMM / scale));
    for (const m of this.model.marks) sizeMark(m, scale);
    this.renderer.render(this.model.scene, this.camera);
    document.dispatchEvent(new CustomEvent("scene-drawn"));
  }

  private pixelsPerMM(): number {
    return (this.canvas.clientHeight * this.camera.zoom) / (this.camera.top - this.camera.bottom);
  }

  // pixel is where a point shows on the canvas, in CSS pixels.
  pixel(p: Vector3): [number, number] {
    const q = p.clone().project(this.camera);
    return [((q.x + 1) / 2) * this.canvas.clientWidth, ((1 - q.y) / 2) * this.canvas.clientHeight];
  }
}
