"""What the server turns away by itself, before a page could see it, because it is too large: said in words, too."""

from __future__ import annotations

import json

from waitress.channel import HTTPChannel
from waitress.task import ErrorTask

BODY_LIMIT = 170_000_000  # bytes: four photographs of the largest size and their form
TOO_LARGE = 413
SAID = (
    f"This was more than {BODY_LIMIT / 1e6:.0f} MB in one sending, so nothing of it was kept.",
    "Go back and send a few photographs at a time, each of 40 MB at most. The originals stay where they were taken.",
)
PAGE = """<!doctype html>
<html lang="en"><head><meta charset="utf-8"><meta name="viewport" content="width=device-width, initial-scale=1">
<title>Too much at once · Bolewright</title><link rel="stylesheet" href="/static/bolewright/sheet.css"></head>
<body><main id="main"><h1>Too much at once</h1>{said}
<p><a class="button" href="/">To the jobs</a></p></main></body></html>
"""


def too_large(path: str) -> tuple[str, bytes]:
    """Kind and content of the answer: faults for a program, a page for a person."""
    if path.startswith("/api/"):
        return "application/json", json.dumps({"faults": [{"path": "", "sentence": " ".join(SAID)}]}).encode()
    paragraphs = "".join(f'<p class="fault" role="alert">{sentence}</p>' for sentence in SAID)
    return "text/html; charset=utf-8", PAGE.format(said=paragraphs).encode()


class InWords(ErrorTask):  # type: ignore[misc]
    """The answer to a request the server itself refuses."""

    def execute(self) -> None:
        """Words for what is too large; anything else is no browser's doing and stays as it is."""
        if self.request.error.code != TOO_LARGE:
            super().execute()
            return
        kind, body = too_large(self.request.path)
        self.status = f"{TOO_LARGE} Too Much At Once"
        self.response_headers += [("Content-Type", kind), ("Cache-Control", "no-store")]
        self.set_close_on_finish()
        self.content_length = len(body)
        self.write(body)


class Doorway(HTTPChannel):  # type: ignore[misc]
    """One connection."""

    error_task_class = InWords
