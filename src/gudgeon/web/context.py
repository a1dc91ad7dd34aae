"""What every page is given. Asks the database nothing, so that it works on an error page too."""

from django.http import HttpRequest

from gudgeon.web.device import device_of
from gudgeon.web.door import paired_of


def shop(request: HttpRequest) -> dict[str, object]:
    """The device in hand, and how it is paired."""
    return {"device": device_of(request), "paired": paired_of(request)}
