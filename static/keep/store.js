// What this browser keeps: favourites, one of a template at most, and parts saved under a name. What another hand left
// there is passed over.

const FAVOURITES = "platewright.favourites";
const SAVED = "platewright.saved";

/** Whether this browser keeps anything. */
export const keeps = () => {
  try {
    localStorage.setItem("platewright.asked", "");
    localStorage.removeItem("platewright.asked");
    return true;
  } catch {
    return false;
  }
};

const list = (key) => {
  try {
    const kept = JSON.parse(localStorage.getItem(key) ?? "[]");
    return Array.isArray(kept) ? kept : [];
  } catch {
    return [];
  }
};

const texts = (one, ...names) => one && names.every((name) => typeof one[name] === "string");

/** Slug and query of each favourite, in the order they were starred; before queries were kept it was the slug alone. */
export const favourites = () =>
  list(FAVOURITES)
    .map((one) => (typeof one === "string" ? { slug: one, query: "" } : one))
    .filter((one) => texts(one, "slug", "query"));

export const setFavourites = (all) => localStorage.setItem(FAVOURITES, JSON.stringify(all));

/** Name, slug, query and size of each saved part, the newest first. */
export const saved = () => list(SAVED).filter((one) => texts(one, "name", "slug", "query", "size"));

export const setSaved = (all) => localStorage.setItem(SAVED, JSON.stringify(all));

/** Hand over whatever is changed here in another tab, or was while this page was away. */
export const onChange = (redraw) => {
  addEventListener("storage", ({ key }) => (key === FAVOURITES || key === SAVED) && redraw());
  addEventListener("pageshow", ({ persisted }) => persisted && redraw());
};
