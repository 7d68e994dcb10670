// Triangles and lines in space on a canvas, seen from afar without perspective, as a drawing office draws them.

const SHADER = {
  vertex: `attribute vec3 spot; attribute vec3 upright; attribute vec3 colour; uniform mat4 view; varying vec3 shade;
    void main() {
      gl_Position = view * vec4(spot, 1.0);
      float lit = length(upright) < 0.5 ? 1.0 : 0.62 + 0.38 * abs(dot(normalize(upright), normalize(vec3(-0.5, 0.6, 0.9))));
      shade = colour * lit;
    }`,
  fragment: "precision mediump float; varying vec3 shade; void main() { gl_FragColor = vec4(shade, 1.0); }",
};
const EACH = 9;

/**
 * @typedef {Object} Look how it is looked at
 * @property {number} turn radians, anticlockwise seen from above
 * @property {number} tilt radians above the horizon
 * @property {number} near metres seen across
 * @property {number[]} about the point in the middle
 * @property {number} heights how many times heights are drawn
 */

export class Solids {
  /** @param {HTMLCanvasElement} canvas */
  constructor(canvas) {
    this.canvas = canvas;
    this.gl = canvas.getContext("webgl", { antialias: true, preserveDrawingBuffer: true });
    /** @type {Array<{form: number, buffer: WebGLBuffer, count: number, kind: string}>} */
    this.held = [];
    if (!this.gl) return;
    this.program = linked(this.gl);
  }

  /** Forget what was put in. */
  clear() {
    for (const { buffer } of this.held) this.gl?.deleteBuffer(buffer);
    this.held = [];
  }

  /**
   * Put in triangles of one kind, each lit by how it lies.
   * @param {string} kind
   * @param {number[][]} points
   * @param {number[][]} triangles
   * @param {number[]} colour red, green, blue from 0 to 1
   */
  triangles(kind, points, triangles, colour) {
    const data = new Float32Array(triangles.length * 3 * EACH);
    let at = 0;
    for (const [i, j, k] of triangles) {
      const upright = across(points[i], points[j], points[k]);
      for (const corner of [i, j, k]) {
        data.set(points[corner], at);
        data.set(upright, at + 3);
        data.set(colour, at + 6);
        at += EACH;
      }
    }
    this.keep(kind, data, this.gl?.TRIANGLES ?? 0);
  }

  /**
   * Put in one line.
   * @param {string} kind
   * @param {number[][]} points
   * @param {number[]} colour
   * @param {boolean} dashed every other piece is left out
   */
  line(kind, points, colour, dashed) {
    const pieces = points.slice(1).map((point, i) => [points[i], point]).filter((_, i) => !dashed || i % 2 === 0);
    const data = new Float32Array(pieces.length * 2 * EACH);
    pieces.flat().forEach((point, i) => {
      data.set(point, i * EACH);
      data.set(colour, i * EACH + 6);
    });
    this.keep(kind, data, this.gl?.LINES ?? 0);
  }

  /** @param {string} kind @param {Float32Array} data @param {number} form */
  keep(kind, data, form) {
    const { gl } = this;
    const buffer = gl?.createBuffer();
    if (!gl || !buffer) return;
    gl.bindBuffer(gl.ARRAY_BUFFER, buffer);
    gl.bufferData(gl.ARRAY_BUFFER, data, gl.STATIC_DRAW);
    this.held.push({ form, buffer, count: data.length / EACH, kind });
  }

  /**
   * Draw everything but the kinds left out.
   * @param {Look} look
   * @param {string[]} without
   * @param {number[]} sheet colour behind it
   */
  draw(look, without, sheet) {
    const { gl, canvas, program } = this;
    if (!gl || !program) return;
    const each = Math.min(window.devicePixelRatio || 1, 2);
    [canvas.width, canvas.height] = [Math.round(canvas.clientWidth * each), Math.round(canvas.clientHeight * each)];
    gl.viewport(0, 0, canvas.width, canvas.height);
    gl.clearColor(sheet[0], sheet[1], sheet[2], 1);
    gl.clear(gl.COLOR_BUFFER_BIT | gl.DEPTH_BUFFER_BIT);
    gl.enable(gl.DEPTH_TEST);
    // Lines lie in the faces they belong to, and must not sink into them.
    gl.enable(gl.POLYGON_OFFSET_FILL);
    gl.polygonOffset(2, 8);
    gl.useProgram(program);
    gl.uniformMatrix4fv(gl.getUniformLocation(program, "view"), false, viewed(look, canvas.width / canvas.height));
    for (const { form, buffer, count, kind } of this.held) {
      if (without.includes(kind)) continue;
      gl.bindBuffer(gl.ARRAY_BUFFER, buffer);
      ["spot", "upright", "colour"].forEach((name, i) => {
        const place = gl.getAttribLocation(program, name);
        gl.enableVertexAttribArray(place);
        gl.vertexAttribPointer(place, 3, gl.FLOAT, false, EACH * 4, i * 12);
      });
      gl.drawArrays(form, 0, count);
    }
  }
}

/**
 * Metres to the canvas, column by column.
 * @param {Look} look @param {number} wide width over height @returns {Float32Array}
 */
export function viewed({ turn, tilt, near, about, heights }, wide) {
  const [cos, sin, up, flat] = [Math.cos(turn), Math.sin(turn), Math.cos(tilt), Math.sin(tilt)];
  const [sx, sy] = wide > 1 ? [2 / near / wide, 2 / near] : [2 / near, (2 / near) * wide];
  const depth = 1 / 400;
  const rows = [
    [cos * sx, sin * sx, 0],
    [-sin * flat * sy, cos * flat * sy, up * heights * sy],
    [-sin * up * depth, cos * up * depth, -flat * heights * depth],
  ];
  const shift = rows.map((row) => -(row[0] * about[0] + row[1] * about[1] + row[2] * about[2]));
  return new Float32Array([...[0, 1, 2].flatMap((column) => [rows[0][column], rows[1][column], rows[2][column], 0]), ...shift, 1]);
}

/** @param {number[]} a @param {number[]} b @param {number[]} c */
function across(a, b, c) {
  const [u, v] = [b, c].map((point) => point.map((at, axis) => at - a[axis]));
  return [u[1] * v[2] - u[2] * v[1], u[2] * v[0] - u[0] * v[2], u[0] * v[1] - u[1] * v[0]].map((part, _, all) => part / (Math.hypot(...all) || 1));
}

/** @param {WebGLRenderingContext} gl */
function linked(gl) {
  const program = /** @type {WebGLProgram} */ (gl.createProgram());
  for (const [form, source] of /** @type {const} */ ([[gl.VERTEX_SHADER, SHADER.vertex], [gl.FRAGMENT_SHADER, SHADER.fragment]])) {
    const shader = /** @type {WebGLShader} */ (gl.createShader(form));
    gl.shaderSource(shader, source);
    gl.compileShader(shader);
    gl.attachShader(program, shader);
  }
  gl.linkProgram(program);
  return program;
}
