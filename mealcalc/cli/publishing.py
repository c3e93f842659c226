"""Puts together what is published of a batch: panels by scheme and component, claims, dates, wording."""

from collections.abc import Collection, Sequence
from dataclasses import dataclass
from datetime import date

from mealcalc.cli.labelled import dish_of, scheme_of
from mealcalc.cli.wording import allergen_wording, ingredient_wording
from mealcalc.diagnostics import Diagnostic
from mealcalc.labelling.claims import check_claims, claims_caution
from mealcalc.labelling.panel import make_panel
from mealcalc.labelling.schemes import SCHEMES
from mealcalc.planning.one_component import only_component
from mealcalc.planning.sticker_dates import sticker_dates
from mealcalc.records import BatchResult
from mealcalc.records.published import MakersWords
from mealcalc.reports.publication import Publication

NOT_SAID = MakersWords()


@dataclass(frozen=True, slots=True)
class Package:
    """What the recipe cannot say about a package; see `planning.label.panel_input`."""

    cooked_mass_g: float | None = None
    volume_ml: float | None = None
    servings: float = 1.0
    reference_amount_g: float | None = None


def scheme_names(named: Sequence[str], result: BatchResult) -> tuple[str, ...]:
    """The schemes that were named (`all` for every one), or that of the region.

    Raises
    ------
    UsageError
        If a scheme is unknown, or none was named and the region has none.
    """
    wanted = [word for words in named for word in words.split(",") if word.strip()]
    if "all" in (word.strip().lower() for word in wanted):
        return tuple(SCHEMES)
    if not wanted:
        return (scheme_of(None, result),)
    return tuple(dict.fromkeys(scheme_of(word, result) for word in wanted))


def publication_of(
    result: BatchResult,
    schemes: Sequence[str],
    package: Package,
    *,
    voluntary: Collection[str] = (),
    cooked: date,
    eat_by: date | None = None,
    makers_words: MakersWords = NOT_SAID,
) -> tuple[Publication, list[Diagnostic]]:
    """Everything that is published of a batch, and what was found on the way.

    Raises
    ------
    UsageError
        If a voluntary row is unknown to a scheme, or the last day lies before cooking.
    """
    dish = dish_of(
        result,
        cooked_mass_g=package.cooked_mass_g,
        volume_ml=package.volume_ml,
        servings=package.servings,
        reference_amount_g=package.reference_amount_g,
    )
    panels = tuple(make_panel(dish, scheme, voluntary=voluntary) for scheme in schemes)
    dates, cautions, found = sticker_dates(result, cooked, eat_by)
    parts = tuple(
        (
            c.component.name,
            make_panel(
                dish_of(only_component(result, index), servings=package.servings), schemes[0], voluntary=voluntary
            ),
        )
        for index, c in enumerate(result.components)
    )
    publication = Publication(
        result=result,
        panels=panels,
        parts=parts,
        dates=dates,
        cautions=cautions,
        claims={scheme: check_claims(dish, scheme) for scheme in schemes},
        claims_cautions={scheme: claims_caution(scheme) for scheme in schemes},
        allergens={scheme: allergen_wording(result, scheme) for scheme in schemes},
        ingredients={scheme: ingredient_wording(result, scheme) for scheme in schemes},
        makers_words=makers_words,
    )
    return publication, [*found, *dict.fromkeys(d for panel in panels for d in panel.diagnostics)]
