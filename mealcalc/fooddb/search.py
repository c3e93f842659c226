"""Full-text search over descriptions, names and scientific names (SQLite FTS5).

Words go to the search engine in quotation marks, one by one, so that nothing a user types is taken for its query
language. Both the index and the query are stemmed (Porter), hence singular and plural meet.
"""

import re
from collections.abc import Sequence

MOST_WORDS = 32
"""Words of a query beyond this number are not looked at: no description holds so many."""

# Letters and digits, as the tokenizer of the index divides text.
_WORD = re.compile(r"[^\W_]+")

# These say a state or a preparation, or join words, and stand in a thousand descriptions each: they rank the foods that
# other words bring in, and bring in none themselves.
COMMON_WORDS = frozenset(
    ["raw", "cooked", "with", "without", "and", "only", "or", "of", "in", "fat", "lean", "separable", "all", "added"]
)

FIND = """\
SELECT e.table_code, f.code, f.description, f.names, f.group_code, f.refuse_percent, f.manufacturer
FROM (
    SELECT s.rowid AS food_id, s.rank AS score FROM food_search AS s
    WHERE food_search MATCH ? ORDER BY s.rank, s.rowid LIMIT ?
) AS found
JOIN food AS f ON f.food_id = found.food_id
JOIN edition AS e ON e.edition_id = f.edition_id
ORDER BY found.score, f.food_id"""
"""Best foods of all tables for (query, limit)."""

FIND_IN_TABLE = """\
SELECT e.table_code, f.code, f.description, f.names, f.group_code, f.refuse_percent, f.manufacturer
FROM food_search AS s
JOIN food AS f ON f.food_id = s.rowid
JOIN edition AS e ON e.edition_id = f.edition_id
WHERE food_search MATCH ? AND e.table_code = ?
ORDER BY s.rank, f.food_id LIMIT ?"""
"""Best foods of one table for (query, table, limit)."""


def all_words_query(text: str) -> str:
    """Foods that hold every word of `text`, the last word being perhaps still unfinished; '' if there is no word."""
    words = _words(text)
    if not words:
        return ""
    # Asked for both ways, so that a food with the very word ranks above one with a longer word.
    return " AND ".join([*words[:-1], f"({words[-1]} OR {words[-1]}*)"])


def any_word_query(words: Sequence[str]) -> str:
    """Foods that hold any of `words`; very common words only rank the foods that the others bring in; '' if none."""
    quoted = _words(" ".join(words))
    telling = [word for word in quoted if word.strip('"') not in COMMON_WORDS]
    if not telling or len(telling) == len(quoted):
        return " OR ".join(quoted)
    return f"({' OR '.join(telling)}) AND ({' OR '.join(quoted)})"


def _words(text: str) -> list[str]:
    # A dictionary keeps the order and drops repetitions.
    return list(dict.fromkeys(f'"{word}"' for word in _WORD.findall(text.lower())))[:MOST_WORDS]
