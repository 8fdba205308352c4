"""The import law of docs/decisions/0001-layout.md is kept, and core stays free of hidden doors."""

from __future__ import annotations

import ast
import os
import subprocess
import sys
from pathlib import Path

import pytest
from importlinter import cli as import_linter

import bolewright

CORE = Path(bolewright.__file__).parent / "core"
# Built-in doors to files, the terminal or code made at run time; imports are watched by the contracts.
FORBIDDEN_CALLS = {"open", "input", "print", "eval", "exec", "__import__", "breakpoint"}
NUMPY_RANDOM_ALLOWED = {"Generator"}  # passed in, never made in core
NUMPY_FILES = {"load", "loadtxt", "genfromtxt", "save", "savez", "savetxt", "fromfile", "memmap"}


def test_import_law_is_kept(root: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]) -> None:
    """All contracts of .importlinter hold."""
    monkeypatch.chdir(root)
    status = import_linter.lint_imports(config_filename=str(root / ".importlinter"), no_cache=True)
    assert status == 0, capsys.readouterr().out


@pytest.mark.parametrize(
    ("module", "line", "kept"),
    [
        ("bolewright.cli.sneak", "from bolewright.core.base import range", True),
        ("bolewright.job.sneak", "from bolewright.core.base import range", False),
        ("bolewright.core.tree.sneak", "import pathlib", False),
        ("bolewright.core.wood.sneak", "from bolewright.core import tree", False),
        ("bolewright.core.recheck.sneak", "from bolewright.core import contact", False),
        ("bolewright.drawings.sneak", "import typst", False),
    ],
)
def test_the_law_can_be_broken(module: str, line: str, kept: bool, tmp_path: Path, root: Path) -> None:
    """On an empty copy of the rooms, a forbidden import is refused and a permitted one is not."""
    for source in (root / "src" / "bolewright").rglob("__init__.py"):
        room = tmp_path / "bolewright" / source.relative_to(root / "src" / "bolewright")
        room.parent.mkdir(parents=True, exist_ok=True)
        room.write_text("", encoding="utf-8")
    tmp_path.joinpath(*module.split(".")).with_suffix(".py").write_text(line + "\n", encoding="utf-8")
    assert (contracts_status(tmp_path, root / ".importlinter") == 0) is kept


def contracts_status(folder: Path, contracts: Path) -> int:
    """Exit status of the contracts on the package in a folder, in a process of its own."""
    code = f"from importlinter.cli import lint_imports as go; raise SystemExit(go({str(contracts)!r}, no_cache=True))"
    environment = {**os.environ, "PYTHONPATH": str(folder)}
    command = [sys.executable, "-c", code]
    return subprocess.run(command, cwd=folder, env=environment, capture_output=True, check=False).returncode


def test_core_has_no_hidden_doors() -> None:
    """No file, terminal, chance or run-time code in core by way of built-ins or numpy."""
    found = []
    for source in sorted(CORE.rglob("*.py")):
        for node in ast.walk(ast.parse(source.read_text(encoding="utf-8"))):
            door = hidden_door(node)
            if door:
                found.append(f"{source.relative_to(CORE)}:{getattr(node, 'lineno', 0)} {door}")
    assert not found, "\n".join(found)


def hidden_door(node: ast.AST) -> str:
    """Name of the door a syntax node opens, or nothing."""
    if isinstance(node, ast.Call) and isinstance(node.func, ast.Name) and node.func.id in FORBIDDEN_CALLS:
        return node.func.id
    if isinstance(node, ast.Attribute):
        whole = ast.unparse(node)
        if whole.startswith("np.random.") and node.attr not in NUMPY_RANDOM_ALLOWED:
            return whole
        if whole in {f"np.{name}" for name in NUMPY_FILES}:
            return whole
    return ""


@pytest.mark.parametrize("line", ["open('x')", "np.random.normal()", "np.random.default_rng(1)", "np.load('x')"])
def test_hidden_doors_are_seen(line: str) -> None:
    """The walk finds each kind of door."""
    assert any(hidden_door(node) for node in ast.walk(ast.parse(line)))
