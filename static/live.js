// The drawing follows the typing. The page works without this module: the form can be sent, the remedies and
// the files are links. What is fetched is the same page; only what changed is put in place, so that the field
// in use keeps its focus and what was typed in it stays as typed.

import "./favourites.js";
import "./paper.js";
import "./stops.js";
import "./units.js";

const PAUSE_MS = 150;
const REACH_PX = 26; // a dimension is tapped within this distance of its lettering

let control = null;
let latest = 0;
let timer = 0;

const byId = (id) => document.getElementById(id);

/** Fetch a page and hand it over, unless a newer one has been asked for meanwhile. */
const ask = async (address, put) => {
  clearTimeout(timer);
  control?.abort();
  control = new AbortController();
  const turn = ++latest;
  try {
    const answer = await fetch(address, { signal: control.signal });
    const text = await answer.text();
    if (turn !== latest) return;
    if (!answer.ok && answer.status !== 422) throw new Error(`status ${answer.status}`);
    history.replaceState(null, "", answer.url);
    put(new DOMParser().parseFromString(text, "text/html"), answer.status === 422);
    away(false);
  } catch {
    if (turn === latest) away(true);
  }
};

const later = (work) => {
  clearTimeout(timer);
  timer = setTimeout(work, PAUSE_MS);
};

const away = (is) => {
  if (byId("away")) byId("away").hidden = !is;
};

/** Change a region, and leave the folds in it that have a name as they were. */
const keepFolds = (region, change) => {
  const folds = [...region.querySelectorAll("details[id]")].map(({ id, open }) => [id, open]);
  change();
  for (const [id, open] of folds) if (byId(id)) byId(id).open = open;
};

/** Open the folds a field is in. */
const unfold = (field) => {
  for (let fold = field?.closest("details"); fold; fold = fold.parentElement.closest("details")) fold.open = true;
};

/** Put the live regions of a fetched page in place; those of the drawing stay as they are while it can't follow. */
const putRegions = (fresh, refused) => {
  for (const region of document.querySelectorAll("[data-live]")) {
    const other = fresh.getElementById(region.id);
    if (!other || (refused && region.dataset.live === "drawn")) {
      region.classList.toggle("held", refused && region.dataset.live === "drawn");
    } else if (region.outerHTML !== other.outerHTML) {
      keepFolds(region, () => {
        region.className = other.className;
        region.replaceChildren(...document.importNode(other, true).childNodes);
      });
    }
  }
  document.title = fresh.title;
};

const addressOf = (form, changes = []) => {
  const values = new URLSearchParams(new FormData(form));
  for (const [name, value] of changes) values.set(name, value);
  if (!values.get("was")) values.delete("was");
  return `${form.action}?${values}`;
};

