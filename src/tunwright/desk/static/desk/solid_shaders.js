// What the graphics chip runs: one program for bodies and their lines, one for the face of a cut.

/** Bodies, up to the plane that cuts. */
export const BODY = {
  point: `#version 300 es
uniform mat4 uView; uniform float uInset;
layout(location = 0) in vec3 aPlace; layout(location = 1) in vec3 aNormal;
out vec3 vPlace; out vec3 vNormal;
void main() {
  vPlace = aPlace - aNormal * uInset; vNormal = aNormal;
  gl_Position = uView * vec4(vPlace, 1.0);
}`,
  pixel: `#version 300 es
precision highp float;
uniform vec4 uColour; uniform vec4 uCut; uniform vec3 uEye; uniform float uFlat;
in vec3 vPlace; in vec3 vNormal;
out vec4 colour;
void main() {
  if (dot(vPlace, uCut.xyz) > uCut.w) discard;
  if (uFlat > 0.5) { colour = uColour; return; }
  vec3 n = normalize(vNormal) * (gl_FrontFacing ? 1.0 : -1.0);
  vec3 eye = normalize(uEye - vPlace);
  float sky = 0.5 + 0.5 * n.z;
  float lamp = max(dot(n, normalize(eye + vec3(-0.35, -0.25, 0.75))), 0.0);
  float light = 0.58 + 0.17 * sky + 0.30 * lamp;
  vec3 shade = uColour.rgb * (gl_FrontFacing ? light : light * 0.9);
  colour = vec4(shade, uColour.a + (uColour.a < 1.0 ? 0.45 * pow(1.0 - abs(dot(n, eye)), 3.0) : 0.0));
}`,
};

/** The face of a cut. uKind 0: a triangle from uCorner[0] to both ends of a line; 1: the line itself, uWide pixels wide;
    2: the plane between four corners. */
export const FACE = {
  point: `#version 300 es
uniform mat4 uView; uniform int uKind; uniform vec3 uCorner[4]; uniform vec2 uSize; uniform float uWide; uniform float uNearer;
layout(location = 0) in vec3 aFrom; layout(location = 1) in vec3 aTo;
out vec3 vPlace;
const float NEAR = 0.01;
vec4 line() {
  vec4 a = uView * vec4(aFrom, 1.0), b = uView * vec4(aTo, 1.0);
  if (a.w < NEAR && b.w > NEAR) a = mix(a, b, (NEAR - a.w) / (b.w - a.w));
  if (b.w < NEAR && a.w > NEAR) b = mix(b, a, (NEAR - b.w) / (a.w - b.w));
  vec2 along = (b.xy / b.w - a.xy / a.w) * uSize;
  along = length(along) > 0.0 ? normalize(along) : vec2(1.0, 0.0);
  bool end = gl_VertexID > 1;
  vec2 aside = vec2(-along.y, along.x) * (gl_VertexID % 2 == 0 ? 1.0 : -1.0);
  vec4 here = end ? b : a;
  return here + vec4((aside + (end ? along : -along)) * uWide / uSize * here.w, -uNearer * here.w, 0.0);
}
void main() {
  if (uKind == 0) vPlace = gl_VertexID == 0 ? uCorner[0] : gl_VertexID == 1 ? aFrom : aTo;
  else vPlace = uCorner[gl_VertexID];
  gl_Position = uKind == 1 ? line() : uView * vec4(vPlace, 1.0);
}`,
  pixel: `#version 300 es
precision highp float;
uniform vec3 uColour; uniform vec4 uHatch; uniform vec3 uAcross;
in vec3 vPlace;
out vec4 colour;
void main() {
  float at = dot(vPlace, uAcross), wide = fwidth(at);
  float line = uHatch.a > 0.0 ? uHatch.a * (1.0 - smoothstep(0.1 * wide, 1.0 * wide, abs(fract(at) - 0.5))) : 0.0;
  colour = vec4(mix(uColour, uHatch.rgb, line), 1.0);
}`,
};

/** A program of WebGL and where its uniforms are; throws where it cannot be made. */
export function program(gl, { point, pixel }) {
  const made = gl.createProgram();
  for (const [kind, text] of [[gl.VERTEX_SHADER, point], [gl.FRAGMENT_SHADER, pixel]]) {
    const shader = gl.createShader(kind);
    gl.shaderSource(shader, text);
    gl.compileShader(shader);
    gl.attachShader(made, shader);
  }
  gl.linkProgram(made);
  if (!gl.getProgramParameter(made, gl.LINK_STATUS)) throw new Error(gl.getProgramInfoLog(made) || "the shaders do not link");
  const at = {};
  for (let i = 0; i < gl.getProgramParameter(made, gl.ACTIVE_UNIFORMS); i += 1) {
    const { name } = gl.getActiveUniform(made, i);
    at[name.replace("[0]", "")] = gl.getUniformLocation(made, name);
  }
  return { made, at };
}
