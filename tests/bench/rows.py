"""How many rows of a table are made a second, beside a loop over bare ezdxf writes of the same run.

    python -m tests.bench.rows [--rows 2000] [--cluster]

One after another are made: the rows in this process, in two, and with --cluster on a scheduler with two workers that
this starts; beside each, a loop over bare writes by ezdxf of an outline with a hole. Printed are rows a second,
by the clock and by processor time of this process and its children, and each in bare writes. `--memory` prints instead
what a run in this process holds after every tenth of its rows.
"""

import argparse
import io
import os
import resource
import sys
import tempfile
import time
from pathlib import Path

import ezdxf

from parts.orders import Task, in_processes, on_cluster, read_items, run_batch
from parts.tables import read_table

WRITES = 200
IDLE_S = 10


def bare():
    """The seconds of processor time that a bare write takes."""
    start = time.process_time()
    for number in range(WRITES):
        document = ezdxf.new("R2010")
        model = document.modelspace()
        model.add_lwpolyline([(0, 0), (100 + number, 0), (100, 80), (0, 80)], close=True)
        model.add_circle((20, 20), 5)
        document.write(io.StringIO())
    return (time.process_time() - start) / WRITES


def spent():
    """Processor time of this process and of those that it started and has waited for."""
    times = [resource.getrusage(who) for who in (resource.RUSAGE_SELF, resource.RUSAGE_CHILDREN)]
    return sum(each.ru_utime + each.ru_stime for each in times)


def ordered(rows):
    """A table of so many gussets, each of another size, as it is read."""
    lines = (f"gusset-triangle,{60 + (i % 9000) * 0.01:.2f},6,g{i:06d}\n" for i in range(rows))
    return read_items(read_table(("part,leg_a,thickness,name\n" + "".join(lines)).encode(), "rows.csv"), Path())


def made(items, by, progress=lambda done, of: None):
    """The seconds that making the items takes, by the clock and of processors."""
    with tempfile.TemporaryDirectory() as folder:
        start, began = time.perf_counter(), spent()
        run_batch(items, Task(Path(folder), ("dxf",)), by, progress)
        return time.perf_counter() - start, spent() - began


def tell(what, rows, took, write):
    """Print one figure."""
    clock, worked = took
    print(  # noqa: T201 - a benchmark is read
        f"{what:<12} {rows / clock:7.0f} rows/s by the clock, {rows / worked:7.0f} by processor time; "
        f"{1000 * worked / rows:5.2f} ms a row, {worked / rows / write:4.2f} bare writes of {1000 * write:.2f} ms"
    )


def held_mb():
    """What this process holds, MB."""
    status = Path("/proc/self/status").read_text("ascii")
    return int(status.partition("VmRSS:")[2].split()[0]) / 1024


def memory(rows):
    """Print what a run holds."""
    items = ordered(rows)
    print(f"{rows:,} rows read: {held_mb():.0f} MB", flush=True)  # noqa: T201

    def told(done, of):
        if done % (of // 10) == 0:
            print(f"{done:,}: {held_mb():.0f} MB", flush=True)  # noqa: T201

    made(items, in_processes(1), told)


def cluster(items, rows):
    """Print the figure of a cluster of two workers on this machine, less what it spends idle."""
    from dask.distributed import LocalCluster

    with LocalCluster(n_workers=2, threads_per_worker=1, dashboard_address=None) as local:
        by = on_cluster(local.scheduler_address)
        made(ordered(50), by)  # what workers load is loaded
        pids = [os.getpid(), *(worker.pid for worker in local.workers.values())]
        before = worked_by(pids)
        time.sleep(IDLE_S)
        idle = (worked_by(pids) - before) / IDLE_S
        before = worked_by(pids)
        clock, _ = made(items, by)
        worked = worked_by(pids) - before - idle * clock
    tell("on a cluster", rows, (clock, worked), bare())
    print(f"{'':<12} less {idle:.2f} s of a processor each second, which it takes idle too")  # noqa: T201


def worked_by(pids):
    """The processor time of processes."""
    return sum(map(ticks, pids)) / os.sysconf("SC_CLK_TCK")


def ticks(pid):
    """The processor time of a process, in ticks of the system."""
    return sum(map(int, Path(f"/proc/{pid}/stat").read_text().rpartition(")")[2].split()[11:13]))


def main():
    """Print what is asked for."""
    command = argparse.ArgumentParser(description=__doc__.partition("\n")[0])
    command.add_argument("--rows", type=int, default=2000)
    command.add_argument("--cluster", action="store_true")
    command.add_argument("--memory", action="store_true")
    given = command.parse_args()
    if given.memory:
        return memory(given.rows)
    items = ordered(given.rows)
    made(ordered(50), in_processes(1))
    for what, by in (("alone", in_processes(1)), ("by two", in_processes(2))):
        tell(what, given.rows, made(items, by), bare())
    if given.cluster:
        cluster(items, given.rows)
    return sys.stdout.flush()


if __name__ == "__main__":
    main()
