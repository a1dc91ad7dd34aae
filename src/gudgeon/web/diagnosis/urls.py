"""The diagnosis of a job, and what is written down on it."""

from django.urls import path

from gudgeon.web.diagnosis.budget import leak_budget
from gudgeon.web.diagnosis.report import condition, condition_paper
from gudgeon.web.diagnosis.simulations import compression, held, over_hours
from gudgeon.web.diagnosis.views import check, depth, diagnosis, not_made, questions, symptoms

urlpatterns = [
    path("", diagnosis, name="diagnosis"),
    path("questions/", questions, name="diagnosis_questions"),
    path("symptoms/", symptoms, name="diagnosis_symptoms"),
    path("check/<slug:key>/", check, name="diagnosis_check"),
    path("check/<slug:key>/not-made/", not_made, name="diagnosis_not_made"),
    path("depth/", depth, name="diagnosis_depth"),
    path("report/", condition, name="condition"),
    path("report/paper/", condition_paper, name="condition_paper"),
    path("budget/<str:test>/", leak_budget, name="leak_budget"),
    path("holding/", held, name="held"),
    path("compression/", compression, name="compression"),
    path("hours/", over_hours, name="over_hours"),
]
