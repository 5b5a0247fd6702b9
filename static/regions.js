// A fetched page put in place of the shown one: only what changed, so that the field in use keeps its focus and what is
// typed in it stays as typed.

const byId = (id) => document.getElementById(id);

/** Change a region, and leave the folds in it that have a name as they were. */
const keepFolds = (region, change) => {
  const folds = [...region.querySelectorAll("details[id]")].map(({ id, open }) => [id, open]);
  change();
  for (const [id, open] of folds) if (byId(id)) byId(id).open = open;
};

/** Open the folds a field is in. */
export const unfold = (field) => {
  for (let fold = field?.closest("details"); fold; fold = fold.parentElement.closest("details")) fold.open = true;
};

const contents = (of) => document.importNode(of, true).childNodes;

let before = null; // the drawing whose place an unchecked one took: where that is refused, the last that could be drawn

/** Whether a drawing is a sketch, to be looked at until the true one is there. */
export const isSketch = (drawing) => Boolean(drawing?.classList.contains("sketched"));

const isUnchecked = (drawing) => isSketch(drawing) || Boolean(drawing?.classList.contains("outlined"));

const keepBefore = (region, other) => {
  if (isUnchecked(other) && !isUnchecked(region)) before = [...region.childNodes];
};

const backToBefore = (region) => {
  if (!isUnchecked(region)) return;
  region.classList.remove("sketched", "outlined");
  region.replaceChildren(...before);
};

/** Put the live regions in place; those of the drawing stay as they are while it can't follow, as do those to come. */
export const putRegions = (fresh, refused) => {
  for (const region of document.querySelectorAll("[data-live]")) {
    const other = fresh.getElementById(region.id);
    const stays = refused && region.dataset.live === "drawn";
    if (stays) backToBefore(region);
    if (!other || stays) region.classList.toggle("held", stays || !other);
    else if (region.outerHTML !== other.outerHTML) {
      keepBefore(region, other);
      keepFolds(region, () => {
        region.className = other.className;
        region.replaceChildren(...contents(other));
      });
    }
  }
  document.title = fresh.title;
};

/** Put what is said of each row in place, and leave its field alone. */
export const putNotes = (form, fresh) => {
  for (const row of form.querySelectorAll(".row")) {
    const name = row.dataset.parameter;
    const other = fresh.querySelector(`.row[data-parameter="${CSS.escape(name)}"]`);
    if (!other) continue;
    for (const state of ["wrong", "idle", "changed"]) row.classList.toggle(state, other.classList.contains(state));
    byId(`letter-${name}`).textContent = fresh.getElementById(`letter-${name}`).textContent;
    if (row.classList.contains("wrong")) {
      unfold(row);
      byId(name).setAttribute("aria-invalid", "true");
    } else byId(name).removeAttribute("aria-invalid");
    const note = byId(`note-${name}`);
    const said = fresh.getElementById(note.id);
    if (note.innerHTML !== said.innerHTML) note.replaceChildren(...contents(said));
  }
};

/** Put the rows in place with their fields; the focus goes back to the field that had it. */
export const putRows = (form, fresh) => {
  const focused = document.activeElement?.id;
  keepFolds(byId("table"), () => byId("table").replaceChildren(...contents(fresh.getElementById("table"))));
  for (const row of form.querySelectorAll(".row.wrong, .row.changed")) unfold(row);
  (byId(focused || "findings-heading") ?? byId("findings-heading")).focus({ preventScroll: true });
};
