"""The diagnosis of a job, and what is written down on it."""

from django.urls import path

from gudgeon.web.diagnosis.views import check, depth, diagnosis, not_made, questions, symptoms

urlpatterns = [
    path("", diagnosis, name="diagnosis"),
    path("questions/", questions, name="diagnosis_questions"),
    path("symptoms/", symptoms, name="diagnosis_symptoms"),
    path("check/<slug:key>/", check, name="diagnosis_check"),
    path("check/<slug:key>/not-made/", not_made, name="diagnosis_not_made"),
    path("depth/", depth, name="diagnosis_depth"),
]
