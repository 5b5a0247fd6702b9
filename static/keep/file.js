// A part as a small file, and back: dropped on the parts list or on a part, or chosen, it is opened again.

import { download, fileName } from "./part.js";

const LARGEST = 1_000_000;
const PAGE = /^\/parts\/[a-z0-9-]+$/;

export const write = (name, slug, query) => {
  const address = `/parts/${slug}?${query}`;
  const part = { platewright: "part", name, template: slug, address, values: Object.fromEntries(new URLSearchParams(query)) };
  download(new Blob([`${JSON.stringify(part, null, 2)}\n`], { type: "application/json" }), `${fileName(name)}.part.json`);
};

/** The page that a file leads to: one written here, or the JSON of a part. A sentence is thrown where it leads nowhere. */
export const read = async (file) => {
  const why = `${file.name} isn’t a part that was saved here: choose a file ending in .part.json, or the JSON of a part.`;
  if (file.size > LARGEST) throw new Error(why);
  let address = "";
  try {
    address = JSON.parse(await file.text()).address;
  } catch {
    throw new Error(why);
  }
  const to = typeof address === "string" && new URL(address, location.origin);
  if (!to || to.origin !== location.origin || !PAGE.test(to.pathname)) throw new Error(why);
  return to.pathname + to.search;
};

const carriesFile = (event) => event.dataTransfer?.types.includes("Files");

/** Open what is chosen in a field, or dropped on the page; `say` is told what is wrong with it. */
export const opens = (field, say) => {
  const open = async (file) => {
    try {
      location.assign(await read(file));
    } catch (error) {
      say(error.message);
    }
  };
  field.addEventListener("change", () => field.files.length && open(field.files[0]));
  addEventListener("dragover", (event) => carriesFile(event) && event.preventDefault());
  addEventListener("drop", (event) => {
    if (!carriesFile(event)) return;
    event.preventDefault();
    if (event.dataTransfer.files.length) open(event.dataTransfer.files[0]);
  });
};
