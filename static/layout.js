// A part on its sheet found by touch or keys, dragged, turned, and pinned where it is put. What is done here fills in the
// form below the sheets' head, which does the same without this module; whether the part can lie there the server says.

const MM_PER_IN = 25.4;
const form = document.getElementById("by-hand");
const isInches = form?.dataset.units === "in";
const field = (name) => form.elements[name];
const told = document.getElementById("told");

/** What is chosen: the group, its sheet, its box at first, how far it is moved (mm) and turned (degrees to the left). */
let chosen = null;

const sheets = [...document.querySelectorAll("svg.laid-sheet[data-sheet]")];
const heightOf = (svg) => svg.viewBox.baseVal.height;
const partsOf = (svg) => [...svg.querySelectorAll(".laid")].sort((a, b) => a.dataset.part - b.dataset.part);

const said = (mm) => String(Number(isInches ? (mm / MM_PER_IN).toFixed(3) : mm.toFixed(2)));
const isMoved = () => chosen && (chosen.dx || chosen.dy || chosen.turn);

/** Show the part where it is put, and say it in the form. */
const show = () => {
  const { group, svg, box, dx, dy, turn } = chosen;
  const [x0, y0, x1, y1] = box;
  const middle = `${(x0 + x1) / 2} ${heightOf(svg) - (y0 + y1) / 2}`;
  if (isMoved()) group.setAttribute("transform", `translate(${dx} ${-dy}) rotate(${-turn} ${middle})`);
  else group.removeAttribute("transform");
  group.classList.toggle("laid-moved", Boolean(isMoved()));
  field("x").value = said(x0 + dx);
  field("y").value = said(y0 + dy);
  field("turn").value = String(turn);
};

const tell = () => {
  const name = chosen.group.querySelector("title").textContent;
  const turned = chosen.turn ? `, turned left, degrees: ${chosen.turn}` : "";
  told.textContent = `${name}: ${field("x").value} from the left, ${field("y").value} from below${turned}`;
};

const letGo = () => {
  if (!chosen) return;
  chosen.group.classList.remove("laid-chosen", "laid-moved");
  chosen.group.removeAttribute("transform");
  chosen = null;
};

const choose = (group) => {
  if (chosen?.group === group) return;
  letGo();
  const svg = group.ownerSVGElement;
  chosen = { group, svg, box: group.dataset.box.split(" ").map(Number), dx: 0, dy: 0, turn: 0 };
  group.classList.add("laid-chosen");
  group.parentNode.append(group); // above the others, as it is moved across them
  field("sheet").value = svg.dataset.sheet;
  field("part").value = group.dataset.part;
  field("to_sheet").value = svg.dataset.sheet;
  const isPinned = group.classList.contains("laid-pinned");
  const pin = document.getElementById("pin");
  pin.value = isPinned ? "unpin" : "pin";
  pin.textContent = isPinned ? "Unpin" : "Pin where it is";
  show();
  tell();
};

const putBack = () => Object.assign(chosen, { dx: 0, dy: 0, turn: 0 });
const turn = (by) => {
  if (!chosen) return;
  chosen.turn = (chosen.turn + by + 540) % 360 - 180;
  if (chosen.turn === -180) chosen.turn = 180;
  show();
  tell();
};

const send = (act) => form.requestSubmit(form.querySelector(`button[value="${act}"]`));

/** Millimetres on the sheet that a pointer is at. */
const at = (svg, event) => {
  const p = new DOMPoint(event.clientX, event.clientY).matrixTransform(svg.getScreenCTM().inverse());
  return [p.x, heightOf(svg) - p.y];
};

const begin = (event) => {
  const group = event.target.closest(".laid");
  const isHeld = group && (event.pointerType === "mouse" || chosen?.group === group); // a finger first chooses, then drags
  if (!group || event.button) return;
  if (event.pointerType === "mouse") choose(group);
  if (!isHeld) return;
  const svg = event.currentTarget;
  svg.focus({ preventScroll: true });
  event.preventDefault();
  const [fromX, fromY] = at(svg, event);
  const { dx, dy } = chosen;
  const drag = (moved) => {
    const [x, y] = at(svg, moved);
    chosen.dx = dx + Math.round(x - fromX);
    chosen.dy = dy + Math.round(y - fromY);
    show();
  };
  const end = () => {
    svg.removeEventListener("pointermove", drag);
    for (const name of ["pointerup", "pointercancel"]) svg.removeEventListener(name, end);
    tell();
  };
  svg.setPointerCapture(event.pointerId);
  svg.addEventListener("pointermove", drag);
  for (const name of ["pointerup", "pointercancel"]) svg.addEventListener(name, end);
};

