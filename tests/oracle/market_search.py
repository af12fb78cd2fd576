"""The cheapest baskets, by going through all of them: formats.md section 3, "Buying".

A basket is {offer index: packs}. For every set of suppliers and every day by which all must have arrived, all
assignments of parts to lines and all pack vectors of the parts are gone through; what is passed over costs more
than something already found even if the rest came with no shipping at all.
"""

from fractions import Fraction
from itertools import combinations, product
from math import inf, prod

from market_feasible import feasible, parts_of
from market_readings import MARKET
from market_rows import half_up, minor

NODES, CHOICES = 60_000, 3_000


class TooLarge(Exception):
    """More nodes than a small case should need."""


def charged_for(problem, supplier, goods):
    """{shipping, tax, total} of a parcel with goods of that value; None: no such parcel. Remembered, since asked often."""
    if (supplier, goods) not in problem.charged:
        shipping, found = problem.catalogue.charge(supplier, goods), None
        if shipping is not None and goods >= problem.catalogue.least_order(supplier):
            tax = problem.catalogue.tax(supplier, goods + shipping)
            found = {"shipping": shipping, "tax": tax,
                     "total": sum(half_up(money * problem.rate(supplier)) for money in (goods, shipping, tax))}
        problem.charged[supplier, goods] = found
    return problem.charged[supplier, goods]


def parcels_of(problem, basket):
    """{supplier: {goods, shipping, tax, deposits in its currency, total in the basket's, arrives}}; None: forbidden."""
    parcels = {}
    for offer in problem.offers:
        packs = basket.get(offer.index, 0)
        if packs:
            parcel = parcels.setdefault(offer.supplier, {"goods": 0, "deposits": 0, "arrives": problem.today})
            parcel["goods"] += packs * offer.price
            parcel["deposits"] += packs * offer.deposit
            parcel["arrives"] = max(parcel["arrives"], problem.arrivals[offer.index])
    for supplier, parcel in parcels.items():
        charged = charged_for(problem, supplier, parcel["goods"])
        if charged is None:
            return None
        parcel.update(charged)
    return parcels


def summary(parcels):
    """(total, parcels, arrives)."""
    return (sum(parcel["total"] for parcel in parcels.values()), len(parcels),
            max(parcel["arrives"] for parcel in parcels.values()))


def assignments(problem):
    """Every choice of one part a line: ("direct", part), ("box", part), or None where boxes alone must cover."""
    coverable = {n for content in problem.contents if problem.comes(content.box) for n in content.reached}
    choices = [problem.choices(line) + ([None] if n in coverable else []) for n, line in enumerate(problem.lines)]
    if prod(map(len, choices)) > CHOICES:
        raise TooLarge
    return [dict(enumerate(chosen)) for chosen in product(*choices)]


