// The face of a cut: bodies filled and hatched, water in its own tone, plates as strong lines.

import { FACE, program } from "./solid_shaders.js";

const NOTHING = 128; // of the stencil; a place in one body counts one more
const HATCH = 0.6; // how dark
const PALE = { cab: 0.18, item: 0.18 }; // bodies known from outside only: paler and wider apart
const GAP = 6; // between lines of the hatch, about [px]
const WIDE = { face: 0.9, surface: 1.8, line: 2.3, room: 2.3 }; // lines [px]

/** Ends of a line for each triangle a plane crosses; the body on its left as seen from the side that is taken away. */
export function section({ places, triangles }, [x, y, z, bound], found = []) {
  const depth = new Float64Array(places.length / 3);
  for (let p = 0; p < depth.length; p += 1) depth[p] = bound - x * places[3 * p] - y * places[3 * p + 1] - z * places[3 * p + 2];
  const cross = (inner, outer) => { // always from the inner end, so that neighbours find the very same point
    const share = depth[inner] / (depth[inner] - depth[outer]);
    for (let i = 0; i < 3; i += 1) found.push(places[3 * inner + i] + share * (places[3 * outer + i] - places[3 * inner + i]));
  };
  for (let t = 0; t < triangles.length; t += 3) {
    const [i, j, k] = [triangles[t], triangles[t + 1], triangles[t + 2]];
    const first = depth[i] > 0, second = depth[j] > 0, third = depth[k] > 0;
    if (first === second && second === third) continue;
    const [lone, next, last] = first === second ? [k, i, j] : first === third ? [j, k, i] : [i, j, k];
    if (depth[lone] > 0) { cross(lone, last); cross(lone, next); }
    else { cross(next, lone); cross(last, lone); }
  }
  return found;
}

function turned(lines) {
  const found = [];
  for (let i = 0; i < lines.length; i += 6) found.push(...lines.slice(i + 3, i + 6), ...lines.slice(i, i + 3));
  return found;
}

export class Cut {
  constructor(gl) {
    this.gl = gl;
    this.program = program(gl, FACE);
    this.array = gl.createVertexArray();
    this.buffer = gl.createBuffer();
    gl.bindVertexArray(this.array);
    gl.bindBuffer(gl.ARRAY_BUFFER, this.buffer);
    for (const slot of [0, 1]) {
      gl.enableVertexAttribArray(slot);
      gl.vertexAttribDivisor(slot, 1);
    }
  }

