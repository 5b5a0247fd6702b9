"""Which packages an installation holds; all else about it is in pyproject.toml.

Every folder counts, one of data or pages too. `static` stays at the top of the tree and is installed inside `webapp`.
"""

from setuptools import find_namespace_packages, setup

BUILT = ["*__pycache__*"]

setup(
    packages=[
        *find_namespace_packages(include=["parts*", "webapp*"], exclude=BUILT),
        "webapp.static",
        *(f"webapp.static.{name}" for name in find_namespace_packages("static", exclude=BUILT)),
    ],
    package_dir={"webapp.static": "static"},
)
