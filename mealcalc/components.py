"""The vocabulary of food components: INFOODS tagnames with their units.

A *food component* is a nutrient or other constituent of food (FAO/INFOODS usage); a *component of a batch* is a part of
the dish. The key of a food component is its tagname, an underscore and the unit, as in `FAT_G`; energy carries its unit
in the tagname already (`ENERC_KCAL`). Amounts in food tables are per 100 g edible portion.

Tagnames: Klensin et al. (1989), Identification of Food Components for INFOODS Data Interchange, and the tagname column
of the nutrient definitions of USDA SR28.
"""

from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class FoodComponent:
    """One food component. `key` names it everywhere; `part_of` is the key of the whole that it belongs to, or ''."""

    key: str
    tagname: str
    unit: str
    name: str
    decimals: int
    part_of: str = ""


def _define() -> dict[str, FoodComponent]:
    rows: list[tuple[str, str, str, int, str]] = [
        # tagname, unit, name, decimals shown, part of
        ("ENERC_KCAL", "kcal", "energy", 0, ""),
        ("ENERC_KJ", "kJ", "energy", 0, ""),
        ("WATER", "g", "water", 2, ""),
        ("PROCNT", "g", "protein", 2, ""),
        ("FAT", "g", "fat", 2, ""),
        ("FASAT", "g", "saturated fatty acids", 3, "FAT_G"),
        ("FAMS", "g", "monounsaturated fatty acids", 3, "FAT_G"),
        ("FAPU", "g", "polyunsaturated fatty acids", 3, "FAT_G"),
        ("CHOCDF", "g", "carbohydrate, total by difference", 2, ""),
        ("CHOAVLDF", "g", "carbohydrate, available by difference", 2, "CHOCDF_G"),
        ("FIBTG", "g", "dietary fibre", 1, "CHOCDF_G"),
        ("SUGAR", "g", "sugars", 2, "CHOCDF_G"),
        ("ALC", "g", "alcohol", 1, ""),
        ("ASH", "g", "ash", 2, ""),
        ("CHOLE", "mg", "cholesterol", 0, ""),
        ("NA", "mg", "sodium", 0, ""),
        ("CA", "mg", "calcium", 0, ""),
        ("FE", "mg", "iron", 2, ""),
        ("MG", "mg", "magnesium", 0, ""),
        ("P", "mg", "phosphorus", 0, ""),
        ("K", "mg", "potassium", 0, ""),
        ("ZN", "mg", "zinc", 2, ""),
        ("CU", "mg", "copper", 3, ""),
        ("MN", "mg", "manganese", 3, ""),
        ("SE", "µg", "selenium", 1, ""),
        ("VITC", "mg", "vitamin C", 1, ""),
        ("THIA", "mg", "thiamin", 3, ""),
        ("RIBF", "mg", "riboflavin", 3, ""),
        ("NIA", "mg", "niacin", 3, ""),
        ("PANTAC", "mg", "pantothenic acid", 3, ""),
        ("VITB6A", "mg", "vitamin B-6", 3, ""),
        ("FOL", "µg", "folate, total", 0, ""),
        ("FOLAC", "µg", "folic acid", 0, "FOL_UG"),
        ("FOLFD", "µg", "folate, food", 0, "FOL_UG"),
        ("FOLDFE", "µg", "folate, dietary folate equivalents", 0, ""),
        ("CHOLN", "mg", "choline, total", 1, ""),
        ("VITB12", "µg", "vitamin B-12", 2, ""),
        ("VITA_IU", "IU", "vitamin A, international units", 0, ""),
        ("VITA_RAE", "µg", "vitamin A, retinol activity equivalents", 0, ""),
        ("RETOL", "µg", "retinol", 0, "VITA_RAE_UG"),
        ("CARTA", "µg", "alpha-carotene", 0, ""),
        ("CARTB", "µg", "beta-carotene", 0, ""),
        ("CRYPX", "µg", "beta-cryptoxanthin", 0, ""),
        ("LYCPN", "µg", "lycopene", 0, ""),
        ("LUT+ZEA", "µg", "lutein and zeaxanthin", 0, ""),
        ("TOCPHA", "mg", "vitamin E (alpha-tocopherol)", 2, ""),
        ("VITD", "µg", "vitamin D (D2 + D3)", 1, ""),
        ("VITD_IU", "IU", "vitamin D, international units", 0, ""),
        ("VITK1", "µg", "vitamin K (phylloquinone)", 1, ""),
    ]
    components = [
        FoodComponent(_key(tag, unit), tag, unit, name, digits, whole) for tag, unit, name, digits, whole in rows
    ]
    return {component.key: component for component in components}


def _key(tagname: str, unit: str) -> str:
    suffix = {"µg": "UG"}.get(unit, unit.upper())
    return tagname if tagname.endswith(f"_{suffix}") else f"{tagname}_{suffix}"


FOOD_COMPONENTS: dict[str, FoodComponent] = _define()
"""Every food component by its key, in the order in which reports list them."""

MACRO_KEYS = ("ENERC_KCAL", "FAT_G", "CHOCDF_G", "PROCNT_G")
"""Energy, fat, carbohydrate, protein: what `complete` speaks of."""

EVERYDAY_NAMES = {
    "energy": "ENERC_KCAL",
    "calories": "ENERC_KCAL",
    "kcal": "ENERC_KCAL",
    "kj": "ENERC_KJ",
    "protein": "PROCNT_G",
    "fat": "FAT_G",
    "saturated": "FASAT_G",
    "carbohydrate": "CHOCDF_G",
    "carbs": "CHOCDF_G",
    "available": "CHOAVLDF_G",
    "fibre": "FIBTG_G",
    "fiber": "FIBTG_G",
    "sugars": "SUGAR_G",
    "sodium": "NA_MG",
    "water": "WATER_G",
}
"""What cooks call a food component -> its key."""

KJ_PER_KCAL = 4.184
"""Thermochemical calorie, exact by definition (ISO 31-4 annex; NIST SP 811 B.8)."""
