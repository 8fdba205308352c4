"""start.py: what it decides before it installs anything."""

from __future__ import annotations

import ast
import importlib.util
import subprocess
import sys
from pathlib import Path
from types import ModuleType

import pytest


@pytest.fixture
def start(root: Path) -> ModuleType:
    """The script as a module, fresh for each test."""
    spec = importlib.util.spec_from_file_location("start", root / "start.py")
    assert spec is not None
    assert spec.loader is not None
    module = importlib.util.module_from_spec(spec)
    spec.loader.exec_module(module)
    return module


def test_standard_library_only(root: Path) -> None:
    """It runs before anything is installed."""
    for node in ast.walk(ast.parse((root / "start.py").read_text(encoding="utf-8"))):
        if isinstance(node, ast.Import | ast.ImportFrom):
            names = [node.module or ""] if isinstance(node, ast.ImportFrom) else [alias.name for alias in node.names]
            assert {name.split(".")[0] for name in names} <= set(sys.stdlib_module_names)


def test_old_python_is_told_plainly(start: ModuleType, monkeypatch: pytest.MonkeyPatch) -> None:
    """One sentence with both versions."""
    monkeypatch.setattr(start.sys, "version_info", (3, 9, 2))
    with pytest.raises(start.Stop, match=r"needs Python 3\.11 or newer; this is 3\.9"):
        start.main([])


def test_missing_venv_is_told_with_the_cure(start: ModuleType, monkeypatch: pytest.MonkeyPatch, tmp_path: Path) -> None:
    """Debian splits the module off: its words in, our sentence out."""
    words = "The virtual environment was not created successfully because ensurepip is not available."
    monkeypatch.setattr(start, "VENV", tmp_path / ".venv")
    failed = subprocess.CompletedProcess([], 1, words, "")
    monkeypatch.setattr(start.subprocess, "run", lambda *_args, **_options: failed)
    with pytest.raises(start.Stop, match="apt-get install python3-venv"):
        start.make_environment()


def test_a_change_of_pins_is_noticed(start: ModuleType, monkeypatch: pytest.MonkeyPatch, tmp_path: Path) -> None:
    """Same pins, same stamp; another pin or another extra, another stamp."""
    monkeypatch.setattr(start, "HERE", tmp_path)
    (tmp_path / "pyproject.toml").write_text("a")
    (tmp_path / "constraints.txt").write_text("numpy==1\n")
    before = start.fingerprint("")
    assert start.fingerprint("") == before
    assert start.fingerprint("test") != before
    (tmp_path / "constraints.txt").write_text("numpy==2\n")
    assert start.fingerprint("") != before


def test_misuse_is_2(root: Path) -> None:
    """Unknown words are refused before anything is installed."""
    command = [sys.executable, str(root / "start.py"), "--fly"]
    done = subprocess.run(command, capture_output=True, text=True, check=False)
    assert done.returncode == 2
    assert "--fly" in done.stderr


def test_pins_hold_no_address(root: Path) -> None:
    """One package and version per line; no download address anywhere."""
    lines = (root / "constraints.txt").read_text(encoding="utf-8").split("\n")
    assert all("==" in line for line in lines if line)
    assert "://" not in "".join(lines)


def test_a_change_of_what_is_bundled_is_noticed(
    start: ModuleType, monkeypatch: pytest.MonkeyPatch, tmp_path: Path
) -> None:
    """The pages' own script is bundled at install: when it changes, the install is made anew."""
    monkeypatch.setattr(start, "HERE", tmp_path)
    (tmp_path / "web-src").mkdir()
    for name in ("pyproject.toml", "constraints.txt", "web-src/solid.js"):
        (tmp_path / name).write_text("a")
    before = start.fingerprint("")
    (tmp_path / "web-src" / "solid.js").write_text("b")
    assert start.fingerprint("") != before


def test_the_bundles_pins_hold_no_address(root: Path) -> None:
    """Nor does the lock of what comes from npm, and its settings keep it so."""
    assert "://" not in (root / "web-src" / "package-lock.json").read_text(encoding="utf-8")
    assert "omit-lockfile-registry-resolved=true" in (root / "web-src" / ".npmrc").read_text(encoding="utf-8")
