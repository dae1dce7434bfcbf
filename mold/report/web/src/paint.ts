// Materials: matte surfaces under soft lights, lines, and cuts. Light is reckoned here
// and not by three.js: two lights that travel with the viewer and a sky, as in the
// still picture (Go package mesh/raster, light.go), which the view replaces.

import {
  AlwaysStencilFunc, DoubleSide, InvertStencilOp, NotEqualStencilFunc, ShaderMaterial, Vector3, Vector4,
  ZeroStencilOp, type ShaderMaterialParameters,
} from "three";

export type Color = [number, number, number]; // sRGB, 0 to 1

// Shared holds what all materials read; changing a value changes the next frame.
export class Shared {
  // What lies beyond is cut off: normal and distance; by default nothing is.
  readonly cut = { value: new Vector4(0, 0, 0, 1) };
  readonly up = { value: new Vector3(0, 0, 1) }; // sky, in the viewer's frame
  readonly above = { value: 1 }; // -1 for one who looks from below
  readonly line = { value: new Vector3() }; // color of lines
  readonly perPaperMM = { value: 1 }; // mm of the mold to one on paper, for hatching
}

// Nothing cuts what is drawn whole.
const whole = { value: new Vector4(0, 0, 0, 1) };

// Facets may be narrower than a pixel, and many are slivers: centroid, since values
// taken at the middle of a pixel, outside of such a facet, would be nonsense.
const place = `
centroid varying vec3 at;
void stand() {
  vec4 p = modelMatrix * vec4(position, 1.0);
  at = p.xyz;
  gl_Position = projectionMatrix * viewMatrix * p;
}`;

const encode = `
vec3 encode(vec3 c) {
  return mix(12.92 * c, 1.055 * pow(c, vec3(1.0 / 2.4)) - 0.055, step(0.0031308, c));
}`;

const plain = `${place}
void main() { stand(); }`;

// Light is reckoned at the corners of facets, which are small where a surface is round:
// without a graphics unit that takes half the time of doing it for each pixel.
const lit = `${place}${encode}
uniform vec3 color;
uniform vec3 up;
uniform float above;
centroid varying vec3 shade;
float wrapped(float cosine) { return max(0.0, (cosine + 0.25) / 1.25); }
void main() {
  stand();
  vec3 n = normalize(mat3(viewMatrix) * normal);
  float key = wrapped(dot(n, normalize(vec3(-0.60, 0.36 * above, 0.72))));
  float fill = wrapped(dot(n, normalize(vec3(0.85, 0.10 * above, 0.52))));
  float sky = 0.5 + 0.5 * above * dot(n, up);
  // What turns away from the viewer darkens, so that round outlines show.
  float rim = mix(0.62, 1.0, smoothstep(0.0, 0.34, n.z));
  shade = encode(min(color * (0.66 * key + 0.26 * fill + 0.36 * sky) * rim, 1.0));
}`;

const cutOff = `
uniform vec4 cut;
centroid varying vec3 at;
void keep() { if (dot(cut.xyz, at) > cut.w) discard; }`;

const matte = `${cutOff}
centroid varying vec3 shade;
void main() {
  keep();
  gl_FragColor = vec4(shade, 1.0);
}`;

const flat = `${cutOff}
uniform vec3 line;
void main() {
  keep();
  gl_FragColor = vec4(line, 1.0);
}`;

const nothing = `${cutOff}
void main() {
  keep();
  gl_FragColor = vec4(0.0);
}`;

// Lines of a hatching are as wide on the screen whatever the angle of view: a pixel
// is the change of the phase across it.
const hatched = `${encode}
uniform vec3 color;
uniform vec3 across;
uniform float gap;
uniform float perPaperMM;
centroid varying vec3 at;
void main() {
  float phase = dot(across, at) / (gap * perPaperMM);
  float pixel = fwidth(phase);
  float off = abs(fract(phase) - 0.5);
  float ink = 1.0 - smoothstep(0.35, 1.35, off / max(pixel, 1e-6));
  ink *= 1.0 - smoothstep(0.25, 0.6, pixel); // a gray where lines would run together
  vec3 light = mix(color, vec3(1.0), 0.30);
  gl_FragColor = vec4(encode(mix(light, color * 0.30, 0.75 * ink)), 1.0);
}`;

function material(more: ShaderMaterialParameters): ShaderMaterial {
  return new ShaderMaterial({ vertexShader: plain, ...more });
}

// surface is a matte body.
export function surface(color: Color, shared: Shared): ShaderMaterial {
  return matteBody(color, shared, shared.cut);
}

// wholeSurface is a matte body that no plane cuts.
export function wholeSurface(color: Color, shared: Shared): ShaderMaterial {
  return matteBody(color, shared, whole);
}

function matteBody(color: Color, shared: Shared, cut: { value: Vector4 }): ShaderMaterial {
  return material({
    vertexShader: lit,
    fragmentShader: matte,
    uniforms: { color: { value: linear(color) }, cut, up: shared.up, above: shared.above },
    polygonOffset: true, // lines lie before the faces that they bound
    polygonOffsetFactor: 1,
    polygonOffsetUnits: 2,
  });
}

// creases is for lines that are cut with their body.
export function creases(shared: Shared): ShaderMaterial {
  return material({ fragmentShader: flat, uniforms: { line: shared.line, cut: shared.cut } });
}

// outlines is for lines in the cutting plane itself.
export function outlines(shared: Shared): ShaderMaterial {
  return material({ fragmentShader: flat, uniforms: { line: shared.line, cut: whole } });
}

// mask marks in the stencil where a ray of view crosses a cut body an odd number of
// times: there it entered through the cut.
export function mask(shared: Shared): ShaderMaterial {
  return material({
    fragmentShader: nothing,
    uniforms: { cut: shared.cut },
    side: DoubleSide,
    colorWrite: false,
    depthWrite: false,
    depthTest: false,
    stencilWrite: true,
    stencilFunc: AlwaysStencilFunc,
    stencilZPass: InvertStencilOp,
    stencilZFail: InvertStencilOp,
    stencilFail: InvertStencilOp,
  });
}

// cap fills what a mask has marked, and takes the mark away for the next body.
export function cap(color: Color, gap: number, shared: Shared): ShaderMaterial {
  return material({
    fragmentShader: hatched,
    uniforms: {
      color: { value: linear(color) }, gap: { value: gap }, perPaperMM: shared.perPaperMM,
      across: { value: new Vector3() }, // at right angles to the lines
    },
    side: DoubleSide,
    polygonOffset: true,
    polygonOffsetFactor: 1,
    polygonOffsetUnits: 2,
    stencilWrite: true,
    stencilFunc: NotEqualStencilFunc,
    stencilRef: 0,
    stencilZPass: ZeroStencilOp,
    stencilZFail: ZeroStencilOp,
    stencilFail: ZeroStencilOp,
  });
}

// linear undoes the transfer function of sRGB (IEC 61966-2-1).
function linear(c: Color): Vector3 {
  const [r, g, b] = c.map((v) => (v <= 0.04045 ? v / 12.92 : ((v + 0.055) / 1.055) ** 2.4));
  return new Vector3(r, g, b);
}

// hex reads #rrggbb.
export function hex(text: string): Color {
  const n = parseInt(text.slice(1), 16);
  return [(n >> 16) / 255, ((n >> 8) & 255) / 255, (n & 255) / 255];
}
