"""What of the tests runs in one process, so that what they share is made once a run and not once a process."""

from tests import library

FOLDERS = ("browser", "setup")
"""Folders whose tests share a browser, or an environment."""
MODULES = (
    *("test_documents_run", "test_own_font", "test_served", "test_workers", "test_depth", "test_openapi"),
    *("test_layers", "test_printer", "test_cluster"),
)
"""Modules whose tests share a tree, a server or other processes."""


def shared_by(nodeid: str) -> str:
    """The folder, module or template whose browser, fixtures or drawings a test shares; the test itself where none."""
    path, _, test = nodeid.partition("::")
    folder, module = path.split("/")[1], path.rpartition("/")[2].removesuffix(".py")
    if folder in FOLDERS or module in MODULES:
        return folder if folder in FOLDERS else module
    words = test.partition("[")[2]
    return next((slug for slug in library.SLUGS if slug in words), nodeid)
