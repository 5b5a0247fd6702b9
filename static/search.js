// The search of the catalogue: the list follows the typing. Without this module the form is sent.

import { ask } from "./ask.js";
import { putRegions } from "./regions.js";

export const search = (form) => {
  const put = (fresh, refused, address) => {
    history.replaceState(history.state, "", address);
    putRegions(fresh, refused);
    document.getElementById("told").textContent = document.querySelector("#list .count").textContent;
  };
  form.addEventListener("input", () => ask(`${form.action}?${new URLSearchParams(new FormData(form))}`, put));
};
