"""What has to be bought and what may be bought for it, as plain tables: from OUTDIR to a Problem."""

import json
from collections import Counter
from pathlib import Path

import oracle
from market_candidates import Finder, loose, names
from market_readings import MARKET
from market_rows import Catalogue, day_of, key_of, millionths
from rows import load

SURPLUS = 2


class Line:
    """A line that is to be bought, of one kit; quantities in millionths of the base unit."""

    def __init__(self, kit, key, line):
        self.kit, self.key, self.part_type, self.components = kit, key, line["part_type"], line["components"]
        self.spec, self.need, self.unit = line["spec"], line["need"], line["unit"]
        self.quantity = int(line["quantity"] * 10**6)
        self.stuff, self.decision = key[0] == "stuff", "buy"
        self.found, self.direct, self.bundles, self.boxes, self.named, self.needed = {}, {}, {}, {}, None, {}
        self.sure_only = True


class Content:
    """One row of contents: what a whole box brings, and the indices of the lines it may cover."""

    def __init__(self, row, reached):
        self.row, self.box, self.loose, self.reached = row, key_of(row), loose(row), reached
        self.quantity = millionths(row.get("quantity", "1"), "each")[0]


def kit_lines(folder, case, kit):
    """The lines and spares of one kit: {merge key: line}."""
    wish = {"jobs": kit["jobs"], "replace": [], "vehicle": case["vehicles"][kit["vehicle"]]}
    rows = load(f"{folder}/market", wish["vehicle"])
    return oracle.mark(oracle.merge(oracle.make_plan(rows, wish).atoms), oracle.sure_atoms(rows, wish))


def decide(line, case):
    """What `kit set` said of the line; spares are bought only when it said so."""
    line.decision = "drop" if line.key[0] == "spare" else "buy"
    for said in case.get("set", []):
        if said["kit"] == line.kit and said["part_type"] == line.part_type and said["component"] in line.components:
            line.decision = said["decision"]
            line.named = tuple(said["part"]) if said.get("part") else None


