// Figures with notes: where one comes from shows beside it on hover, focus or tap.
// Without this script the link leads to the note.

const gap = 6; // pixels between a figure and its note
const edge = 8; // kept free at the window's edges

let tip: HTMLElement | null = null;
let shown: HTMLAnchorElement | null = null;

// bindNotes binds every a.figure of the page, by listeners on the document alone.
export function bindNotes(): void {
  document.addEventListener("pointerover", (e) => {
    const figure = figureOf(e.target);
    if (e.pointerType === "touch") return;
    if (figure) show(figure);
    else if (!inTip(e.target) && shown !== document.activeElement) hide();
  });
  document.addEventListener("focusin", (e) => {
    const figure = figureOf(e.target);
    if (figure) show(figure);
    else if (!inTip(e.target)) hide();
  });
  document.addEventListener("focusout", (e) => {
    if (figureOf(e.target) && !inTip(e.relatedTarget)) hide();
  });
  document.addEventListener("click", (e) => {
    const figure = figureOf(e.target);
    if (figure && noteOf(figure)) {
      if (e.ctrlKey || e.metaKey || e.shiftKey) return; // a new tab was asked for
      e.preventDefault();
      show(figure);
    } else if (!inTip(e.target)) {
      hide();
    }
  });
  document.addEventListener("keydown", (e) => {
    if (e.key === "Escape") hide();
  });
  addEventListener("resize", hide);
  addEventListener("scroll", follow, { capture: true, passive: true });
}

function figureOf(target: EventTarget | null): HTMLAnchorElement | null {
  return target instanceof Element ? target.closest<HTMLAnchorElement>("a.figure[href^='#']") : null;
}

function inTip(target: EventTarget | null): boolean {
  return tip !== null && target instanceof Node && tip.contains(target);
}

function noteOf(figure: HTMLAnchorElement): HTMLElement | null {
  return document.getElementById(figure.hash.slice(1));
}

function show(figure: HTMLAnchorElement): void {
  const note = noteOf(figure);
  if (!note || shown === figure) return;
  if (!tip) {
    tip = document.createElement("div");
    tip.id = "tip";
    tip.setAttribute("role", "tooltip");
    document.body.append(tip);
  }
  shown = figure;
  tip.replaceChildren(...Array.from(note.childNodes, (n) => n.cloneNode(true)));
  // The note itself stays the only one with its ids.
  for (const e of tip.querySelectorAll("[id]")) e.removeAttribute("id");
  tip.hidden = false;
  place(tip, figure);
}

// place puts the tip below its figure, or above where there is no room.
function place(tip: HTMLElement, figure: HTMLElement): void {
  tip.style.position = "fixed";
  tip.style.visibility = "";
  tip.style.left = tip.style.top = "0";
  const at = figure.getBoundingClientRect();
  const size = tip.getBoundingClientRect();
  const wide = document.documentElement.clientWidth;
  const left = Math.max(edge, Math.min(at.left, wide - size.width - edge));
  const below = at.bottom + gap;
  const fits = below + size.height + edge <= innerHeight;
  tip.style.left = `${left}px`;
  tip.style.top = `${fits ? below : Math.max(edge, at.top - gap - size.height)}px`;
}

// follow keeps the tip beside its figure while the page scrolls, as it does to show a
// figure that gets the focus.
function follow(): void {
  if (!tip || !shown) return;
  const at = shown.getBoundingClientRect();
  if (at.bottom < 0 || at.top > innerHeight) tip.style.visibility = "hidden";
  else place(tip, shown);
}

function hide(): void {
  shown = null;
  if (tip) tip.hidden = true;
}
