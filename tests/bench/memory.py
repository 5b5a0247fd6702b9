"""What a server holds, part after part, each drawn as someone types: the curve has to be flat.

    python -m tests.bench.memory [PARTS]

Every template by turns with values of its own that no part had before, every RICH-th a sign, a map or a symbol, by two
at once. Printed is what the server holds, MB, after each EVERY parts; at the end, whether it grew by more than GROWTH
over the second half. Linux alone tells it.
"""

import random
import re
import sys
import threading
from pathlib import Path
from urllib.parse import urlencode

import parts
from parts.spec import Parameters
from parts.units import number_to_fill_in
from tests.strategies import DEAR
from tests.web.served import served

PARTS, EVERY, RICH = 5000, 250, 40
GROWTH = 0.1


def asked(count):
    """So many addresses of parts and the parameter typed last in each."""
    chance = random.Random(1)
    plain = [slug for slug in parts.templates() if slug not in DEAR]
    for i in range(count):
        template = parts.templates()[plain[i % len(plain)] if i % RICH else sorted(DEAR)[i // RICH % len(DEAR)]]
        specs = [
            spec for name, spec in template.parameters.specs().items()
            if spec.kind == "length" and name not in Parameters.model_fields and spec.default
        ]  # fmt: skip
        typed = {
            spec.name: number_to_fill_in(spec.default * chance.uniform(0.95, 1.06), "mm")
            for spec in chance.sample(specs, min(2, len(specs)))
        }
        yield f"/parts/{template.slug}?{urlencode({'typed_in': 'mm', **typed})}", next(iter(typed))


def held_mb(server):
    """What the server's process holds."""
    told = Path(f"/proc/{server.process.pid}/status").read_text()
    return int(re.search(r"VmRSS:\s+(\d+)", told)[1]) / 1024


def curve(server, count):
    """What the server holds after each EVERY of so many parts, told at once."""
    jobs, lock, told = enumerate(asked(count), 1), threading.Lock(), []

    def work():
        while True:
            with lock:
                number, (address, typed) = next(jobs, (None, (None, None)))
            if number is None:
                return
            server.ask("GET", address, headers={"Platewright-Live": f"following {typed}"})
            if number % EVERY == 0:
                told.append(held_mb(server))
                print(f"{number:6}  {told[-1]:6.0f} MB", flush=True)  # noqa: T201

    both = [threading.Thread(target=work) for _ in range(2)]
    for one in both:
        one.start()
    for one in both:
        one.join()
    return told


def main(count):
    """Draw so many parts, and exit with 1 where what is held grew."""
    with served() as server:
        told = curve(server, count)
    half = told[len(told) // 2 - 1]
    grew = told[-1] / half - 1
    print(f"from the middle on it grew by {100 * grew:.0f} %")  # noqa: T201
    return int(grew > GROWTH)


if __name__ == "__main__":
    sys.exit(main(int(sys.argv[1]) if sys.argv[1:] else PARTS))
