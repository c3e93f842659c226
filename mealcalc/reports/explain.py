"""One figure with its whole chain: line, food, grams, value per 100 g, factors, share, total.

`explain` builds the account from a result; `explain_text` and `explain_json` show it. Everything in it stands in the
records of the result already: nothing is computed again, only put in order, and what the parts leave unaccounted for
would show as a step of its own.
"""

from collections.abc import Mapping
from dataclasses import dataclass, replace

from mealcalc.calculation.dish_records import ALCOHOL_KCAL_PER_G, FAT_KCAL_PER_G, FATTY_ACIDS
from mealcalc.components import EVERYDAY_NAMES, FOOD_COMPONENTS, KJ_PER_KCAL
from mealcalc.errors import UsageError
from mealcalc.fooddb import zeros_by_rule
from mealcalc.recipe.suggestions import did_you_mean
from mealcalc.records import BatchResult, ComponentResult, Contribution, Food, LineStatus, MatchedFood
from mealcalc.values import LOGICAL_ZERO, MISSING, Value, ValueStatus, amount_of

NEGLIGIBLE = 1e-9
"""Differences below this, in any unit, are those of binary fractions."""

Foods = Mapping[tuple[str, str], Food]


@dataclass(frozen=True, slots=True)
class Step:
    """One step of cooking: `change` in the unit of the figure, `factor` where it multiplies, and its ground."""

    what: str
    change: float
    factor: float | None
    ground: str


@dataclass(frozen=True, slots=True)
class BlendShare:
    """One food of a blend: its share of the mass (0 to 1) and its value per 100 g, None where that is not at hand."""

    food: str
    description: str
    share: float
    per_100g: float | None


@dataclass(frozen=True, slots=True)
class FoodAccount:
    """The food a line is counted as, and why."""

    food: str
    edition: str
    description: str
    strategy: str
    score: float
    status: LineStatus
    blend: tuple[BlendShare, ...]


@dataclass(frozen=True, slots=True)
class LineAccount:
    """What one line brings to the figure, step by step.

    mass_g: edible mass before `used_share`. per_100g: value of the food with its status and how it came about. raw:
    amount that goes in; steps: what cooking changes; amount: what is in the dish; None where unknown. yield_share with
    its ground bears on the cooked mass alone. share_of_batch: of the known total (0 to 1). note: why nothing counts.
    """

    line: int
    text: str
    component: str
    food: FoodAccount | None
    mass_g: float | None
    mass_ground: str
    used_share: float
    per_100g: Value
    per_100g_note: str
    raw: float | None
    steps: tuple[Step, ...]
    amount: float | None
    yield_share: float | None
    yield_ground: str
    share_of_component: float
    share_of_batch: float
    note: str


@dataclass(frozen=True, slots=True)
class ComponentAccount:
    """A component of the batch: its lines, what cooking adds that belongs to no line, total and cooked mass.

    other_lines: amount of the lines that are not shown. water_change: water taken up or given off, for water only.
    per_100g: None where the cooked mass is not known.
    """

    name: str
    cooking: str
    method: str
    lines: tuple[LineAccount, ...]
    other_lines: float
    water_change: float
    total: float
    unknown_lines: tuple[int, ...]
    cooked_mass_g: float
    cooked_mass_ground: str
    per_100g: float | None
    per_container: float


@dataclass(frozen=True, slots=True)
class Explanation:
    """A figure and all that it is made of, in `unit`, shown with `decimals`.

    other_components: amount of the components that are not shown. total: of the batch.
    """

    title: str
    key: str
    name: str
    unit: str
    decimals: int
    containers: int
    components: tuple[ComponentAccount, ...]
    other_components: float
    total: float
    per_container: float
    unknown_lines: tuple[int, ...]


def key_of(name: str) -> str:
    """The key of a food component from its everyday name, key or tagname, whatever the case.

    Raises
    ------
    UsageError
        If there is none; the hint names the nearest.
    """
    wanted = " ".join(name.split()).casefold()
    known = {key.casefold(): key for key in FOOD_COMPONENTS} | EVERYDAY_NAMES
    known |= {c.tagname.casefold(): c.key for c in FOOD_COMPONENTS.values() if c.tagname.casefold() not in known}
    known |= {c.name.casefold(): c.key for c in FOOD_COMPONENTS.values() if c.name.casefold() not in known}
    if wanted not in known:
        choices = [*EVERYDAY_NAMES, *FOOD_COMPONENTS]
        raise UsageError(f"no food component '{name}'", did_you_mean(name, choices))
    return known[wanted]


def blend_keys(result: BatchResult) -> set[tuple[str, str]]:
    """Keys (table, code) of the foods that are blended, for which `explain` needs their own values."""
    return {(part.table, part.code) for c in result.contributions for part in c.ingredient.matched.blend}