class Problem:
    """Everything that the search needs."""

    def __init__(self, folder):
        self.case = json.loads(Path(folder, "case.json").read_text(encoding="utf-8"))
        self.charged = {}
        self.today, self.options = day_of(self.case["today"]), self.case.get("options", {})
        self.catalogue = Catalogue(f"{folder}/market")
        self.finders = {kit["kit"]: Finder(self.catalogue, self.case["vehicles"][kit["vehicle"]])
                        for kit in self.case["kits"]}
        self.all_lines = [Line(kit["kit"], key, line) for kit in self.case["kits"]
                          for key, line in kit_lines(folder, self.case, kit).items()]
        for line in self.all_lines:
            decide(line, self.case)
        self.lines = [line for line in self.all_lines if line.decision == "buy"]
        self.find_candidates()
        self.currency = self.basket_currency()
        self.offers = self.usable(self.offered(MARKET["fit_after_options"]))
        self.take_the_sure()
        self.offers = self.usable(self.offered(True))
        self.bounds = {offer.index: self.bound(offer) for offer in self.offers}
        self.arrivals = {offer.index: self.catalogue.arrival(offer, self.today) for offer in self.offers}

    # --- candidates ---

    def find_candidates(self):
        """Direct candidates of every line first, since contents name lines by them."""
        for line in self.lines:
            line.found = self.finders[line.kit].candidates(vars(line), line.stuff)
            line.direct, line.bundles = dict(line.found), self.finders[line.kit].bundles(line.found)
        self.contents = [Content(row, {n for n, line in enumerate(self.lines) if names(row, vars(line), line.found)})
                         for row in self.catalogue.rows["contents"]]
        for line in self.lines:
            self.find_boxes(line)
            if line.named:
                line.direct = {part: fit for part, fit in line.direct.items() if part == line.named}
                line.boxes, line.bundles = {p: fit for p, fit in line.boxes.items() if p == line.named}, {}

    def find_boxes(self, line):
        """Boxes whose contents name the line and that apply to the vehicle."""
        for content in self.contents:
            fit = self.box_fit(content.box, line) if self.lines.index(line) in content.reached else "false"
            if fit in ("true", "unknown") and content.box not in line.direct:
                line.boxes[content.box] = fit

    def box_fit(self, box, line):
        """Whether a box applies: its own applications, else what it stands for."""
        own, _ = self.finders[line.kit].catalogue.fit(box, self.finders[line.kit].vehicle)
        if own is not None or not MARKET["box_inherits"] or box not in self.catalogue.parts:
            return own
        kind = {"part_type": self.catalogue.parts[box]["part_type"], "spec": ""}
        return self.finders[line.kit].candidates(kind).get(box)

    def take_the_sure(self):
        """Only candidates that surely fit, when the line has one that can be bought."""
        on_offer = {offer.part for offer in self.offers}
        for line in self.lines:
            line.direct = {part: fit for part, fit in line.direct.items() if part in on_offer}
            line.boxes = {part: fit for part, fit in line.boxes.items() if part in on_offer}
            line.bundles = {b: fit for b, fit in line.bundles.items() if all(part in on_offer for part, _ in b)}
            every = (line.direct, line.bundles, line.boxes)
            line.sure_only = any("true" in some.values() for some in every)
            for some in every if line.sure_only else ():
                for unsure in [one for one, fit in some.items() if fit != "true"]:
                    del some[unsure]

    def needed(self, line, part):
        """How much of a part answers a line: an application's own quantity replaces the component's."""
        if part not in line.needed:
            stated = self.finders[line.kit].quantity(part) if not line.stuff else None
            line.needed[part] = millionths(stated, "each")[0] if stated else line.quantity
        return line.needed[part]

    def choices(self, line):
        """The ways to answer a line: (kind, ((part, millionths that the line takes), ...)); a box is ("box", ((box, 0),)),
        since what it brings goes where its contents say."""
        direct = [((part, self.needed(line, part)),) for part in sorted(line.direct)]
        bundles = [tuple((part, line.quantity * times) for part, times in bundle) for bundle in sorted(line.bundles)]
        return [("direct", takes) for takes in direct + bundles] + [("box", ((box, 0),)) for box in sorted(line.boxes)]

    # --- offers ---

    def offered(self, after_options):
        """The live offers, after --only and --without or before."""
        only, without = self.options.get("only"), self.options.get("without", [])
        return [offer for offer in self.catalogue.offers if offer.live(self.today) and not (
            after_options and ((only and offer.supplier not in only) or offer.supplier in without))]

    def candidates_of_all(self):
        """Every part that is a candidate of a line."""
        return {part for line in self.lines
                for part in [*line.direct, *line.boxes, *(part for bundle in line.bundles for part, _ in bundle)]}

    def basket_currency(self):
        """The currency that most live offers of candidates are in, ties by code."""
        parts = self.candidates_of_all()
        counts = Counter(offer.currency for offer in self.offered(MARKET["currency_after_options"])
                         if offer.part in parts and not (MARKET["currency_in_stock"] and self.short(offer)))
        return min(counts, key=lambda code: (-counts[code], code), default=None)

    @staticmethod
    def short(offer):
        """Not even the least number of packs is there."""
        return offer.stock is not None and offer.stock < offer.least

    def usable(self, offers):
        """Offers of candidates with a rate, into the supplier's currency and on into the basket's, and in stock."""
        parts = self.candidates_of_all()
        return [offer for offer in offers if offer.part in parts and offer.price is not None
                and self.rate(offer.supplier) is not None and not self.short(offer)]

    def rate(self, supplier):
        """Minor units of the basket's currency for one of the supplier's; None without a rate."""
        return self.currency and self.catalogue.minor_rate(self.catalogue.suppliers[supplier]["currency"], self.currency)

    def per_box(self, line, box):
        """How much of a line one whole box brings."""
        at = self.lines.index(line)
        return sum(content.quantity for content in self.contents if content.box == box and at in content.reached)

    def taken(self, line, choice, part):
        """What a line wants of a part when it is answered so: for a box, as many as cover it alone."""
        if choice[0] == "box":
            return -(-line.quantity // self.per_box(line, part)) * 10**6 if choice[1][0][0] == part else 0
        return sum(need for other, need in choice[1] if other == part)

    def most_needed(self, part):
        """All that a part could be needed for, in millionths of its unit."""
        return sum(max((self.taken(line, choice, part) for choice in self.choices(line)), default=0)
                   for line in self.lines)

    def bound(self, offer):
        """Most packs of an offer: enough for all, or its minimum, and two more; never more than there are."""
        packs = max(-(-self.most_needed(offer.part) // offer.pack), offer.least) + SURPLUS
        return packs if offer.stock is None else min(packs, offer.stock)

    def unbuyable(self):
        """Lines that no part on offer could answer, however many suppliers deliver; boxes bought for other lines aside."""
        return [line for line in self.lines if not self.enough(line)]

    def enough(self, line):
        """Some candidate is there in quantity, or boxes may come that cover."""
        at = self.lines.index(line)
        if any(at in content.reached and self.comes(content.box) for content in self.contents):
            return True
        most = {}
        for offer in self.offers:
            most[offer.part] = most.get(offer.part, 0) + self.bounds[offer.index] * offer.pack
        return any(all(most.get(part, 0) >= need for part, need in takes) for _, takes in self.choices(line))

    def comes(self, box):
        """The box is a candidate of some line and on offer."""
        return any(box in line.direct or box in line.boxes for line in self.lines)
