"""Photographs of a job: facts that name pictures by their hashes."""

import msgspec


class Photograph(msgspec.Struct, frozen=True, forbid_unknown_fields=True, kw_only=True, omit_defaults=True):
    """A photograph, where it belongs and what is written under it.

    A new caption, another place in the order, taken out and put back: each is a further fact that replaces
    this one. The pictures themselves never change; they go by their SHA-256.
    """

    id: str
    sha256: str  # as kept: upright, whole, without what the camera wrote into it
    screen: str  # for screens and paper
    thumbnail: str
    width: int
    height: int
    taken: str = ""  # by the camera's own clock, which knows its zone only sometimes
    caption: str = ""
    place: int = 0  # its turn among the job's photographs
    part: str | None = None  # key of a catalog part
    instance: str = ""
    step: str | None = None  # key of an operation
    finding: str | None = None
    out: bool = False  # taken out of the job; what was issued with it keeps it
    by: str
    at: str
    device: str = ""
    replaces: str | None = None
