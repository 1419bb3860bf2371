"""In place of Pyodide's package installer: a handbook never installs a package.

The original imports shutil, tempfile, zipfile and every compression format.
Pyodide's JavaScript half reads the two paths and calls the function as it starts.
"""

from site import getsitepackages


class _Path:
    """As much of pathlib.Path as is asked for; a plain str would arrive without methods."""

    def __init__(self, text: str) -> None:
        self.text = text

    def __str__(self) -> str:
        return self.text


SITE_PACKAGES = _Path(getsitepackages()[0])
DSO_DIR = _Path("/usr/lib")


def init_loaded_packages() -> None:
    """There are none."""
