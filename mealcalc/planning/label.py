"""From a calculated batch to what a nutrition panel is made from."""

from mealcalc.components import FOOD_COMPONENTS
from mealcalc.labelling.panel_input import PanelInput, PanelLine, Product, SugarKind
from mealcalc.labelling.sugar_kinds import OWN_FOODS, sugar_kind
from mealcalc.records import BatchResult, ComponentResult, Contribution, Food, LineStatus
from mealcalc.records.results import CookedMassSource
from mealcalc.reference.label_tables import nitrogen_factor
from mealcalc.values import amount_of


def panel_input(
    result: BatchResult,
    *,
    cooked_mass_g: float | None = None,
    volume_ml: float | None = None,
    servings_per_package: float = 1.0,
    reference_amount_g: float | None = None,
    product: Product | None = None,
) -> PanelInput:
    """What a panel is made from, of a calculated batch.

    Parameters
    ----------
    result : BatchResult
        A calculated batch; each of its containers is one package.
    cooked_mass_g : float, optional
        Mass of the whole cooked batch in g, overruling the sum of its components.
    volume_ml : float, optional
        Volume of the whole batch in ml, for a drink.
    servings_per_package : float
        Servings in one container.
    reference_amount_g : float, optional
        Reference amount of the law for such food, in g.
    product : Product, optional
        A meal by default, a drink where `volume_ml` is given.
    """
    mass_g, ground, estimated = _cooked_mass(result, cooked_mass_g)
    if product is None:
        product = Product.MEAL if volume_ml is None else Product.DRINK
    return PanelInput(
        title=result.batch.title,
        lines=tuple(_panel_line(c, result) for c in result.contributions if _is_food(c)),
        portions=result.batch.containers,
        servings_per_package=servings_per_package,
        cooked_mass_g=mass_g,
        cooked_mass_ground=ground,
        cooked_mass_estimated=estimated,
        volume_ml=volume_ml,
        reference_amount_g=reference_amount_g,
        product=product,
    )


def _cooked_mass(result: BatchResult, given_g: float | None) -> tuple[float | None, str, bool]:
    """Mass of the batch in g, its ground, whether it is estimated; None where a component's mass is not known."""
    if given_g is not None:
        return given_g, "given", False
    parts = [component for component in result.components if component.contributions]
    unknown = [component for component in parts if not _mass_known(component)]
    if unknown or not parts:
        return None, "; ".join(f"{_name(component)}: {_why_unknown(component)}" for component in unknown), False
    ground = "; ".join(f"{_name(component)}: {component.cooked_mass_ground}" for component in parts)
    estimated = any(c.cooked_mass_source in (CookedMassSource.YIELD, CookedMassSource.STEAM) for c in parts)
    return sum(component.cooked_mass_g for component in parts), ground, estimated


def _mass_known(component: ComponentResult) -> bool:
    # Without a word on cooking nobody knows whether water was lost: what went in is not what is portioned.
    said = bool(component.component.cooking) or component.component.cooked_mass_g is not None
    return component.cooked_mass_known and said


def _why_unknown(component: ComponentResult) -> str:
    if component.cooked_mass_known:
        return "nothing is said of cooking"
    return "the mass of a line is not known"


def _name(component: ComponentResult) -> str:
    return component.component.name or "the batch"


def _is_food(contribution: Contribution) -> bool:
    return contribution.ingredient.matched.status is not LineStatus.NOT_FOOD


def _panel_line(contribution: Contribution, result: BatchResult) -> PanelLine:
    matched = contribution.ingredient.matched
    line, food = matched.line, matched.food
    number = line.span.line
    counted = matched.status is not LineStatus.NOT_COUNTED
    incomplete = () if counted else (key for key, total in result.totals.items() if number in total.unknown_lines)
    return PanelLine(
        number=number,
        text=line.text,
        mass_g=contribution.ingredient.eaten_mass_g,
        amounts=contribution.amounts,
        nitrogen_factor=None if food is None else _nitrogen_factor(food),
        sugars=SugarKind.UNKNOWN if food is None else sugar_kind(food),
        counted=counted,
        incomplete_keys=frozenset(incomplete),
        per_gram={} if food is None or counted else _per_gram(food),
    )


def _nitrogen_factor(food: Food) -> float | None:
    if food.table == OWN_FOODS:
        return None
    return food.nitrogen_factor or nitrogen_factor(food.group[:4], food.description)


def _per_gram(food: Food) -> dict[str, float]:
    found = {key: amount_of(food.composition, key) for key in FOOD_COMPONENTS}
    return {key: amount / 100.0 for key, amount in found.items() if amount is not None}
