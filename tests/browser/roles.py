"""What a page says of itself to whoever doesn't see it: names, roles, values, lists, and room to be pressed.

Criteria of WCAG 2.2 at A and AA; roles and attributes by WAI-ARIA 1.2, what may stand in what by the HTML standard.
"""

SAID = """() => {
  const said = (one) => one.outerHTML.slice(0, 110);
  const all = (wanted) => [...document.querySelectorAll(wanted)];
  const shown = (one) => one.checkVisibility() && !one.closest(".unseen, [aria-hidden=true]");
  const PRESSED = "a[href], button, input:not([type=hidden]), select, textarea, summary";
  const ROLES = "group status alert img region table row list listitem presentation none toolbar tablist tab tabpanel "
    + "dialog navigation main banner contentinfo search form link button radiogroup radio checkbox note figure math "
    + "application log progressbar separator slider switch tooltip graphics-document graphics-symbol";
  const STATES = {
    pressed: ["true", "false", "mixed"], expanded: ["true", "false"], hidden: ["true", "false"],
    current: ["page", "step", "location", "date", "time", "true", "false"], live: ["polite", "assertive", "off"],
    invalid: ["true", "false", "grammar", "spelling"], busy: ["true", "false"], atomic: ["true", "false"],
    disabled: ["true", "false"], selected: ["true", "false"], checked: ["true", "false", "mixed"],
    required: ["true", "false"], modal: ["true", "false"], readonly: ["true", "false"],
    sort: ["ascending", "descending", "none", "other"],
  };
  const OTHERS = "label labelledby describedby details controls owns activedescendant roledescription valuenow "
    + "valuemin valuemax valuetext keyshortcuts haspopup orientation level errormessage relevant description colspan";
  const unknown = (one) => [...one.attributes].some(({ name, value }) => {
    if (!name.startsWith("aria-")) return false;
    const state = name.slice(5);
    return state in STATES ? !STATES[state].includes(value) : !OTHERS.split(" ").includes(state);
  });
  const lost = (name) => all(`[${name}]`)
    .filter((one) => !one.getAttribute(name).split(" ").every((id) => document.getElementById(id)));
  const isOf = (one, role) => one.getAttribute("role") === role || one.tagName.toLowerCase() === role;
  const boxes = all(PRESSED).filter((one) => shown(one) && !one.disabled)
    .map((one) => [one, one.labels?.[0] && /checkbox|radio|file/.test(one.type) ? one.labels[0] : one])
    .map(([one, by]) => [one, by.getBoundingClientRect()]).filter(([, { width }]) => width);
  const inline = (one) => getComputedStyle(one).display === "inline" && [...one.parentElement.childNodes]
    .some((node) => node.nodeType === 3 && /[^\\s|,;.]/.test(node.data));
  const far = ([one, box]) => boxes.every(([other, its]) => {
    if (other === one || one.contains(other) || other.contains(one)) return true;
    const x = box.left + box.width / 2, y = box.top + box.height / 2;
    return Math.hypot(Math.max(its.left - x, 0, x - its.right), Math.max(its.top - y, 0, y - its.bottom)) >= 12;
  });
  const levels = all("h1, h2, h3, h4, h5, h6").filter(shown).map((one) => Number(one.tagName[1]));
  const navigations = all("nav").filter(shown).map((one) => one.getAttribute("aria-label") ?? "");
  return {
    untold: [document.documentElement.lang, document.title.trim()].filter((text) => !text),
    fixed: all('meta[http-equiv="refresh"], meta[name=viewport][content*="user-scalable=no"]').map(said),
    roles: all("[role]").filter((one) => !ROLES.split(" ").includes(one.getAttribute("role"))).map(said),
    states: all("*").filter(unknown).map(said),
    pressed: all("[aria-pressed]").filter((one) => !isOf(one, "button")).map(said),
    lost: ["aria-controls", "aria-owns", "aria-activedescendant", "for", "headers", "list"].flatMap(lost).map(said),
    hidden: all("[aria-hidden=true]").flatMap((one) => [one, ...one.querySelectorAll("*")])
      .filter((one) => one.tabIndex >= 0 && one.matches(`${PRESSED}, [tabindex]`) && one.checkVisibility()).map(said),
    pictures: [...all("img:not([alt])"), ...all("[role=img]").filter((one) => !one.getAttribute("aria-label")
      && !one.getAttribute("aria-labelledby") && !one.querySelector("title"))].map(said),
    lists: [...all("ul > :not(li, script, template), ol > :not(li, script, template)"),
      ...all("li").filter((one) => !one.parentElement.matches("ul, ol, menu")),
      ...all("dl > :not(dt, dd, div, script, template)"),
      ...all("dt, dd").filter((one) => !one.closest("dl"))].map(said),
    within: all("a[href], button").filter((one) => one.querySelector(`${PRESSED}, [tabindex]`)).map(said),
    order: all("[tabindex]").filter((one) => one.tabIndex > 0).map(said),
    leaps: levels.filter((level, i) => i && level > levels[i - 1] + 1),
    alike: navigations.filter((name, i) => navigations.indexOf(name) !== i),
    headless: all("table").filter((one) => shown(one) && !one.querySelector("th")).map(said),
    unheard: all("fieldset:not([aria-label])").filter((one) => shown(one) && !one.querySelector("legend")).map(said),
    small: boxes.filter(([one, box]) => (box.width < 23.5 || box.height < 23.5) && !inline(one) && !far([one, box]))
      .map(([one, box]) => `${Math.round(box.width)} by ${Math.round(box.height)}: ${said(one)}`),
  };
}"""
"""What is wrong, by kind; `small` are targets under 24 px with another nearer than 12 px to their middle (2.5.8)."""
SOUND = {
    "untold": [], "fixed": [], "roles": [], "states": [], "pressed": [], "lost": [], "hidden": [], "pictures": [],
    "lists": [], "within": [], "order": [], "leaps": [], "alike": [], "headless": [], "unheard": [], "small": [],
}  # fmt: skip
