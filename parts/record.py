"""A record: all that a file may carry about a part. Exporters are handed this and nothing else."""

from collections.abc import Mapping
from dataclasses import dataclass
from importlib import metadata
from pathlib import Path

from parts.condition import applies
from parts.finding import Finding
from parts.job import Job
from parts.measure import Measures
from parts.parameter import Spec, Value
from parts.profile import Profile
from parts.template import Template
from parts.units import Units


@dataclass(frozen=True)
class Record:
    """One part, drawn and checked.

    `parameters` holds every value (mm and degrees); `address` is the page's address that draws the same
    part again, without a host.
    """

    template: Template
    parameters: Mapping[str, Value]
    address: str
    profile: Profile
    job: Job
    material_title: str
    findings: tuple[Finding, ...]
    measures: Measures
    cautions: tuple[str, ...]
    units: Units = "mm"
    dxf_version: str = "R2010"
    notes: bool = False

    @property
    def specs(self) -> Mapping[str, Spec]:
        """How each parameter is declared."""
        return self.template.parameters.specs()

    def has(self, name: str) -> bool:
        """Tell whether a parameter has a say in this part."""
        return applies(name, self.specs, self.parameters)


def _version() -> str:
    """The version from the project file beside the package, or of the installed distribution."""
    project = Path(__file__).parent.parent / "pyproject.toml"
    if project.is_file():
        line = next(line for line in project.read_text("utf-8").splitlines() if line.startswith("version = "))
        return line.split('"')[1]
    return metadata.version("platewright")


VERSION = _version()
