// Triangles and lines drawn by WebGL 2: parts with a colour role, see-through ones last, one plane that cuts.

const POINT = `#version 300 es
uniform mat4 uView; uniform float uInset;
in vec3 aPlace; in vec3 aNormal;
out vec3 vPlace; out vec3 vNormal;
void main() {
  vec3 place = aPlace - aNormal * uInset;
  vPlace = place; vNormal = aNormal;
  gl_Position = uView * vec4(place, 1.0);
}`;

const PIXEL = `#version 300 es
precision highp float;
uniform vec4 uColour; uniform vec4 uCut; uniform vec3 uInk; uniform vec3 uEye; uniform float uFlat;
in vec3 vPlace; in vec3 vNormal;
out vec4 colour;
void main() {
  float left = uCut.w - dot(vPlace, uCut.xyz);
  if (left < 0.0) discard;
  if (uFlat > 0.5) { colour = uColour; return; }
  vec3 n = normalize(vNormal) * (gl_FrontFacing ? 1.0 : -1.0);
  vec3 eye = normalize(uEye - vPlace);
  float sky = 0.5 + 0.5 * n.z;
  float lamp = max(dot(n, normalize(eye + vec3(-0.35, -0.25, 0.75))), 0.0);
  float light = 0.58 + 0.17 * sky + 0.30 * lamp;
  vec3 shade = uColour.rgb * (gl_FrontFacing ? light : light * 0.9);
  float edge = uCut.w > 9e5 || abs(dot(n, uCut.xyz)) > 0.985 ? 0.0 : 1.0 - smoothstep(1.0, 2.2, left / max(fwidth(left), 1e-6));
  float alpha = mix(uColour.a + (uColour.a < 1.0 ? 0.45 * pow(1.0 - abs(dot(n, eye)), 3.0) : 0.0), 1.0, edge);
  colour = vec4(mix(shade, uInk, edge), alpha);
}`;

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
    this.gl = canvas.getContext("webgl2", { antialias: true, alpha: false });
    if (!this.gl) throw new Error("WebGL 2 is not there");
    this.#program();
    this.low = [Infinity, Infinity, Infinity];
    this.high = [-Infinity, -Infinity, -Infinity];
    this.parts = parts.map((part) => this.#load(part));
  }

  #program() {
    const gl = this.gl;
    const program = gl.createProgram();
    for (const [kind, text] of [[gl.VERTEX_SHADER, POINT], [gl.FRAGMENT_SHADER, PIXEL]]) {
      const shader = gl.createShader(kind);
      gl.shaderSource(shader, text);
      gl.compileShader(shader);
      gl.attachShader(program, shader);
    }
    gl.bindAttribLocation(program, 0, "aPlace");
    gl.bindAttribLocation(program, 1, "aNormal");
    gl.linkProgram(program);
    if (!gl.getProgramParameter(program, gl.LINK_STATUS)) throw new Error(gl.getProgramInfoLog(program) || "the shaders do not link");
    gl.useProgram(program);
    this.at = Object.fromEntries(["uView", "uInset", "uColour", "uCut", "uInk", "uEye", "uFlat"].map((name) => [name, gl.getUniformLocation(program, name)]));
  }

  #load(part) {
    const gl = this.gl;
    const places = new Float32Array(bytes(part.vertices));
    const triangles = new Uint32Array(bytes(part.triangles));
    const edges = new Uint32Array(bytes(part.edges));
    if (part.role !== "ground") {
      for (let i = 0; i < places.length; i += 1) {
        this.low[i % 3] = Math.min(this.low[i % 3], places[i]);
        this.high[i % 3] = Math.max(this.high[i % 3], places[i]);
      }
    }
    const array = gl.createVertexArray();
    gl.bindVertexArray(array);
    [places, normals(places, triangles)].forEach((values, slot) => {
      gl.bindBuffer(gl.ARRAY_BUFFER, gl.createBuffer());
      gl.bufferData(gl.ARRAY_BUFFER, values, gl.STATIC_DRAW);
      gl.enableVertexAttribArray(slot);
      gl.vertexAttribPointer(slot, 3, gl.FLOAT, false, 0, 0);
    });
    const numbers = new Uint32Array([...triangles, ...edges]);
    gl.bindBuffer(gl.ELEMENT_ARRAY_BUFFER, gl.createBuffer());
    gl.bufferData(gl.ELEMENT_ARRAY_BUFFER, numbers, gl.STATIC_DRAW);
    return { role: part.role, clear: part.see_through, array, triangles: triangles.length, edges: edges.length };
  }

  /** view: matrix; eye: place; cut: [x, y, z, bound] or null; colours: role -> [r, g, b]; closed: the shell hides what is in it. */
  draw({ view, eye, cut, colours, closed }) {
    const gl = this.gl;
    const { width, height } = this.canvas;
    gl.viewport(0, 0, width, height);
    gl.clearColor(...colours.paper, 1);
    gl.clear(gl.COLOR_BUFFER_BIT | gl.DEPTH_BUFFER_BIT);
    gl.enable(gl.DEPTH_TEST);
    gl.depthFunc(gl.LEQUAL);
    gl.blendFunc(gl.SRC_ALPHA, gl.ONE_MINUS_SRC_ALPHA);
    gl.uniformMatrix4fv(this.at.uView, false, view);
    gl.uniform3fv(this.at.uEye, eye);
    gl.uniform3fv(this.at.uInk, colours.ink);
    const clear = (part) => part.clear && !(closed && (part.role === "shell" || !cut));
    const solid = this.parts.filter((part) => !clear(part) && !(closed && !cut && WET.includes(part.role)));
    for (const part of solid) this.#faces(part, colours, 1, cut);
    for (const part of solid) this.#lines(part, colours, 1, cut);
    gl.enable(gl.BLEND);
    gl.depthMask(false);
    gl.enable(gl.CULL_FACE);
    const layers = [["shell", gl.FRONT], ["plate", null], ["water", gl.FRONT], ["surface", null], ["water", gl.BACK], ["shell", gl.BACK]];
    for (const [role, side] of layers) {
      if (side === null) gl.disable(gl.CULL_FACE);
      else { gl.enable(gl.CULL_FACE); gl.cullFace(side); }
      for (const part of this.parts) if (part.role === role && clear(part)) this.#faces(part, colours, ALPHA[role], cut);
    }
    gl.disable(gl.CULL_FACE);
    for (const part of this.parts) if (clear(part)) this.#lines(part, colours, 0.85, cut);
    gl.depthMask(true);
    gl.disable(gl.BLEND);
  }

  #ready(part, rgb, alpha, cut, flat) {
    const gl = this.gl;
    const free = part.role === "ground" || !cut;
    gl.bindVertexArray(part.array);
    gl.uniform4f(this.at.uColour, ...rgb, alpha);
    gl.uniform4fv(this.at.uCut, free ? [0, 0, 0, 1e6] : cut);
    gl.uniform1f(this.at.uInset, part.role === "water" ? 0.006 : 0);
    gl.uniform1f(this.at.uFlat, flat);
  }

  #faces(part, colours, alpha, cut) {
    const gl = this.gl;
    if (!part.triangles) return;
    this.#ready(part, colours[part.role], alpha, cut, 0);
    gl.enable(gl.POLYGON_OFFSET_FILL);
    gl.polygonOffset(0.6, 1);
    gl.drawElements(gl.TRIANGLES, part.triangles, gl.UNSIGNED_INT, 0);
    gl.disable(gl.POLYGON_OFFSET_FILL);
  }

  #lines(part, colours, alpha, cut) {
    const gl = this.gl;
    if (!part.edges) return;
    const rgb = { ground: colours.ground, tyre: colours.tread, surface: colours.level }[part.role] || colours.edge;
    this.#ready(part, rgb, alpha, cut, 1);
    gl.drawElements(gl.LINES, part.edges, gl.UNSIGNED_INT, 4 * part.triangles);
  }

  /** Give the memory back. */
  end() { this.gl.getExtension("WEBGL_lose_context")?.loseContext(); }
}

const WET = ["water", "surface"];
const ALPHA = { shell: 0.16, plate: 0.45, water: 0.30, surface: 0.55 };
