"""The shop's settings."""

import re
from collections.abc import Callable, Mapping
from typing import Any
from zoneinfo import ZoneInfo, ZoneInfoNotFoundError

from django.db import transaction

from gudgeon.catalog import catalog
from gudgeon.job.readings import Typed
from gudgeon.quantities import SYSTEMS
from gudgeon.records import models
from gudgeon.records.services.entry import BadEntry
from gudgeon.records.services.typed import quantity_or_none, working_time

PAPERS = ("A4", "Letter")


def set_shop(**typed: str) -> models.Shop:
    """Change settings: name, units, paper, currency, altitude, zone, next_job_number; others stay."""
    unknown = typed.keys() - _READERS.keys()
    if unknown:
        raise BadEntry(f"“{min(unknown)}” is not a setting of the shop.", min(unknown), "")
    values = {name: _READERS[name](text) for name, text in typed.items()}
    with transaction.atomic():
        models.Shop.objects.get_or_create(pk=1)
        shop = models.Shop.objects.select_for_update().get(pk=1)
        for name, value in values.items():
            setattr(shop, name, value)
        shop.save()
    return shop


def set_shop_hours(typed: Mapping[str, tuple[str, str]]) -> models.Shop:
    """Hours of work the shop reckons with, from and to for each scope; both empty takes them back."""
    read = {scope: _hours(scope, *ends) for scope, ends in typed.items()}
    with transaction.atomic():
        models.Shop.objects.get_or_create(pk=1)
        shop = models.Shop.objects.select_for_update().get(pk=1)
        kept = {scope: ends for scope, ends in shop.hours.items() if scope not in read}
        shop.hours = kept | {scope: ends for scope, ends in read.items() if ends}
        shop.save()
    return shop


def _hours(scope: str, low: str, high: str) -> tuple[Typed, Typed] | None:
    row = catalog().scopes.get(scope)
    if row is None or not row.chosen:
        raise BadEntry(f"No scope is called “{scope[:40]}”.", f"{scope}.from", low)
    if not low.strip() and not high.strip():
        return None
    ends = []
    for end, text in (("from", low), ("to", high)):
        if not text.strip():
            raise BadEntry(f"{row.name}: both from and to are wanted, or neither.", f"{scope}.{end}", text)
        ends.append(working_time(f"{scope}.{end}", text))
    if ends[0].si > ends[1].si:
        raise BadEntry(f"{row.name}: “from” is more than “to”.", f"{scope}.from", low)
    return ends[0], ends[1]


def take_job_number() -> str:
    """The next free job number; part of the transaction that opens the job."""
    models.Shop.objects.get_or_create(pk=1)
    shop = models.Shop.objects.select_for_update().get(pk=1)
    number = shop.next_job_number
    while models.Job.objects.filter(number=str(number)).exists():
        number += 1
    models.Shop.objects.filter(pk=1).update(next_job_number=number + 1)
    return str(number)


def _one_of(name: str, allowed: tuple[str, ...]) -> Callable[[str], str]:
    def read(text: str) -> str:
        if text not in allowed:
            raise BadEntry(f"“{text[:40]}” cannot be chosen; allowed: {', '.join(allowed)}.", name, text)
        return text

    return read


def _name(text: str) -> str:
    if len(text) > 120:
        raise BadEntry(f"The shop's name has {len(text)} letters; at most 120 are allowed.", "name", text)
    return text.strip()


def _currency(text: str) -> str:
    if not re.fullmatch(r"[A-Z]{3}", text.strip()):
        raise BadEntry(
            f"“{text[:40]}” is not a currency; type its three letters, such as EUR.", "currency", text
        )
    return text.strip()


def _zone(text: str) -> str:
    try:
        ZoneInfo(text)
    except (ZoneInfoNotFoundError, ValueError, OSError):
        raise BadEntry(
            f"“{text[:40]}” is not a time zone; allowed are names such as Europe/Vienna.", "zone", text
        ) from None
    return text


def _number(text: str) -> int:
    if not re.fullmatch(r"[1-9][0-9]{0,6}", text.strip()):
        raise BadEntry(
            f"“{text[:40]}” is not a job number; type a whole number from 1.", "next_job_number", text
        )
    return int(text)


_READERS: dict[str, Callable[[str], Any]] = {
    "name": _name,
    "units": _one_of("units", tuple(SYSTEMS)),
    "paper": _one_of("paper", PAPERS),
    "currency": _currency,
    "altitude": lambda text: quantity_or_none("altitude", text, "length", "m"),
    "zone": _zone,
    "next_job_number": _number,
}
