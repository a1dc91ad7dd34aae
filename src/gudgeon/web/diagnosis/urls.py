"""The diagnosis of a job, and what is written down on it."""

from django.urls import path

from gudgeon.records.lists import REPORT
from gudgeon.web.diagnosis.budget import leak_budget
from gudgeon.web.diagnosis.report import answer, condition, condition_paper, keep, kept
from gudgeon.web.diagnosis.several import several
from gudgeon.web.diagnosis.simulations import compression, held, over_hours
from gudgeon.web.diagnosis.views import check, depth, diagnosis, not_made, questions, symptoms
from gudgeon.web.record.views import paper, paper_again, paper_progress

urlpatterns = [
    path("", diagnosis, name="diagnosis"),
    path("questions/", questions, name="diagnosis_questions"),
    path("symptoms/", symptoms, name="diagnosis_symptoms"),
    path("several/", several, name="diagnosis_several"),
    path("check/<slug:key>/", check, name="diagnosis_check"),
    path("check/<slug:key>/not-made/", not_made, name="diagnosis_not_made"),
    path("depth/", depth, name="diagnosis_depth"),
    path("report/", condition, name="condition"),
    path("report/paper/", condition_paper, name="condition_paper"),
    path("report/keep/", keep, name="keep_report"),
    path("report/<int:revision>/", kept, name="kept_report"),
    path("report/<int:revision>/answer/", answer, name="owner_answer"),
    path("report/<int:revision>/progress/", paper_progress, {"kind": REPORT}, name="kept_progress"),
    path("report/<int:revision>/again/", paper_again, {"kind": REPORT}, name="kept_again"),
    path("report/<int:revision>/paper/", paper, {"kind": REPORT}, name="kept_paper"),
    path("budget/<str:test>/", leak_budget, name="leak_budget"),
    path("holding/", held, name="held"),
    path("compression/", compression, name="compression"),
    path("hours/", over_hours, name="over_hours"),
]
