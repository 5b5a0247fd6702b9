// The parts that were saved in this browser, on top of the parts list: opened, renamed, removed; and those of a file.

import { opens } from "./file.js";
import { keeps, onChange, saved, setSaved } from "./store.js";

const button = (text, label, act) => {
  const made = document.createElement("button");
  made.type = "button";
  made.textContent = text;
  made.setAttribute("aria-label", label);
  made.addEventListener("click", act);
  return made;
};

const text = (of, name) => Object.assign(document.createElement("span"), { className: name, textContent: of });

export const shelf = (place, list) => {
  const rows = place.querySelector("ul");

  const change = (at, one) => {
    const all = saved();
    all.splice(at, 1, ...(one ? [one] : []));
    setSaved(all);
    show();
    const left = rows.querySelectorAll("a");
    (left[Math.min(at, left.length - 1)] ?? document.getElementById("q")).focus();
  };

  const rename = (row, at, one) => {
    const field = Object.assign(document.createElement("input"), { value: one.name, maxLength: 100 });
    field.setAttribute("aria-label", `New name of ${one.name}`);
    let done = false;
    const end = (name) => {
      if (done) return;
      done = true;
      change(at, { ...one, name: name.trim() || one.name });
    };
    field.addEventListener("keydown", ({ key }) => {
      if (key === "Enter") end(field.value);
      if (key === "Escape") end(one.name);
    });
    field.addEventListener("blur", () => end(field.value));
    row.querySelector("a").replaceWith(field);
    field.select();
  };

  const rowOf = (one, at) => {
    const row = document.createElement("li");
    const link = document.createElement("a");
    link.href = `/parts/${encodeURIComponent(one.slug)}?${one.query}`;
    const picture = list.querySelector(`[data-slug="${CSS.escape(one.slug)}"] .picture`);
    link.append(...(picture ? [picture.cloneNode(true)] : []), text(one.name, "name"), text(one.size, "summary"));
    const acts = Object.assign(document.createElement("p"), { className: "shelf-acts" });
    acts.append(
      button("Rename", `Rename ${one.name}`, () => rename(row, at, one)),
      button("Remove", `Remove ${one.name}`, () => change(at, null)),
    );
    row.append(link, acts);
    return row;
  };

  const show = () => {
    const all = saved();
    rows.replaceChildren(...all.map(rowOf));
    place.hidden = !all.length;
  };

  const said = document.getElementById("open-said");
  document.getElementById("opening").hidden = false;
  opens(document.getElementById("open-part"), (why) => {
    said.textContent = why;
  });
  if (!keeps()) return;
  onChange(show);
  show();
};
