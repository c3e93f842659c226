"""The exceptions of mealcalc.

Mistakes in a recipe are not exceptions: they are `Diagnostic` records, collected and shown together. An exception is
for what makes going on impossible, and each one tells the way out in `hint`.
"""


class MealcalcError(Exception):
    """Base of every exception that mealcalc raises on purpose.

    Parameters
    ----------
    message : str
        What is wrong and where.
    hint : str
        What the user can do about it; empty if there is nothing to add.
    """

    def __init__(self, message: str, hint: str = "") -> None:
        super().__init__(message)
        self.message = message
        self.hint = hint


class UsageError(MealcalcError):
    """The command or function was called in a way it cannot serve (an unknown region, a missing file)."""


class InputFileError(MealcalcError):
    """A file cannot be read at all: it is missing, binary, too large or in an unknown encoding."""


class FoodDatabaseError(MealcalcError):
    """The food database cannot be opened, built or read."""


class ReferenceDataError(MealcalcError):
    """A shipped reference table breaks its own rules."""


class ConfigurationError(MealcalcError):
    """The configuration file or a decisions file cannot be understood."""
