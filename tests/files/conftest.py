"""What tests of files share: a reader of solids."""

import pytest


@pytest.fixture(scope="session")
def read(tmp_path_factory):
    """Reads STEP bytes back as a shape; cadquery is imported once, here."""
    import cadquery as cq

    path = tmp_path_factory.mktemp("step") / "part.step"

    def reader(content):
        path.write_bytes(content)
        return cq.importers.importStep(str(path))

    return reader
