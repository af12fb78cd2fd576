#!/usr/bin/env python3
"""A market (market_text.h) as a mixed-integer program in the LP format that cbc, glpsol and HiGHS read.

    model.py < market.txt > market.lp

The plain textbook form, made from the contract (formats.md §3, "Boxes" and "Buying") and not from the program's own model:
packs of each offer are one integer, what an offer gives to each option of each need is a share of its own that is no more than
its supplier is open, a parcel's goods lie in the range of one row of the shipping table, and what rounding adds is an
integer that is forced up to what half up gives. Sums are minor units of the market's currency, quantities are units.
"""

import sys
from fractions import Fraction
from math import ceil, gcd, lcm

import market as texts

MILLION = 10**6
SURPLUS = 2
DIGITS = {"JPY": 0, "BHD": 3}  # others: 2
HALF = Fraction(1, 2)


def half_up(value):
    return int((2 * value + 1) // 2)


def rate_between(market, source, target):
    """Minor units of target for one of source; None: no rate leads there."""
    scale = Fraction(10) ** (DIGITS.get(target, 2) - DIGITS.get(source, 2))
    if source == target:
        return Fraction(1)
    if market.rates.get((source, target), 0) > 0:
        return Fraction(market.rates[source, target], MILLION) * scale
    if market.rates.get((target, source), 0) > 0:
        return Fraction(MILLION, market.rates[target, source]) * scale
    return None


class Program:
    """Rows and columns, and how they are written."""

    def __init__(self):
        self.objective, self.rows, self.most, self.integers = {}, [], {}, []

    def column(self, name, most=None, integer=True, cost=0):
        if most is not None:
            self.most[name] = most
        if integer:
            self.integers.append(name)
        if cost:
            self.objective[name] = cost
        return name

    def row(self, terms, sense, right=0):
        """terms: pairs of column and factor; equal columns add up."""
        sums = {}
        for name, factor in terms:
            sums[name] = sums.get(name, 0) + factor
        sums = {name: factor for name, factor in sums.items() if factor}
        if sums:
            self.rows.append((sums, sense, right))
        elif not {"<=": 0 <= right, ">=": 0 >= right, "=": right == 0}[sense]:
            self.row([(self.column(f"never_{len(self.rows)}", 0, False), 1)], ">=", 1)

    def pay(self, terms):
        for name, factor in terms:
            self.objective[name] = self.objective.get(name, 0) + factor

    @staticmethod
    def number(value):
        text = f"{float(value):.9f}"
        return text.rstrip("0").rstrip(".")

    def sum(self, terms):
        parts = [f"{'-' if factor < 0 else '+'} {self.number(abs(factor))} {name}" for name, factor in terms.items()]
        lines = [" ".join(parts[i:i + 6]) for i in range(0, len(parts), 6)]
        return "\n  ".join(lines)

    def text(self):
        objective = {name: cost for name, cost in self.objective.items() if cost} or {self.integers[0]: 0}
        lines = ["Minimize", " cost: " + self.sum(objective), "Subject To"]
        lines += [f" r{i}: {self.sum(terms)} {sense} {self.number(right)}" for i, (terms, sense, right) in enumerate(self.rows)]
        lines += ["Bounds"] + [f" 0 <= {name} <= {self.number(most)}" for name, most in self.most.items()]
        lines += ["Generals"] + [f" {name}" for name in self.integers] + ["End", ""]
        return "\n".join(lines)


class Plain:
    def __init__(self, market):
        self.market, self.lp = market, Program()
        self.boxable = {need for content in market.contents for need, _ in content.covers}
        self.boxable |= {n for n, need in enumerate(market.needs) if any(not option.quantity for option in need.options)}
        self.grain = gcd(*[n.quantity for n in market.needs], *[p.on_hand for p in market.parts],
                         *[c.quantity for c in market.contents],
                         *[q for n in market.needs for o in n.options for _, q in self.takes(o)],
                         *[o.pack for p in market.parts for o in p.offers])
        self.find_wanted()
        self.open_suppliers()
        self.make_offers()
        self.answer_needs()
        self.hand_out_boxes()
        self.supply_parts()
        self.close_suppliers()

    @staticmethod
    def takes(option):
        return [(option.part, option.quantity), *option.companions]

    @staticmethod
    def units(quantity):
        return Fraction(quantity, MILLION)

    def find_wanted(self):
        """By part: who takes of it (need, option, quantity), and how much in all at the most."""
        self.takers = {p: [] for p in range(len(self.market.parts))}
        self.held = {}  # by part with contents: as many boxes as are of use
        for n, need in enumerate(self.market.needs):
            for o, option in enumerate(need.options):
                for part, quantity in self.takes(option):
                    self.takers[part].append((n, o, quantity))
        # boxes with something in them that asks for no opener
        self.of_use = {content.part for content in self.market.contents if any(not openers for _, openers in content.covers)}
        for content in self.market.contents:
            wanted = sum(self.market.needs[need].quantity for need, _ in content.covers)
            self.held[content.part] = max(self.held.get(content.part, 0), ceil(Fraction(wanted, content.quantity)))

    def most_wanted(self, p):
        by_need = {}
        for n, o, quantity in self.takers[p]:
            by_need.setdefault(n, {}).setdefault(o, 0)
            by_need[n][o] += quantity
        wanted = sum(max(options.values()) for options in by_need.values())
        return max(0, max(wanted, self.held.get(p, 0) * MILLION) - self.market.parts[p].on_hand)

    # --- suppliers

    def open_suppliers(self):
        self.rates = []
        for s, supplier in enumerate(self.market.suppliers):
            rate = None if s in self.market.closed else rate_between(self.market, supplier.currency, self.market.currency)
            self.rates.append(rate)
            if rate is not None:
                self.lp.column(f"w{s}", 1)

    def make_offers(self):
        """By part: (index, offer, its price in the supplier's currency, at most so many packs) of those that may be used."""
        self.offers = {p: [] for p in range(len(self.market.parts))}
        days = self.market.limits.get("days", -1)
        for p, part in enumerate(self.market.parts):
            for i, offer in enumerate(part.offers):
                supplier = self.market.suppliers[offer.supplier]
                rate = rate_between(self.market, offer.currency, supplier.currency)
                late = 0 <= days < max(0, offer.lead) + max(0, supplier.days)
                most = max(ceil(Fraction(self.most_wanted(p), offer.pack)), offer.least) + SURPLUS
                most = min(most, offer.stock) if offer.stock >= 0 else most
                if self.rates[offer.supplier] is None or rate is None or late or most < offer.least or not self.most_wanted(p):
                    continue
                self.offers[p].append((i, offer, half_up(offer.price * rate), most))
                self.use_offer(f"{p}_{i}", offer, most)

    def use_offer(self, name, offer, most):
        self.lp.column(f"n{name}", most)
        self.lp.column(f"u{name}", 1)
        self.lp.row([(f"n{name}", 1), (f"u{name}", -most)], "<=")
        self.lp.row([(f"n{name}", 1), (f"u{name}", -offer.least)], ">=")
        self.lp.row([(f"u{name}", 1), (f"w{offer.supplier}", -1)], "<=")

    def close_suppliers(self):
        for s, rate in enumerate(self.rates):
            if rate is not None:
                self.close_supplier(s, rate)
        if self.market.limits.get("parcels", 0):
            self.lp.row([(f"w{s}", 1) for s, rate in enumerate(self.rates) if rate is not None], "<=",
                        self.market.limits["parcels"])

    def tiers(self, supplier, most):
        """(from, to, charge) of the rows that goods up to `most` can fall into."""
        rows = sorted(dict(reversed(supplier.shipping)).items()) or [(0, 0)]
        for k, (start, charge) in enumerate(rows):
            end = rows[k + 1][0] - 1 if k + 1 < len(rows) else most
            start, end = max(start, supplier.minimum), min(end, most)
            if start <= end:
                yield max(0, start), end, charge

    def close_supplier(self, s, rate):
        supplier, lp = self.market.suppliers[s], self.lp
        lines = [(f"n{p}_{i}", price, most) for p, offers in self.offers.items()
                 for i, offer, price, most in offers if offer.supplier == s]
        charges, rows = [], []
        for k, (start, end, charge) in enumerate(self.tiers(supplier, sum(price * most for _, price, most in lines))):
            row, goods = lp.column(f"r{s}_{k}", 1), lp.column(f"g{s}_{k}", integer=False)
            lp.row([(goods, 1), (row, -start)], ">=")
            lp.row([(goods, 1), (row, -end)], "<=")
            charges.append((row, charge))
            rows.append((goods, 1))
        lp.row([(row, 1) for row, _ in charges] + [(f"w{s}", -1)], "=")
        goods = [(name, price) for name, price, _ in lines]
        lp.row(rows + [(name, -price) for name, price in goods], "=")
        lp.pay(self.rounded(s, "goods", goods, rate))
        lp.pay([(row, half_up(charge * rate)) for row, charge in charges])
        tax = self.rounded(s, "tax", goods + charges, Fraction(max(0, supplier.tax), 100 * MILLION))
        lp.pay(self.rounded(s, "paid", tax, rate))

    def rounded(self, s, name, terms, rate):
        """The sum of the terms (whole numbers) × rate, half up, as terms again. What is whole in each product stays with its
        column; a small integer column takes up the rest: it is more than that less a half, by the finest step there is."""
        products = [(column, factor * rate) for column, factor in terms]
        rest = [(column, -(product % 1)) for column, product in products if product % 1]
        whole = [(column, int(product // 1)) for column, product in products]
        if not rest:
            return whole
        steps = lcm(*(product.denominator for _, product in rest))
        self.lp.row([(self.lp.column(f"{name}{s}"), 1), (f"w{s}", HALF - Fraction(1, 2 * steps)), *rest], ">=")
        return whole + [(f"{name}{s}", 1)]

    # --- needs

    def share(self, n, o):
        """The column for the part of a need that its option brings: 1 when no box helps."""
        return f"f{n}_{o}" if n in self.boxable else f"x{n}_{o}"

    def answer_needs(self):
        for n, need in enumerate(self.market.needs):
            for o, option in enumerate(need.options):
                self.lp.column(f"x{n}_{o}", 1, cost=option.premium)
                if n in self.boxable and option.quantity:
                    self.lp.column(f"f{n}_{o}", 1, integer=False)
                    self.lp.row([(f"f{n}_{o}", 1), (f"x{n}_{o}", -1)], "<=")
            self.lp.row([(f"x{n}_{o}", 1) for o in range(len(need.options))], "=", 1)

    def hand_out_boxes(self):
        covered = {n: [] for n in self.boxable}
        for c, content in enumerate(self.market.contents):
            given = []
            for k, (need, openers) in enumerate(content.covers):
                name = self.lp.column(f"y{c}_{k}", self.units(self.market.needs[need].quantity), integer=False)
                given.append((name, 1))
                covered[need].append((name, 1 / self.units(self.market.needs[need].quantity)))
                if openers:
                    self.lp.row([(name, 1)] + [(column, -self.units(content.quantity) * boxes)
                                               for column, boxes in self.opened(content.part, openers)], "<=")
            self.lp.row(given + [(name, -self.units(content.quantity) * boxes) for name, boxes in self.boxes(content.part)],
                        "<=", self.units(content.quantity) * (self.market.parts[content.part].on_hand // MILLION))
        for n, terms in covered.items():
            self.lp.row(terms + [(f"f{n}_{o}", 1) for o, option in enumerate(self.market.needs[n].options) if option.quantity],
                        ">=", 1)

    def opened(self, p, openers):
        for n in openers:
            for o, option in enumerate(self.market.needs[n].options):
                if option.part == p:
                    yield f"x{n}_{o}", max(1, ceil(self.units(option.quantity)))

    def boxes(self, p):
        for i, offer, _, _ in self.offers[p]:
            if offer.pack % MILLION:
                raise ValueError("a box that is sold in pieces of one")
            yield f"n{p}_{i}", offer.pack // MILLION

    # --- parts

    def supply_parts(self):
        for p, part in enumerate(self.market.parts):
            takers = [(n, o, quantity) for n, o, quantity in self.takers[p] if quantity]
            given, shelf = {i: [] for i, _, _, _ in self.offers[p]}, []
            for t, (n, o, quantity) in enumerate(takers):
                shares = []
                for i, offer, _, _ in self.offers[p]:
                    name = self.lp.column(f"d{p}_{t}_{i}", 1, integer=False)
                    self.lp.row([(name, 1), (f"u{p}_{i}", -1)], "<=")
                    self.round_packs(p, i, offer, name, quantity)
                    given[i].append((name, self.units(quantity)))
                    shares.append((name, 1))
                if part.on_hand:
                    shares.append((self.lp.column(f"h{p}_{t}", 1, integer=False), 1))
                    shelf.append((f"h{p}_{t}", self.units(quantity)))
                self.lp.row(shares + [(self.share(n, o), -1)], ">=")
            for i, offer, _, _ in self.offers[p]:
                self.lp.row(given[i] + [(f"n{p}_{i}", -self.units(offer.pack))], "<=")
            if shelf:
                self.lp.row(shelf, "<=", self.units(part.on_hand))
            for i, offer, _, most in self.offers[p]:
                self.bound_surplus(p, i, offer, most)

    def round_packs(self, p, i, offer, share, quantity):
        """Whole packs for a share, one taker at a time: a packs bring a whole number of them, and what is left takes one more."""
        whole, rest = divmod(Fraction(quantity, offer.pack), 1)
        if rest:
            self.lp.row([(f"n{p}_{i}", rest), (share, -whole - rest), (f"u{p}_{i}", whole * (1 - rest))], ">=")

    def bound_boxes(self, p, i, offer, most):
        """What is in them is wanted anyhow; all who ask for the box itself may together want more."""
        on_hand, takers = self.market.parts[p].on_hand, self.takers[p]

        def packs(quantity):
            return max(ceil(Fraction(quantity - on_hand, offer.pack)), offer.least) + SURPLUS if quantity > on_hand else 0
        anyhow = packs(self.held[p] * MILLION)
        if most <= anyhow:
            return
        asked = self.lp.column(f"a{p}_{i}", 1)  # 1: by who asks; 0: by what is in them
        self.lp.row([(f"n{p}_{i}", 1), (asked, -(most - anyhow))], "<=", anyhow)
        pack, slack = self.units(offer.pack), self.units(most * offer.pack)
        beyond = self.lp.column(f"l{p}_{i}", 1) if offer.least > 1 else None  # 1: by the minimum
        if beyond:
            self.lp.row([(f"n{p}_{i}", 1), (beyond, most - offer.least - SURPLUS)], "<=", most)
        self.lp.row([(f"n{p}_{i}", pack), (asked, slack)] + [(beyond, -slack)] * bool(beyond) +
                    [(f"x{n}_{o}", -self.units(quantity)) for n, o, quantity in takers], "<=",
                    (SURPLUS + 1) * pack - self.units(self.grain) / 2 - self.units(on_hand) + slack)

    def bound_surplus(self, p, i, offer, most):
        """What is bought for nothing, or for more than is wanted and two packs, is not bought."""
        takers, lp, used = self.takers[p], self.lp, f"u{p}_{i}"
        if p not in self.of_use:
            lp.row([(used, 1)] + [(f"x{n}_{o}", -1) for n, o, _ in takers], "<=")
        shelf, grain = self.units(self.market.parts[p].on_hand), self.units(self.grain) / 2
        if p in self.held:
            self.bound_boxes(p, i, offer, most)
        if p in self.held or (len(takers) == 1 and not shelf and takers[0][0] not in self.boxable):
            return
        wanted = [(self.share(n, o), self.units(quantity)) for n, o, quantity in takers]
        pack, enough = self.units(offer.pack), offer.least + SURPLUS
        lp.row(wanted + [(used, -shelf - grain)], ">=")
        if most <= enough:
            return
        beyond = [] if offer.least == 1 else [(lp.column(f"v{p}_{i}", 1), 1)]
        if beyond:
            lp.row([(f"n{p}_{i}", 1), (beyond[0][0], enough - most)], "<=", enough)
        slack = most * pack if beyond else 0
        lp.row([(f"n{p}_{i}", pack), (used, shelf)] + [(name, slack) for name, _ in beyond] +
               [(name, -quantity) for name, quantity in wanted], "<=", (SURPLUS + 1) * pack - grain + slack)


def lp_text(text):
    return Plain(texts.read(text)).lp.text()


if __name__ == "__main__":
    sys.stdout.write(lp_text(sys.stdin.read()))
