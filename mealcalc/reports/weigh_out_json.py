"""The machine shapes of weighing out: JSON, and CSV with one row for each container and component."""

from mealcalc.records.portions import ContainerRoom, FilledContainer, PortionedComponent, VolumeBand, WeighOut
from mealcalc.reports.machine import amounts, number
from mealcalc.reports.tables import write_csv

CSV_COLUMNS = ("container", "eater", "component", "mass_g")


def weigh_out_shape(weighed: WeighOut) -> dict[str, object]:
    """The shape of `mealcalc portion --json`."""
    return {
        "batch": weighed.result.batch.title,
        "region": weighed.result.region,
        "components": [_component_shape(component) for component in weighed.components],
        "containers": [_container_shape(container, weighed) for container in weighed.containers],
        "room": _room_shape(weighed.room),
        "notes": list(weighed.notes),
        "diagnostics": [diagnostic.to_dict() for diagnostic in weighed.result.diagnostics],
    }


def weigh_out_csv(weighed: WeighOut) -> str:
    """Grams of each component in each container, as CSV."""
    names = [component.name for component in weighed.components]
    rows = [
        (container.number, container.eater, name, mass_g)
        for container in weighed.containers
        for name, mass_g in zip(names, container.grams, strict=True)
    ]
    return write_csv(CSV_COLUMNS, rows)


def _component_shape(component: PortionedComponent) -> dict[str, object]:
    pot, spread = component.pot, component.spread
    return {
        "name": component.name,
        "pot_g": component.pot_g,
        "gross_g": number(pot.gross_g),
        "tare_g": number(pot.tare_g),
        "measured": pot.measured,
        "ground": pot.ground,
        "residue_g": component.residue_g,
        "leftover_g": component.leftover_g,
        "per_10_g": amounts(component.slip),
        "ml_per_g": None if spread is None else [number(spread.low_ml_per_g), number(spread.high_ml_per_g)],
        "volume_ground": None if spread is None else spread.ground,
    }


def _container_shape(container: FilledContainer, weighed: WeighOut) -> dict[str, object]:
    names = [component.name for component in weighed.components]
    return {
        "number": container.number,
        "eater": container.eater or None,
        "grams": dict(zip(names, container.grams, strict=True)),
        "mass_g": container.mass_g,
        "figures": amounts(container.figures),
        "incomplete": {key: list(t.unknown_lines) for key, t in container.figures.items() if t.unknown_lines},
        "volume_ml": _band_shape(container.volume),
        "fit": container.fit.value,
        "fit_frozen": container.fit_frozen.value,
    }


def _band_shape(band: VolumeBand | None) -> list[float | None] | None:
    return None if band is None else [number(band.low_ml), number(band.high_ml)]


def _room_shape(room: ContainerRoom | None) -> dict[str, object] | None:
    if room is None:
        return None
    return {
        "brim_ml": number(room.brim_ml),
        "freezing_ml": number(room.freezing_ml),
        "headspace_ground": room.headspace_ground,
    }
