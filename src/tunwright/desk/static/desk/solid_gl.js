// Triangles and lines drawn by WebGL 2: parts with a colour role, see-through ones last, one plane that cuts.

import { Cut } from "./solid_cut.js";
import { BODY, program } from "./solid_shaders.js";

const WET = ["water", "surface"];
const ALPHA = { shell: 0.16, plate: 0.45, water: 0.30, surface: 0.55 };

const bytes = (text) => Uint8Array.from(atob(text), (one) => one.charCodeAt(0)).buffer;

/** Normals that are smooth over shared points: the sum of those of the triangles around, larger ones counting more. */
function normals(places, triangles) {
  const found = new Float32Array(places.length);
  for (let t = 0; t < triangles.length; t += 3) {
    const [a, b, c] = [3 * triangles[t], 3 * triangles[t + 1], 3 * triangles[t + 2]];
    const u = [0, 1, 2].map((i) => places[b + i] - places[a + i]);
    const w = [0, 1, 2].map((i) => places[c + i] - places[a + i]);
    const n = [u[1] * w[2] - u[2] * w[1], u[2] * w[0] - u[0] * w[2], u[0] * w[1] - u[1] * w[0]];
    for (const point of [a, b, c]) for (let i = 0; i < 3; i += 1) found[point + i] += n[i];
  }
  for (let p = 0; p < found.length; p += 3) {
    const size = Math.hypot(found[p], found[p + 1], found[p + 2]) || 1;
    for (let i = 0; i < 3; i += 1) found[p + i] /= size;
  }
  return found;
}

