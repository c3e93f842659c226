"""What of a cooked component goes into the containers, where some stays in the pan or is left over."""

from collections.abc import Mapping
from dataclasses import replace

from mealcalc.records import ComponentResult, Contribution, Total


def filled(component: ComponentResult) -> ComponentResult:
    """The part of a cooked component that is filled into containers, by its `filled_share`.

    A pot is taken to be well mixed: what stays in the pan has the composition of the rest. Every mass and amount is
    multiplied by the share, also the share of each line that is eaten; figures per 100 g stay as they are.
    """
    share = component.component.filled_share
    if share == 1.0:
        return component
    kept_g, whole_g = component.cooked_mass_g * share, component.cooked_mass_g
    return replace(
        component,
        contributions=tuple(_scaled(c, share) for c in component.contributions),
        totals={key: Total(t.amount * share, t.unknown_lines, t.known_share) for key, t in component.totals.items()},
        raw_mass_g=component.raw_mass_g * share,
        cooked_mass_g=kept_g,
        cooked_mass_ground=(
            f"{component.cooked_mass_ground}: {whole_g:.0f} g, of which {whole_g - kept_g:.0f} g did not go into "
            "containers"
        ),
        water_change_g=component.water_change_g * share,
    )


def _scaled(c: Contribution, share: float) -> Contribution:
    return replace(
        c,
        ingredient=replace(c.ingredient, used_share=c.ingredient.used_share * share),
        amounts=_times(c.amounts, share),
        raw=_times(c.raw, share),
        cooking=replace(c.cooking, fat_lost_g=c.cooking.fat_lost_g * share),
    )


def _times(amounts: Mapping[str, float | None], share: float) -> dict[str, float | None]:
    return {key: None if amount is None else amount * share for key, amount in amounts.items()}
