#!/usr/bin/env python3
"""A small random market, the same for the same seed: OUTDIR/market/*.csv and OUTDIR/case.json.

    market_generate.py SEED OUTDIR [--tiny]

A platform whose jobs renew two to five components each, some of them screwed and sealed with what must not go back,
and a trade that sells parts, pairs, boxes and substitutes for them. `--tiny`: small enough for the plainest search.
"""

import argparse
import csv
import json
import random
from datetime import date, timedelta
from pathlib import Path

from market_trade import Trade

COLUMNS = {
    "platforms": "platform make model built_from built_to when",
    "components": "platform component part_type name quantity unit spec position when wear_km wear_months inspect steps",
    "fastenings": "platform component item kind part_type quantity reuse unit spec joint torque angle tool at when note",
    "access": "platform component needs state to when",
    "consumables": "platform component part_type quantity unit spec at when note",
    "jobs": "platform job component circuit action when",
    "suppliers": "supplier name currency minimum_order ship_days tax_percent",
    "shipping": "supplier goods_from charge",
    "parts": "brand part_number part_type description spec unit gtin status maker_part",
    "offers": "supplier brand part_number price currency supplier_code pack_quantity minimum_packs stock lead_days"
              " core_deposit valid_to",
    "applications": "brand part_number make model built_from built_to when position quantity",
    "crossrefs": "brand part_number other_brand other_number relation note",
    "supersessions": "brand part_number new_brand new_number quantity group date",
    "contents": "brand part_number item_type item_brand item_number item_spec quantity",
    "rates": "currency in rate date"}

TODAY = date(2026, 3, 2)
VEHICLE = {"make": "Velmora", "model": "Tern", "built": "2004", "facts": {"engine": "tq20"}}
OTHER = {"make": "Velmora", "model": "Tern", "built": "2006-03", "facts": {"engine": "tq23"}}
COMPONENTS = ["pump", "thermostat", "hose", "pulley", "fan", "sensor"]
BOLTS = ["M6x1.0x20 8.8", "M6x20 8.8", "M6x20", "M8x30", "M8x1.25x30 10.9"]