export class Model {
  /** parts as the desk gives them; throws where WebGL 2 is not there. */
  constructor(canvas, parts) {
    this.canvas = canvas;
    this.gl = canvas.getContext("webgl2", { antialias: true, alpha: false, stencil: true });
    if (!this.gl) throw new Error("WebGL 2 is not there");
    this.program = program(this.gl, BODY);
    this.section = new Cut(this.gl);
    this.parts = parts.map((part) => this.#load(part));
    this.low = [Infinity, Infinity, Infinity];
    this.high = [-Infinity, -Infinity, -Infinity];
    for (const { places } of this.parts.filter((part) => part.role !== "ground")) {
      for (let i = 0; i < places.length; i += 1) {
        this.low[i % 3] = Math.min(this.low[i % 3], places[i]);
        this.high[i % 3] = Math.max(this.high[i % 3], places[i]);
      }
    }
  }

  /** Other water in the place of what there is. */
  water(parts) {
    const wet = (part) => part.cut === "water";
    for (const { array, buffers } of this.parts.filter(wet)) {
      this.gl.deleteVertexArray(array);
      for (const one of buffers) this.gl.deleteBuffer(one);
    }
    this.parts = [...this.parts.filter((part) => !wet(part)), ...parts.filter(wet).map((part) => this.#load(part))];
  }

  #load(part) {
    const gl = this.gl;
    const places = new Float32Array(bytes(part.vertices));
    const triangles = new Uint32Array(bytes(part.triangles));
    const edges = new Uint32Array(bytes(part.edges));
    const array = gl.createVertexArray();
    gl.bindVertexArray(array);
    const buffers = [places, normals(places, triangles)].map((values, slot) => {
      const buffer = gl.createBuffer();
      gl.bindBuffer(gl.ARRAY_BUFFER, buffer);
      gl.bufferData(gl.ARRAY_BUFFER, values, gl.STATIC_DRAW);
      gl.enableVertexAttribArray(slot);
      gl.vertexAttribPointer(slot, 3, gl.FLOAT, false, 0, 0);
      return buffer;
    });
    const numbers = new Uint32Array(triangles.length + edges.length);
    numbers.set(triangles);
    numbers.set(edges, triangles.length);
    buffers.push(gl.createBuffer());
    gl.bindBuffer(gl.ELEMENT_ARRAY_BUFFER, buffers[2]);
    gl.bufferData(gl.ELEMENT_ARRAY_BUFFER, numbers, gl.STATIC_DRAW);
    return { role: part.role, cut: part.cut, clear: part.see_through, places, triangles, edges: edges.length, array, buffers };
  }

  /** look: matrix, place of the eye, metres to a pixel; cut: [x, y, z, bound] or null; colours: role -> [r, g, b];
      closed: the shell hides what is in it. */
  draw({ look, cut, colours, closed }) {
    const gl = this.gl;
    gl.viewport(0, 0, this.canvas.width, this.canvas.height);
    gl.clearColor(...colours.paper, 1);
    gl.clear(gl.COLOR_BUFFER_BIT | gl.DEPTH_BUFFER_BIT);
    gl.enable(gl.DEPTH_TEST);
    gl.depthFunc(gl.LEQUAL);
    const clear = (part) => part.clear && !(closed && (part.role === "shell" || !cut));
    const solid = this.parts.filter((part) => !clear(part) && !(closed && !cut && WET.includes(part.role)));
    this.#begin(look);
    for (const part of solid) this.#faces(part, colours, 1, cut);
    for (const part of solid) this.#lines(part, colours, 1, cut);
    if (cut) {
      this.section.draw(this.parts, cut, look, this.#plane(cut), colours);
      this.#begin(look);
    }
    this.#clear(this.parts.filter(clear), colours, cut);
  }

  /** Corners of a plane that is square to an axis, as far as there is something. */
  #plane(cut) {
    const axis = cut.findIndex((one) => one !== 0);
    const [u, w] = [0, 1, 2].filter((one) => one !== axis);
    return [0, 1, 2, 3].map((corner) => {
      const place = [0, 0, 0];
      place[axis] = cut[axis] * cut[3];
      place[u] = (corner & 1 ? this.high : this.low)[u];
      place[w] = (corner & 2 ? this.high : this.low)[w];
      return place;
    });
  }

  #begin({ view, eye }) {
    const { gl, program: { made, at } } = this;
    gl.useProgram(made);
    gl.uniformMatrix4fv(at.uView, false, view);
    gl.uniform3fv(at.uEye, eye);
  }

  /** What can be seen through, from the back to the front as far as roles tell. */
  #clear(parts, colours, cut) {
    const { gl } = this;
    gl.enable(gl.BLEND);
    gl.blendFunc(gl.SRC_ALPHA, gl.ONE_MINUS_SRC_ALPHA);
    gl.depthMask(false);
    const layers = [["shell", gl.FRONT], ["plate", null], ["water", gl.FRONT], ["surface", null], ["water", gl.BACK], ["shell", gl.BACK]];
    for (const [role, side] of layers) {
      if (side === null) gl.disable(gl.CULL_FACE);
      else { gl.enable(gl.CULL_FACE); gl.cullFace(side); }
      for (const part of parts) if (part.role === role) this.#faces(part, colours, ALPHA[role], cut);
    }
    gl.disable(gl.CULL_FACE);
    for (const part of parts) this.#lines(part, colours, 0.85, cut);
    gl.depthMask(true);
    gl.disable(gl.BLEND);
  }

  #ready(part, rgb, alpha, cut, flat) {
    const { gl, program: { at } } = this;
    gl.bindVertexArray(part.array);
    gl.uniform4f(at.uColour, ...rgb, alpha);
    gl.uniform4fv(at.uCut, part.role === "ground" || !cut ? [0, 0, 0, 1] : cut);
    gl.uniform1f(at.uInset, part.role === "water" ? 0.006 : 0);
    gl.uniform1f(at.uFlat, flat);
  }

  #faces(part, colours, alpha, cut) {
    const gl = this.gl;
    if (!part.triangles.length) return;
    this.#ready(part, colours[part.role], alpha, cut, 0);
    gl.enable(gl.POLYGON_OFFSET_FILL);
    gl.polygonOffset(0.6, 1);
    gl.drawElements(gl.TRIANGLES, part.triangles.length, gl.UNSIGNED_INT, 0);
    gl.disable(gl.POLYGON_OFFSET_FILL);
  }

  #lines(part, colours, alpha, cut) {
    const gl = this.gl;
    if (!part.edges) return;
    const rgb = { ground: colours.ground, tyre: colours.tread, surface: colours.level }[part.role] || colours.edge;
    this.#ready(part, rgb, alpha, cut, 1);
    gl.drawElements(gl.LINES, part.edges, gl.UNSIGNED_INT, 4 * part.triangles.length);
  }

  /** Give the memory back. */
  end() { this.gl.getExtension("WEBGL_lose_context")?.loseContext(); }
}
