"""How the oracle reads the places where formats.md leaves room.

Each switch is one ambiguity. Change a value here when the project decides otherwise;
the letters are those of the table in README.md.
"""

READING = {
    # (a) access rows of a circuit apply to every drained circuit (True) or to target circuits only (False)
    "access_of_opened_circuits": True,
    # (b) an unknown platform row asks its facts and makes every line `ask`
    "platform_asks": True,
    # (c) a merged line carries the first of these that one of its sources has (order of section 5)
    "reason_order": ["target", "single-use", "sealing", "fluid", "consumable", "missed-before"],
    # (d) "each": every applying circuits row is a need; "largest": one need, from the row of largest capacity
    "circuit_rows": "each",
    # (f) `loosen X` is created only when the other step of the row is in the plan too
    "create_needs_partner": True,
    # (g) access rows whose `to` is empty or `loosened` also bind a created `loosen X` / `tighten X`
    "access_binds_created": True,
    # access to a circuit is honoured on the way back: `needs` goes back after `fill`
    "circuit_access_back": True,
    # (j) components rows of refit targets are questions too
    "refit_rows_ask": False,
    # (k) which of mix_percent and freeze_to wins when a row states both
    "both_mixes": "mix_percent",
    # (o) a provisional wear row is enough to be suggested
    "provisional_wear": True,
}
