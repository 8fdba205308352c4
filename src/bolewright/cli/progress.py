"""A progress line for anything that takes over a second."""

from __future__ import annotations

import time
from collections.abc import Callable, Iterator
from contextlib import contextmanager

from rich.console import Console
from rich.progress import BarColumn, Progress, TextColumn, TimeElapsedColumn

PATIENCE_S = 1.0


@contextmanager
def progress_line(words: str) -> Iterator[Callable[[str, float], None]]:
    """Yields a function that takes words and a share done (0 to 1); the line disappears at the end."""
    console = Console(stderr=True)
    columns = (TextColumn("{task.description}"), BarColumn(bar_width=20), TimeElapsedColumn())
    with Progress(*columns, console=console, transient=True) as line:
        task = line.add_task(words, total=None)
        began = time.monotonic()

        def report(now: str, share: float) -> None:
            if time.monotonic() - began > PATIENCE_S:
                line.update(task, description=now or words, total=1.0, completed=min(max(share, 0.0), 1.0))

        yield report
