// From where a part is looked at: turned by mouse, touch and keys, never so that up is down.

const ISOMETRIC = { turn: Math.PI / 4, rise: Math.atan(1 / Math.SQRT2) }; // as isometric drawings are seen
const A_KEY = Math.PI / 12;
const A_DRAG = 0.008; // radians to a px
const [LEAST, MOST] = [0.4, 20];

const cap = (value, low, high) => Math.min(Math.max(value, low), high);

/** The eye on a canvas: `axes` right, up and toward whoever looks, `zoom`, `shift` in px. It calls `moved` when it moves. */
export const eyeOn = (canvas, moved) => {
  const eye = { ...ISOMETRIC, zoom: 1, shift: [0, 0] };
  const fingers = new Map();

  const turnBy = (turn, rise) => {
    eye.turn += turn;
    eye.rise = cap(eye.rise + rise, -Math.PI / 2, Math.PI / 2);
    moved();
  };
  const zoomBy = (times) => {
    eye.zoom = cap(eye.zoom * times, LEAST, MOST);
    moved();
  };
  const fit = () => {
    Object.assign(eye, ISOMETRIC, { zoom: 1, shift: [0, 0] });
    moved();
  };

  const apart = () => {
    const [a, b] = [...fingers.values()];
    return { wide: Math.hypot(a[0] - b[0], a[1] - b[1]), middle: [(a[0] + b[0]) / 2, (a[1] + b[1]) / 2] };
  };
  const shiftBy = (x, y) => {
    eye.shift = [eye.shift[0] + x, eye.shift[1] + y];
  };

  canvas.addEventListener("pointerdown", (event) => {
    canvas.setPointerCapture(event.pointerId);
    fingers.set(event.pointerId, [event.clientX, event.clientY]);
  });
  canvas.addEventListener("pointermove", (event) => {
    const was = fingers.get(event.pointerId);
    if (!was) return;
    const two = fingers.size === 2 && apart();
    fingers.set(event.pointerId, [event.clientX, event.clientY]);
    const [x, y] = [event.clientX - was[0], event.clientY - was[1]];
    if (two) {
      const now = apart();
      shiftBy(now.middle[0] - two.middle[0], now.middle[1] - two.middle[1]);
      zoomBy(two.wide > 0 ? now.wide / two.wide : 1);
    } else if (fingers.size === 1 && (event.shiftKey || event.buttons === 2)) {
      shiftBy(x, y);
      moved();
    } else if (fingers.size === 1) {
      turnBy(-x * A_DRAG, y * A_DRAG);
    }
  });
  for (const end of ["pointerup", "pointercancel"]) canvas.addEventListener(end, (event) => fingers.delete(event.pointerId));
  canvas.addEventListener("contextmenu", (event) => event.preventDefault());
  canvas.addEventListener("wheel", (event) => {
    if (document.activeElement !== canvas && !event.ctrlKey) return; // the page scrolls, until the view is chosen
    event.preventDefault();
    zoomBy(Math.exp(-event.deltaY * 0.002));
  }, { passive: false });

  const KEYS = {
    ArrowLeft: () => turnBy(-A_KEY, 0),
    ArrowRight: () => turnBy(A_KEY, 0),
    ArrowUp: () => turnBy(0, A_KEY),
    ArrowDown: () => turnBy(0, -A_KEY),
    "+": () => zoomBy(1.25),
    "=": () => zoomBy(1.25),
    "-": () => zoomBy(0.8),
    0: fit,
  };
  canvas.addEventListener("keydown", (event) => {
    if (event.ctrlKey || event.metaKey || event.altKey || !KEYS[event.key]) return;
    event.preventDefault();
    event.stopPropagation();
    KEYS[event.key]();
  });

  const axes = () => {
    const [st, ct, sr, cr] = [Math.sin(eye.turn), Math.cos(eye.turn), Math.sin(eye.rise), Math.cos(eye.rise)];
    return { right: [ct, st, 0], up: [-st * sr, ct * sr, cr], toward: [st * cr, -ct * cr, sr] };
  };
  return { eye, axes, zoomBy, fit };
};
