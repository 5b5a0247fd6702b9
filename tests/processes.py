"""Runs tests in several processes that are forked once all tests are collected.

A process that starts anew has to load the tree and collect every test for itself, which takes a tenth of a whole run
for each; a forked one has them, and whatever was drawn by then. The processes ask for tests as they become free, and
send their reports back; see `tests.together` for what goes to one process.
"""

import atexit
import multiprocessing
import os
import traceback
from collections import deque
from collections.abc import Iterator
from itertools import groupby
from multiprocessing.connection import Connection, wait
from typing import Any

import pytest

from tests.together import shared_by

Group = list[int]
"""The places of tests in the session that go to one process."""
FORK = "fork"


def pytest_addoption(parser: pytest.Parser) -> None:
    """Add the option that says how many processes run the tests."""
    about = "how many processes run the tests: a number, or auto for two more than there are cores"
    parser.addoption("--processes", default="1", metavar="N", help=about)


def pytest_runtestloop(session: pytest.Session) -> bool | None:
    """Run the tests in as many processes as are asked for; where the system doesn't fork any, in this one."""
    options = session.config.option
    alone = options.processes == "1" or FORK not in multiprocessing.get_all_start_methods()
    if alone or options.collectonly or session.testsfailed:
        return None
    run(session, number_of(options.processes))
    return True


def number_of(asked: str) -> int:
    """How many processes are asked for.

    `auto` is two more than there are cores: a browser, a server or another program is waited for in many tests.
    """
    return (os.cpu_count() or 1) + 2 if asked == "auto" else int(asked)


def run(session: pytest.Session, processes: int) -> None:
    """Run the tests of a session in so many processes."""
    session.config._tmp_path_factory.getbasetemp()  # one for all
    crew = Crew(session, groups_of(session.items))
    try:
        crew.work(processes)
    finally:
        crew.dismiss()
    if session.shouldfail:
        raise session.Failed(session.shouldfail)
    if session.shouldstop:
        raise session.Interrupted(session.shouldstop)


def groups_of(items: list[pytest.Item]) -> list[Group]:
    """Divide tests into those that share something, in the order of their first."""
    named = [(shared_by(item.nodeid), at) for at, item in enumerate(items)]
    first: dict[str, int] = {}
    for name, at in named:
        first.setdefault(name, at)
    ordered = sorted(named, key=lambda one: (first[one[0]], one[1]))
    return [[at for _, at in group] for _, group in groupby(ordered, key=lambda one: one[0])]


class Crew:
    """The processes of a run, as the one that started them sees them."""

    def __init__(self, session: pytest.Session, groups: list[Group]) -> None:
        """Begin with no process and all groups of tests to be handed out."""
        self.session, self.config, self.groups = session, session.config, deque(groups)
        self.members: dict[Connection, Member] = {}

    def work(self, processes: int) -> None:
        """Hand out all tests and take in all reports, also of a process that ended before its time."""
        for _ in range(processes):
            self.engage()
        while self.members:
            for line in wait(list(self.members)):
                self.listen(self.members[line])  # type: ignore[index]

    def engage(self) -> None:
        """Start a process."""
        near, far = multiprocessing.Pipe()
        others = [near, *self.members]
        process = multiprocessing.get_context(FORK).Process(target=serve, args=(self.session, far, others))
        process.start()
        far.close()
        self.members[near] = Member(process, near)

    def listen(self, member: "Member") -> None:
        """Take in one message of a process, or its end."""
        try:
            what, value = member.line.recv()
        except (EOFError, ConnectionError):
            self.dismissed(member)
            return
        if what == "more":
            self.hand_out(member)
        elif what == "trouble":
            member.trouble = value
        else:
            self.report(self.config.hook.pytest_report_from_serializable(config=self.config, data=value), member)

    def hand_out(self, member: "Member") -> None:
        """Give a process the next tests, or nothing where none are left or the run is to stop."""
        stop = self.session.shouldstop or self.session.shouldfail
        group = self.groups.popleft() if self.groups and not stop else []
        member.left.extend(group)
        member.line.send(group)

    def report(self, report: pytest.TestReport, member: "Member") -> None:
        """Tell a report to whoever counts or prints them."""
        self.config.hook.pytest_runtest_logreport(report=report)
        if report.when == "teardown":
            member.left.popleft()
            self.config.hook.pytest_runtest_logfinish(nodeid=report.nodeid, location=report.location)

    def dismissed(self, member: "Member") -> None:
        """Let a process go; a test that it ended in has failed, and another process takes what it leaves."""
        del self.members[member.line]
        member.process.join()
        said = f"A process of tests ended with status {member.process.exitcode}. {member.trouble}"
        if member.left:
            item = self.session.items[member.left.popleft()]
            failed = pytest.TestReport(item.nodeid, item.location, {}, "failed", said, "call")
            self.config.hook.pytest_runtest_logreport(report=failed)
            self.groups.extendleft([list(member.left)] if member.left else [])
            self.engage()
        elif member.process.exitcode:
            raise RuntimeError(said)

    def dismiss(self) -> None:
        """End the processes that are still there."""
        for member in self.members.values():
            member.process.terminate()
            member.process.join()


class Member:
    """One process: the line to it, the tests it has not ended yet, and what went wrong in it outside of a test."""

    def __init__(self, process: Any, line: Connection) -> None:
        """Begin with no tests."""
        self.process, self.line = process, line
        self.left: deque[int] = deque()
        self.trouble = ""


def serve(session: pytest.Session, line: Connection, others: list[Connection]) -> None:
    """Run tests in a process of its own as long as there are any, and end it."""
    for other in others:
        other.close()
    apart(session.config, line)
    status = 1
    try:
        for at, following in pairs(handed_out(line)):
            item, after = session.items[at], None if following is None else session.items[following]
            session.config.hook.pytest_runtest_protocol(item=item, nextitem=after)
        status = 0
    except (KeyboardInterrupt, ConnectionError):
        pass
    except BaseException:  # noqa: BLE001 - whatever it is, a test that didn't run has failed
        line.send(("trouble", traceback.format_exc()))
    finally:
        line.close()
        atexit._run_exitfuncs()
        os._exit(status)


def apart(config: pytest.Config, line: Connection) -> None:
    """Part a forked process from its parent: it prints nothing, and has its own place for what tests print."""
    capture = config.pluginmanager.getplugin("capturemanager")
    capture.stop_global_capturing()
    capture.start_global_capturing()
    config.pluginmanager.unregister(name="terminalreporter")
    config.pluginmanager.register(Sender(config, line))


class Sender:
    """Sends reports to the process that counts them."""

    def __init__(self, config: pytest.Config, line: Connection) -> None:
        """Take the configuration that knows how a report is written down, and where to send it."""
        self.config, self.line = config, line

    def pytest_runtest_logreport(self, report: pytest.TestReport) -> None:
        """Send a report."""
        data = self.config.hook.pytest_report_to_serializable(config=self.config, report=report)
        self.line.send(("report", data))


def handed_out(line: Connection) -> Iterator[int]:
    """Ask for tests until none come."""
    while True:
        line.send(("more", None))
        group = line.recv()
        if not group:
            return
        yield from group


def pairs(each: Iterator[int]) -> Iterator[tuple[int, int | None]]:
    """Give each with the one that follows, or None: what the next test needs isn't taken down after this one."""
    before = next(each, None)
    for one in each:
        yield before, one  # type: ignore[misc]
        before = one
    if before is not None:
        yield before, None
