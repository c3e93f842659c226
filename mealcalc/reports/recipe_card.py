"""The recipe card: one page with figures, ingredients, the chart of energy, keeping and allergens."""

from markupsafe import Markup

from mealcalc.reports.energy_chart import KCAL_PER_G, NAMES, energy_chart, energy_sources, in_words
from mealcalc.reports.json_ld import recipe_json
from mealcalc.reports.kitchen_measures import both_measures
from mealcalc.reports.pages import page
from mealcalc.reports.panel_page import panel_values
from mealcalc.reports.plain import LONGEST_NAME, one_line
from mealcalc.reports.post_text import allergen_lines, is_food
from mealcalc.reports.publication import Publication, container_mass, headlines, stated_by
from mealcalc.reports.stickers import date_lines, day


def recipe_card(publication: Publication) -> str:
    """The page; it holds the recipe for search engines as JSON-LD, and needs nothing beside itself."""
    result = publication.result
    sources = energy_sources(result)
    allergens = publication.allergens.get(publication.panel.scheme)
    used = [key for key in KCAL_PER_G if any(source.kcal[key] >= 0.5 for source in sources)]
    components = [
        {
            "name": one_line(component.component.name, LONGEST_NAME),
            "cooking": component.component.cooking,
            "lines": [
                {"text": c.line.text, "both": both_measures(c, result.region)}
                for c in component.contributions
                if is_food(c)
            ],
        }
        for component in result.components
    ]
    return page(
        "card.html",
        panel_values(publication.panel)
        | {
            "title": publication.title,
            "containers": result.batch.containers,
            "mass": container_mass(publication.panel),
            "headlines": headlines(publication.panel),
            "parts": [
                (one_line(name, LONGEST_NAME) or "the batch", container_mass(part), headlines(part)[:4])
                for name, part in publication.parts
            ],
            # Written by the chart and by the JSON writer, which escape what they are given.
            "chart": Markup(energy_chart(sources)),
            "json_ld": Markup(recipe_json(publication)),
            "chart_words": in_words(sources),
            "sources": sources,
            "used": used,
            "names": NAMES,
            "components": components,
            "cooked": day(publication.dates.cooked),
            "dates": date_lines(publication.dates),
            "cautions": publication.cautions,
            "allergens": list(allergen_lines(publication, publication.panel.scheme)),
            "reasons": allergens.reasons if allergens is not None else (),
            "allergen_cautions": allergens.cautions if allergens is not None else (),
            "ingredients": publication.ingredients.get(publication.panel.scheme),
            "stated_by": stated_by(publication.panel),
        },
    )
