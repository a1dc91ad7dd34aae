"""Headers every answer carries."""

from collections.abc import Callable

from django.http import HttpRequest, HttpResponseBase

from gudgeon.quantities import Refused
from gudgeon.records.queries import NoSuch
from gudgeon.records.trouble import sentence_for
from gudgeon.web import failures

# Everything comes from our own address and nothing is written inline, so a text that slips into a page
# unescaped still cannot run.
CONTENT_POLICY = "; ".join(
    (
        "default-src 'none'",
        "object-src 'none'",
        "script-src 'self'",
        "style-src 'self'",
        "img-src 'self' data:",
        "font-src 'self'",
        "connect-src 'self'",
        "manifest-src 'self'",
        "form-action 'self'",
        "frame-ancestors 'none'",
        "base-uri 'none'",
    )
)
HEADERS = {
    # By this a page of ours knows that it is the bench that answers, and not a network's own page.
    "Gudgeon": "bench",
    "Content-Security-Policy": CONTENT_POLICY,
    "Permissions-Policy": "camera=(self), microphone=(), geolocation=(), payment=()",
    "X-Content-Type-Options": "nosniff",
    "Cross-Origin-Resource-Policy": "same-origin",
}


class ContentPolicyMiddleware:
    """Puts the strict content policy on every answer, error pages too."""

    def __init__(self, get_response: Callable[[HttpRequest], HttpResponseBase]) -> None:
        """Keep the next layer."""
        self.get_response = get_response

    def __call__(self, request: HttpRequest) -> HttpResponseBase:
        """Answer with the headers set."""
        response = self.get_response(request)
        for name, value in HEADERS.items():
            response.headers.setdefault(name, value)
        if response.get("Content-Type", "").startswith("text/html"):
            # A page out of a cache shows yesterday's readings.
            response.headers.setdefault("Cache-Control", "no-store")
        return response


class SentenceMiddleware:
    """Turns what a room below refuses into a page with its sentence."""

    def __init__(self, get_response: Callable[[HttpRequest], HttpResponseBase]) -> None:
        """Keep the next layer."""
        self.get_response = get_response

    def __call__(self, request: HttpRequest) -> HttpResponseBase:
        """Answer."""
        return self.get_response(request)

    def process_exception(self, request: HttpRequest, exception: Exception) -> HttpResponseBase | None:
        """A page in our words, where the exception carries them."""
        if isinstance(exception, NoSuch):
            return failures.not_found(request, exception)
        if isinstance(exception, Refused):
            return failures.refused(request, exception)
        if said := sentence_for(exception):
            return failures.cannot_write(request, said)
        return None
