// The view of a part in space: its mesh, the eye on it, and how far it is bent. It is loaded when it is first asked for.

import { eyeOn } from "./eye.js";
import { edgesOf, inSpace, numbersAt, trianglesOf } from "./fold.js";
import { inkOn } from "./ink.js";

const [THICK, THIN] = [1, 0.6]; // px, half of how wide edges are
const [LIFT, MOST_LIFT] = [2.5, 0.7]; // in half widths: the slope of what leans toward the eye; and in thicknesses at most
const FILLS = 0.88; // of the canvas, before it is enlarged

const rgb = (text) => (text.match(/[\d.]+/g) ?? [0, 0, 0]).slice(0, 3).map((v) => v / 255);
const dot = (a, p, i) => a[0] * p[i] + a[1] * p[i + 1] + a[2] * p[i + 2];

/** The ball around all places: its middle, and its radius. */
const around = (places) => {
  const [low, high] = [[Infinity, Infinity, Infinity], [-Infinity, -Infinity, -Infinity]];
  for (let i = 0; i < places.length; i += 1) {
    low[i % 3] = Math.min(low[i % 3], places[i]);
    high[i % 3] = Math.max(high[i % 3], places[i]);
  }
  const middle = low.map((v, k) => (v + high[k]) / 2);
  return { middle, radius: Math.hypot(...high.map((v, k) => v - middle[k])) || 1, size: high.map((v, k) => v - low[k]) };
};

/** How far places reach along an axis. */
const spread = (axis, places) => {
  let [low, high] = [Infinity, -Infinity];
  for (let i = 0; i < places.length; i += 3) {
    low = Math.min(low, dot(axis, places, i));
    high = Math.max(high, dot(axis, places, i));
  }
  return high - low || 1;
};

/** A view on a canvas, with a box over it for the numbers of bends; null where the browser can't show one. */
export const viewOn = (canvas, labels) => {
  const ink = inkOn(canvas);
  if (!ink) return null;
  let [mesh, triangles, edges, made, places, ball, waits] = [null, null, null, 0, null, null, false];

  const later = () => {
    if (waits) return;
    waits = true;
    requestAnimationFrame(() => {
      waits = false;
      if (mesh) draw();
    });
  };
  const { eye, axes, zoomBy, fit } = eyeOn(canvas, later);

  /** px to a mm, and the matrix from mm to what the canvas shows, depth from -1 to 1 the nearer first. */
  const seenBy = ({ right, up, toward }) => {
    const [w, h] = [canvas.clientWidth, canvas.clientHeight];
    const scale = eye.zoom * FILLS * Math.min(w / ball.seen[0], h / ball.seen[1]);
    const row = (axis, times, off) => [...axis.map((v) => v * times), off - times * dot(axis, ball.middle, 0)];
    const x = row(right, (2 * scale) / w, (2 * eye.shift[0]) / w);
    const y = row(up, (2 * scale) / h, (-2 * eye.shift[1]) / h);
    const z = row(toward, -0.98 / (ball.radius * 1.01), 0);
    const matrix = [0, 1, 2, 3].flatMap((k) => [x[k], y[k], z[k], k === 3 ? 1 : 0]);
    return { matrix, lift: (wide) => (0.97 * Math.min((LIFT * wide) / scale, MOST_LIFT * mesh.thickness)) / ball.radius };
  };

  const looking = (toward) => {
    const faces = new Uint8Array(triangles.length / 3);
    for (let t = 0; t < faces.length; t += 1) {
      const [a, b, c] = [0, 1, 2].map((k) => 3 * triangles[3 * t + k]);
      const [ux, uy, uz] = [0, 1, 2].map((k) => places[b + k] - places[a + k]);
      const [vx, vy, vz] = [0, 1, 2].map((k) => places[c + k] - places[a + k]);
      faces[t] = toward[0] * (uy * vz - uz * vy) + toward[1] * (uz * vx - ux * vz) + toward[2] * (ux * vy - uy * vx) > 0 ? 1 : 0;
    }
    return faces;
  };

  const ends = (pairs) => {
    const all = new Float32Array(6 * pairs.length);
    pairs.forEach(([i, j], k) => {
      all.set(places.subarray(3 * i, 3 * i + 3), 6 * k);
      all.set(places.subarray(3 * j, 3 * j + 3), 6 * k + 3);
    });
    return all;
  };

  const number = (seen) => {
    numbersAt(mesh, made).forEach((p, i) => {
      const [x, y] = [0, 1].map((k) => seen[k] * p[0] + seen[4 + k] * p[1] + seen[8 + k] * p[2] + seen[12 + k]);
      const [w, h] = [canvas.clientWidth, canvas.clientHeight];
      labels.children[i].style.transform = `translate(${((x + 1) * w) / 2}px, ${((1 - y) * h) / 2}px) translate(-50%, -50%)`;
    });
  };

  const draw = () => {
    const dense = devicePixelRatio || 1;
    const [w, h] = [canvas.clientWidth, canvas.clientHeight].map((v) => Math.max(Math.round(v * dense), 1));
    if (canvas.width !== w || canvas.height !== h) [canvas.width, canvas.height] = [w, h];
    const shown = getComputedStyle(canvas);
    const [paper, colour] = [rgb(shown.backgroundColor), rgb(shown.color)];
    const along = axes();
    const { matrix: seen, lift } = seenBy(along);
    const front = looking(along.toward);
    const turning = edges.turning.filter(([, , a, b]) => front[a] !== front[b]);
    const soft = colour.map((v, k) => (v + paper[k]) / 2);
    ink.draw({
      places, seen, paper, ink: colour,
      strokes: [
        { ends: ends(edges.thin), colour: soft, wide: THIN * dense, lift: lift(THIN) },
        { ends: ends([...edges.thick, ...turning]), colour, wide: THICK * dense, lift: lift(THICK) },
      ],
    });
    number(seen);
  };

  const place = () => {
    places = inSpace(mesh, made);
    canvas.dataset.size = around(places).size.map((v) => v.toFixed(3)).join(" "); // mm, as it stands
    later();
  };

  /** Show another mesh, as far bent as it was asked for; the eye stays where it is. */
  const show = (other, bent) => {
    [mesh, triangles, edges, made] = [other, trianglesOf(other), edgesOf(other), bent];
    ink.take(triangles);
    const both = [inSpace(mesh, 0), inSpace(mesh, mesh.hinges.length)];
    const every = Float32Array.from(both.flatMap((each) => [...each]));
    const { right, up } = axes();
    ball = { ...around(every), seen: [right, up].map((axis) => spread(axis, every)) };
    labels.replaceChildren(...mesh.hinges.map(({ number: told }) => Object.assign(document.createElement("span"), { textContent: told })));
    place();
  };
  const bend = (bent) => {
    made = bent;
    place();
  };

  new ResizeObserver(later).observe(canvas);
  for (const query of ["(prefers-color-scheme: dark)", "(forced-colors: active)"]) matchMedia(query).addEventListener("change", later);
  return { show, bend, zoomBy, fit };
};