const ARROWS = { ArrowLeft: [-1, 0], ArrowRight: [1, 0], ArrowDown: [0, -1], ArrowUp: [0, 1] };

const next = (svg, by) => {
  const parts = partsOf(svg);
  const from = parts.indexOf(chosen?.svg === svg ? chosen.group : null);
  choose(parts[from < 0 ? (by > 0 ? 0 : parts.length - 1) : (from + by + parts.length) % parts.length]);
};

const press = (event) => {
  if (event.ctrlKey || event.altKey || event.metaKey) return;
  const svg = event.currentTarget;
  const key = event.key.length === 1 ? event.key.toLowerCase() : event.key;
  const isHere = chosen?.svg === svg;
  if (key === "n" || key === "p") next(svg, key === "n" ? 1 : -1);
  else if (key in ARROWS && isHere) {
    const step = event.shiftKey ? 10 : 1;
    chosen.dx += step * ARROWS[key][0];
    chosen.dy += step * ARROWS[key][1];
    show();
    tell();
  } else if (key === "r" && isHere) turn(event.shiftKey ? -90 : 90);
  else if (key === "Enter" && isHere) send("put");
  else if (key === "u" && isHere && chosen.group.classList.contains("laid-pinned")) send("unpin");
  else if (key === "Escape" && isHere) {
    if (isMoved()) {
      putBack();
      show();
      tell();
    } else letGo();
  } else return;
  event.preventDefault();
};

const find = (sheet, part) => {
  const svg = sheets.find((each) => each.dataset.sheet === String(sheet));
  return svg && partsOf(svg).find((each) => each.dataset.part === String(part));
};

/** What is typed into the form is shown on the sheet. */
const typed = () => {
  const group = find(field("sheet").value, field("part").value);
  if (!group) return letGo();
  if (chosen?.group !== group) return choose(group);
  const mm = (text) => Number(text) * (isInches ? MM_PER_IN : 1);
  const [x, y] = [mm(field("x").value), mm(field("y").value)];
  const left = Number(field("turn").value);
  if (![x, y, left].every(Number.isFinite)) return undefined; // 4-1/2: the server reads it
  const kept = [field("x").value, field("y").value, field("turn").value];
  Object.assign(chosen, { dx: x - chosen.box[0], dy: y - chosen.box[1], turn: left });
  show();
  [field("x").value, field("y").value, field("turn").value] = kept; // as it was typed
  return undefined;
};

if (form) {
  for (const svg of sheets) {
    svg.setAttribute("tabindex", "0");
    svg.setAttribute("role", "application");
    svg.addEventListener("pointerdown", begin);
    svg.addEventListener("click", (event) => {
      const group = event.target.closest(".laid");
      if (group) choose(group);
    });
    svg.addEventListener("keydown", press);
  }
  for (const link of document.querySelectorAll("a[data-choose]")) {
    link.addEventListener("click", (event) => {
      const group = find(...link.dataset.choose.split(" "));
      if (!group) return;
      event.preventDefault();
      choose(group);
      group.ownerSVGElement.focus();
    });
  }
  document.getElementById("turn-left").addEventListener("click", () => turn(90));
  document.getElementById("turn-right").addEventListener("click", () => turn(-90));
  document.querySelector(".turns").hidden = false;
  form.addEventListener("change", typed);
  const given = ["x", "y", "turn"].map((name) => field(name).value);
  const first = find(field("sheet").value, field("part").value);
  if (first) {
    choose(first);
    ["x", "y", "turn"].forEach((name, i) => { field(name).value = given[i]; });
    typed();
    const focus = () => first.ownerSVGElement.focus({ preventScroll: true });
    if (document.readyState === "complete") focus();
    else addEventListener("load", () => setTimeout(focus)); // the way to the sheet takes the focus away till then
  }
}
