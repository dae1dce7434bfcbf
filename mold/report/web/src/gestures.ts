// Mouse, touch and keys on the canvas. The page keeps its own: it scrolls under a
// finger until the canvas was tapped, and under the wheel until it has the focus.

import type { Mark } from "./marks";
import type { View } from "./view";

const turnDegrees = 5; // of an arrow key
const shiftPixels = 24;
const zoomFactor = 0.88;
const nearPixels = 16; // of a mark's middle

// onGestures binds all of them.
export function onGestures(stage: HTMLElement, view: View, marks: Mark[]): void {
  touch(stage, view.canvas);
  view.canvas.addEventListener("keydown", (e) => {
    if (key(e, view)) e.preventDefault();
  });
  view.canvas.addEventListener("pointermove", (e) => name(e, view, marks));
}

// touch lets the page have what is not meant for the canvas: events are stopped on
// their way down, before three.js hears them.
function touch(stage: HTMLElement, canvas: HTMLCanvasElement): void {
  const focused = () => document.activeElement === canvas;
  const claim = () => (canvas.style.touchAction = focused() ? "none" : "auto");
  claim();
  canvas.addEventListener("focus", claim);
  canvas.addEventListener("blur", claim);
  stage.addEventListener("pointerdown", (e) => {
    if (e.pointerType === "touch" && !focused()) e.stopPropagation();
  }, { capture: true });
  stage.addEventListener("wheel", (e) => {
    if (!focused() && !e.ctrlKey) e.stopPropagation();
  }, { capture: true, passive: true });
  document.addEventListener("pointerdown", (e) => {
    if (focused() && e.target !== canvas) canvas.blur();
  });
}

// key does what a key says, and reports whether it says anything.
function key(e: KeyboardEvent, view: View): boolean {
  if (e.ctrlKey || e.altKey || e.metaKey) return false;
  const { orbit } = view;
  const turn = (turnDegrees * Math.PI) / 180;
  // What is in front goes the arrow's way, as under the pointer.
  const arrows: Record<string, [number, number]> = {
    ArrowLeft: [-1, 0], ArrowRight: [1, 0], ArrowUp: [0, -1], ArrowDown: [0, 1],
  };
  const arrow = arrows[e.key];
  if (arrow && e.shiftKey) {
    orbit.pan(arrow[0] * shiftPixels, arrow[1] * shiftPixels);
  } else if (arrow) {
    orbit.rotateLeft(arrow[0] * turn);
    orbit.rotateUp(arrow[1] * turn);
  } else if (e.key === "+" || e.key === "=") {
    orbit.dollyIn(zoomFactor);
  } else if (e.key === "-" || e.key === "_") {
    orbit.dollyOut(zoomFactor);
  } else if (e.key === "Home") {
    view.look("corner");
  } else if (e.key === "Escape") {
    view.canvas.blur();
  } else {
    return false;
  }
  orbit.update();
  view.redraw();
  return true;
}

// name gives the text of the mark under the pointer.
function name(e: PointerEvent, view: View, marks: Mark[]): void {
  const near = marks.find((m) => {
    const [x, y] = view.pixel(m.sprite.position);
    return m.sprite.visible && Math.hypot(e.offsetX - x, e.offsetY - y) < nearPixels;
  });
  view.canvas.title = near ? near.data.text : "";
}
