"""Set up Bolewright and run it. Standard library only, so that a fresh machine can start from here.

python3 start.py             install, start the field sheet with the example jobs, open the browser (--no-open: do not)
python3 start.py demo        install, work the example job, answer in the terminal and open nothing
python3 start.py test        install with the test tools and run every check
"""

from __future__ import annotations

import argparse
import hashlib
import json
import os
import shutil
import subprocess
import sys
from pathlib import Path

HERE = Path(__file__).resolve().parent
VENV = HERE / ".venv"
STAMP = VENV / "bolewright-installed.json"
OLDEST = (3, 11)
WINDOWS = os.name == "nt"
HOLDS = {"": ("web", "test"), "web": ("test",)}  # which extras hold which others
CHECKS = (
    ("ruff", ("ruff", "check", "src", "tests", "start.py")),
    ("mypy", ("mypy",)),
    ("import law", ("lint-imports",)),
)


MOST_WORKERS = 4  # test workers side by side; each may start a browser


class Stop(Exception):
    """A reason to stop, in one plain sentence."""


def venv_program(name: str) -> str:
    """Path of a program inside the environment, on any system."""
    return str(VENV / ("Scripts" if WINDOWS else "bin") / (name + (".exe" if WINDOWS else "")))


def fingerprint(extra: str) -> str:
    """A hash of everything that decides what is installed: pins, settings, what is bundled, interpreter, place."""
    digest = hashlib.sha256()
    bundled = sorted(p for p in (HERE / "web-src").glob("*") if p.is_file())
    for place in (HERE / "pyproject.toml", HERE / "constraints.txt", *bundled):
        digest.update(place.read_bytes())
    digest.update(f"{sys.version_info[:3]} {VENV} {extra}".encode())
    return digest.hexdigest()


def installed(extra: str) -> bool:
    """True when the environment was made from these very pins and still starts."""
    try:
        stamps = json.loads(STAMP.read_text(encoding="utf-8"))
        known = any(fingerprint(more) in stamps for more in (extra, *HOLDS.get(extra, ())))
    except (OSError, ValueError):
        return False
    return known and works("bolewright")


def works(module: str) -> bool:
    """True when the environment's own Python can import the module."""
    try:
        done = subprocess.run([venv_program("python"), "-c", f"import {module}"], capture_output=True, check=False)
    except OSError:
        return False
    return done.returncode == 0


def make_environment() -> None:
    """Make .venv, or make it anew when the one there does not start or is of another Python."""
    version = f"import sys; assert sys.version_info[:2] == {tuple(sys.version_info[:2])}; import pip"
    try:
        done = subprocess.run([venv_program("python"), "-c", version], capture_output=True, check=False)
        if done.returncode == 0:
            return
    except OSError:
        pass
    print("Making the environment in .venv ...", flush=True)
    shutil.rmtree(VENV, ignore_errors=True)
    made = subprocess.run([sys.executable, "-m", "venv", str(VENV)], capture_output=True, text=True, check=False)
    if made.returncode != 0:
        shutil.rmtree(VENV, ignore_errors=True)
        if "ensurepip" in made.stdout + made.stderr or "No module named venv" in made.stderr:
            raise Stop(
                "This Python cannot make environments yet: on Debian or Ubuntu run "
                "'sudo apt-get install python3-venv', then start again."
            )
        raise Stop(f"The environment could not be made: {(made.stderr or made.stdout).strip()}")


def install(extra: str) -> None:
    """Install the package and its pinned needs, unless that was done already."""
    if installed(extra):
        return
    make_environment()
    print("Installing (about half a minute, longer on a slow line) ...", flush=True)
    target = "." + (f"[{extra}]" if extra else "")
    command = [venv_program("python"), "-m", "pip", "install", "-q", "--disable-pip-version-check"]
    done = subprocess.run([*command, "-e", target, "-c", "constraints.txt"], cwd=HERE, check=False)
    if done.returncode != 0:
        raise Stop("The install did not finish: the lines above say why. Check the network, then start again.")
    STAMP.write_text(json.dumps([fingerprint(extra)]), encoding="utf-8")


def bolewright(*arguments: str) -> int:
    """Run the installed command and pass on its exit status."""
    return subprocess.run([venv_program("bolewright"), *arguments], check=False).returncode


def field_sheet(no_open: bool) -> int:
    """Start the field sheet; it goes on until Ctrl-C."""
    install("web")
    try:
        return bolewright("serve", *(["--no-open"] if no_open else []))
    except KeyboardInterrupt:
        return 0  # it has said goodbye itself


def test(arguments: list[str]) -> int:
    """Run every check; the test runner's closing lines come last. Non-zero when any check failed."""
    install("test")
    failed = []
    for name, (program, *rest) in CHECKS:
        print(f"== {name}", flush=True)
        if subprocess.run([venv_program(program), *rest], cwd=HERE, check=False).returncode != 0:
            failed.append(name)
    print("== tests", flush=True)
    side_by_side = str(min((os.cpu_count() or 1) + 1, MOST_WORKERS))  # one more: browser tests wait a good deal
    # Files in the order of their names: those of the browser, the longest, come first and leave no long tail.
    workers = () if "-n" in arguments else ("-n", side_by_side, "--dist", "loadfile", "--no-loadscope-reorder")
    command = [venv_program("python"), "-m", "pytest", *workers, *arguments]
    tests = subprocess.run(command, cwd=HERE, check=False).returncode
    if failed:
        print(f"Also failed, above: {', '.join(failed)}.", file=sys.stderr)
    return tests or (1 if failed else 0)


def main(words: list[str]) -> int:
    """Read the command and carry it out."""
    if sys.version_info[:2] < OLDEST:
        have = ".".join(map(str, sys.version_info[:2]))
        raise Stop(f"Bolewright needs Python 3.11 or newer; this is {have}. Install a newer one and start again.")
    parser = argparse.ArgumentParser(prog="start.py", description="Set up Bolewright and run it.")
    parser.add_argument("what", nargs="?", choices=("demo", "test"), help="demo: in the terminal; test: every check")
    parser.add_argument("--no-open", action="store_true", help="start the field sheet but do not open the browser")
    options, rest = parser.parse_known_args(words)
    if rest and options.what != "test":
        parser.error(f"unknown: {' '.join(rest)}")
    if options.what == "test":
        return test(rest)
    if options.what == "demo":
        install("")
        return bolewright("demo")
    return field_sheet(options.no_open)


if __name__ == "__main__":
    try:
        sys.exit(main(sys.argv[1:]))
    except Stop as reason:
        sys.exit(str(reason))
    except KeyboardInterrupt:
        sys.exit("Stopped.")
