"""The crash file: what went wrong inside, kept for whoever mends the tool."""

from __future__ import annotations

import os
import platform
import sys
import tempfile
import traceback
from pathlib import Path

import bolewright


def keep(error: Exception, folder: Path | None) -> str:
    """Write the details into the folder if it exists, else among the temporary files; where they are, in words."""
    text = "".join(traceback.format_exception(error))
    head = f"bolewright {bolewright.__version__}, Python {platform.python_version()}, {platform.platform()}\n\n"
    try:
        inside = folder if folder and folder.is_dir() else None
        handle, name = tempfile.mkstemp(prefix="bolewright-crash-", suffix=".txt", dir=inside)
        with os.fdopen(handle, "w", encoding="utf-8") as file:
            file.write(head + text)
        return name
    except OSError:
        print(text.strip().splitlines()[-1], file=sys.stderr)
        return "the line above"