class Maker(Trade):
    """Everything of one seed: the map here, the trade in market_trade.py."""

    def __init__(self, seed, tiny):
        super().__init__(random.Random(seed), TODAY, tiny)
        self.rows = {kind: [] for kind in COLUMNS}
        self.names = self.random.sample(COMPONENTS, self.random.randint(2, 2 if tiny else 5))
        self.kits = [{"kit": "one", "vehicle": "first", "jobs": ["service"]}]
        self.vehicles = {"first": VEHICLE}

    def map(self):
        """One platform; components, what holds them, a cover in the way now and then."""
        self.add("platforms", platform="t1", make="Velmora", model="Tern")
        for name in self.names:
            self.add("components", platform="t1", component=name, part_type=f"{name}-part",
                     quantity=self.pick(["", "1", "1", "2"]))
            self.held(name)
            self.add("jobs", platform="t1", job="service", component=name)
        if self.chance(15):
            self.add("components", platform="t1", component="cover", part_type="cover")
            self.add("access", platform="t1", component=self.names[0], needs="cover", state="removed")
            self.fastening("cover", "clip", "trim-clip", self.pick(["8 mm hole", "8MM hole"]))

    def held(self, name):
        """Bolts that merge, a gasket of its own, a little grease; few enough to stay small."""
        if self.chance(40):
            self.fastening(name, "bolt", "hex-bolt", self.pick(BOLTS))
        if self.chance(25):
            self.fastening(name, "gasket", f"{name}-gasket", "", quantity=1)
        if self.chance(12):
            unit = self.pick(["g", "ml"])
            self.add("consumables", platform="t1", component=name, part_type=f"grease-{unit}", unit=unit,
                     quantity=self.pick(["5", "7.5", "40"]), spec=self.pick(["", "blue"]))

    def fastening(self, name, kind, part_type, spec, quantity=None):
        """One row; nearly all must not go back."""
        self.add("fastenings", platform="t1", component=name, item=f"{kind} of {name}", kind=kind,
                 part_type=part_type, spec=spec, quantity=quantity or self.random.randint(1, 3 if self.tiny else 6),
                 reuse=self.pick(["never"] * 7 + ["check", "always"]),
                 when=self.pick([""] * 15 + ["abs = yes", "engine = tq20", "engine = tq23"]))

    def second_kit(self):
        """The same vehicle or another one, with a job of its own."""
        if not self.chance(35):
            return
        if self.chance(40):
            self.vehicles["second"] = OTHER
        for name in self.random.sample(self.names, self.random.randint(1, 2)):
            self.add("jobs", platform="t1", job="second", component=name)
        self.kits.append({"kit": "two", "vehicle": self.pick(sorted(self.vehicles)), "jobs": ["second"]})

    def options(self):
        """What the user asks of the basket."""
        found = {}
        if self.chance(15):
            found["arrive_by"] = (TODAY + timedelta(days=self.random.randint(2, 8))).isoformat()
        if self.chance(12):
            found["suppliers_at_most"] = self.random.randint(1, 2)
        if self.chance(8):
            found["only"] = sorted(self.random.sample(self.suppliers, min(2, len(self.suppliers))))
        elif self.chance(9) and len(self.suppliers) > 1:
            found["without"] = [self.pick(self.suppliers)]
        return found

    def decisions(self):
        """`kit set` now and then: a part named, a part on the shelf, a line dropped, a bolt used again, a spare wanted."""
        said = []
        name = self.names[0]
        if self.chance(6):
            said.append({"kit": "one", "part_type": f"{name}-part", "component": name, "decision": "buy",
                         "part": self.by_component[name]})
        elif self.chance(6):
            said.append({"kit": "one", "part_type": f"{name}-part", "component": name,
                         "decision": self.pick(["have", "drop"])})
        rows = self.rows["fastenings"]
        if rows and rows[0]["when"] == "" and self.chance(12):
            if rows[0]["reuse"] == "check":
                said.append(self.said(rows[0], "buy"))
            elif rows[0]["reuse"] == "never":
                said.append(self.said(rows[0], self.pick(["reuse", "have"])))
        return said if self.set_is_clear(said) else []

    @staticmethod
    def said(row, decision):
        """A decision about the line that a fastening makes."""
        return {"kit": "one", "part_type": row["part_type"], "component": row["component"], "decision": decision}

    def set_is_clear(self, said):
        """No two lines of kit one that a decision could mean."""
        lines = [(row["part_type"], row["component"]) for row in self.rows["fastenings"]]
        return all(lines.count((one["part_type"], one["component"])) < 2 for one in said)

    def case(self):
        """What to run."""
        return {"today": TODAY.isoformat(), "vehicles": self.vehicles, "kits": self.kits, "set": self.decisions(),
                "options": self.options()}


def generate(seed, folder, tiny=False):
    """Write one case; returns it."""
    maker = Maker(seed, tiny)
    maker.map()
    maker.second_kit()
    maker.trade()
    case = maker.case()
    where = Path(folder) / "market"
    where.mkdir(parents=True, exist_ok=True)
    for kind, rows in maker.rows.items():
        if rows:
            with open(where / f"{kind}.csv", "w", newline="", encoding="utf-8") as stream:
                writer = csv.DictWriter(stream, COLUMNS[kind].split(), restval="")
                writer.writeheader()
                writer.writerows(rows)
    (Path(folder) / "case.json").write_text(json.dumps(case, indent=1), encoding="utf-8")
    return case


def main():
    """The command line."""
    parser = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    parser.add_argument("seed", type=int)
    parser.add_argument("outdir")
    parser.add_argument("--tiny", action="store_true")
    options = parser.parse_args()
    generate(options.seed, options.outdir, options.tiny)


if __name__ == "__main__":
    main()
