"""Papers a link may show to somebody outside: what each is, which can be had now, and the file itself."""

from __future__ import annotations

from collections.abc import Collection
from dataclasses import dataclass
from functools import lru_cache

from django.http import HttpRequest, HttpResponse

from bolewright.documents.paper import Paper, printed
from bolewright.documents.papers import BRIEFING, paper_named
from bolewright.documents.papers import PAPERS as LYING
from bolewright.store.answers import kept_answer
from bolewright.store.models import KeptJob, SignedPaper
from bolewright.store.results import read
from bolewright.store.signed import is_as_signed, newest
from bolewright.web.pages import papers, standing_papers
from bolewright.web.pages.common import data_folder, is_standing
from bolewright.web.records import given, read_back, records_of, written
from bolewright.web.stood import stood

OUTSIDE, PRICES, CREW = "outside", "prices", "crew"
GROUPS = (
    (OUTSIDE, "Papers usual for an adjuster or an owner"),
    (PRICES, "Papers with prices or rates"),
    (CREW, "Papers written for crew, office or one person"),
)
_PRICED = ("work-authorisation", "estimate", "change-order", "invoice", "insurer-pack")
_FOR_OUTSIDE = ("photo-log", "completion", "inspection", "cause")
_ALSO = {  # what somebody who gives it out should know, beside what the paper is for
    "call-sheet": "with names and telephone numbers",
    "insurer-pack": "with prices, and the place each camera wrote",
    "photo-log": "with the place each camera wrote, where it wrote one",
    "daily-log": "with the crew's names and hours",
}
_DRAWN = {
    "holding": ("Drawing from the side", "what holds the tree as found"),
    "elevation": ("Drawing from the side, with the cuts", "where each piece comes off"),
    "plan": ("Drawing from above, with the cuts", "tree, building and what is to be kept from harm"),
    "load": ("Load chart", "what the building carries, step by step"),
}
_STANDING = {
    "inspection": "what was seen and measured, the rating and the options",
    "notice": "as it is sent to the owner of the tree",
    "delivery-log": "how and when the letter was sent",
    "cause": "why the tree failed, by what was measured since",
}
_SPOILT = "The signed copy no longer has the hash it was kept with, so it is not given out."


@dataclass(frozen=True)
class Offer:
    """A paper that may be chosen: `what` says beside its title what is in it."""

    name: str
    title: str
    what: str
    group: str

    @property
    def usual(self) -> bool:
        """Whether it is chosen unless somebody says otherwise: nothing with photographs and their places is."""
        return self.group == OUTSIDE and self.name not in _ALSO


@dataclass(frozen=True)
class OnShow:
    """A paper as it can be had now: the copy signed, or as the job stands. `spoilt` says why that copy is held back."""

    offer: Offer
    signed: SignedPaper | None = None
    spoilt: str = ""


def offers(standing: bool) -> tuple[Offer, ...]:
    """Every paper of a job with a lying or a standing tree, in the order of the job."""
    if standing:
        return tuple(_offer(name, title, _STANDING[name]) for name, title in standing_papers.PAPERS.items())
    drawn = [Offer(name, title, what, OUTSIDE) for name, (title, what) in _DRAWN.items()]
    return (*(_offer(p.name, p.title, p.why) for p in LYING), *drawn)


def _offer(name: str, title: str, what: str) -> Offer:
    group = PRICES if name in _PRICED else OUTSIDE if name in _FOR_OUTSIDE else CREW
    return Offer(name, title, ", ".join(filter(None, (what, _ALSO.get(name)))), group)


def on_show(job: KeptJob, names: Collection[str]) -> list[OnShow]:
    """Those of these papers that can be had now: the signed copy where there is one, else as the job stands."""
    signed = newest(job)
    wanted = [offer for offer in offers(is_standing(job.latest)) if offer.name in names]
    ready = _ready(job, [offer.name for offer in wanted if offer.name not in signed])
    found = []
    for offer in wanted:
        row = signed.get(offer.name)
        if row is not None:
            found.append(OnShow(offer, row, "" if is_as_signed(row) else _SPOILT))
        elif offer.name in ready:
            found.append(OnShow(offer))
    return found


def _ready(job: KeptJob, names: Collection[str]) -> set[str]:
    """Those that can be made from the job as it is saved now."""
    if not names:
        return set()
    revision = job.latest
    if is_standing(revision):
        result = stood(revision.text).result
        return set() if result is None else {n for n in names if n != "cause" or result.look_back is not None}
    answer = kept_answer(job, revision.text)
    text = answer.text if answer else ""
    drawn = {name for name in _DRAWN if text and (name != "load" or read(text).cuts.chosen.steps)}
    found = given(revision.text, text, records_of(job, revision, answer, data_folder()))
    made = {paper.name for paper in LYING if found is not None and paper.name in names and not paper.lacking(found)}
    return (made | drawn) & set(names)


def file_of(request: HttpRequest, job: KeptJob, name: str) -> HttpResponse | None:
    """The paper as a file; None when it cannot be had now."""
    found = on_show(job, (name,))
    if not found or found[0].spoilt:
        return None
    row = found[0].signed
    if row is not None:
        return _pdf(bytes(row.pdf), f"{name}-signed-{row.version}")
    if name in _DRAWN:
        return papers.sheet(request, job.key, name)
    if is_standing(job.latest):
        return _pdf(standing_papers.pdf_of(job, name), name)
    return papers.briefing(request, job.key) if name == BRIEFING.name else _pdf(_made(job, paper_named(name)), name)


def _pdf(content: bytes, name: str) -> HttpResponse:
    answer = HttpResponse(content, content_type="application/pdf")
    answer["Content-Disposition"] = f'inline; filename="{name}.pdf"'
    return answer


def _made(job: KeptJob, paper: Paper | None) -> bytes:
    assert paper is not None  # it was among the offers
    revision = job.latest
    answer = kept_answer(job, revision.text)
    records = records_of(job, revision, answer, data_folder())
    return _printed(paper.name, revision.text, answer.text if answer else "", written(records))


@lru_cache(maxsize=4)
def _printed(name: str, text: str, answer: str, records: str) -> bytes:
    """Printed once for all who open it."""
    paper, found = paper_named(name), given(text, answer, read_back(records), pictures=True)
    assert paper is not None
    assert found is not None  # it could be made
    return printed(paper, found).pdf
