"""Papers sent to the browser."""

import re

from django.http import HttpResponse

from gudgeon.records import queries
from gudgeon.records.services.record import paper_size
from gudgeon.report.content import PaperSize


def paper_in_use() -> PaperSize:
    """The paper in the shop's printer."""
    return paper_size(queries.shop())


def pdf(data: bytes, name: str) -> HttpResponse:
    """A PDF to be shown or kept."""
    return attachment(data, name, "application/pdf", inline=True)


def attachment(data: bytes, name: str, media_type: str, inline: bool = False) -> HttpResponse:
    """A file with a plain name."""
    plain = re.sub(r"[^A-Za-z0-9._-]+", "-", name).strip("-") or "file"
    response = HttpResponse(data, content_type=media_type)
    response.headers["Content-Disposition"] = f'{"inline" if inline else "attachment"}; filename="{plain}"'
    return response
