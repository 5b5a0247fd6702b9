// The page of a part: the drawing follows the typing. The page works without this module: the form can be sent, the
// remedies and the files are links. What is fetched is the same page.

import { ask } from "./ask.js";
import { bring, FOLLOWING, following } from "./hidden.js";
import { lightFocused, lights } from "./light.js";
import { isHere, ownFont } from "./own_font.js";
import { isSketch, putNotes, putRegions, putRows, unfold } from "./regions.js";
import { offer } from "./remedies.js";
import { intoSight, steady } from "./sight.js";
import { answered, begin, edited, settle, walk } from "./steps.js";
import { arrived, wait } from "./waiting.js";

const REST_MS = 150; // a rich part is judged, and what would mend a refusal looked for, once typing rests

const byId = (id) => document.getElementById(id);

/** What is typed, as names and values; some of it changed. */
const typed = (form, changes = []) => {
  const values = new URLSearchParams(new FormData(form));
  for (const [name, value] of changes) values.set(name, value);
  if (!values.get("was")) values.delete("was");
  for (const name of ["kept_font", "kept_font_name"]) values.delete(name);
  return [...values];
};

const addressOf = (form, values) => `${form.action}?${new URLSearchParams(values)}`;

const fill = (form, values) => {
  for (const [name, value] of values) {
    const field = form.elements[name];
    if (field && field.value !== value) field.value = value;
  }
};

/** While a refusal keeps the drawing as it was, it is the last that could be drawn, and no longer the nearest. */
const sayWhich = (refused) => {
  const said = refused && document.querySelector("#refusal [data-last]");
  if (said) said.textContent = said.dataset.last;
};

/** Bring what a remedy changed into view, in the table where that scrolls by itself. */
const showChanged = (form) => {
  const row = form.querySelector(".row.changed");
  if (form.scrollHeight > form.clientHeight) row?.scrollIntoView({ block: "center" });
  else if (row) byId("findings").scrollIntoView(); // one column: the list of findings says what changed
  byId("findings").scrollTop = 0;
};

/** The field itself, with what was typed in it, is where a mistake is mended. */
const goToField = (field) => {
  unfold(field);
  field.focus({ preventScroll: true });
  field.select?.();
  field.closest(".row").scrollIntoView({ block: "center" });
};

export const part = (form) => {
  let said = byId("verdict").textContent;
  let judging = 0;

  /** Say the verdict where it is another than was said last. */
  const tell = () => {
    if (said !== byId("verdict").textContent) byId("told").textContent = byId("verdict").textContent;
    said = byId("verdict").textContent;
  };

  /** `whole`: the fields change too, because a remedy was taken, a step gone back, or the working units changed. */
  const draw = (address, values, whole, as = whole ? "whole" : FOLLOWING) => {
    wait();
    fetched(address, values, whole, as);
  };

  const fetched = (address, values, whole, as, slow = false) => {
    clearTimeout(judging);
    ask(address, (fresh, refused, shortest) => {
      if (refused || !isSketch(fresh.getElementById("drawing"))) arrived();
      answered(shortest, values);
      steady(() => {
        putRegions(fresh, refused);
        sayWhich(refused);
        if (whole) putRows(form, fresh);
        else putNotes(form, fresh);
        lightFocused(); // before the page is laid out, which it then is once
      });
      if (byId("verdict").classList.contains("unjudged") || document.querySelector("#refusal [data-brief]")) {
        judging = setTimeout(fetched, REST_MS, address, values, false, FOLLOWING, true);
        return;
      }
      tell();
      if (whole) {
        showChanged(form);
        intoSight(document.activeElement);
      }
      if (!refused) bring(shortest, as);
      offer(shortest);
    }, as, slow);
  };

  const follow = (whole, changes, name) => {
    const values = typed(form, changes);
    byId("files").classList.add("held"); // until the drawing has followed, the files are of the part before
    draw(addressOf(form, values), values, whole, whole ? "whole" : following(name)); // asked before it is noted, which takes the browser some ms
    edited(values);
  };

  /** What is taken stands in the fields at once: whatever is typed or sent before it is answered goes on from it. */
  const take = (changes) => {
    settle();
    fill(form, changes);
    follow(true, changes);
    settle();
  };

  form.addEventListener("input", ({ target }) => {
    if (target.form !== form || !target.name) return; // a name to save it under, and a font, are nothing of the form
    follow(target.name === "units", [], target.name);
  });
  form.addEventListener("change", settle);
  form.addEventListener("submit", (event) => {
    event.preventDefault();
    settle();
    draw(addressOf(form, typed(form)), typed(form), false);
  });
  document.addEventListener("click", (event) => {
    const link = event.target.closest("a[data-changes]");
    const field = byId("refusal").contains(event.target) && event.target.hash && byId(event.target.hash.slice(1));
    if (event.ctrlKey || event.metaKey || event.shiftKey || !(link || field)) return;
    event.preventDefault();
    if (!link) return goToField(field);
    byId(link.closest(".row")?.dataset.parameter)?.focus({ preventScroll: true }); // the link goes, its row stays
    take(JSON.parse(link.dataset.changes));
  });
  walk((values, isAnswered) => {
    fill(form, values);
    draw(isAnswered ? location.href : addressOf(form, values), values, true);
  });
  lights(byId("drawing"));
  if (byId("font_file")) {
    ownFont(form, () => addressOf(form, typed(form)));
    isHere(location.href).then((is) => is && draw(location.href, typed(form), true));
  }
  const lost = begin(typed(form));
  if (lost) {
    fill(form, lost);
    draw(addressOf(form, lost), lost, true);
  } else offer(location.href);
};
