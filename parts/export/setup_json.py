"""JSON of a set-up: lengths mm, areas mm², times s, masses kg, gas and water l; money as numbers, with its name."""

from collections.abc import Mapping
from dataclasses import asdict

from parts.export.about import facts
from parts.export.json_text import Json, text, values
from parts.finding import verdict
from parts.numbers import Rest, of_process
from parts.profile import Drill
from parts.setup import Height, SetUp, Step


def write(of: SetUp) -> bytes:
    """Return the set-up as JSON text in UTF-8."""
    return text(content(of)).encode("utf-8")


def content(of: SetUp) -> Mapping[str, Json]:
    """Return what the text says, as plain dictionaries, lists, numbers and words.

    What isn't known or given is null: a height that the machine's book tells, a cost without a rate.
    """
    record, cut, m = of.record, of.record.job.cut, of.record.measures
    said = verdict(record.rows)
    return {
        **facts(record),
        "shows": "set-up",
        "title": record.template.title,
        "parameters": values(record),
        "units": record.units,
        "verdict": said.line,
        "stops": said.stops,
        "stock": _stock(of),
        "process": {
            "slug": cut.process,
            "title": cut.title,
            "current_a": of.duty.current_a,
            "feed_mm_s": cut.feed_mm_s,
            "kerf_mm": cut.kerf_mm,
            "offset_mm": cut.kerf_mm / 2,
            "pierce_height_mm": _height(of.pierce_height),
            "cut_height_mm": _height(of.cut_height),
            "pierce_time_s": cut.pierce_time_s,
            "probe_time_s": cut.probe_time_s,
            "pierce_diameter_mm": cut.pierce_diameter_mm,
            "lead_in_mm": cut.lead_in_mm,
            "square_side": cut.square_side,
            "numbers": [_rest(rest) for rest in of_process(cut)],
        },
        "cut_length_mm": m.cut_length_mm,
        "pierces": m.pierces,
        "mass": {
            "mass_kg": m.mass_kg,
            "limit_kg": of.lift.limit_kg,
            "over_limit": of.lift.is_over,
            "kind": of.lift.kind,
            "source": of.lift.source,
        },
        "time": {
            "table_s": m.cut_time_s,
            "cutting_s": m.cutting_time_s,
            "lead_in_s": m.lead_in_time_s,
            "pierce_s": m.pierce_time_s,
            "probe_s": m.probe_time_s,
            "travel_s": m.travel_time_s,
            "more_travel_in_this_order_s": of.more_travel_s,
            "handling_s": of.handling_s,
        },
        "order": [_step(step) for step in of.steps],
        "drill": [
            {"at": [mark.at[0] + 0.0, mark.at[1] + 0.0], "diameter_mm": float(mark.diameter)}
            for mark in record.profile.marks
            if isinstance(mark, Drill)
        ],
        "duty": _duty(of),
        "supplies": [_supply(of, i) for i in range(len(of.supplies))],
        "consumables": {
            "pierces": of.wear.pierces,
            "arc_hours": of.wear.hours,
            "share_of_a_set": of.wear.share,
            "parts_of_a_set": of.wear.parts,
            "kind": of.wear.kind,
            "source": of.wear.source,
        },
        "cost": _cost(of),
        "checks": list(of.checks),
        "cautions": list(record.cautions),
    }


def _height(height: Height) -> Json:
    return {"value": height.mm, "kind": height.kind, "source": height.source}


def _rest(rest: Rest) -> Json:
    return {"number": rest.name, "value": rest.value, "unit": rest.unit, "kind": rest.kind, "source": rest.source,
            "setting": rest.setting}  # fmt: skip


def _step(step: Step) -> Json:
    x, y = step.at
    return {
        "step": step.number,
        "name": step.name,
        "side": step.side,
        "at": [x + 0.0, y + 0.0],
        "width_mm": step.width,
        "height_mm": step.height,
        "diameter_mm": step.diameter,
        "length_mm": step.length,
        "arc_time_s": step.arc_time_s,
    }


def _stock(of: SetUp) -> Json:
    cut, blank = of.record.job.cut, of.blank
    return {
        "material": cut.material,
        "title": of.record.material_title,
        "thickness_mm": float(cut.thickness_mm),
        "sheet_mm": list(blank.sheet),
        "blank_mm": [blank.width, blank.height],
        "margin_mm": blank.margin,
        "blank_mass_kg": blank.mass_kg,
        "fits": blank.fits,
        "turned": blank.turned,
        "drop_mm": [blank.drop.length, blank.drop.width] if blank.drop else None,
        "rows": asdict(blank.rows),
        "kind": blank.kind,
        "source": blank.source,
    }


def _duty(of: SetUp) -> Json:
    duty = of.duty
    return {
        "arc_on_s": duty.on_s,
        "percent": duty.percent,
        "allowed_in_ten_minutes_s": None if duty.percent is None else duty.allowed_s,
        "most_in_ten_minutes_s": duty.busiest_s,
        "most_in_ten_minutes_in_a_row_s": duty.busiest_in_a_row_s,
        "rest_within_s": duty.rest_in_all_s if duty.rest_within else 0.0,
        "rest_after_each_s": duty.rest_s,
        "kind": duty.kind,
        "source": duty.source,
    }


def _supply(of: SetUp, i: int) -> Json:
    each = of.supplies[i]
    unit = "kg" if each.counted == "solid" else "l"
    return {
        "name": each.name,
        f"{unit}_per_min": each.per_minute,
        unit: each.amount,
        "kind": each.kind,
        "source": each.source,
    }


def _cost(of: SetUp) -> Json:
    cost = of.cost
    return {
        "currency": cost.currency,
        "items": {item.name: item.amount for item in cost.items},
        "missing": list(cost.missing),
        "given": cost.given if cost.is_given else None,
        "total": cost.total,
        "markup_percent": cost.markup_percent,
        "price": cost.price,
    }