class Search:
    """The search among the offers of some suppliers that arrive by a day."""

    def __init__(self, problem, suppliers, day, nodes):
        self.problem, self.suppliers, self.nodes = problem, suppliers, nodes
        self.slack = sum(1.5 + 0.5 * float(problem.rate(s)) for s in suppliers) + 1e-6
        self.weight = {s: float(problem.rate(s) * (100 + Fraction(problem.catalogue.suppliers[s].get("tax_percent", "0")))
                                / 100) for s in suppliers}
        # All of the suppliers deliver: what fewer can do was found before.
        self.carriage = sum(self.cheapest_carriage(s) * self.weight[s] for s in suppliers)
        self.offers = {}
        for offer in problem.offers:
            if offer.supplier in suppliers and problem.arrivals[offer.index] <= day:
                self.offers.setdefault(offer.part, []).append(offer)
        self.lists, self.best, self.basket = {}, inf, None

    def cheapest_carriage(self, supplier):
        """The least that a parcel can cost to send."""
        catalogue = self.problem.catalogue
        return min((minor(row["charge"], catalogue.suppliers[supplier]["currency"])
                    for row in catalogue.rows["shipping"] if row["supplier"] == supplier), default=0)

    def pulls(self, supplier):
        """More goods can make a parcel of this supplier possible or cheaper."""
        catalogue = self.problem.catalogue
        steps = sorted((Fraction(r["goods_from"]), Fraction(r["charge"])) for r in catalogue.rows["shipping"]
                       if r["supplier"] == supplier)
        falls = any(a[1] > b[1] for a, b in zip(steps, steps[1:]))
        return falls or (steps and steps[0][0] > 0) or catalogue.least_order(supplier) > 0

    def vectors(self, part, required, frugal):
        """[(cost, {offer index: packs}, supply)] of at least `required`, cheapest first. `frugal`: without vectors that
        could do without a pack of a supplier whom more goods never make cheaper."""
        if (part, required, frugal) not in self.lists:
            offers, found = self.offers.get(part, []), []
            for counts in product(*([0, *range(o.least, self.problem.bounds[o.index] + 1)] for o in offers)):
                supply = sum(n * o.pack for n, o in zip(counts, offers))
                if supply < max(required, 1) or frugal and self.wasteful(offers, counts, supply - required):
                    continue
                cost = sum(n * o.price * self.weight[o.supplier] for n, o in zip(counts, offers))
                found.append((cost, {o.index: n for n, o in zip(counts, offers) if n}, supply))
            self.lists[part, required, frugal] = sorted(found, key=lambda v: (v[0], sorted(v[1].items())))
        return self.lists[part, required, frugal]

    def wasteful(self, offers, counts, over):
        """A pack could be left out and nothing would be missing or dearer."""
        def spare(n, offer):
            return 1 if n > offer.least else n
        return any(n > 0 and spare(n, o) * o.pack <= over and not self.pulls(o.supplier)
                   for n, o in zip(counts, offers))

    def required(self, part, chosen, brought):
        """What must come of a part at the least, when boxes bring so much to each line."""
        return sum(max(0, need - brought.get(n, 0)) for n, choice in chosen.items() if choice and choice[0] == "direct"
                   for other, need in choice[1] if other == part)

    def brought(self, boxes):
        """{line: the most that whole boxes can bring to it}; `boxes` in millionths, or inf."""
        found = {}
        for content in self.problem.contents:
            if boxes.get(content.box):
                whole = inf if boxes[content.box] == inf else boxes[content.box] // 10**6
                for n in content.reached:
                    found[n] = found.get(n, 0) + whole * content.quantity
        return found

    def list_of(self, part, chosen, brought, boxes):
        """The vectors of one part that can do."""
        touched = part in boxes or any(part in parts_of(choice) and n in brought for n, choice in chosen.items())
        return self.vectors(part, self.required(part, chosen, brought), not touched and MARKET["bound"] == "lines")

    def try_assignment(self, chosen):
        """All pack vectors for one choice of parts, boxes first."""
        parts = sorted(set().union(*map(parts_of, chosen.values())))
        boxes = {content.box: inf for content in self.problem.contents if content.box in parts}
        most = self.brought(boxes)
        lists = {part: self.list_of(part, chosen, most, boxes) for part in parts}
        if all(lists.values()):
            order = sorted(parts, key=lambda part: (part not in boxes, -lists[part][0][0]))
            rest = [sum(lists[part][0][0] for part in order[n + 1:]) for n in range(len(order))]
            self.descend(chosen, list(zip(order, rest)), {}, {}, self.carriage, boxes)

    def descend(self, chosen, parts, basket, come, cost, boxes):
        """One part after the other, cheapest vector first."""
        if not parts:
            self.leaf(chosen, basket)
            return
        part, rest = parts[0]
        brought = self.brought(boxes if part in boxes else come)
        for more, packs, supply in self.list_of(part, chosen, brought, boxes):
            if cost + more + rest - self.slack >= self.best:
                break
            self.nodes[0] += 1
            if self.nodes[0] > NODES:
                raise TooLarge
            here = {**come, part: supply} if part in boxes else come
            self.descend(chosen, parts[1:], {**basket, **packs}, here, cost + more, boxes)

    def leaf(self, chosen, basket):
        """A whole basket: its true cost, then whether everything is there."""
        parcels = parcels_of(self.problem, basket)
        if not parcels or summary(parcels)[0] >= self.best:
            return
        if feasible(self.problem, basket, chosen):
            self.best, self.basket = summary(parcels)[0], basket

    def run(self, choices, bound):
        """(total, basket) of the cheapest below `bound`, or (bound, None)."""
        self.best = bound
        for chosen in choices:
            if all(part in self.offers for choice in chosen.values() for part in parts_of(choice)):
                self.try_assignment(chosen)
        return self.best, self.basket


def subsets(problem):
    """Sets of suppliers, small ones first, as many as the option allows."""
    names = sorted({offer.supplier for offer in problem.offers})
    most = min(len(names), problem.options.get("suppliers_at_most", len(names)))
    return [frozenset(some) for size in range(1, most + 1) for some in combinations(names, size)]


def days(problem):
    """Days on which something arrives, as late as the option allows."""
    last = problem.options.get("arrive_by")
    return sorted({day for day in problem.arrivals.values() if not last or day.isoformat() <= last})


def search(problem):
    """{(suppliers, day): (total, basket)} of the cheapest basket within each; a basket is None where a smaller set of
    suppliers or an earlier day is as cheap."""
    found, choices, nodes = {}, assignments(problem), [0]
    for some in subsets(problem):
        for day in days(problem):
            bound = min((total for (other, earlier), (total, _) in found.items() if other <= some and earlier <= day),
                        default=inf)
            found[some, day] = Search(problem, some, day, nodes).run(choices, bound)
    return found
