"""The version of the package, as a build of it is named."""

__version__ = "0.1.0"
