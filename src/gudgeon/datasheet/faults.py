"""What is wrong with a data sheet: every fault a finished sentence, all of them in one answer."""

from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class Fault:
    """One thing wrong: where it stands, and a sentence saying what was given and what is allowed."""

    file: str
    row: str  # "limits, stem_od, row 2"
    key: str
    says: str

    def __str__(self) -> str:
        return f"{', '.join(part for part in (self.file, self.row, self.key) if part)}: {self.says}"


class SheetErrors(ValueError):  # noqa: N818  it holds all the errors of a sheet, so its name is a plural
    """A data sheet that cannot be used as it is; ``faults`` holds every reason."""

    def __init__(self, faults: tuple[Fault, ...]) -> None:
        self.faults = faults
        super().__init__("\n".join(str(fault) for fault in faults))
