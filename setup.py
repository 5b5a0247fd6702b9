"""Which packages an installation holds; all else about it is in pyproject.toml."""

from setuptools import find_packages, setup

setup(
    packages=[*find_packages(include=["parts*", "webapp*"]), "webapp.static"],
    package_dir={"webapp.static": "static"},
)
