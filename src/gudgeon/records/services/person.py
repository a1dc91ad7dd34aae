"""People at the bench."""

from django.db import transaction

from gudgeon.job import objects
from gudgeon.records import models, shapes
from gudgeon.records.queries import NoSuch
from gudgeon.records.services.entry import BadEntry, now

MOST_INITIALS = 8


def add_person(initials: str, name: str) -> objects.Person:
    """Write down somebody who works here; the same person twice is one."""
    short, full = initials.strip(), " ".join(name.split())
    if not short or len(short) > MOST_INITIALS or not short.isalnum():
        raise BadEntry(
            f"“{short[:40]}” cannot be initials; type 1 to {MOST_INITIALS} letters or digits, such as MK.",
            "initials",
            initials,
        )
    if not full or len(full) > 120:
        raise BadEntry("Type the name, at most 120 letters.", "name", name)
    with transaction.atomic():
        row, new = models.Person.objects.get_or_create(initials=short, defaults={"name": full})
        if not new and row.name != full:
            raise BadEntry(f"“{short}” is {row.name} already; choose other initials.", "initials", initials)
        if not row.working:
            row.working = True
            row.save(update_fields=["working"])
    return shapes.person(row)


def rename_person(initials: str, name: str) -> None:
    """Mend a name; the initials stay, everything is signed with them."""
    full = " ".join(name.split())
    if not full or len(full) > 120:
        raise BadEntry("Type the name, at most 120 letters.", "name", name)
    if not models.Person.objects.filter(initials=initials).update(name=full):
        raise NoSuch("person", initials)


def has_left(initials: str) -> None:
    """Somebody works here no longer; what they signed stays theirs, and their devices are out."""
    with transaction.atomic():
        if not models.Person.objects.filter(initials=initials).update(working=False):
            raise NoSuch("person", initials)
        models.Device.objects.filter(person__initials=initials, revoked=None).update(revoked=now())
