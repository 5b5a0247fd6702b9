"""The job pack: everything that goes with a part in one ZIP, with a page of contents to open first."""

from parts.packing.naming import file_name
from parts.packing.pack import CONTENTS, packed

__all__ = ["CONTENTS", "file_name", "packed"]
