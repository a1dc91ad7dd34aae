"""Every address of the shop."""

from django.urls import include, path

urlpatterns = [path("", include("gudgeon.web.urls"))]

handler400 = "gudgeon.web.failures.bad_request"
handler403 = "gudgeon.web.failures.forbidden"
handler404 = "gudgeon.web.failures.not_found"
handler500 = "gudgeon.web.failures.went_wrong"
