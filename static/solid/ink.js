// Flat faces and ink edges on a canvas by WebGL 2; seen in parallel, as drawings are.

const FACES = [
  `#version 300 es
in vec3 at; uniform mat4 seen; out vec3 near;
void main() { gl_Position = seen * vec4(at, 1.0); near = (seen * vec4(at, 1.0)).xyz * vec3(1.0, 1.0, -1.0); }`,
  `#version 300 es
precision highp float;
in vec3 near; uniform vec3 paper; uniform vec3 ink; uniform vec2 size; out vec4 colour;
void main() {
  vec3 p = vec3(near.xy * size, near.z);
  vec3 way = normalize(cross(dFdx(p), dFdy(p)));
  float light = max(dot(way, normalize(vec3(-0.35, 0.75, 0.55))), 0.0);
  colour = vec4(mix(mix(paper, ink, 0.22), paper, light), 1.0);
}`,
];
const EDGES = [
  `#version 300 es
in vec3 from; in vec3 to; in vec2 side; uniform mat4 seen; uniform vec2 size; uniform float wide; uniform float lift;
void main() {
  vec4 a = seen * vec4(from, 1.0), b = seen * vec4(to, 1.0);
  vec2 way = (b.xy - a.xy) * size;
  way = length(way) > 1e-6 ? normalize(way) : vec2(1.0, 0.0);
  vec2 off = (vec2(-way.y, way.x) * side.y + way * (side.x * 2.0 - 1.0) * 0.5) * wide / size;
  gl_Position = mix(a, b, side.x) + vec4(off, -lift, 0.0);
}`,
  `#version 300 es
precision mediump float;
uniform vec3 ink; out vec4 colour;
void main() { colour = vec4(ink, 1.0); }`,
];
const SIDES = new Float32Array([0, -1, 1, -1, 1, 1, 0, -1, 1, 1, 0, 1]);

const built = (gl, sources) => {
  const made = gl.createProgram();
  sources.forEach((source, i) => {
    const shader = gl.createShader(i ? gl.FRAGMENT_SHADER : gl.VERTEX_SHADER);
    gl.shaderSource(shader, source);
    gl.compileShader(shader);
    gl.attachShader(made, shader);
  });
  gl.linkProgram(made);
  if (!gl.getProgramParameter(made, gl.LINK_STATUS)) throw new Error(gl.getProgramInfoLog(made) ?? "no program");
  return made;
};

/** What draws on a canvas; null where the browser has no WebGL 2. */
export const inkOn = (canvas) => {
  const gl = canvas.getContext("webgl2", { antialias: true, alpha: false });
  if (!gl) return null;
  const [faces, edges] = [built(gl, FACES), built(gl, EDGES)];
  const [corners, order, lines, sides] = Array.from({ length: 4 }, () => gl.createBuffer());
  gl.bindBuffer(gl.ARRAY_BUFFER, sides);
  gl.bufferData(gl.ARRAY_BUFFER, SIDES, gl.STATIC_DRAW);
  gl.enable(gl.DEPTH_TEST);
  gl.depthFunc(gl.LEQUAL);
  let count = 0;

  const given = (program, name, values) => {
    const at = gl.getUniformLocation(program, name);
    if (values.length === 16) gl.uniformMatrix4fv(at, false, values);
    else gl[`uniform${values.length}fv`](at, values);
  };

  const fed = (program, name, buffer, wide, stride, offset, per) => {
    const at = gl.getAttribLocation(program, name);
    gl.bindBuffer(gl.ARRAY_BUFFER, buffer);
    gl.enableVertexAttribArray(at);
    gl.vertexAttribPointer(at, wide, gl.FLOAT, false, stride, offset);
    gl.vertexAttribDivisor(at, per);
    return at;
  };

  /** Say which triangles there are. */
  const take = (triangles) => {
    gl.bindBuffer(gl.ELEMENT_ARRAY_BUFFER, order);
    gl.bufferData(gl.ELEMENT_ARRAY_BUFFER, triangles, gl.STATIC_DRAW);
    count = triangles.length;
  };

  const stroke = ({ ends, colour, wide, lift }, seen) => {
    gl.useProgram(edges);
    gl.bindBuffer(gl.ARRAY_BUFFER, lines);
    gl.bufferData(gl.ARRAY_BUFFER, ends, gl.DYNAMIC_DRAW);
    const used = [fed(edges, "from", lines, 3, 24, 0, 1), fed(edges, "to", lines, 3, 24, 12, 1), fed(edges, "side", sides, 2, 8, 0, 0)];
    given(edges, "seen", seen);
    given(edges, "size", [canvas.width, canvas.height]);
    given(edges, "wide", [wide]);
    given(edges, "lift", [lift]);
    given(edges, "ink", colour);
    gl.drawArraysInstanced(gl.TRIANGLES, 0, 6, ends.length / 6);
    for (const at of used) gl.vertexAttribDivisor(at, 0);
    for (const at of used) gl.disableVertexAttribArray(at);
  };

  /**
   * Draw the faces, and edges on them: each stroke has its ends, colour, half its width in pixels, and how far it is
   * lifted toward the eye, lest a face that leans towards it take half of it. Colours are three numbers up to 1.
   */
  const draw = ({ places, seen, paper, ink, strokes }) => {
    gl.viewport(0, 0, canvas.width, canvas.height);
    gl.clearColor(...paper, 1);
    gl.clear(gl.COLOR_BUFFER_BIT | gl.DEPTH_BUFFER_BIT);
    gl.useProgram(faces);
    gl.bindBuffer(gl.ARRAY_BUFFER, corners);
    gl.bufferData(gl.ARRAY_BUFFER, places, gl.DYNAMIC_DRAW);
    const at = fed(faces, "at", corners, 3, 12, 0, 0);
    given(faces, "seen", seen);
    given(faces, "size", [canvas.width / canvas.height, 1]);
    given(faces, "paper", paper);
    given(faces, "ink", ink);
    gl.bindBuffer(gl.ELEMENT_ARRAY_BUFFER, order);
    gl.drawElements(gl.TRIANGLES, count, gl.UNSIGNED_INT, 0);
    gl.disableVertexAttribArray(at);
    for (const each of strokes) stroke(each, seen);
  };
  return { take, draw };
};
