"""The JSON interface: jobs in and out, nothing overwritten, results with the keys of the commands, photographs."""

from __future__ import annotations

import io
import json
import time
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest
from django.core.files.uploadedfile import SimpleUploadedFile
from django.test import Client
from jsonschema import Draft202012Validator
from PIL import Image
from tests.functional.accounts import person, signed_in
from typer.testing import CliRunner

from bolewright.cli.main import app
from bolewright.job.read import loads
from bolewright.job.syntax import tables_of
from bolewright.reference.examples import examples
from bolewright.store.keys import make_key
from bolewright.store.models import KeptJob, Key, Mark
from bolewright.store.views import say_shows, waive
from bolewright.web import runs

pytestmark = pytest.mark.django_db
SMALL = Path(__file__).parent / "data" / "small-stem.toml"
Call = Callable[..., Any]


@pytest.fixture(autouse=True)
def _accounts(settings: Any, data: Path) -> None:
    settings.BOLEWRIGHT_ALONE = False


def caller(role: str = "crew") -> Call:
    """Calls the interface with the key of somebody of this role."""
    who = person(role)
    _, token = make_key(who, "test", who.name)

    def call(method: str, place: str, content: Any = None, **headers: str) -> Any:
        sent = {"Authorization": f"Bearer {token}", **{name.replace("_", "-"): v for name, v in headers.items()}}
        body = content if isinstance(content, bytes | str) else json.dumps(content) if content is not None else ""
        return Client().generic(method, f"/api/1{place}", body, content_type="application/json", headers=sent)

    return call


@pytest.fixture
def call(db: None) -> Call:
    """As crew."""
    return caller()


def small() -> dict[str, Any]:
    """A small job that has an order."""
    return tables_of(SMALL.read_text(encoding="utf-8"))


def test_a_job_in_and_out_is_the_same_job(call: Call) -> None:
    """Sent as JSON, read back as JSON, both read by the command line's own reader to equal jobs."""
    for place in [*examples().values(), SMALL]:
        text = place.read_text(encoding="utf-8")
        sent = json.loads(json.dumps(tables_of(text), default=str))
        made = call("POST", "/jobs", sent)
        assert made.status_code == 201, made.content
        assert made.headers["ETag"] == '"1"'
        got = call("GET", f"/jobs/{made.json()['key']}/document")
        assert got.json() == sent
        assert loads(got.content.decode()) == loads(text)
        assert call("GET", made.headers["Location"].removeprefix("/api/1")).json() == made.json()
    assert call("GET", "/jobs?limit=1").json()["count"] == len(examples()) + 1


def test_who_saved_it_is_the_person_of_the_key(call: Call) -> None:
    """On revisions and photographs."""
    key = call("POST", "/jobs", small()).json()["key"]
    assert call("GET", f"/jobs/{key}/revisions").json()["revisions"][0]["by"] == "Crew Field"


def test_faults_come_all_at_once_with_their_paths(call: Call) -> None:
    """The very list `bolewright check --json` prints; as a draft the same document is kept, and checked the same."""
    wrong = small()
    wrong["tree"]["stem"][0]["diameter"] = "46"
    wrong["tree"]["colour"] = "green"
    answer = call("POST", "/jobs", wrong)
    assert answer.status_code == 422
    assert answer.json() == json.loads(
        CliRunner().invoke(app, ["check", "-", "--json"], input=json.dumps(wrong)).stdout
    )
    assert not KeptJob.objects.exists()
    kept = call("POST", "/jobs?draft=true", wrong)
    assert kept.status_code == 201
    assert call("GET", f"/jobs/{kept.json()['key']}/check").json() == answer.json()


