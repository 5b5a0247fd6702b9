// The field in use stays where it is on the screen while what stands above it grows or shrinks, and what is said of it
// is seen with it. Whoever has scrolled away from it is left there.

const scrollerOf = (one) => {
  for (let up = one.parentElement; up; up = up.parentElement) {
    if (up.scrollHeight > up.clientHeight + 1 && /auto|scroll/.test(getComputedStyle(up).overflowY)) return up;
  }
  return document.scrollingElement;
};

const isSeen = (one) => {
  const { top, left, width, height } = one.getBoundingClientRect();
  const there = document.elementFromPoint(left + width / 2, top + height / 2);
  return one.contains(there);
};

/** Bring something into sight, with the row of the table that it is in as far as there is room. */
export const intoSight = (one) => {
  one.closest(".row")?.scrollIntoView({ block: "nearest" });
  one.scrollIntoView({ block: "nearest" });
};

/** Change the page, and leave the field in use where it is. */
export const steady = (change) => {
  const field = document.activeElement;
  const held = field?.closest("#table .row") && isSeen(field);
  const before = held && field.getBoundingClientRect().top;
  change();
  if (!held || field !== document.activeElement) return;
  scrollerOf(field).scrollTop += field.getBoundingClientRect().top - before;
  intoSight(field);
};
