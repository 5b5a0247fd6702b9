"""What a key costs the server: processor time of the answer to each, on every template, without a browser.

    python -m tests.bench.keys SLUG ...
    python -m tests.bench.keys --all
    python -m tests.bench.keys --profile SLUG

Each value that `tests.bench.last_key` types is typed key by key, and asked for as the page asks, with
what it says of the drawing that is shown. It is no wall clock: it tells two trees apart on a busy machine too.
A line is printed as each template is done: median and dearest of all keys, median of those that end a value, ms.
"""

import cProfile
import gzip
import pstats
import re
import sys
import time
from html import unescape
from statistics import mean, median
from urllib.parse import urlencode

import parts
from tests.bench.last_key import FEW, TYPED, tell, values
from webapp.app import make_app
from webapp.forms import TYPED_IN

MOST_MS = 40
"""What the median key of a template may cost."""
_FIELD = re.compile(r'<input id="(\w+)" name="\1" value="([^"]*)"')
_CHOICE = re.compile(r'<select id="(\w+)" name="\1".*?</select>', re.DOTALL)
_CHOSEN = re.compile(r'<option value="([^"]*)" selected')
_KEPT = re.compile(r'data-kept="([^"]*)"')
_WINDOW = "drawing=952x681"


class Typist:
    """Someone at the page of a part: what its fields hold, and how the drawing there was laid out."""

    def __init__(self, slug, profiler=None):
        self.client, self.slug, self.profiler = make_app({}).test_client(use_cookies=False), slug, profiler
        shown = self.client.get(f"/parts/{slug}", headers={"Cookie": _WINDOW}).text
        self.fields = {TYPED_IN: "mm"} | {name: unescape(text) for name, text in _FIELD.findall(shown)}
        for choice in _CHOICE.finditer(shown):
            self.fields[choice[1]] = unescape(chosen[1]) if (chosen := _CHOSEN.search(choice[0])) else ""
        self.kept = ",".join(_KEPT.findall(shown))

    def key(self, name, text):
        """Ask for the drawing with so much typed, and return the processor time of its answer, ms, and the answer."""
        self.fields[name] = text
        said = {"Platewright-Live": f"following {name}", "Platewright-Kept": self.kept, "Cookie": _WINDOW}
        said["Accept-Encoding"] = "gzip"
        address = f"/parts/{self.slug}?{urlencode(self.fields)}"
        if self.profiler:
            self.profiler.enable()
        began = time.process_time()
        answer = self.client.get(address, headers=said)
        took = 1000 * (time.process_time() - began)
        if self.profiler:
            self.profiler.disable()
        self.status = answer.status_code
        if answer.status_code == 200:
            self.kept = ",".join(_KEPT.findall(gzip.decompress(answer.data).decode()))
        return took

    def value(self, name, text):
        """Type a whole value, and return what each of its keys cost."""
        return [self.key(name, text[:end]) for end in range(1, len(text) + 1)]


def measured(template, most, profiler=None):
    """What the keys of some values cost, a list for each value."""
    typed = values(template, most)
    typist = Typist(template.slug)
    typist.value(*typed[0])  # what is loaded once isn't of the key
    typist.profiler = profiler
    return [typist.value(name, text) for name, text in typed]


def main(arguments):
    """Print what the keys cost."""
    profiler = cProfile.Profile() if "--profile" in arguments else None
    every = "--all" in arguments
    chosen = [template for slug, template in parts.templates().items() if every or slug in arguments]
    if not chosen:
        sys.exit(__doc__)
    medians = {}
    for template in chosen:
        keys = measured(template, FEW if every else TYPED, profiler)
        all_keys, last = [ms for value in keys for ms in value], [value[-1] for value in keys]
        medians[template.slug] = median(all_keys)
        figures = f"median {median(all_keys):6.1f}  dearest {max(all_keys):6.1f}  last {median(last):6.1f}"
        tell(f"{template.slug:<24} {figures}  of {len(all_keys)}")
    tell(f"{'all':<24} median {median(medians.values()):6.1f}  mean {mean(medians.values()):6.1f}")
    over = sorted(slug for slug, ms in medians.items() if ms > MOST_MS)
    tell(f"over {MOST_MS} ms: {len(over)} of {len(chosen)}: {' '.join(over)}")
    if profiler:
        pstats.Stats(profiler).sort_stats("cumulative").print_stats(70)


if __name__ == "__main__":
    main(sys.argv[1:])
