// What scrolls by itself is a stop for the keys, so that it can be scrolled by them, and only while it does scroll.

const scrolls = (region) => {
  const { overflowX, overflowY } = getComputedStyle(region);
  const beyond = (way, shown, all) => way !== "visible" && all > shown + 1;
  return beyond(overflowX, region.clientWidth, region.scrollWidth) || beyond(overflowY, region.clientHeight, region.scrollHeight);
};

const show = () => {
  const seen = [...document.querySelectorAll("[data-scrolls]")].map((region) => [region, scrolls(region)]); // then changed
  for (const [region, is] of seen) {
    if (is) region.tabIndex = 0;
    else if (region !== document.activeElement) region.removeAttribute("tabindex");
  }
};

/** Look once the frame is shown: its layout is done then, and nothing waits for this. */
let waits = false;
const showLater = () => {
  if (waits) return;
  waits = true;
  requestAnimationFrame(() => setTimeout(() => {
    waits = false;
    show();
  }));
};

if (document.querySelector("[data-scrolls]")) {
  addEventListener("resize", show);
  addEventListener("load", show);
  document.addEventListener("toggle", showLater, true);
  new MutationObserver(showLater).observe(document.getElementById("main"), { childList: true, subtree: true });
  document.fonts.ready.then(show);
  show();
}
