"""Addresses."""

from __future__ import annotations

from django.urls import path

from bolewright.web.pages import cuts, entry, history, holding, jobs, out, papers, photos, work

J = "job/<str:key>/"
urlpatterns = [
    path("", jobs.jobs, name="jobs"),
    path("new", jobs.new, name="new"),
    path("take-in", jobs.take_in, name="take-in"),
    path("who", jobs.set_who, name="who"),
    path("night", jobs.set_night, name="night"),
    path(f"{J}units", jobs.set_units, name="units"),
    path(f"{J}job.toml", jobs.give_out, name="give-out"),
    path(f"{J}call", entry.call, name="call"),
    path(f"{J}measure", entry.measure, name="measure"),
    path(f"{J}save/<str:here>", entry.save_page, name="save"),
    path(f"{J}undo", entry.take_back, name="undo"),
    path(f"{J}drawing.svg", entry.drawing, name="drawing"),
    path(f"{J}photos", photos.photos, name="photos"),
    path(f"{J}photos/add", photos.upload, name="upload"),
    path(f"{J}photos/waive", photos.waive_view, name="waive"),
    path(f"{J}photos/<int:number>", photos.about, name="photo"),
    path(f"{J}photos/<int:number>/<str:size>", photos.picture, name="picture"),
    path(f"{J}holding", holding.holding, name="holding"),
    path(f"{J}cuts", cuts.cuts, name="cuts"),
    path(f"{J}cuts/work-out", cuts.work_out, name="work-out"),
    path(f"{J}cuts/progress", cuts.progress, name="progress"),
    path(f"{J}cuts/choose", cuts.choose, name="choose"),
    path(f"{J}work", work.work, name="work"),
    path(f"{J}work/tick", work.tick, name="tick"),
    path(f"{J}work/observe", work.observe, name="observe"),
    path(f"{J}stop", work.stop, name="stop"),
    path(f"{J}stopped", work.stopped, name="stopped"),
    path(f"{J}go-on", work.go_on, name="go-on"),
    path(f"{J}out", out.out, name="out"),
    path(f"{J}papers", papers.papers, name="papers"),
    path(f"{J}papers/briefing.pdf", papers.briefing, name="briefing"),
    path(f"{J}papers/sheet-<str:what>", papers.measuring_sheet, name="measuring-sheet"),
    path(f"{J}papers/<str:name>.svg", papers.sheet, name="paper-drawing"),
    path(f"{J}history", history.history, name="history"),
    path(f"{J}history/back", history.go_back, name="go-back"),
    path(f"{J}both/<int:aside>", history.conflict, name="conflict"),
]