def test_a_stale_save_changes_nothing(call: Call) -> None:
    """Two programs on revision 1: the first is saved; the second gets 409 with the current one, and goes on from it."""
    key = call("POST", "/jobs", small()).json()["key"]
    place, one, two = f"/jobs/{key}/document", small(), small()
    one["job"]["title"], two["job"]["title"] = "Elm Street 1", "Elm Street 2"
    assert call("PUT", place, one).status_code == 428
    first = call("PUT", place, one, If_Match='"1"')
    assert (first.status_code, first.headers["ETag"], first.json()["number"]) == (200, '"2"', 2)
    for refused in (call("PUT", place, two, If_Match='"1"'), call("PUT", f"{place}?revision=1", two)):
        assert refused.status_code == 409
        assert refused.json()["revision"] == 2
        assert refused.json()["document"]["job"]["title"] == "Elm Street 1"
    assert call("PUT", place, two, If_Match="now").status_code == 422
    assert call("PUT", f"{place}?revision=2", two).json()["number"] == 3
    assert call("PUT", place, two, If_Match='"3"').json()["number"] == 3  # the same again adds none
    line = call("GET", f"/jobs/{key}/revisions").json()
    assert [r["number"] for r in line["revisions"]] == [3, 2, 1]
    assert call("GET", f"/jobs/{key}/revisions/1/document").json()["job"]["title"] == small()["job"]["title"]
    assert call("GET", f"/jobs/{key}/revisions/9/document").status_code == 404


@pytest.mark.parametrize(
    "body", [b"", b"[]", b"title = 1", b"{", b'{"a": "\\ud800"}', b"\xff", b'{"a": [null]}', b"null"]
)
def test_what_is_no_job_is_refused_in_words(call: Call, body: bytes) -> None:
    """422 and a sentence, as a draft too; nothing is kept."""
    for query in ("", "?draft=true"):
        answer = call("POST", f"/jobs{query}", body)
        assert answer.status_code == 422
        assert answer.json()["faults"][0]["sentence"]
    assert not KeptJob.objects.exists()


def test_too_large_is_told(call: Call) -> None:
    """More than a form may hold: 413, as JSON."""
    answer = call("POST", "/jobs", b'{"a": "' + b"x" * 2_100_000 + b'"}')
    assert answer.status_code == 413
    assert "nothing of it was kept" in answer.json()["faults"][0]["sentence"]


@pytest.mark.parametrize("question", ["check", "weigh", "hold"])
def test_results_are_those_of_the_command(call: Call, question: str) -> None:
    """Key for key and number for number."""
    key = call("POST", "/jobs", small()).json()["key"]
    answer = call("GET", f"/jobs/{key}/{question}")
    assert answer.status_code == 200
    assert answer.json() == json.loads(CliRunner().invoke(app, [question, str(SMALL), "--json"]).stdout)


def test_a_standing_tree_and_a_way_out(call: Call, root: Path) -> None:
    """With the promised keys; a lying tree gets the command's own reason why not."""
    names = [path for path in (root / "examples").glob("*.toml") if "[standing]" in path.read_text(encoding="utf-8")]
    oak = json.loads(json.dumps(tables_of(examples()["garage-oak"].read_text(encoding="utf-8")), default=str))
    key = call("POST", "/jobs", oak).json()["key"]
    out = call("GET", f"/jobs/{key}/out").json()
    assert {"status", "sheets", "trips", "heaviest_kg", "pressure_kPa", "hours", "price", "ways", "day"} <= set(out)
    refused = call("GET", f"/jobs/{key}/stand")
    assert refused.status_code == 422
    assert refused.json()["faults"]
    tree = {"species": "northern red oak", "attached": "standing"}
    standing = {"height": "20 m", "crown_width": "11 m"}
    for document in [tables_of(p.read_text(encoding="utf-8")) for p in names] or [
        {"schema": 1, "job": {"title": "Standing"}, "tree": {**tree, "dbh": "60 cm"}, "standing": standing}
    ]:
        made = call("POST", "/jobs?draft=true", json.loads(json.dumps(document, default=str)))
        answer = call("GET", f"/jobs/{made.json()['key']}/stand")
        assert answer.status_code == 200, answer.content
        assert {"status", "sections", "breaks_first", "gust_m_s", "rating", "options"} <= set(answer.json())


