// Readings that are typed and not worked out yet: kept in this tab, so that a reload or a look at another page loses none
// of them, and walked through row by row with the arrow keys. The page works without this module.

const form = document.querySelector("#readings, #strips");
const KEY = "platewright.readings.";
const OTHER = ["units", "shown", "replaces", "do", "file", "piece"]; // what nobody measured
const fields = () => [...form.elements].filter(({ name, type }) => name && !OTHER.includes(name) && !["hidden", "submit", "file"].includes(type));

/** The form, its units and the drawing that it measures: readings of one say nothing of another. */
const key = () => {
  const of = (name) => form.elements[name]?.value ?? "";
  return [KEY + form.id, of("units"), of("piece.drawing"), of("bend.drawing")].join(" ");
};

const keep = () => {
  const typed = fields().map((field) => [field.name, field.type === "checkbox" ? field.checked : field.value]);
  try {
    sessionStorage.setItem(key(), JSON.stringify(typed));
  } catch {
    // a browser that keeps nothing
  }
};

const kept = () => {
  try {
    return JSON.parse(sessionStorage.getItem(key())) ?? [];
  } catch {
    return [];
  }
};

const forget = () => {
  sessionStorage.removeItem(key());
  location.replace(location.href);
};

/** As many rows as were typed in, where more were asked for. */
const lengthen = () => {
  const last = Math.max(...kept().map(([name]) => Number(/^measured\.(\d+)$/.exec(name)?.[1] ?? 0)), 0);
  const more = document.querySelector("#readings #more");
  for (let before = -1; more && before < form.querySelectorAll("tbody tr").length && !form.elements[`measured.${last}`]; ) {
    before = form.querySelectorAll("tbody tr").length;
    more.click();
  }
};

/** Fill in what was typed before, and say so. */
const fill = () => {
  lengthen();
  const now = fields();
  const put = kept().filter(([name, value]) => {
    const field = now.find((one) => one.name === name);
    const was = field?.type === "checkbox" ? field.checked : field?.value;
    if (!field || was === value) return false;
    if (field.type === "checkbox") field.checked = value;
    else field.value = value;
    const fold = field.closest("details");
    if (fold) fold.open = true;
    return true;
  });
  if (!put.length) return;
  const said = Object.assign(document.createElement("p"), { className: "saved", role: "status" });
  const afresh = Object.assign(document.createElement("button"), { type: "button", textContent: "Begin afresh" });
  afresh.addEventListener("click", forget);
  said.append("Filled in as you had typed it in this tab. ", afresh);
  form.prepend(said);
};

/** Up and down stay in the column of a table of readings. */
const walk = (event) => {
  const way = { ArrowDown: 1, ArrowUp: -1 }[event.key];
  const cell = event.target.closest("input:not([type=checkbox])") && event.target.closest(".readings td");
  if (!way || !cell || event.altKey || event.ctrlKey || event.metaKey || event.shiftKey) return;
  const rows = [...cell.closest("tbody").rows];
  const to = rows[rows.indexOf(cell.parentElement) + way]?.cells[cell.cellIndex].querySelector("input");
  if (!to) return;
  event.preventDefault();
  to.focus();
  to.select();
};

if (form) {
  if ("fresh" in form.dataset) fill();
  form.addEventListener("input", keep);
  form.addEventListener("keydown", walk);
}
