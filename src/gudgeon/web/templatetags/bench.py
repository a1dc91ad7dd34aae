"""Template words of the bench: marks, pictures, times."""

from datetime import datetime
from zoneinfo import ZoneInfo, ZoneInfoNotFoundError

from django import template
from django.utils.safestring import SafeString, mark_safe

from gudgeon.report.draw import PAGE
from gudgeon.report.draw.marks import MARKS, put_mark, status_words
from gudgeon.report.draw.svg import Sheet
from gudgeon.web.tokens import plain_id

register = template.Library()


@register.simple_tag
def mark(status: str) -> SafeString:
    """The status's shape, beside its words, so it is hidden from those who listen."""
    if status not in MARKS:
        return mark_safe("")
    sheet = Sheet(PAGE, 26, 26, title="", message="")
    put_mark(sheet, status, (13, 13), 18)
    drawn = sheet.render().replace('role="img" aria-label=". "', 'aria-hidden="true" focusable="false"', 1)
    return mark_safe(drawn.replace("<title></title><desc></desc>", ""))  # noqa: S308  our own drawing, no text in it


@register.filter
def said(status: str) -> str:
    """A verdict's status in words."""
    return status_words(status) if status in MARKS else status


@register.filter
def drawn(svg: str) -> SafeString:
    """A picture of the drawing room, which escapes every text itself."""
    return mark_safe(svg)  # noqa: S308  made by report.draw, which escapes


@register.filter
def clock(at: datetime | str, zone: str = "UTC") -> str:
    """A moment in the shop's own time: "3 May 2026, 14:10"."""
    moment = datetime.fromisoformat(at.replace("Z", "+00:00")) if isinstance(at, str) else at
    try:
        there = moment.astimezone(ZoneInfo(zone))
    except (ZoneInfoNotFoundError, ValueError):
        there = moment
    return f"{there.day} {there:%B %Y}, {there:%H:%M}"


@register.filter
def thing(mapping: dict[str, object], key: str) -> object:
    """A value looked up by a key that a template holds in a variable."""
    return mapping.get(key, "")


@register.filter
def plain(words: str) -> str:
    """The identifier an element of a page goes by."""
    return plain_id(words)
