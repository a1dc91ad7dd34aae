"""What was kept and can no longer be used as it was."""


class DamagedFile(ValueError):  # noqa: N818  named for what happened
    """A stored file that is missing, or is not what its name says."""


class BackupFault(ValueError):  # noqa: N818  named for what happened
    """A backup that cannot be used as it is; ``faults`` are finished sentences."""

    def __init__(self, *faults: str) -> None:
        self.faults = faults
        super().__init__(" ".join(faults))
