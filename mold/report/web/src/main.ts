// Starts what the page can do beyond standing still: the view of the mold in place of
// its picture, notes and printing.

import { bindControls, enableControls } from "./controls";
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
  const enable = bindControls(figure, model, view, cut);
  view.resize();
  view.look("corner");
  view.draw();
  canvas.style.position = "";
  canvas.style.visibility = "";
  show(canvas, still, true);
  onGestures(stage, view, model.marks);
  onTheme(() => view.repaint());
  new ResizeObserver(() => {
    if (view.resize()) view.follow();
  }).observe(canvas);
  keepStill(view, still);
  onLoss(view, (lost) => {
    show(canvas, still, !lost);
    enable(!lost);
    say(lost ? "the browser has lost its 3D graphics; they may return by themselves, or when the page is loaded again" : "");
    if (lost) cut.forget();
    else view.redraw();
  });
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

// show shows the view with what is to be known to use it, or else the still picture.
function show(canvas: HTMLCanvasElement, still: HTMLImageElement | null, drawn: boolean): void {
  if (still) still.hidden = drawn;
  canvas.style.display = drawn ? "block" : "none";
  const how = document.getElementById("scene-how");
  if (how) how.hidden = !drawn;
  document.documentElement.dataset.scene = drawn ? "drawn" : "still";
}

// keepStill prints what is seen by means of the still picture, since a browser may have
// let go of the frame by then. Before and after that it is the picture that it was.
function keepStill(view: View, still: HTMLImageElement | null): void {
  if (!still) return;
  const original = still.src;
  addEventListener("beforeprint", () => {
    if (view.lost) return;
    view.draw();
    still.src = view.canvas.toDataURL("image/png");
    show(view.canvas, still, false);
  });
  addEventListener("afterprint", () => {
    if (still.src !== original) still.src = original;
    if (view.lost) return;
    show(view.canvas, still, true);
    view.redraw();
  });
}

// onLoss calls back when the browser takes back what it draws with, as it may when a
// computer has slept, and when it returns that.
function onLoss(view: View, changed: (lost: boolean) => void): void {
  view.canvas.addEventListener("webglcontextlost", () => changed(true));
  view.canvas.addEventListener("webglcontextrestored", () => changed(false));
}

// say tells why the picture stands still, or nothing.
function say(reason: string): void {
  document.getElementById("scene-note")?.replaceChildren(reason && `The picture stands still: ${reason}.`);
}

function start(): void {
  bindNotes();
  bindPrint();
  const figure = document.getElementById("scene");
  const stage = document.getElementById("stage");
  if (!figure || !stage) return;
  let reason = "the page has no scene";
  try {
    if (startView(figure, stage)) {
      // Two frames on, the first one has been shown.
      requestAnimationFrame(() => requestAnimationFrame(() => performance.mark("first-picture")));
      return;
    }
  } catch (e) {
    reason = e instanceof Error ? e.message : String(e);
  }
  document.documentElement.dataset.scene = "still";
  stage.querySelector("canvas")?.remove();
  enableControls(figure, false);
  say(reason);
}

start();