  /** Find what the plane meets; kept until the plane or the parts change. */
  #find(parts, plane) {
    if (this.parts === parts && this.plane?.every((one, i) => one === plane[i])) return;
    Object.assign(this, { parts, plane, faces: new Map(), lines: [] });
    const all = [];
    const keep = (lines) => { const start = all.length / 6; for (const one of lines) all.push(one); return { start, count: lines.length / 6 }; };
    const fills = new Map(["water", "cab", "item"].map((role) => [role, []])); // what stands in them is painted over them
    for (const part of parts) {
      if (part.role === "ground") continue;
      const found = section(part, plane);
      if (part.cut !== "line") {
        const role = part.cut === "face" ? part.role : "water";
        fills.set(role, (fills.get(role) || []).concat(part.cut === "room" ? turned(found) : found));
      }
      const kind = part.role === "surface" ? "surface" : part.cut;
      if (kind in WIDE) this.lines.push({ kind, ...keep(found) });
    }
    for (const [role, lines] of fills) if (lines.length) this.faces.set(role, { anchor: lines.slice(0, 3), ...keep(lines) });
    this.lines.sort((one, other) => WIDE[one.kind] - WIDE[other.kind]);
    this.gl.bindBuffer(this.gl.ARRAY_BUFFER, this.buffer);
    this.gl.bufferData(this.gl.ARRAY_BUFFER, new Float32Array(all), this.gl.DYNAMIC_DRAW);
  }

  /** parts with places and triangles; plane: [x, y, z, bound]; look: as the eye gives it; corners: of the plane. */
  draw(parts, plane, { view, eye, metre, deep }, corners, colours) {
    const { gl, program: { made, at } } = this;
    this.#find(parts, plane);
    this.fine = Math.min(2, devicePixelRatio || 1);
    gl.useProgram(made);
    gl.bindVertexArray(this.array);
    gl.uniformMatrix4fv(at.uView, false, view);
    gl.uniform2f(at.uSize, gl.canvas.width, gl.canvas.height);
    const before = plane[0] * eye[0] + plane[1] * eye[1] + plane[2] * eye[2] > plane[3];
    gl.enable(gl.STENCIL_TEST);
    for (const [role, found] of this.faces) {
      this.#count(found, before);
      this.#fill(role, corners, colours, 2 ** Math.round(Math.log2(GAP * metre)));
    }
    gl.disable(gl.STENCIL_TEST);
    gl.uniform1i(at.uKind, 1);
    gl.uniform4f(at.uHatch, 0, 0, 0, 0);
    for (const one of this.lines) {
      gl.uniform1f(at.uWide, WIDE[one.kind] * this.fine);
      gl.uniform1f(at.uNearer, (8 * WIDE[one.kind] * metre) / deep); // in front of the plane also where that is seen askew
      gl.uniform3fv(at.uColour, one.kind === "surface" ? colours.level : colours.ink);
      this.#lines(one, gl.TRIANGLE_STRIP, 4);
    }
  }

  /** Count in the stencil how many bodies each place of the plane is in. */
  #count(found, before) {
    const { gl, program: { at } } = this;
    gl.clearStencil(NOTHING);
    gl.clear(gl.STENCIL_BUFFER_BIT);
    gl.colorMask(false, false, false, false);
    gl.depthMask(false);
    gl.disable(gl.DEPTH_TEST);
    gl.stencilFunc(gl.ALWAYS, 0, 255);
    gl.stencilOpSeparate(before ? gl.FRONT : gl.BACK, gl.KEEP, gl.KEEP, gl.INCR_WRAP);
    gl.stencilOpSeparate(before ? gl.BACK : gl.FRONT, gl.KEEP, gl.KEEP, gl.DECR_WRAP);
    gl.uniform1i(at.uKind, 0);
    gl.uniform3fv(at.uCorner, [...found.anchor, ...found.anchor, ...found.anchor, ...found.anchor]);
    this.#lines(found, gl.TRIANGLES, 3);
    gl.colorMask(true, true, true, true);
    gl.depthMask(true);
    gl.enable(gl.DEPTH_TEST);
  }

  /** Paint the plane where something was counted. */
  #fill(role, corners, colours, gap) {
    const { gl, program: { at }, plane } = this;
    gl.stencilFunc(gl.LESS, NOTHING, 255);
    gl.stencilOp(gl.KEEP, gl.KEEP, gl.KEEP);
    gl.uniform1i(at.uKind, 2);
    gl.uniform3fv(at.uCorner, corners.flat());
    const tone = role === "water" ? colours.still : colours[role].map((one, i) => 0.4 * one + 0.6 * colours.paper[i]);
    gl.uniform3fv(at.uColour, tone);
    gl.uniform4f(at.uHatch, ...colours.ink, role === "water" ? 0 : PALE[role] || HATCH);
    if (role in PALE) gap *= 2;
    const across = plane.slice(0, 3).map((one, i) => (one ? 0 : (role === "tyre" && i === 2 ? -1 : 1) / (gap * Math.SQRT2)));
    gl.uniform3fv(at.uAcross, across);
    gl.drawArraysInstanced(gl.TRIANGLE_STRIP, 0, 4, 1);
  }

  #lines({ start, count }, kind, points) {
    const { gl } = this;
    gl.bindBuffer(gl.ARRAY_BUFFER, this.buffer);
    for (const slot of [0, 1]) gl.vertexAttribPointer(slot, 3, gl.FLOAT, false, 24, 24 * start + 12 * slot);
    if (count) gl.drawArraysInstanced(kind, 0, points, count);
  }
}
