"""Pairing: a code shown on the laptop lets one device in, once, within five minutes."""

import hashlib
import secrets
from dataclasses import dataclass
from datetime import datetime, timedelta

from django.db import transaction
from django.utils.crypto import salted_hmac

from gudgeon.quantities import Refused
from gudgeon.records import models, queries
from gudgeon.records.devices import ROLES, Paired, paired_of
from gudgeon.records.services.entry import must, now

GOOD_FOR = timedelta(minutes=5)
ALPHABET = "23456789ABCDEFGHJKMNPQRSTVWXYZ"  # nothing that is taken for something else
LETTERS = 8  # about 39 bits; few tries are allowed in the five minutes
SEEN_AT_MOST_EVERY = timedelta(minutes=1)


class WrongCode(Refused):
    """The code is not known, used up or too old; which of them is not told."""

    def __init__(self) -> None:
        super().__init__("This code is wrong, used up or older than five minutes; ask for a new one.")


@dataclass(frozen=True, slots=True)
class Welcome:
    """A device just paired, and what its cookie is to hold."""

    device: Paired
    proof: str


def make_code(role: str, job: str = "", at: datetime | None = None) -> str:
    """A fresh code for a builder, an apprentice, or a visitor to one job. Codes before it are void."""
    if role not in ROLES:
        raise Refused(f"“{role[:40]}” cannot be chosen; allowed: {', '.join(ROLES)}.")
    if role == "visitor" and not job.strip():
        raise Refused("Say which job the visitor may see.")
    seen = queries.job_row(job.strip()) if role == "visitor" else None
    code = "".join(secrets.choice(ALPHABET) for _ in range(LETTERS))
    with transaction.atomic():
        models.PairingCode.objects.all().delete()
        models.PairingCode(code=_hash(code), role=role, job=seen, until=(at or now()) + GOOD_FOR).save()
    return f"{code[:4]}-{code[4:]}"


def pair(typed: str, at: datetime | None = None) -> Welcome:
    """Let the device in that knows the code; the code is used up by it."""
    code = "".join(letter for letter in typed.upper() if letter.isalnum())
    moment, proof = at or now(), secrets.token_urlsafe(32)
    with transaction.atomic():
        found = models.PairingCode.objects.filter(code=_hash(code), used=None, until__gt=moment)
        row = found.select_related("job").first()
        # Two devices at once: the one whose update finds the code unused is let in.
        if row is None or not found.update(used=moment):
            raise WrongCode
        device = models.Device(
            mark=secrets.token_hex(4),
            proof=hash_of_proof(proof),
            role=row.role,
            job=row.job,
            paired=moment,
            seen=moment,
        )
        device.save()
    return Welcome(paired_of(device), proof)


def names_person(mark: str, initials: str) -> None:
    """The device is in this person's hand. An apprentice's or a visitor's is given once and not passed on."""
    with transaction.atomic():
        row = must(models.Device.objects.filter(mark=mark, revoked=None), "paired device", mark)
        person = must(models.Person.objects.filter(initials=initials, working=True), "person", initials)
        if row.role != "builder" and row.person_id not in (None, initials):
            raise Refused(f"This device was paired for {row.person_id}; a builder can pair it anew.")
        row.person = person
        row.save(update_fields=["person"])


def revoke(mark: str) -> None:
    """The device is out at once."""
    if not models.Device.objects.filter(mark=mark, revoked=None).update(revoked=now()):
        raise queries.NoSuch("paired device", mark)


def was_seen(device: Paired, at: datetime | None = None) -> None:
    """Write down that the device was here, at most once a minute."""
    moment = at or now()
    if moment - device.seen >= SEEN_AT_MOST_EVERY:
        models.Device.objects.filter(mark=device.mark, seen__lt=moment).update(seen=moment)


def hash_of_proof(proof: str) -> str:
    """What is kept of a device's proof: 256 random bits need no slower hash."""
    return hashlib.sha256(proof.encode()).hexdigest()


def _hash(code: str) -> str:
    """Keyed, because a short code could be guessed from a plain hash in a copied database."""
    return salted_hmac("gudgeon.pairing", code, algorithm="sha256").hexdigest()
