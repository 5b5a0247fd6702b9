// What is done with a part besides cutting it: saved under a name, copied as a link, printed, pictured. All of it is done
// in the browser, so this module shows the buttons.

import { opens, write } from "./file.js";
import { download, explicit, fileName, size, slugOf } from "./part.js";
import { picture } from "./picture.js";
import { keeps, saved, setSaved } from "./store.js";

const byId = (id) => document.getElementById(id);

const copyText = async (text) => {
  try {
    await navigator.clipboard.writeText(text);
  } catch {
    const field = byId("link"); // a page that isn't at a secure address may not write there by itself
    field.hidden = false;
    field.value = text;
    field.select();
    if (!document.execCommand("copy")) return false;
  }
  return true;
};

export const acts = (place, form) => {
  const say = (text) => {
    byId("acts-said").textContent = text;
  };
  const title = () => document.querySelector("h1").textContent;
  const name = () => byId("save-name").value.trim() || title();

  const does = {
    save: () => {
      if (!keeps()) return say("This browser keeps nothing: save it as a file.");
      const others = saved().filter((one) => one.name !== name());
      setSaved([{ name: name(), slug: slugOf(form), query: explicit(), size: size() }, ...others]);
      return say(`Saved in this browser as “${name()}”. It stands on the parts list.`);
    },
    file: () => write(name(), slugOf(form), explicit()),
    link: async () => {
      const text = `${location.origin}/parts/${slugOf(form)}?${explicit()}`;
      say((await copyText(text)) ? "The link is copied. It says every value." : "Copy the link from the field.");
    },
    print: () => print(),
    drawing: () => pictured(false),
    part: () => pictured(true),
  };

  const pictured = async (bare) => {
    try {
      const drawn = await picture(document.querySelector("#drawing svg"), bare);
      download(drawn, `${fileName(title())}${bare ? "" : "-dimensions"}.png`);
    } catch (error) {
      say(error.message);
    }
  };

  /** What is opened over the form closes by Escape and by whatever is done elsewhere. */
  const close = ({ target, key }) => {
    for (const fold of place.querySelectorAll("details[open]")) {
      if (key ? key !== "Escape" : fold.contains(target)) continue;
      if (key && fold.contains(target)) fold.querySelector("summary").focus();
      fold.open = false;
    }
  };

  place.hidden = false;
  for (const kind of ["focusin", "pointerdown", "keydown"]) document.addEventListener(kind, close);
  place.addEventListener("click", (event) => does[event.target.closest("[data-act]")?.dataset.act]?.());
  byId("save-name").addEventListener("keydown", (event) => {
    if (event.key !== "Enter") return;
    event.preventDefault();
    does.save();
  });
  opens(byId("open-part"), say);
};
