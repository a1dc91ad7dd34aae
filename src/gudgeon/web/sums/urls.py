"""Addresses of the sums."""

from django.urls import path

from gudgeon.web.sums.views import sum_page, sums_page

urlpatterns = [
    path("", sums_page, name="sums"),
    path("<slug:key>/", sum_page, name="sum"),
]
