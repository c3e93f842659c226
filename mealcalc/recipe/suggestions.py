"""'Did you mean': the known word nearest to a misspelt one."""

from collections.abc import Iterable
from difflib import get_close_matches

MOST_LISTED = 20
"""Words that a hint lists where none is near."""


def did_you_mean(word: str, known: Iterable[str]) -> str:
    """A hint that names the nearest known word, or lists the first of them where none is near."""
    choices = list(known)
    by_fold = {choice.casefold(): choice for choice in reversed(choices)}
    near = get_close_matches(word.casefold()[:80], by_fold, n=1, cutoff=0.6)
    if near:
        return f"did you mean '{by_fold[near[0]]}'?"
    further = f" and {len(choices) - MOST_LISTED} more" if len(choices) > MOST_LISTED else ""
    return f"known are: {', '.join(choices[:MOST_LISTED])}{further}"
