"""The text below a video or in a post: per container, per component, ingredients in metric and US measures."""

from collections.abc import Iterator

from mealcalc.labelling.panel import Panel
from mealcalc.records import Contribution, LineStatus
from mealcalc.reports.kitchen_measures import both_measures
from mealcalc.reports.plain import LONGEST_NAME, one_line
from mealcalc.reports.publication import Publication, both_masses, container_mass, headlines, stated_by

LONGEST_TEXT = 10_000


def post_text(publication: Publication) -> str:
    """Plain text, short lines, nothing that needs a fixed width."""
    return "\n".join(_lines(publication)) + "\n"


def _lines(publication: Publication) -> Iterator[str]:
    result, panel = publication.result, publication.panel
    containers = result.batch.containers
    mass = container_mass(panel)
    yield _shown(publication.title)
    yield f"Makes {containers} container{'' if containers == 1 else 's'}{f' of about {mass}' if mass else ''}"
    yield ""
    yield f"PER CONTAINER{f', {mass}' if mass else ''}"
    yield from (f"{headline.words[0].upper()}{headline.words[1:]}" for headline in headlines(panel))
    if len(publication.parts) > 1:
        yield ""
        yield "PER COMPONENT, in one container"
        for name, part in publication.parts:
            yield f"{_name(name)}: {', '.join(h.words for h in headlines(part)[:4])}{_mass_of(part)}"
    yield ""
    yield "INGREDIENTS, metric and US"
    for component in result.components:
        if component.component.name:
            yield f"{_name(component.component.name)}{_cooked(component.cooked_mass_g, component.cooked_mass_known)}"
        yield from (ingredient_line(c, result.region) for c in component.contributions if is_food(c))
        if component.component.cooking:
            yield f"Cooking: {_shown(component.component.cooking)}"
    yield ""
    gaps = [h.name for h in headlines(panel) if not h.complete]
    if gaps:
        yield f"Not known whole: {', '.join(gaps)}; a line has no amount or no value."
    allergens = publication.allergens.get(panel.scheme)
    if allergens is not None:
        yield from allergen_lines(publication, panel.scheme)
    yield stated_by(panel)


def allergen_lines(publication: Publication, scheme: str) -> Iterator[str]:
    """What is said of allergens, with its caution; never that one is absent."""
    allergens = publication.allergens.get(scheme)
    if allergens is None:
        yield "Allergens: not assessed; read every pack."
        return
    yield f"Contains: {', '.join(allergens.contains) if allergens.contains else 'see the packs of what you use'}"
    if allergens.may_depend:
        yield f"May depend on the product bought: {', '.join(allergens.may_depend)}"
    if allergens.not_known:
        yield f"Not known of: {'; '.join(_name(text) for text in allergens.not_known)}"
    yield "An allergen that is not named may still be there: read every pack."


def ingredient_line(contribution: Contribution, region: str) -> str:
    """A line of the recipe with its amount in both systems."""
    both = both_measures(contribution, region)
    optional = " (optional)" if contribution.line.optional and "optional" not in contribution.line.text else ""
    return f"- {_shown(contribution.line.text)}{optional}{f' [{both}]' if both else ''}"


def is_food(contribution: Contribution) -> bool:
    """Whether a line is a food."""
    return contribution.ingredient.matched.status is not LineStatus.NOT_FOOD


def _mass_of(panel: Panel) -> str:
    mass = container_mass(panel)
    return f"; {mass}" if mass else ""


def _cooked(mass_g: float, known: bool) -> str:
    return f" (cooked weight {both_masses(mass_g)})" if known else ""


def _name(name: str) -> str:
    return one_line(name, LONGEST_NAME)


def _shown(text: str) -> str:
    return one_line(text, LONGEST_TEXT)
