// A file to open again: dropped on the page it is opened at once, and so is one that is chosen.

import { whenDropped } from "./drop.js";

const [form, file] = ["open", "file"].map((id) => document.getElementById(id));
const send = () => form.requestSubmit();

file.addEventListener("change", () => {
  if (file.files.length) send();
});
whenDropped(file, send);
