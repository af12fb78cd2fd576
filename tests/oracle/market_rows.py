"""The catalogue of a market: parts, applications, references, offers, suppliers, money (formats.md section 1)."""

import csv
from datetime import date, timedelta
from fractions import Fraction
from pathlib import Path

from conditions import anyof, both, built_range, condition, span
from rows import Row
from specs import amount

KINDS = "parts applications crossrefs supersessions contents offers suppliers shipping rates".split()

# ISO 4217, minor digits; two when not named here.
DIGITS = {"JPY": 0}


def key_of(row, brand="brand", number="part_number"):
    """(brand, number) of a row."""
    return row[brand], row[number]


def half_up(value):
    """Nearest integer of a non-negative fraction, halves up."""
    return int(value + Fraction(1, 2))


def minor(text, currency):
    """Money in minor units."""
    return int(Fraction(text) * 10 ** DIGITS.get(currency, 2))


def millionths(cell, unit):
    """(quantity in millionths of the base unit, base unit)."""
    size, base = amount(cell, unit)
    scaled = size * 10**6
    assert scaled.denominator == 1, f"{cell} {unit} is no whole number of millionths"
    return int(scaled), base


class Offer:
    """One offer; price and deposit a pack, in minor units of the supplier's currency."""

    def __init__(self, row, index, catalogue):
        self.index, self.supplier, self.part = index, row["supplier"], key_of(row)
        self.row, self.currency = row, row["currency"]
        unit = catalogue.parts[self.part].get("unit", "each") if self.part in catalogue.parts else "each"
        self.pack, self.unit = millionths(row.get("pack_quantity", "1"), unit)
        self.least = int(row.get("minimum_packs", "1"))
        self.stock = int(row["stock"]) if "stock" in row else None
        self.lead = int(row.get("lead_days", "0"))
        self.price = self.native(catalogue, row["price"])
        self.deposit = self.native(catalogue, row.get("core_deposit", "0"))

    def native(self, catalogue, text):
        """A price of the row in the supplier's currency, pack by pack; None without a rate."""
        theirs = catalogue.suppliers[self.supplier]["currency"]
        return catalogue.convert(minor(text, self.currency), self.currency, theirs)

    def live(self, today):
        """`valid_to` is inclusive; a year or a month ends with its last day."""
        return "valid_to" not in self.row or span(self.row["valid_to"])[1] >= today


class Catalogue:
    """All rows of a folder, by kind."""

    def __init__(self, folder):
        self.rows = {kind: [] for kind in KINDS}
        for path in sorted(Path(folder).glob("*.csv")):
            if path.stem in self.rows:
                with open(path, newline="", encoding="utf-8") as stream:
                    reader = csv.DictReader(stream)
                    self.rows[path.stem] += [Row(cells, path.stem, (path.name, reader.line_num)) for cells in reader]
        self.parts = {key_of(row): row for row in self.rows["parts"]}
        self.suppliers = {row["supplier"]: row for row in self.rows["suppliers"]}
        self.offers = [Offer(row, n, self) for n, row in enumerate(self.rows["offers"])]

    def rate(self, source, target):
        """Units of `target` for one of `source`: the row that says so, else the other way round; None without."""
        if source == target:
            return Fraction(1)
        for row in self.rows["rates"]:
            if (row["currency"], row["in"]) == (source, target):
                return Fraction(row["rate"])
        for row in self.rows["rates"]:
            if (row["currency"], row["in"]) == (target, source):
                return 1 / Fraction(row["rate"])
        return None

    def minor_rate(self, source, target):
        """Minor units of `target` for a minor unit of `source`."""
        rate = self.rate(source, target)
        return rate and rate * Fraction(10) ** (DIGITS.get(target, 2) - DIGITS.get(source, 2))

    def convert(self, money, source, target):
        """Minor units, half up; None without a rate."""
        rate = self.minor_rate(source, target)
        return None if rate is None else half_up(money * rate)

    def applications(self, part):
        """The application rows of a part."""
        return [row for row in self.rows["applications"] if key_of(row) == part]

    def fit(self, part, vehicle):
        """(truth, quantity stated) by the part's own applications; (None, None) when it has none at all."""
        rows = self.applications(part)
        if not rows:
            return None, None
        mine = [row for row in rows if all(row[k].lower() == vehicle[k].lower() for k in ("make", "model"))]
        truths = [both([built_range(row.get("built_from", ""), row.get("built_to", ""), vehicle),
                        condition(row.get("when", ""), vehicle)[0]]) for row in mine]
        stated = [row["quantity"] for row, truth in zip(mine, truths) if truth != "false" and "quantity" in row]
        return (anyof(truths) if truths else "false"), (stated[0] if stated else None)

    def arrival(self, offer, today):
        """Day on which a parcel with this offer arrives at the earliest; calendar days."""
        ship = int(self.suppliers[offer.supplier].get("ship_days", "0"))
        return today + timedelta(days=offer.lead + ship)

    def charge(self, supplier, goods):
        """Shipping at a goods value in the supplier's currency; None: no parcel at that value; no rows: 0."""
        currency = self.suppliers[supplier]["currency"]
        steps = [(minor(row["goods_from"], currency), minor(row["charge"], currency))
                 for row in self.rows["shipping"] if row["supplier"] == supplier]
        if not steps:
            return 0
        return max((step for step in steps if step[0] <= goods), default=(0, None))[1]

    def least_order(self, supplier):
        """minimum_order in minor units, 0 when not stated."""
        row = self.suppliers[supplier]
        return minor(row.get("minimum_order", "0"), row["currency"])

    def tax(self, supplier, taxed):
        """Tax on goods and shipping, half up once."""
        return half_up(Fraction(self.suppliers[supplier].get("tax_percent", "0")) * taxed / 100)


def day_of(text):
    """A date of case.json."""
    return date.fromisoformat(text)
