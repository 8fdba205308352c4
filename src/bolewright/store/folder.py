"""The data folder: where the database, photographs and working files are kept, and the key of this installation."""

from __future__ import annotations

import os
import secrets
import sys
from pathlib import Path

VARIABLE = "BOLEWRIGHT_DATA"


def data_folder() -> Path:
    """The folder in BOLEWRIGHT_DATA, else the platform's own place for a program's data. Nothing is made here."""
    asked = os.environ.get(VARIABLE, "").strip()
    return Path(asked).expanduser().resolve() if asked else _platform_folder() / "bolewright"


def _platform_folder() -> Path:
    home = Path.home()
    if sys.platform == "win32":
        return Path(os.environ.get("LOCALAPPDATA") or home / "AppData" / "Local")
    if sys.platform == "darwin":
        return home / "Library" / "Application Support"
    return Path(os.environ.get("XDG_DATA_HOME") or home / ".local" / "share")


def ready(folder: Path) -> None:
    """Make the folder, for its owner's eyes only, and its key when it has none."""
    folder.mkdir(parents=True, exist_ok=True, mode=0o700)
    place = _key_place(folder)
    if place.exists():
        return
    try:
        handle = os.open(place, os.O_WRONLY | os.O_CREAT | os.O_EXCL, 0o600)
    except FileExistsError:
        return  # another start was quicker: its key stands
    with os.fdopen(handle, "w", encoding="ascii") as opened:
        opened.write(secrets.token_urlsafe(50))


def secret_key(folder: Path) -> str:
    """The key kept in the folder; before the first start one for this process only."""
    try:
        kept = _key_place(folder).read_text(encoding="ascii").strip()
    except OSError:
        kept = ""
    return kept or secrets.token_urlsafe(50)


def first_code(folder: Path) -> str:
    """The code that makes the first owner account: only who can read the data folder knows it. Made when asked for."""
    place = folder / "first-code"
    try:
        handle = os.open(place, os.O_WRONLY | os.O_CREAT | os.O_EXCL, 0o600)
    except FileExistsError:
        return place.read_text(encoding="ascii").strip()
    code = secrets.token_urlsafe(12)
    with os.fdopen(handle, "w", encoding="ascii") as opened:
        opened.write(code)
    return code


def forget_first_code(folder: Path) -> None:
    """The first owner account is made."""
    (folder / "first-code").unlink(missing_ok=True)


def keep_alone(folder: Path) -> None:
    """Write down that one person works on this machine and nobody signs in."""
    _alone_place(folder).touch(mode=0o600)


def kept_alone(folder: Path) -> bool:
    """Whether that is written down."""
    return _alone_place(folder).exists()


def forget_alone(folder: Path) -> None:
    """From now on people sign in."""
    _alone_place(folder).unlink(missing_ok=True)


def _alone_place(folder: Path) -> Path:
    return folder / "nobody-signs-in"


def _key_place(folder: Path) -> Path:
    return folder / "secret-key"
