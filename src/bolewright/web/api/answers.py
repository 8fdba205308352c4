"""Results: the functions and keys of the commands. The order of cuts takes long: it is begun, then asked for."""

from __future__ import annotations

from functools import lru_cache
from typing import Any

from django.http import HttpRequest, JsonResponse
from ninja import Router
from ninja.params.functions import Query

from bolewright import planning
from bolewright.core.base.plain import plain
from bolewright.job.model import Job
from bolewright.job.problems import Question, all_missing, answerable
from bolewright.job.read import loads
from bolewright.planning.haul.daywork import day_plan
from bolewright.planning.haul.price import price, priced_ways
from bolewright.planning.machine import (
    check_answer,
    cuts_answer,
    hold_answer,
    out_answer,
    record_answer,
    stand_answer,
    weigh_answer,
)
from bolewright.planning.standing.seasons import with_seasons
from bolewright.store.answers import kept_answer
from bolewright.store.models import KeptJob, Revision
from bolewright.store.record import record_for
from bolewright.store.results import read
from bolewright.web import runs
from bolewright.web.api.faults import JOB_FAULTS, Refusal
from bolewright.web.api.jobs import revision_numbered
from bolewright.web.api.shapes import (
    CheckAnswer,
    CutsRun,
    Faults,
    HoldAnswer,
    OutAnswer,
    RecordAnswer,
    StandAnswer,
    WeighAnswer,
)
from bolewright.web.pages.common import job_of

router = Router(tags=["results"])
MOST_RUNS = 4  # orders worked out at once
At = Query(None, ge=1, le=10**9, description="The revision asked about; the newest when left out.")


def _at(key: str, revision: int | None) -> tuple[KeptJob, Revision]:
    job = job_of(key)
    return job, job.latest if revision is None else revision_numbered(job, revision)


def _job(text: str, question: Question | None = None) -> Job:
    """The job of a document. Raises JobFaults with what is wrong or missing, as the command does."""
    job = loads(text)
    return answerable(job, question) if question else job


@router.get(
    "/jobs/{key}/check",
    url_name="check",
    response={200: CheckAnswer, **JOB_FAULTS},
    summary="What is still missing to answer",
)
def check(request: HttpRequest, key: str, revision: int | None = At) -> JsonResponse:
    job = _job(_at(key, revision)[1].text)
    return JsonResponse(plain(check_answer(job.job.title, all_missing(job))))


@router.get(
    "/jobs/{key}/weigh", url_name="weigh", response={200: WeighAnswer, **JOB_FAULTS}, summary="What the tree weighs"
)
def weigh(request: HttpRequest, key: str, revision: int | None = At) -> JsonResponse:
    return JsonResponse(_weigh(_at(key, revision)[1].text))


@lru_cache(maxsize=16)
def _weigh(text: str) -> Any:
    return plain(weigh_answer(planning.weigh(_job(text, "weigh"))))


@router.get(
    "/jobs/{key}/hold", url_name="hold", response={200: HoldAnswer, **JOB_FAULTS}, summary="What holds the tree up"
)
def hold(request: HttpRequest, key: str, revision: int | None = At) -> JsonResponse:
    return JsonResponse(_hold(_at(key, revision)[1].text))


@lru_cache(maxsize=16)
def _hold(text: str) -> Any:
    return plain(hold_answer(planning.hold(_job(text, "hold"))))


@router.get(
    "/jobs/{key}/stand",
    url_name="stand",
    response={200: StandAnswer, **JOB_FAULTS},
    summary="How far a standing tree is from failing",
)
def stand(request: HttpRequest, key: str, revision: int | None = At) -> JsonResponse:
    return JsonResponse(_stand(_at(key, revision)[1].text))


@lru_cache(maxsize=16)
def _stand(text: str) -> Any:
    job = _job(text, "stand")
    return plain({**stand_answer(with_seasons(job, planning.stand(job))), "files": ()})


@router.get("/jobs/{key}/out", url_name="out", response={200: OutAnswer, **JOB_FAULTS}, summary="How the wood gets out")
def out(request: HttpRequest, key: str, revision: int | None = At) -> JsonResponse:
    """With the pieces and times of the order of cuts where one has been worked out for this revision; else by pieces
    only, as the command answers with --without-plan."""
    job, asked = _at(key, revision)
    known = kept_answer(job, asked.text)
    return JsonResponse(_out(asked.text, known.text if known is not None else ""))


@lru_cache(maxsize=16)
def _out(text: str, answer: str) -> Any:
    job = _job(text, "weigh")
    cut = read(answer).cuts if answer else None
    result = planning.out(job, cut)
    ways = priced_ways(job, cut) if cut is not None and job.rates.crew_hour is not None else ()
    return plain(out_answer(result, price(job, result), ways, day_plan(job, result)))


@router.get(
    "/jobs/{key}/record",
    url_name="record",
    response={200: RecordAnswer, **JOB_FAULTS},
    summary="What earlier jobs took, and what this one learns from it",
)
def record(request: HttpRequest, key: str) -> JsonResponse:
    """Of the jobs kept here, by the newest revision of each. Asking changes nothing."""
    kept = job_of(key)
    return JsonResponse(plain({**record_answer(record_for(kept, _job(kept.latest.text))), "files": ()}))


@router.get(
    "/jobs/{key}/cuts", url_name="cuts", response={200: CutsRun, **JOB_FAULTS}, summary="The order of cuts, when done"
)
def cuts(request: HttpRequest, key: str, revision: int | None = At) -> JsonResponse:
    """How it stands with the order for a revision, and the answer once it is done. Ask again every second or two."""
    return _run(*_at(key, revision))


@router.post(
    "/jobs/{key}/cuts",
    url_name="cuts",
    response={202: CutsRun, 429: Faults, **JOB_FAULTS},
    summary="Begin working out an order of cuts",
)
def begin(request: HttpRequest, key: str, revision: int | None = At) -> JsonResponse:
    """Takes about a minute in a process of its own. Beginning what runs or is done already changes nothing."""
    job, asked = _at(key, revision)
    _job(asked.text, "cuts")
    if runs.look(job, asked, asked.text).state not in ("running", "done"):
        if runs.running() >= MOST_RUNS:
            raise Refusal(429, "", f"{MOST_RUNS} orders are being worked out already: wait until one is done.")
        runs.start(job, asked.text)
    return _run(job, asked, 202)


@router.delete(
    "/jobs/{key}/cuts", url_name="cuts", response={202: CutsRun, **JOB_FAULTS}, summary="Stop working out an order"
)
def cancel(request: HttpRequest, key: str, revision: int | None = At) -> JsonResponse:
    """It ends soon after; a finished answer stands."""
    job, asked = _at(key, revision)
    runs.cancel(job, asked.text)
    return _run(job, asked, 202)


def _run(job: KeptJob, revision: Revision, status: int = 200) -> JsonResponse:
    run = runs.look(job, revision, revision.text)
    done = run.answer
    return JsonResponse({
        "revision": revision.number, "state": run.state, "words": run.words, "share": min(max(run.share, 0.0), 1.0),
        "sentences": list(run.sentences), "seconds": done.seconds if done is not None else None,
        "answer": _cuts(done.text) if done is not None else None,
    }, status=status)  # fmt: skip


@lru_cache(maxsize=8)
def _cuts(answer: str) -> Any:
    return plain({**cuts_answer(read(answer).cuts), "files": ()})
