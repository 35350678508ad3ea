"""What is wrong with a table, or with what was asked of it. Every error keeps its arguments."""

import datetime as dt


class TableError(Exception):
    """Base of all table errors: which file, which key, what is wrong, and what to do about it."""

    def __init__(self, *, file: str, key: str, problem: str, remedy: str) -> None:
        super().__init__(f"{file}, {key}: {problem}. {remedy}.")
        self.file = file
        self.key = key
        self.problem = problem
        self.remedy = remedy


class BadFileError(TableError):
    """The file cannot be read as TOML."""


class MissingKeyError(TableError):
    """A key that every parameter or row must have is missing."""


class MissingReferenceError(MissingKeyError):
    """A row does not say where its value comes from."""


class UnknownKeyError(TableError):
    """A key that the format does not have."""


class WrongUnitError(TableError):
    """A unit outside the closed list, or a value that does not fit its unit."""


class WrongValueError(TableError):
    """A date, mark or key column whose content is not allowed."""


class DatesOutOfOrderError(TableError):
    """Rows of one cell do not go from the oldest to the latest."""


class DuplicateCellError(TableError):
    """Two rows of one cell start on the same day, or two parameters share a name."""


class UnknownParameterError(TableError):
    """No file has a parameter of that name."""


class NotInTableError(TableError):
    """The cell asked for is not printed; nothing is taken from its neighbours."""

    def __init__(
        self, *, file: str, key: str, asked: tuple[object, ...], allowed: tuple[tuple[object, ...], ...]
    ) -> None:
        printed = "; ".join(", ".join(map(str, cell)) for cell in allowed)
        super().__init__(
            file=file,
            key=key,
            problem=f"{', '.join(map(str, asked))} is not printed",
            remedy=f"Use the maker's mark, or one of: {printed}",
        )
        self.asked = asked
        self.allowed = allowed


class BeforeFirstRowError(TableError):
    """The day asked for is before the first row."""

    def __init__(self, *, file: str, key: str, day: dt.date, first: dt.date) -> None:
        super().__init__(
            file=file,
            key=key,
            problem=f"{day} is before the first row, {first}",
            remedy="Ask for a later day, or add a dated row with its reference",
        )
        self.day = day
        self.first = first
