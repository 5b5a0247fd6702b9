// What scrolls by itself is a stop for the keys, so that it can be scrolled by them, and only while it does scroll.

const scrolls = (region) => {
  const { overflowX, overflowY } = getComputedStyle(region);
  const beyond = (way, shown, all) => way !== "visible" && all > shown + 1;
  return beyond(overflowX, region.clientWidth, region.scrollWidth) || beyond(overflowY, region.clientHeight, region.scrollHeight);
};

const show = () => {
  for (const region of document.querySelectorAll("[data-scrolls]")) {
    if (scrolls(region)) region.tabIndex = 0;
    else if (region !== document.activeElement) region.removeAttribute("tabindex");
  }
};

if (document.querySelector("[data-scrolls]")) {
  addEventListener("resize", show);
  addEventListener("load", show);
  document.addEventListener("toggle", show, true);
  new MutationObserver(show).observe(document.getElementById("main"), { childList: true, subtree: true });
  document.fonts.ready.then(show);
  show();
}
