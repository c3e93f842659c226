"""A batch as a schema.org Recipe with NutritionInformation, as JSON-LD.

Only properties that the vocabulary declares; figures are those printed on the panel, and one that is not known whole is
left out, since the vocabulary has no way to say 'at least'.
"""

import json
from decimal import Decimal

from mealcalc.labelling.panel import Panel
from mealcalc.records import LineStatus
from mealcalc.reports.plain import one_line
from mealcalc.reports.publication import Publication, calories, container_mass, row_of, stated_by

LONGEST_TEXT = 10_000

MASSES = {
    "proteinContent": ("PROCNT_G", "g"),
    "fatContent": ("FAT_G", "g"),
    "saturatedFatContent": ("FASAT_G", "g"),
    "transFatContent": ("FATRN_G", "g"),
    "carbohydrateContent": ("", "g"),
    "fiberContent": ("FIBTG_G", "g"),
    "sugarContent": ("SUGAR_G", "g"),
    "cholesterolContent": ("CHOLE_MG", "mg"),
    "sodiumContent": ("NA_MG", "mg"),
}
"""Property -> food component and unit that its definition fixes; carbohydrate is that of the panel."""


def recipe_shape(publication: Publication) -> dict[str, object]:
    """The recipe as a JSON-LD document."""
    batch = publication.result.batch
    several = "" if batch.containers == 1 else "s"
    shape: dict[str, object] = {
        "@context": "https://schema.org",
        "@type": "Recipe",
        "name": _text(batch.title),
        "description": stated_by(publication.panel),
        "recipeYield": f"{batch.containers} container{several}",
        "recipeIngredient": [
            _text(c.line.text)
            for c in publication.result.contributions
            if c.ingredient.matched.status is not LineStatus.NOT_FOOD
        ],
        "nutrition": nutrition_shape(publication),
    }
    steps = [
        {"@type": "HowToStep", "text": _text(f"{c.name}: {c.cooking}" if c.name else c.cooking)}
        for c in batch.components
        if c.cooking
    ]
    if steps:
        shape["recipeInstructions"] = steps
    return shape


def nutrition_shape(publication: Publication) -> dict[str, object]:
    """NutritionInformation of one container."""
    panel = publication.panel
    mass = "" if panel.portion_mass_g is None else f", {container_mass(panel)}"
    shape: dict[str, object] = {"@type": "NutritionInformation", "servingSize": f"1 {panel.portion_name}{mass}"}
    kcal = calories(panel)
    if kcal:
        shape["calories"] = f"{kcal} calories"
    for name, (key, unit) in MASSES.items():
        amount = _printed(panel, key) if key else _carbohydrate(panel)
        if amount is None and name == "sodiumContent":
            amount = _sodium_of_salt(panel)
        if amount is not None:
            shape[name] = f"{_plain(amount)} {unit}"
    return shape


def recipe_json(publication: Publication) -> str:
    """The JSON-LD document as text that may stand inside a script of a page."""
    text = json.dumps(recipe_shape(publication), ensure_ascii=False, indent=2, allow_nan=False)
    for character in "<>&\u2028\u2029":
        text = text.replace(character, f"\\u{ord(character):04x}")
    return f"{text}\n"


def _printed(panel: Panel, key: str) -> Decimal | None:
    row = row_of(panel, key)
    return None if row is None or not row.complete else row.per_portion.value


def _carbohydrate(panel: Panel) -> Decimal | None:
    found = _printed(panel, "CHOCDF_G")
    return _printed(panel, "CHOAVLDF_G") if found is None else found


def _sodium_of_salt(panel: Panel) -> Decimal | None:
    """Sodium in mg of the salt that the panel states: salt is sodium x 2.5 (Regulation (EU) No 1169/2011, Annex I)."""
    salt_g = _printed(panel, "NACL_G")
    return None if salt_g is None else (salt_g * 400).quantize(Decimal(1))


def _text(text: str) -> str:
    return one_line(text, LONGEST_TEXT)


def _plain(amount: Decimal) -> str:
    text = f"{amount:f}"
    return text.rstrip("0").rstrip(".") if "." in text else text
