// Numbered marks over the picture: a triangle for trapped air, a circle for a vent.

import { CanvasTexture, Sprite, SpriteMaterial } from "three";
import type { MarkData } from "./data";
import type { Theme } from "./theme";

const sidePixels = 30; // of a mark on the screen
const drawnPixels = 96; // of its picture

export interface Mark {
  data: MarkData;
  sprite: Sprite;
  picture: HTMLCanvasElement;
}

// makeMark returns a mark that has no picture yet.
export function makeMark(data: MarkData): Mark {
  const picture = document.createElement("canvas");
  picture.width = picture.height = drawnPixels;
  const texture = new CanvasTexture(picture);
  const sprite = new Sprite(new SpriteMaterial({ map: texture, depthTest: false, depthWrite: false, toneMapped: false }));
  sprite.renderOrder = 1000;
  return { data, sprite, picture };
}

// sizeMark keeps a mark the same size on the screen.
export function sizeMark(mark: Mark, pixelsPerMM: number): void {
  mark.sprite.scale.setScalar(sidePixels / pixelsPerMM);
}

// paintMark draws a mark in the page's colors.
export function paintMark(mark: Mark, theme: Theme): void {
  const c = mark.picture.getContext("2d");
  if (!c) return;
  const trap = mark.data.kind === "trap";
  c.clearRect(0, 0, drawnPixels, drawnPixels);
  c.beginPath();
  if (trap) {
    c.moveTo(48, 6);
    c.lineTo(92, 84);
    c.lineTo(4, 84);
    c.closePath();
  } else {
    c.arc(48, 48, 40, 0, 2 * Math.PI);
  }
  c.fillStyle = trap ? theme.ink : theme.paper;
  c.strokeStyle = trap ? theme.paper : theme.ink;
  c.lineWidth = 7;
  c.lineJoin = "round";
  c.fill();
  c.stroke();
  c.fillStyle = c.strokeStyle;
  c.font = `600 ${mark.data.label.length > 1 ? 36 : 46}px system-ui, sans-serif`;
  c.textAlign = "center";
  c.textBaseline = "middle";
  c.fillText(mark.data.label, 48, trap ? 60 : 51, 56);
  (mark.sprite.material.map as CanvasTexture).needsUpdate = true;
}
