// Starts what the page can do beyond standing still: the view of the mold in place of
// its picture, notes and printing.

import { bindControls, disableControls } from "./controls";
import { Cut } from "./cut";
import { readScene } from "./data";
import { onGestures } from "./gestures";
import { bindNotes } from "./notes";
import { bindPrint } from "./print";
import { Model } from "./scene";
import { onTheme } from "./theme";
import { toward, View } from "./view";

const label = "The mold in three dimensions. Arrow keys turn it, plus and minus zoom, " +
  "Shift and arrows shift it, Home shows all of it, Escape leaves.";

// startView puts the view in the place of the still picture. The first frame is drawn
// before the picture goes, so that there always is one.
function startView(figure: HTMLElement, stage: HTMLElement): boolean {
  const data = readScene();
  if (!data) return false;
  const model = new Model(data);
  const cut = new Cut(model, toward("corner"));
  const view = new View(model, cut);
  const { canvas } = view;
  const still = document.getElementById("still") as HTMLImageElement | null;
  canvas.tabIndex = 0;
  canvas.setAttribute("role", "application");
  canvas.setAttribute("aria-label", label);
  takePlace(canvas, stage, still);
  bindControls(figure, model, view, cut);
  view.resize();
  view.look("corner");
  view.draw();
  if (still) still.hidden = true;
  canvas.style.position = "";
  canvas.style.visibility = "";
  onGestures(stage, view, model.marks);
  onTheme(() => view.repaint());
  new ResizeObserver(() => {
    if (view.resize()) view.follow();
  }).observe(canvas);
  keepStill(view, still);
  return true;
}

// takePlace gives the canvas the shape of the still picture, over which it lies,
// unseen, until it is drawn.
function takePlace(canvas: HTMLCanvasElement, stage: HTMLElement, still: HTMLImageElement | null): void {
  const [w, h] = [still?.width || 4, still?.height || 3];
  canvas.style.display = "block";
  canvas.style.width = "100%";
  canvas.style.aspectRatio = `${w} / ${h}`;
  canvas.style.position = "absolute";
  canvas.style.visibility = "hidden";
  canvas.style.top = canvas.style.left = "0";
  stage.style.position = "relative";
  stage.append(canvas);
}

// keepStill brings the still picture back for as long as the view cannot be shown. For
// printing it takes on what is seen, since a browser may have let go of the frame by
// then.
function keepStill(view: View, still: HTMLImageElement | null): void {
  const swap = (drawn: boolean): void => {
    if (still) still.hidden = drawn;
    view.canvas.style.display = drawn ? "block" : "none";
    document.documentElement.dataset.scene = drawn ? "drawn" : "still";
    if (drawn) view.redraw();
  };
  addEventListener("beforeprint", () => {
    if (!still) return;
    view.draw();
    still.src = view.canvas.toDataURL("image/png");
    swap(false);
  });
  addEventListener("afterprint", () => swap(true));
  view.canvas.addEventListener("webglcontextlost", () => swap(false));
  view.canvas.addEventListener("webglcontextrestored", () => swap(true));
}

function start(): void {
  bindNotes();
  bindPrint();
  const figure = document.getElementById("scene");
  const stage = document.getElementById("stage");
  if (!figure || !stage) return;
  const root = document.documentElement;
  let reason = "the page has no scene";
  try {
    if (startView(figure, stage)) {
      root.dataset.scene = "drawn";
      // Two frames on, the first one has been shown.
      requestAnimationFrame(() => requestAnimationFrame(() => performance.mark("first-picture")));
      return;
    }
  } catch (e) {
    reason = e instanceof Error ? e.message : String(e);
  }
  root.dataset.scene = "still";
  stage.querySelector("canvas")?.remove();
  disableControls(figure);
  document.getElementById("scene-note")?.replaceChildren(`The picture stands still: ${reason}.`);
}

start();
