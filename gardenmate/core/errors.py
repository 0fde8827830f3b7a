"""What can go wrong, in the words the user sees, with the exit code of each."""

from __future__ import annotations


class GardenmateError(Exception):
    """Base of every failure told to the user as one clear sentence.

    ``exit_code`` is what the command line leaves with.
    """

    exit_code = 1


class UsageError(GardenmateError):
    """The words on the command line, or what the garden file says, do not fit (exit 2).

    ``key`` is the key of the garden file that holds it when it was told before, such as "frost.last".
    """

    exit_code = 2

    def __init__(self, said: str, key: str = "") -> None:
        super().__init__(said)
        self.key = key


class NeedPlaceError(GardenmateError):
    """The question needs the garden's place and none is known (exit 3)."""

    exit_code = 3


class AmbiguousPlaceError(UsageError):
    """Two or more places fit a name about equally well (exit 2)."""

    def __init__(self, typed: str, candidates: tuple[str, ...]) -> None:
        self.typed = typed
        self.candidates = candidates
        listed = "; ".join(candidates)
        super().__init__(
            f"There is more than one '{typed}': {listed}. Name one of them, with its region.", "place.name"
        )

    @property
    def asked(self) -> str:
        """The question back where the candidates are listed beneath it."""
        return f"There is more than one {self.typed}. Which do you mean?"


class FarPlaceError(UsageError):
    """No climate record is near enough to a place to answer for it (exit 2)."""


class DamagedFileError(GardenmateError):
    """A knowledge, garden, journal or weather file cannot be read (exit 5)."""

    exit_code = 5