def test_an_order_is_begun_asked_for_and_stopped(call: Call) -> None:
    """202, then running, then the answer with the command's keys; stopping what is not running changes nothing."""
    key = call("POST", "/jobs", small()).json()["key"]
    place = f"/jobs/{key}/cuts"
    assert call("GET", place).json()["state"] == "none"
    assert call("DELETE", place).status_code == 202
    begun = call("POST", place)
    assert begun.status_code == 202
    run = begun.json()
    for _ in range(600):
        if run["state"] != "running":
            break
        time.sleep(0.2)
        run = call("GET", place).json()
    assert run["state"] == "done", run
    assert run["answer"]["status"] == "plan"
    assert {"n", "action", "piece", "bind", "kerf_mm", "release_J", "supports"} <= set(run["answer"]["steps"][0])
    assert call("POST", place).json()["state"] == "done"
    assert call("GET", f"{place}?revision=1").json()["revision"] == 1
    assert call("GET", f"{place}?revision=2").status_code == 404


def test_a_running_order_is_stopped(call: Call) -> None:
    """The worker ends soon, and says that it was stopped."""
    oak = json.loads(json.dumps(tables_of(examples()["garage-oak"].read_text(encoding="utf-8")), default=str))
    place = f"/jobs/{call('POST', '/jobs', oak).json()['key']}/cuts"
    assert call("POST", place).json()["state"] == "running"
    assert runs.running() == 1
    call("DELETE", place)
    for _ in range(600):
        run = call("GET", place).json()
        if run["state"] != "running":
            break
        time.sleep(0.2)
    assert run["state"] == "refused"
    assert run["sentences"] == ["It was stopped before it was done."]
    assert runs.running() == 0


def test_only_so_many_orders_at_once(call: Call, monkeypatch: pytest.MonkeyPatch) -> None:
    """More are refused in words, and none is started."""
    key = call("POST", "/jobs", small()).json()["key"]
    monkeypatch.setattr(runs, "running", lambda: 4)
    answer = call("POST", f"/jobs/{key}/cuts")
    assert answer.status_code == 429
    assert call("GET", f"/jobs/{key}/cuts").json()["state"] == "none"


def sent_photo(token: str, key: str, content: bytes, name: str = "butt.jpg", **form: str) -> Any:
    """The answer to a photograph sent."""
    file = SimpleUploadedFile(name, content, content_type="image/jpeg")
    headers = {"Authorization": f"Bearer {token}"}
    return Client().post(f"/api/1/jobs/{key}/photos", {"file": file, **form}, headers=headers)


