// The controls that the page has around the picture. Any of them may be missing.

import type { Cut, CutBy } from "./cut";
import type { Model } from "./scene";
import type { View } from "./view";

const inch = 25.4;

function input(id: string): HTMLInputElement | null {
  return document.getElementById(id) as HTMLInputElement | null;
}

// share is where a slider stands between its ends, 0 to 1.
function share(slider: HTMLInputElement): number {
  const low = Number(slider.min || 0), high = Number(slider.max || 100);
  return (slider.valueAsNumber - low) / (high - low);
}

// bindControls makes the model follow the controls, and takes over what they say now.
// It returns what lets them rest, while there is nothing to move, and wakes them.
export function bindControls(figure: HTMLElement, model: Model, view: View, cut: Cut): (on: boolean) => void {
  const enable = (on: boolean): void => {
    enableControls(figure, on);
    if (on) restCut(cut);
  };
  bindApart(model, view);
  bindCut(view, cut);
  for (const box of figure.querySelectorAll<HTMLInputElement>("input[data-part]")) {
    const apply = () => model.show(box.dataset.part!, box.checked);
    apply();
    box.addEventListener("change", () => {
      apply();
      view.redraw();
    });
  }
  for (const button of figure.querySelectorAll<HTMLElement>("[data-look]")) {
    button.addEventListener("click", () => view.look(button.dataset.look!));
  }
  enable(true);
  return enable;
}

function bindApart(model: Model, view: View): void {
  const slider = input("apart");
  const apply = () => model.drawApart(slider ? share(slider) : 0);
  apply();
  slider?.addEventListener("input", () => {
    apply();
    view.follow();
    view.redraw();
  });
}

function bindCut(view: View, cut: Cut): void {
  const by = document.getElementById("cut-by") as HTMLSelectElement | null;
  const at = input("cut-at");
  const flip = input("cut-flip");
  const apply = () => {
    cut.by = (by?.value ?? "none") as CutBy;
    cut.share = at ? share(at) : 0.5;
    cut.flipped = flip?.checked ?? false;
    restCut(cut);
    view.redraw();
  };
  apply();
  by?.addEventListener("change", () => {
    if (at) at.valueAsNumber = (Number(at.min || 0) + Number(at.max || 100)) / 2;
    apply();
  });
  at?.addEventListener("input", apply);
  flip?.addEventListener("change", apply);
  if (at) document.addEventListener("scene-drawn", () => tellPlace(at, cut));
}

// restCut lets those controls of the cut rest that move nothing without one.
function restCut(cut: Cut): void {
  for (const id of ["cut-at", "cut-flip"]) {
    const control = input(id);
    if (control) control.disabled = cut.by === "none";
  }
}

// tellPlace says where the plane is to those who hear the slider, and in its output.
function tellPlace(slider: HTMLInputElement, cut: Cut): void {
  const at = cut.flipped ? -cut.distance : cut.distance; // the same place from either side
  const text = cut.by === "none" ? "" : `${at.toFixed(1)} mm (${(at / inch).toFixed(3)} in)`;
  if (slider.getAttribute("aria-valuetext") === text) return;
  slider.setAttribute("aria-valuetext", text);
  for (const out of slider.labels ?? []) out.querySelector("output")?.replaceChildren(text);
  document.querySelector('output[for~="cut-at"]')?.replaceChildren(text);
}

// enableControls wakes all controls, or lets them rest: as the page is written they do,
// since without a view they do nothing.
export function enableControls(figure: HTMLElement, on: boolean): void {
  const all = figure.querySelectorAll<HTMLInputElement>("fieldset, input, select, button");
  for (const control of all) control.disabled = !on;
}