const part = (form) => {
  const putNotes = (fresh) => {
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
      if (note.innerHTML !== said.innerHTML) note.replaceChildren(...document.importNode(said, true).childNodes);
    }
  };

  const putRows = (fresh) => {
    const focused = document.activeElement?.id;
    keepFolds(byId("table"), () => byId("table").replaceChildren(...document.importNode(fresh.getElementById("table"), true).childNodes));
    for (const row of form.querySelectorAll(".row.wrong, .row.changed")) unfold(row);
    const again = focused && byId(focused);
    (again || byId("findings-heading")).focus({ preventScroll: true });
  };

  const aside = (name, text) => {
    const span = document.createElement("span");
    span.className = name;
    span.textContent = text;
    return span;
  };

  /** Ask what would mend the findings, once the drawing is there: that takes longer than typing can wait. */
  const solve = async () => {
    if (!document.querySelector(".mend .ask")) return;
    const turn = latest;
    const answer = await fetch(`${location.pathname.replace(/\/remedies$/, "")}/remedies.json${location.search}`).catch(() => null);
    if (!answer?.ok || turn !== latest) return; // the link that asks for it stays
    const { remedies, questions } = await answer.json();
    const offers = [...remedies, ...questions];
    if (turn !== latest) return;
    if (offers.length) byId("told").textContent = `${byId("verdict").textContent} Offered: ${offers.map(({ link }) => link.text).join("; ")}`;
    for (const place of document.querySelectorAll(".mend")) {
      const remedy = offers.find(({ rule }) => rule === place.dataset.rule);
      place.replaceChildren();
      if (!remedy) continue;
      const link = document.createElement("a");
      link.className = "remedy";
      link.href = remedy.address;
      link.textContent = (remedy.asks ? "Even so: " : "") + remedy.link.text;
      link.dataset.changes = JSON.stringify(Object.entries(remedy.link.values));
      if (remedy.asks) place.append(aside("asks", remedy.asks)); // said before it can be taken
      place.append(link);
      if (remedy.cost) place.append(aside("soft cost", remedy.cost.sentence));
    }
  };

  /** `whole`: the fields change too, because a remedy was taken or the working units changed. */
  const draw = (address, whole) =>
    ask(address, (fresh, refused) => {
      const before = byId("verdict").textContent;
      putRegions(fresh, refused);
      if (whole) putRows(fresh);
      else putNotes(fresh);
      if (before !== byId("verdict").textContent) byId("told").textContent = byId("verdict").textContent;
      lightFocused();
      if (whole) showChanged();
      if (!refused) solve();
    });

  /** Bring what a remedy changed into view, in the table where that scrolls by itself. */
  const showChanged = () => {
    const row = form.querySelector(".row.changed");
    if (form.scrollHeight > form.clientHeight) row?.scrollIntoView({ block: "center" });
    else if (row) byId("findings").scrollIntoView(); // one column: the list of findings says what changed
    byId("findings").scrollTop = 0;
  };

  const light = (from) => {
    for (const lit of document.querySelectorAll(".lit")) lit.classList.remove("lit");
    const carrier = from?.closest?.("[data-parameter], [data-finding]");
    if (!carrier) return;
    const kind = carrier.dataset.parameter ? "parameter" : "finding";
    const same = `[data-${kind}="${CSS.escape(carrier.dataset[kind])}"]`;
    for (const one of document.querySelectorAll(same)) one.classList.add("lit");
  };
  const lightFocused = () => light(document.activeElement);

  /** The dimension or flag at a point of the drawing, or the nearest within reach of a fingertip. */
  const nearest = (event) => {
    const hit = event.target.closest("[data-parameter], [data-finding]");
    if (hit) return hit;
    const gap = (group) => {
      const box = group.querySelector("text")?.getBoundingClientRect();
      if (!box) return Infinity;
      const dx = Math.max(box.left - event.clientX, 0, event.clientX - box.right);
      const dy = Math.max(box.top - event.clientY, 0, event.clientY - box.bottom);
      return Math.hypot(dx, dy);
    };
    const groups = [...byId("drawing").querySelectorAll("[data-parameter], [data-finding]")];
    return groups.map((group) => [gap(group), group]).filter(([far]) => far <= REACH_PX).sort((a, b) => a[0] - b[0])[0]?.[1];
  };

  form.addEventListener("input", (event) => {
    const whole = event.target.name === "units";
    byId("files").classList.add("held"); // until the drawing has followed, the files are of the part before
    later(() => draw(addressOf(form), whole));
  });
  form.addEventListener("submit", (event) => {
    event.preventDefault();
    draw(addressOf(form), false);
  });
  document.addEventListener("focusin", (event) => light(event.target));
  document.addEventListener("focusout", () => light(null));
  document.addEventListener("pointerover", (event) => {
    if (event.pointerType === "mouse") light(event.target.closest("[data-parameter], [data-finding]") ?? document.activeElement);
  });
  document.addEventListener("click", (event) => {
    const remedy = event.target.closest("a[data-changes]");
    if (remedy && !event.ctrlKey && !event.metaKey && !event.shiftKey) {
      event.preventDefault();
      draw(addressOf(form, JSON.parse(remedy.dataset.changes)), true);
    } else if (byId("refusal").contains(event.target) && event.target.hash) {
      event.preventDefault(); // the field itself, with what was typed in it, is where the mistake is mended
      const field = byId(event.target.hash.slice(1));
      unfold(field);
      field.focus({ preventScroll: true });
      field.select?.();
      field.closest(".row").scrollIntoView({ block: "center" });
    } else if (byId("drawing").contains(event.target)) {
      const group = nearest(event);
      const listed = group?.dataset.finding && document.querySelector(`li[data-finding="${group.dataset.finding}"]`);
      unfold(listed);
      if (listed) listed.focus();
      const field = group?.dataset.parameter && byId(group.dataset.parameter);
      unfold(field);
      if (field) field.focus();
      if (field?.select) field.select();
    }
  });
  solve();
};

const search = (form) => {
  const put = (fresh, refused) => {
    putRegions(fresh, refused);
    byId("told").textContent = document.querySelector("#list .count").textContent;
  };
  form.addEventListener("input", () => later(() => ask(addressOf(form), put)));
};

document.documentElement.classList.add("live");
if (byId("dimensions")) part(byId("dimensions"));
if (byId("search")) search(byId("search"));
