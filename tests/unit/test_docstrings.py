"""Every public function of core says what comes back, in what units, from which source, and what checks it.

To satisfy it, a module-level public function that takes arguments, in a public module of `bolewright.core`, needs a
docstring with
- a first sentence saying what comes back,
- at least one unit in square brackets ("[m]", "[N]", "[-]") or an array shape in round ones ("(n, 3)"),
- a line "Source: ..." naming work, page and equation, or "geometry", "mechanics" with the law used, or "house rule",
- a line "Checked by: tests/..." whose path exists (":name" may follow), or "Checked by: not yet".
Functions that only shuffle already described data may carry the mark "Plain:" with the reason instead of the last two.
"""

from __future__ import annotations

import ast
import re
from dataclasses import dataclass
from pathlib import Path

import pytest

import bolewright

CORE = Path(bolewright.__file__).parent / "core"
UNIT_OR_SHAPE = re.compile(r"\[[^\]\s][^\]]*\]|\(\s*[A-Z0-9a-z]+\s*,[^)]*\)|\bSI\b")
CHECKED_PATH = re.compile(r"tests/[\w/.-]+\.py")


@dataclass(frozen=True)
class Function:
    """A public function found in core."""

    where: str
    docstring: str


def public_functions() -> list[Function]:
    """Module-level public functions with arguments, of public modules in core."""
    found = []
    for source in sorted(CORE.rglob("*.py")):
        if source.name.startswith("_"):
            continue
        for node in ast.parse(source.read_text(encoding="utf-8")).body:
            if isinstance(node, ast.FunctionDef) and not node.name.startswith("_") and takes_arguments(node):
                where = f"core/{source.relative_to(CORE).as_posix()}:{node.lineno} {node.name}"
                found.append(Function(where, ast.get_docstring(node) or ""))
    return found


def takes_arguments(node: ast.FunctionDef) -> bool:
    """True when the function has at least one argument."""
    given = node.args
    return bool(given.args or given.posonlyargs or given.kwonlyargs or given.vararg)


def faults(docstring: str, root: Path) -> list[str]:
    """What the docstring lacks, one plain phrase each."""
    if not docstring:
        return ["no docstring"]
    lacking = []
    if not UNIT_OR_SHAPE.search(docstring):
        lacking.append("no unit in [ ] and no shape in ( )")
    if "Plain:" in docstring:
        return lacking
    if not re.search(r"^\s*Source: *\S", docstring, re.MULTILINE):
        lacking.append('no line "Source:"')
    checked = re.search(r"^\s*Checked by: *(\S[\s\S]*?)(?:\n\s*\n|\Z)", docstring, re.MULTILINE)
    if not checked:
        lacking.append('no line "Checked by:"')
    elif "not yet" not in checked.group(1):
        paths = CHECKED_PATH.findall(checked.group(1))
        lacking += [f"{path} does not exist" for path in paths if not (root / path).is_file()]
        if not paths:
            lacking.append('"Checked by:" names no tests/... path and is not "not yet"')
    return lacking


def test_public_functions_are_documented(root: Path) -> None:
    """A report of every public function of core whose docstring lacks something."""
    report = [f"{f.where}: {'; '.join(lacking)}" for f in public_functions() if (lacking := faults(f.docstring, root))]
    assert not report, f"{len(report)} functions:\n" + "\n".join(report)


@pytest.mark.parametrize(
    ("docstring", "lacking"),
    [
        ("", "no docstring"),
        ("Mass.\n\nSource: x\nChecked by: not yet", "no unit"),
        ("Mass [kg].\n\nChecked by: not yet", "Source"),
        ("Mass [kg].\n\nSource: x", "Checked by"),
        ("Mass [kg].\n\nSource: x\nChecked by: tests/unit/no_such.py", "does not exist"),
        ("Mass [kg].\n\nSource: x\nChecked by: hand", "names no"),
    ],
)
def test_the_walk_sees_what_is_missing(docstring: str, lacking: str, root: Path) -> None:
    """Each lacking part is reported."""
    assert any(lacking in fault for fault in faults(docstring, root))


def test_a_full_docstring_passes(root: Path) -> None:
    """A docstring with all parts has no fault."""
    text = "Mass [kg].\n\nSource: volume times density.\nChecked by: tests/unit/test_docstrings.py"
    assert faults(text, root) == []
