// A page of work that goes on: what is said of it is asked for again until it is done. Without this module the page
// asks for itself anew.

const AGAIN_MS = 1000;
const followed = () => document.getElementById("followed");
const goesOn = () => followed()?.hasAttribute("data-goes-on");

/** Put the fresh words in place; whoever stands on a button stays on it. */
const put = (fresh) => {
  const at = document.activeElement?.id;
  followed().replaceWith(fresh);
  if (at) document.getElementById(at)?.focus();
};

const follow = async () => {
  try {
    const answer = await fetch(location.href);
    const page = new DOMParser().parseFromString(await answer.text(), "text/html");
    const fresh = page.getElementById("followed");
    if (fresh && fresh.outerHTML !== followed().outerHTML) put(fresh);
  } catch {
    // asked again: the server may be back by then
  }
  if (goesOn()) setTimeout(follow, AGAIN_MS);
};

if (goesOn()) setTimeout(follow, AGAIN_MS);
