"""The views a job asks for, each filled by a photograph, done without with a reason and a name, or missing."""

from __future__ import annotations

from dataclasses import dataclass

from bolewright.planning.order.views import BEFORE, View, views_of, waits_for
from bolewright.planning.results import CutStep
from bolewright.store import day
from bolewright.store.models import Answer, KeptJob, Photo, Shown, Waiver
from bolewright.store.results import Worked, read

NO_VIEW = "There is no such view: choose one of the list."


@dataclass(frozen=True)
class ViewState:
    """A view with what fills it."""

    view: View
    photos: tuple[Photo, ...]
    waiver: Waiver | None

    @property
    def state(self) -> str:
        """filled | waived | missing"""
        return "filled" if self.photos else "waived" if self.waiver else "missing"


def views_of_job(job: KeptJob) -> tuple[View, ...]:
    """Every view asked for: those of any job, and those of the plan in use and of cuts already made."""
    used = day.plan_in_use(job)
    if used is None:
        return views_of(cut=_cut_pieces(job))
    worked = read(used[0].text)
    return views_of(worked.plan(used[1]), worked.scene, _cut_pieces(job))


def _cut_pieces(job: KeptJob) -> list[str]:
    """Pieces whose cut stands ticked, of whatever plan, in the order of the ticks."""
    found: list[str] = []
    for answer in Answer.objects.filter(job=job, log__kind="ticked").distinct():
        worked, done = read(answer.text), day.ticks(answer).done
        found += [entry.about for n, entry in sorted(done.items()) if _is_cut(worked, n, entry.about)]
    return found


def _is_cut(worked: Worked, number: int, piece: str) -> bool:
    plans = (worked.cuts.chosen, *worked.cuts.alternatives)
    return any(s.n == number and s.piece == piece and s.action == "cut" for plan in plans for s in plan.steps)


def shown_by(photo: Photo) -> frozenset[str]:
    """The views a photograph shows, by what it was sent for and what was said since."""
    found = {photo.view} if photo.view else set()
    for said in photo.shown.all():
        found = found | {said.view} if said.shows else found - {said.view}
    return frozenset(found)


def view_states(job: KeptJob) -> list[ViewState]:
    """Every view with what fills it."""
    photos = [(p, shown_by(p)) for p in job.photos.prefetch_related("shown")]
    waivers = {w.view: w for w in job.waivers.all()}
    return [
        ViewState(v, tuple(p for p, shows in photos if v.id in shows), waivers.get(v.id)) for v in views_of_job(job)
    ]


def missing_before_cutting(job: KeptJob) -> list[View]:
    """Views of the first stage that are neither filled nor waived: without them no plan is taken."""
    return [s.view for s in view_states(job) if s.view.stage == BEFORE and s.state == "missing"]


def missing_for(job: KeptJob, step: CutStep) -> list[ViewState]:
    """Views a step of the plan in use still waits for."""
    states = {s.view.id: s for s in view_states(job) if s.state == "missing"}
    return [states[v.id] for v in waits_for(step, (s.view for s in states.values()))]


def view_of(job: KeptJob, name: str) -> View:
    """The view of this name. Raises ValueError with a sentence when the job asks for no such one."""
    found = next((v for v in views_of_job(job) if v.id == name), None)
    if found is None:
        raise ValueError(NO_VIEW)
    return found


def say_shows(photo: Photo, view: str, shows: bool, by: str) -> Shown | None:
    """Say that a photograph shows a view, or does not; None when that is known. Raises ValueError for no such view."""
    if shows:
        view_of(photo.job, view)
    if (view in shown_by(photo)) == shows:
        return None
    return Shown.objects.create(photo=photo, view=view, shows=shows, by=by[:80])


def waive(job: KeptJob, view: str, reason: str, by: str) -> Waiver:
    """Do without a view. Raises ValueError with a sentence when no reason or name is given."""
    view_of(job, view)
    if len(reason.strip()) < 3:
        raise ValueError("Write down why this view is done without: somebody will ask.")
    if not by.strip():
        raise ValueError("Write down who decides to do without this view.")
    return Waiver.objects.create(job=job, view=view, reason=reason.strip()[:500], by=by.strip()[:80])
