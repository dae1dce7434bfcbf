// The page's colors, as its style sheet has them at the moment.

import type { Color } from "./paint";

export interface Theme {
  paper: string;
  ink: string;
  line: Color; // of edges: the darker of both
}

// readTheme asks the style sheet for --paper and --ink.
export function readTheme(): Theme {
  const probe = document.createElement("span");
  probe.hidden = true;
  document.body.append(probe);
  const ask = (value: string): string => {
    probe.style.color = value;
    return getComputedStyle(probe).color;
  };
  const paper = ask("var(--paper, #fbfaf7)");
  const ink = ask("var(--ink, #1d232b)");
  probe.remove();
  const [p, i] = [rgb(paper), rgb(ink)];
  return { paper, ink, line: brightness(p) < brightness(i) ? p : i };
}

// rgb reads any color that the browser knows, by painting with it.
function rgb(css: string): Color {
  const canvas = document.createElement("canvas");
  canvas.width = canvas.height = 1;
  const c = canvas.getContext("2d");
  if (!c) return [0, 0, 0];
  c.fillStyle = css;
  c.fillRect(0, 0, 1, 1);
  const [r, g, b] = c.getImageData(0, 0, 1, 1).data;
  return [r / 255, g / 255, b / 255];
}

// brightness is relative luminance without the transfer function: it only compares.
function brightness([r, g, b]: Color): number {
  return 0.2126 * r + 0.7152 * g + 0.0722 * b;
}

// onTheme calls back when the reader's system turns light or dark.
export function onTheme(changed: () => void): void {
  matchMedia("(prefers-color-scheme: dark)").addEventListener("change", changed);
}