def test_photographs_with_the_guards_of_the_page(call: Call) -> None:
    """Kept byte for byte and once a view; cut short, no picture, an unknown view: refused in words, nothing kept."""
    _, token = make_key(person("office"), "camera", "Office Field")
    key = call("POST", "/jobs", small()).json()["key"]
    out = io.BytesIO()
    Image.effect_noise((900, 700), 60).save(out, "JPEG")
    content = out.getvalue()
    for wrong, form in (
        (content[: len(content) // 2], {}),
        (b"no picture", {}),
        (b"", {}),
        (content, {"view": "moon"}),
    ):
        answer = sent_photo(token, key, wrong, **form)
        assert answer.status_code == 422
        (fault,) = answer.json()["faults"]
        assert fault["path"] == ("view" if form else "file")
        assert fault["sentence"]
    assert call("GET", f"/jobs/{key}/photos").json() == {"photos": []}
    made = sent_photo(token, key, content, view="butt", facing="NE")
    assert made.status_code == 201
    assert (made.json()["number"], made.json()["by"], made.json()["facing"]) == (1, "Office Field", "NE")
    assert sent_photo(token, key, content, view="butt").status_code == 200
    assert b"".join(call("GET", f"/jobs/{key}/photos/1/original").streaming_content) == content
    assert call("GET", f"/jobs/{key}/photos/1/copy").headers["Content-Type"] == "image/jpeg"
    assert call("GET", f"/jobs/{key}/photos/1").json() == made.json()
    for gone in (f"/jobs/{key}/photos/2", f"/jobs/{key}/photos/2/copy", "/jobs/none/photos"):
        assert call("GET", gone).status_code == 404
    assert call("GET", f"/jobs/{key}/photos/1/huge").status_code == 422
    photo = KeptJob.objects.get(key=key).photos.get()
    Mark.objects.create(photo=photo, kind="text", x1=0.5, y1=0.5, words="torn here", by="Ann")
    say_shows(photo, "bearing", True, "Ann")
    waive(photo.job, "lines", "no wires on this side", "Ann")
    row = call("GET", f"/jobs/{key}/photos/1").json()
    assert row["shows"] == ["bearing", "butt"]
    assert row["drawn"][0].startswith("words: torn here, Ann, ")
    states = {view["id"]: view for view in call("GET", f"/jobs/{key}/views").json()["views"]}
    assert [states[name]["photos"] for name in ("butt", "bearing", "damage")] == [[1], [1], []]
    assert (states["lines"]["state"], states["lines"]["reason"]) == ("waived", "no wires on this side")
    assert (states["damage"]["stage"], states["damage"]["state"]) == ("before", "missing")


def test_only_a_key_opens_it(kept: Any) -> None:
    """Not a session's cookie, not a made-up or revoked key, not a key of nobody where people have accounts."""
    crew = signed_in("office")
    job = kept()
    assert crew.get("/api/1/jobs").status_code == 401
    _, token = make_key(None, "alone", "")
    for sent in ("Bearer x", f"Bearer {token}", "Basic x", "Bearer "):
        answer = Client().get(f"/api/1/jobs/{job.key}", headers={"Authorization": sent})
        assert answer.status_code == 401
        assert answer.headers["WWW-Authenticate"] == "Bearer"
        assert answer.json()["faults"][0]["path"] == "Authorization"


def test_a_key_may_what_its_person_may() -> None:
    """A viewer's key reads and changes nothing; revoked, it opens nothing."""
    viewer = caller("viewer")
    assert viewer("GET", "/jobs").status_code == 200
    assert viewer("POST", "/jobs", small()).status_code == 403
    Key.objects.get().revoke("Owner")
    assert viewer("GET", "/jobs").status_code == 401


def test_one_persons_machine_takes_its_own_keys(settings: Any) -> None:
    """No account, but still a key: another site's page in the same browser must not reach it."""
    settings.BOLEWRIGHT_ALONE = True
    _, token = make_key(None, "script", "")
    assert Client().get("/api/1/jobs").status_code == 401
    assert Client().get("/api/1/jobs", headers={"Authorization": f"Bearer {token}"}).status_code == 200


def test_the_job_schema_is_the_readers(client: Client) -> None:
    """Open to all, a valid schema, and the examples agree with it."""
    schema = client.get("/api/1/job-schema.json").json()
    Draft202012Validator.check_schema(schema)
    for place in examples().values():
        document = json.loads(json.dumps(tables_of(place.read_text(encoding="utf-8")), default=str))
        Draft202012Validator(schema).validate(document)


def test_an_error_of_ours_is_told_without_its_details(call: Call, monkeypatch: pytest.MonkeyPatch) -> None:
    """500 as JSON; what went wrong stays in the log."""

    def broken(*_: Any) -> None:
        raise RuntimeError("secret detail")

    monkeypatch.setattr("bolewright.web.api.jobs.row_of", broken)
    key = call("POST", "/jobs", small())
    assert key.status_code == 500
    assert "secret" not in key.content.decode()
    assert key.json()["faults"][0]["sentence"].startswith("Something went wrong inside")


def test_an_address_nobody_answers_is_a_fault_for_a_program() -> None:
    """JSON under /api/ with any key or none; a page elsewhere."""
    for place in ("/api/1/tree", "/api/2/jobs", "/api/"):
        answer = Client().get(place)
        assert (answer.status_code, answer["Content-Type"]) == (404, "application/json")
        assert answer.json()["faults"][0]["path"] == place
    page = Client().get("/nowhere")
    assert page.status_code == 404
    assert "There is no such page" in page.content.decode()