def explain(
    result: BatchResult, key: str, foods: Foods | None = None, *, component: str | None = None, line: int | None = None
) -> Explanation:
    """The account of one figure.

    Parameters
    ----------
    result : BatchResult
        A calculated batch.
    key : str
        Food component, by its key.
    foods : mapping, optional
        The foods of `blend_keys`, for their own values per 100 g.
    component : str, optional
        Show this component of the batch only, by its name; the others are summed up.
    line : int, optional
        Show this line of the file only; the others are summed up.

    Raises
    ------
    UsageError
        If the batch has no such component or line.
    """
    shown = _components(result, component)
    total = result.totals[key]
    accounts = []
    for part in shown:
        lines = tuple(
            _line_account(c, key, part, total.amount, foods or {})
            for c in part.contributions
            if c.ingredient.matched.status is not LineStatus.NOT_FOOD and line in (None, c.line.span.line)
        )
        if lines or line is None:
            accounts.append(_component_account(part, key, lines, result.batch.containers))
    if not accounts:
        numbers = [str(c.line.span.line) for part in shown for c in part.contributions]
        raise UsageError(f"there is no ingredient on line {line}", f"ingredients stand on lines {', '.join(numbers)}")
    vocabulary = FOOD_COMPONENTS[key]
    return Explanation(
        title=result.batch.title,
        key=key,
        name=vocabulary.name,
        unit=vocabulary.unit,
        decimals=max(1, vocabulary.decimals),
        containers=result.batch.containers,
        components=tuple(accounts),
        other_components=_settled(total.amount - sum(account.total for account in accounts)),
        total=total.amount,
        per_container=total.amount / result.batch.containers,
        unknown_lines=total.unknown_lines,
    )


def _components(result: BatchResult, name: str | None) -> list[ComponentResult]:
    if name is None:
        return list(result.components)
    found = [part for part in result.components if part.component.name.casefold() == name.strip().casefold()]
    if not found:
        names = [part.component.name for part in result.components]
        raise UsageError(f"the batch has no component '{name}'", did_you_mean(name, names))
    return found


def _component_account(
    part: ComponentResult, key: str, lines: tuple[LineAccount, ...], containers: int
) -> ComponentAccount:
    total = part.totals[key]
    of_lines = sum(c.amounts.get(key) or 0.0 for c in part.contributions)
    per_100g = part.per_100g
    return ComponentAccount(
        name=part.component.name,
        cooking=part.component.cooking,
        method=part.method,
        lines=lines,
        other_lines=_settled(of_lines - sum(account.amount or 0.0 for account in lines)),
        water_change=_settled(total.amount - of_lines),
        total=total.amount,
        unknown_lines=total.unknown_lines,
        cooked_mass_g=part.cooked_mass_g,
        cooked_mass_ground=part.cooked_mass_ground,
        per_100g=None if per_100g is None else per_100g[key].amount,
        per_container=total.amount / containers,
    )


def _line_account(c: Contribution, key: str, part: ComponentResult, batch_total: float, foods: Foods) -> LineAccount:
    ingredient, food = c.ingredient, c.ingredient.matched.food
    value = MISSING if food is None else food.composition.get(key, MISSING)
    raw, amount = c.raw.get(key), c.amounts.get(key)
    left_out = ingredient.matched.status is LineStatus.NOT_COUNTED
    in_component = part.totals[key].amount
    return LineAccount(
        line=c.line.span.line,
        text=c.line.text.strip(),
        component=c.line.component,
        food=None if food is None else _food_account(ingredient.matched, food, key, foods),
        mass_g=None if left_out else ingredient.mass_g,
        mass_ground=_mass_ground(c),
        used_share=ingredient.used_share,
        per_100g=value,
        per_100g_note="" if food is None else _value_note(food, key, value),
        raw=None if left_out else raw,
        steps=() if left_out else tuple(_steps(c, key)),
        amount=None if left_out else amount,
        yield_share=c.cooking.yield_share,
        yield_ground=c.cooking.yield_ground,
        share_of_component=(amount or 0.0) / in_component if in_component else 0.0,
        share_of_batch=(amount or 0.0) / batch_total if batch_total else 0.0,
        note=_note(c, value),
    )


def _mass_ground(c: Contribution) -> str:
    ground = c.ingredient.ground
    share = c.line.settings.used_share
    return (
        ground if share is None else "; ".join(part for part in (ground, f"{share:.0%} eaten: set on the line") if part)
    )


