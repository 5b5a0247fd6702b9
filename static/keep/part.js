// The part on the page as it can be handed on: its name, its size, and its values in full.

const LEFT = ["typed_in", "was", "compensate"]; // what says nothing of the part
const byId = (id) => document.getElementById(id);

/** Every value of the part as a query, said in full: it draws the same in every shop. Empty where no part is shown. */
export const explicit = () => {
  const form = byId("dimensions");
  if (!form) return "";
  const values = new URLSearchParams(new FormData(form));
  for (const name of LEFT) values.delete(name);
  return values.toString();
};

export const slugOf = (form) => new URL(form.action).pathname.split("/").pop();

/** `100 mm x 100 mm, 6 mm`: what a list says of it. */
export const size = () => [...document.querySelectorAll("#facts dd")].slice(0, 2).map((fact) => fact.textContent.trim()).join(", ");

/** A file name of a title: `lamp-bracket-left`. */
export const fileName = (title) => title.toLowerCase().replace(/[^a-z0-9]+/g, "-").replace(/^-|-$/g, "") || "part";

/** Have the browser save a file. */
export const download = (blob, name) => {
  const link = document.createElement("a");
  link.href = URL.createObjectURL(blob);
  link.download = name;
  link.click();
  setTimeout(() => URL.revokeObjectURL(link.href), 10000);
};
