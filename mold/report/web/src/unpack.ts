// Reads meshes as the Go package mesh/pack writes them; its comment is the format.

export interface Packed {
  position: Float32Array; // x, y, z of each vertex, mm
  index: Uint32Array; // three to a triangle, counterclockwise from outside
  step: number; // to which places were rounded, mm
}

const headLength = 4; // "wmp1"
const sumLength = 4; // the page came whole or not at all: the sum is not computed

// unpack decodes one mesh; what contradicts itself is an error.
export function unpack(base64: string): Packed {
  const bytes = fromBase64(base64);
  const end = bytes.length - sumLength;
  if (end < headLength || String.fromCharCode(...bytes.subarray(0, headLength)) !== "wmp1") {
    throw new Error("not a packed mesh");
  }
  let at = headLength;
  const number = (): number => {
    let byte = bytes[at++];
    let n = byte & 127;
    for (let scale = 128; byte > 127; scale *= 128) {
      byte = bytes[at++];
      n += (byte & 127) * scale;
    }
    return n;
  };
  const signed = (): number => {
    const n = number();
    return n % 2 === 0 ? n / 2 : -(n + 1) / 2;
  };
  const step = 2 ** signed();
  const vertices = number();
  const corners = 3 * number();
  if (4 * vertices + (corners - vertices) > end - at) {
    throw new Error("a packed mesh promises more than it holds");
  }
  const position = new Float32Array(3 * vertices);
  const index = new Uint32Array(corners);
  let met = 0;
  let x = 0, y = 0, z = 0; // of the corner before, in steps
  const steps = new Int32Array(3 * vertices);
  for (let c = 0; c < corners; c++) {
    const vertex = met - number();
    index[c] = vertex;
    if (vertex === met) {
      x += signed();
      y += signed();
      z += signed();
      steps[3 * met] = x;
      steps[3 * met + 1] = y;
      steps[3 * met + 2] = z;
      met++;
    } else {
      x = steps[3 * vertex];
      y = steps[3 * vertex + 1];
      z = steps[3 * vertex + 2];
    }
  }
  if (met !== vertices || at !== end) {
    throw new Error("a packed mesh is damaged");
  }
  for (let i = 0; i < steps.length; i++) {
    position[i] = steps[i] * step;
  }
  return { position, index, step };
}

function fromBase64(text: string): Uint8Array {
  const raw = atob(text);
  const bytes = new Uint8Array(raw.length);
  for (let i = 0; i < raw.length; i++) {
    bytes[i] = raw.charCodeAt(i);
  }
  return bytes;
}
