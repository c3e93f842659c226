"""Readers of the tables of keeping: authorities, kinds of dish, guidance.

Every row of guidance names its authority and jurisdiction, the document in which it was seen and how surely it was
seen: `read`, `read (secondary)` (quoted by another) or `memory`. The wording is a paraphrase; the document decides.
"""

from collections.abc import Iterable, Mapping
from functools import cache
from types import MappingProxyType

from mealcalc.errors import UsageError
from mealcalc.records.keeping import Authority, DishKind, DishRule, Guidance
from mealcalc.reference.tables import optional_number, read_table

TOPICS: Mapping[str, str] = MappingProxyType(
    {
        "refrigerator": "In the refrigerator",
        "freezer": "In the freezer",
        "thaw": "Thawing in the refrigerator",
        "thaw_otherwise": "Thawing otherwise",
        "thawed": "Once thawed",
        "reheat": "Reheating",
        "reheat_once": "Reheating again",
        "cook": "Cooking",
        "room": "At room temperature",
        "cold_holding": "Temperature of the refrigerator",
        "hot_holding": "Keeping hot",
        "headspace": "Headspace for freezing",
        "caution": "Cautions",
    }
)
"""Topics of guidance with their headings, in the order of printing."""

LOOKS_AT = ("food", "words", "name", "component", "kinds")
AUDIENCES = ("home", "trade", "processor")
EVERYBODY = "all"


@cache
def authorities() -> Mapping[str, Authority]:
    """Every authority by its short name."""
    rows = read_table(
        "authorities.csv",
        lambda r: Authority(
            r["authority"],
            r["name"],
            r["jurisdiction"],
            frozenset(r["regions"].split()),
            _one_of(r["audience"], AUDIENCES),
            r["note"],
        ),
    )
    return MappingProxyType({row.authority: row for row in rows})


@cache
def dish_kinds() -> Mapping[str, DishKind]:
    """Every kind of dish by its short name."""
    rows = read_table("dish_kinds.csv", lambda r: DishKind(r["kind"], r["name"], r["note"]))
    return MappingProxyType({row.kind: row for row in rows})


@cache
def dish_rules() -> tuple[DishRule, ...]:
    """The rules that say of which kinds a component is, in the order in which they are tried."""
    return read_table(
        "dish_rules.csv",
        lambda r: DishRule(
            _one_of(r["kind"], dish_kinds()),
            _one_of(r["looks_at"], LOOKS_AT),
            frozenset(r["food_groups"].split()),
            tuple(w for w in r["words"].split("|") if w),
            tuple(w for w in r["none_of"].split("|") if w),
            frozenset(r["with_kinds"].split()),
            frozenset(r["without_kinds"].split()),
            r["note"],
        ),
    )


@cache
def keeping_guidance() -> tuple[Guidance, ...]:
    """Every statement of guidance."""
    return read_table(
        "keeping_guidance.csv",
        lambda r: Guidance(
            _one_of(r["authority"], authorities()),
            _one_of(r["topic"], TOPICS),
            _one_of(r["dish"], dish_kinds()),
            optional_number(r["low"]),
            optional_number(r["high"]),
            r["unit"],
            optional_number(r["hold_s"]),
            int(r["cooking_day_is_day"]) if r["cooking_day_is_day"] else None,
            r["wording"],
            r["source"],
            r["edition"],
            r["mark"],
        ),
    )


def chosen_authorities(names: Iterable[str] = ()) -> tuple[Authority, ...]:
    """The authorities meant by short names (`uk_fsa`) or by regions (`uk`); all of them for no name or for 'all'.

    Those for plants under inspection count only where they are named themselves.

    Raises
    ------
    UsageError
        If a name is neither; the hint lists the known ones.
    """
    found: dict[str, Authority] = {}
    for name in tuple(names) or (EVERYBODY,):
        wanted = name.strip().lower().replace("-", "_")
        meant = [
            row
            for key, row in authorities().items()
            if wanted == key or (row.audience != "processor" and (wanted == EVERYBODY or wanted in row.regions))
        ]
        if not meant:
            regions = sorted({region for row in authorities().values() for region in row.regions})
            raise UsageError(
                f"no authority '{name.strip()}'",
                f"known ones: {', '.join(authorities())}; or all those of a region: {', '.join(regions)}",
            )
        found |= {row.authority: row for row in meant}
    return tuple(found.values())


def _one_of(text: str, allowed: Iterable[str]) -> str:
    if text not in allowed:
        raise ValueError(f"'{text}' is none of {', '.join(allowed)}")
    return text