def _note(c: Contribution, value: Value) -> str:
    status = c.ingredient.matched.status
    if status is LineStatus.NOT_COUNTED:
        return "no amount is written: not counted"
    if c.ingredient.matched.food is None:
        return "NOT COUNTED: no table holds this food"
    if c.ingredient.mass_g is None:
        return "NOT COUNTED: its weight is not known"
    return "NOT KNOWN: the table leaves it blank" if value.amount is None else ""


def _food_account(matched: MatchedFood, food: Food, key: str, foods: Foods) -> FoodAccount:
    blend = []
    for part in matched.blend:
        own = foods.get((part.table, part.code))
        per_100g = None if own is None else amount_of(own.composition, key)
        blend.append(BlendShare(f"{part.table}:{part.code}", part.description, part.share, per_100g))
    return FoodAccount(
        food=f"{food.table}:{food.code}",
        edition=food.edition,
        description=food.description,
        strategy=matched.strategy,
        score=matched.score,
        status=matched.status,
        blend=tuple(blend),
    )


def _value_note(food: Food, key: str, value: Value) -> str:
    """How the value per 100 g came about, where it is not simply published."""
    if value.status is ValueStatus.LOGICAL_ZERO:
        blanks = {k: MISSING if v == LOGICAL_ZERO else v for k, v in food.composition.items()}
        rule = zeros_by_rule(replace(food, composition=blanks)).get(key)
        return "can only be 0" if rule is None else rule.reason
    if value.status is not ValueStatus.CALCULATED:
        return ""
    if key == "ENERC_KJ":
        return f"{amount_of(food.composition, 'ENERC_KCAL')} kcal x {KJ_PER_KCAL}"
    if key == "CHOAVLDF_G":
        carbohydrate, fibre = (amount_of(food.composition, of) for of in ("CHOCDF_G", "FIBTG_G"))
        if carbohydrate is not None and fibre is not None:
            return f"carbohydrate {carbohydrate:.4g} g less fibre {fibre:.4g} g"
    return "what water, protein, fat, ash and carbohydrate leave of 100 g" if key == "ALC_G" else ""


def _steps(c: Contribution, key: str) -> list[Step]:
    """What cooking does to the figure of a line; the changes add up to the difference between raw and cooked."""
    before, after = c.raw.get(key), c.amounts.get(key)
    if before is None or after is None:
        return []
    cooking = c.cooking
    if cooking.poured_off:
        return [
            Step("poured off", -before, 0.0, cooking.yield_ground or "the cooking liquid does not stay in the dish")
        ]
    steps = []
    left = before
    share = cooking.retention.get(key)
    if share is not None:
        ground = cooking.fat_ground if key == "CHOLE_MG" and cooking.fat_lost_g else cooking.retention_ground
        steps.append(Step("retention", left * (share - 1.0), share, ground))
        left *= share
    steps += _losses(c, key, left)
    left = before + sum(step.change for step in steps)
    if abs(after - left) > NEGLIGIBLE * max(1.0, abs(before)):
        steps.append(Step("not below 0" if after == 0.0 else "other", after - left, None, ""))
    return steps


def _losses(c: Contribution, key: str, left: float) -> list[Step]:
    """What fat that is poured off and alcohol that is driven off take with them."""
    cooking, steps = c.cooking, []
    fat_before = c.raw.get("FAT_G")
    fat_lost_g = cooking.fat_lost_g if fat_before else 0.0
    if fat_lost_g and fat_before and key in ("FAT_G", *FATTY_ACIDS):
        share = 1.0 - fat_lost_g / fat_before
        what = "fat poured off" if key == "FAT_G" else "goes with the fat poured off"
        steps.append(Step(what, left * (share - 1.0), share, cooking.fat_ground))
    if key not in ("ENERC_KCAL", "ENERC_KJ"):
        return steps
    per_kcal = KJ_PER_KCAL if key == "ENERC_KJ" else 1.0
    alcohol_lost_g = (c.raw.get("ALC_G") or 0.0) - (c.amounts.get("ALC_G") or 0.0)
    if alcohol_lost_g > NEGLIGIBLE:
        ground = f"{alcohol_lost_g:.2f} g x {ALCOHOL_KCAL_PER_G} kcal; {cooking.retention_ground}"
        steps.append(Step("alcohol driven off", -alcohol_lost_g * ALCOHOL_KCAL_PER_G * per_kcal, None, ground))
    if fat_lost_g:
        food = c.ingredient.matched.food
        factor = (None if food is None else food.energy_factors.fat) or FAT_KCAL_PER_G
        ground = f"{fat_lost_g:.2f} g x {factor} kcal; {cooking.fat_ground}"
        steps.append(Step("fat poured off", -fat_lost_g * factor * per_kcal, None, ground))
    return steps


def _settled(amount: float) -> float:
    """`amount`, or 0 where it is only what binary fractions leave."""
    return 0.0 if abs(amount) < 1e-7 else amount
