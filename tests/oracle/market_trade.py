"""The trade half of a random market: parts, what stands for them, boxes, suppliers and offers."""

from datetime import timedelta

BRANDS = ["Arvel", "Bexon", "Cordane", "Dunmark"]
SUPPLIERS = ["harbourside", "millgate", "northyard", "quayworks"]
SPECS = {"hex-bolt": ["M6x1.0x20 8.8", "m6x20 8.8", "M8x30 10.9", "M8x1.25x30 8.8"], "trim-clip": ["8 mm hole"]}


class Trade:
    """Draws the rows that sell something; Maker adds the map."""

    def __init__(self, rng, today, tiny):
        self.random, self.today, self.tiny = rng, today, tiny
        self.rows, self.names, self.vehicles, self.kits = {}, [], {}, []
        self.count, self.prices, self.by_component, self.pair_types = 100, {}, {}, set()
        self.suppliers = SUPPLIERS[:self.pick([1, 2, 2] if tiny else [1, 2, 2, 3, 3, 4])]
        self.random.shuffle(self.suppliers)
        self.money = {}
        # Thresholds near what the kit costs, so that surplus may pay; one price everywhere, so that there are ties.
        self.tight, self.even = self.chance(30), self.chance(20)

    def pick(self, options):
        """One of several."""
        return self.random.choice(options)

    def chance(self, percent):
        """True in so many of a hundred."""
        return self.random.random() * 100 < percent

    def add(self, file, **cells):
        """One row; empty cells stay empty."""
        self.rows[file].append(cells)

    # --- parts ---

    def part(self, part_type, price, applies=None, **cells):
        """A part, its application, its usual price in cents; returns [brand, number]."""
        self.count += self.random.randint(1, 9)
        part = [self.pick(BRANDS), f"{part_type[:2].upper()}-{self.count}"]
        self.add("parts", brand=part[0], part_number=part[1], part_type=part_type,
                 **{"unit": "each", "maker_part": self.pick(["", "", "yes"]), **cells})
        if applies:
            self.apply(part, applies)
        self.prices[tuple(part)] = price
        return part

    def apply(self, part, applies, quantity=""):
        """An application that holds, does not, or is not known; for the other vehicle some turn round."""
        cells = {"yes": self.pick([{}, {}, {"built_from": "2001"}, {"built_to": "2010-06"}, {"when": "built >= 2003"}]),
                 "engine": {"when": "engine = tq20"}, "ask": self.pick([{"when": "abs = yes"}, {"when": "abs != no"}]),
                 "no": self.pick([{"when": "engine = tq21"}, {"built_to": "2003-12"}, {"model": "Pike"}])}[applies]
        self.add("applications", brand=part[0], part_number=part[1], quantity=quantity,
                 **{"make": "Velmora", "model": "Tern", **cells})

    def component_parts(self, row):
        """One to three parts for a component, and what stands for them."""
        name, price = row["component"], self.random.randint(600, 6000)
        first = self.part(row["part_type"], price, self.pick(["yes"] * 8 + ["yes", "yes", "ask", "engine"]))
        self.by_component[name] = first
        if self.chance(45):
            self.another(row, price, first)
        if self.chance(12):
            self.part(row["part_type"], price // 2, self.pick(["ask", "no"]))
        if row["quantity"] == "2" and self.chance(50):
            pair = self.part(row["part_type"], price * 2 - self.random.randint(0, 500))
            self.apply(pair, "yes", quantity="1")
            self.pair_types.add(row["part_type"])

    def another(self, row, price, first):
        """A second part: by its own application, or standing for the first."""
        price = max(100, price + self.random.randint(-500, 500))
        how = self.pick("applies applies applies same instead new wrong-way together".split())
        other = self.part(row["part_type"], price, "yes" if how == "applies" else None)
        if how == "same":
            ends = self.random.sample([first, other], 2)
            self.refer(*ends, "same")
        elif how == "instead":
            self.refer(other, first, "instead")
        elif how == "wrong-way":
            self.refer(first, other, "instead")
        elif how == "new":
            self.supersede(first, other)
        elif how == "together":
            self.supersede(first, other, quantity=self.pick(["", "1", "2"]), group="1")
            if self.chance(70):
                self.supersede(first, self.part("adapter", self.random.randint(80, 700)), group="1")
            if self.chance(40):
                self.supersede(first, self.part(row["part_type"], price + 300), group="2")
            self.pair_types.add(row["part_type"])

    def supersede(self, old, new, **cells):
        """A number that took another's place."""
        self.add("supersessions", brand=old[0], part_number=old[1], new_brand=new[0], new_number=new[1], **cells)

    def refer(self, part, other, relation):
        """A cross-reference."""
        self.add("crossrefs", brand=part[0], part_number=part[1], other_brand=other[0], other_number=other[1],
                 relation=relation)

    def hardware(self):
        """One or two parts for every type and spec that the map names, and gaskets that are listed."""
        for row in list(self.rows["fastenings"]):
            if row["part_type"] in SPECS:
                continue
            for _ in range(self.pick([1, 1, 2])):
                self.part(row["part_type"], self.random.randint(80, 900), "yes")
        for part_type in sorted({row["part_type"] for row in self.rows["fastenings"]} & set(SPECS)):
            for spec in SPECS[part_type]:
                if self.chance(92):
                    self.part(part_type, self.random.randint(12, 160), spec=spec)
        for row in {row["part_type"]: row for row in self.rows["consumables"]}.values():
            big = row["unit"]
            for spec in self.pick([["blue"], ["blue", ""], ["red", "Blue"], [""]]):
                self.part(row["part_type"], self.random.randint(20, 90), spec=spec,
                          unit=self.pick([row["unit"], row["unit"], big]))

    # --- boxes ---

    def boxes(self):
        """A dearer part with what its component is screwed and sealed with."""
        for row in self.rows["components"]:
            held = [f for f in self.rows["fastenings"] if f["component"] == row["component"]]
            if held and self.chance(40):
                price = self.prices[tuple(self.by_component.get(row["component"], [""]))] \
                    if row["component"] in self.by_component else 2000
                box = self.part(row["part_type"], price + self.random.randint(0, 900), "yes")
                for fastening in held:
                    self.packed(box, fastening)
        if len(self.names) > 1 and self.chance(12):
            self.big_box()

    def packed(self, box, fastening):
        """One row of contents, named by spec, by number, or by type alone."""
        cells = {"item_type": fastening["part_type"], "quantity": self.pick([fastening["quantity"], "", "1"])}
        if fastening["spec"]:
            cells["item_spec"] = self.pick(SPECS[fastening["part_type"]])
        elif self.chance(50):
            listed = [part for part in self.rows["parts"] if part["part_type"] == fastening["part_type"]]
            item = self.pick(listed)
            cells.update(item_brand=item["brand"], item_number=item["part_number"])
        self.add("contents", brand=box[0], part_number=box[1], **cells)

    def big_box(self):
        """A set that holds the parts of two components and has a type of its own."""
        pair = [name for name in self.random.sample(self.names, 2) if f"{name}-part" not in self.pair_types]
        box = self.part("service-set", self.random.randint(2000, 8000), "yes")
        for name in pair:
            item = self.by_component[name]
            self.add("contents", brand=box[0], part_number=box[1], item_type=f"{name}-part", item_brand=item[0],
                     item_number=item[1], quantity=self.pick(["", "1", "2"]))

    # --- suppliers and offers ---

    def sellers(self):
        """Rules of every supplier."""
        foreign = self.chance(30)
        for supplier in self.suppliers:
            self.money[supplier] = self.pick(["EUR", "EUR", "GBP", "JPY"]) if foreign else "EUR"
            self.add("suppliers", supplier=supplier, currency=self.money[supplier],
                     ship_days=self.pick(["", "0", "1", "2", "4"]),
                     minimum_order=self.amount(self.random.randint(800, 4000), supplier) if self.chance(20) else "",
                     tax_percent=self.pick(["", "0", "19", "20", "7.7", "5.5", "25"]))
            self.carriage(supplier)
        if foreign:
            self.add("rates", **{"currency": "GBP", "in": "EUR", "rate": self.pick(["1.16", "1.1637"])})
            if self.chance(85):
                self.add("rates", **self.pick([{"currency": "EUR", "in": "JPY", "rate": "163.45"},
                                               {"currency": "JPY", "in": "EUR", "rate": "0.00612"}]))

    def worth(self):
        """About what one kit costs: a value that one pack more or less reaches."""
        kinds = {row["part_type"]: int(row.get("quantity") or 1) for row in self.rows["fastenings"] + self.rows["components"]}
        kind_of = {(row["brand"], row["part_number"]): row["part_type"] for row in self.rows["parts"]}
        cheapest = {}
        for part, price in self.prices.items():
            cheapest[kind_of[part]] = min(price, cheapest.get(kind_of[part], price))
        return sum(kinds.get(kind, 0) * price for kind, price in cheapest.items())

    def amount(self, cents, supplier, currency=None):
        """Euro cents as money of a supplier, or of a currency that an offer states."""
        currency = currency or self.money[supplier]
        return str(max(1, cents * 16 // 10)) if currency == "JPY" else f"{cents // 100}.{cents % 100:02}"

    def carriage(self, supplier):
        """Flat, free from a value, from a value only, rising, stepped, or no rows at all."""
        low, high, value = (self.random.randint(*ends) for ends in ((150, 500), (400, 1200), (1500, 9000)))
        if self.tight:
            value, high = int(self.worth() * self.random.uniform(0.9, 1.2)), self.random.randint(1500, 5000)
        table = {"none": [], "flat": [(0, low)], "free": [(0, high), (value, 0)],
                 "from": [(value if self.tight else value // 4, low)],
                 "rising": [(0, low), (value, high)], "stepped": [(0, high), (value // 2, low), (value, 0)],
                 "counter": [(0, 0)]}[self.pick("none flat free free from rising stepped counter".split())]
        for goods, charge in table:
            self.add("shipping", supplier=supplier, goods_from=self.amount(goods, supplier) if goods else "0",
                     charge=self.amount(charge, supplier) if charge else "0")

    def offer(self, supplier, part, row, code="", sure=False):
        """One offer; hardware and fluids in packs. `sure`: there is enough, today."""
        pack = self.pack(row)
        price = int(self.prices[tuple(part)] * float(pack or 1) * (1 if self.even else self.random.uniform(0.75, 1.3)) *
                    (0.8 if pack not in ("", "1") else 1)) or 1
        currency = self.pick(["EUR", "GBP"]) if self.chance(3) else self.money[supplier]
        self.add("offers", supplier=supplier, brand=part[0], part_number=part[1], currency=currency,
                 price=self.amount(price, supplier, currency), pack_quantity=self.stated(pack, row), supplier_code=code,
                 minimum_packs=self.pick([""] * 9 + ["2", "3"]), stock="" if sure else self.pick(["", "", "", "9", "4", "2", "1", "0"]),
                 lead_days=self.pick(["", "0", "1", "2", "5"]), valid_to="" if sure else self.valid(),
                 core_deposit=self.amount(500, supplier, currency) if self.chance(8) else "")

    def valid(self):
        """Mostly open; past, today, this month, this year."""
        return self.pick([""] * 20 + [(self.today - timedelta(days=1)).isoformat(), self.today.isoformat(), "2026-03",
                                      "2026", "2026-02", "2025"])

    def pack(self, row):
        """Pieces, or grams and millilitres, in a pack."""
        if row["part_type"] in SPECS:
            return self.pick(["", "1", "2", "5", "10"] if not self.tiny else ["2", "4"])
        if row["part_type"].startswith("grease"):
            return self.pick(["10", "25", "2.5"])
        return self.pick([""] * 12 + ["2"])

    @staticmethod
    def stated(pack, row):
        """The pack in the part's own unit."""
        return f"{float(pack) / 1000:g}" if row.get("unit") == "L" else pack

    def offers(self):
        """Every part at some of the suppliers, now and then in two sizes at one."""
        kind = self.chance(85)
        for row in self.rows["parts"]:
            part, sold = [row["brand"], row["part_number"]], False
            row["status"] = "discontinued" if self.chance(4) else self.pick(["", "current"])
            for supplier in self.random.sample(self.suppliers, len(self.suppliers)):
                sure = kind and not sold and self.chance(97)
                if sure or self.chance(55):
                    self.offer(supplier, part, row, f"{supplier[:2]}-{part[1]}", sure)
                    sold = True
            if sold and not self.tiny and row["part_type"] in SPECS and self.chance(15):
                self.offer(self.pick(self.suppliers), part, row, code=f"x-{part[1]}")

    def trade(self):
        """All of it."""
        for row in list(self.rows["components"]):
            if row["component"] != "cover":
                self.component_parts(row)
        self.hardware()
        self.boxes()
        self.sellers()
        self.offers()
