#!/usr/bin/env python3
"""An independent reading of `buy`: formats.md section 3, "Candidates", "Boxes", "Buying", by brute force.

    market_oracle.py OUTDIR      what `buy --json` must give for OUTDIR/market and OUTDIR/case.json

Plain enumeration; the plan's lines come from oracle.py. `parcels` is one optimum; the comparer accepts equal ones.
"""

import argparse
import json

from market_problem import Problem
from market_rows import DIGITS
from market_search import TooLarge, parcels_of, search, summary

# What may be said of a line without candidates, without live offers, without enough of them; the likely word first.
LINE_GAPS = [["no-part"], ["no-offer", "superseded", "discontinued"], ["stock-short", "no-offer", "superseded"]]


def money(amount, currency):
    """Money as section 5 has it."""
    digits = DIGITS.get(currency, 2)
    whole, rest = divmod(amount, 10**digits)
    return {"amount": f"{whole}.{rest:0{digits}}" if digits else str(whole), "currency": currency}


def nondominated(points):
    """The points that no other equals or beats in all of total, parcels, arrives."""
    points = set(points)
    return sorted(p for p in points if not any(q != p and all(a <= b for a, b in zip(q, p)) for q in points))


def open_gaps(problem):
    """Codes of the gaps that leave a basket possible."""
    codes = []
    for line in problem.all_lines:
        if line.decision == "reuse" and line.key[0] != "spare":
            codes.append("reused-single-use")
        if line.decision == "buy" and line.need == "ask":
            codes.append("ask")
        if line.decision == "buy" and not line.sure_only and (line.direct or line.bundles or line.boxes):
            codes.append("fit-unknown")
    return sorted(codes)


def closed_gaps(problem):
    """For every line that cannot be bought, the codes that may say so; those that leave least choice first."""
    found = []
    for line in problem.unbuyable():
        candidates = set(line.found) | {content.box for content in problem.contents
                                        if problem.lines.index(line) in content.reached}
        live = any(offer.part in candidates for offer in problem.offered(False))
        found.append(2 if live else 1 if candidates else 0)
    return [LINE_GAPS[kind] for kind in sorted(found)]


class Answer:
    """The front, the optimum and who may deliver it; `front` is empty when there is no basket."""

    def __init__(self, folder):
        self.problem = Problem(folder)
        self.stuck, self.front, self.best, self.basket, self.suppliers = self.problem.unbuyable(), [], None, None, None
        if self.problem.lines and not self.stuck:
            self.solve(search(self.problem))

    def solve(self, found):
        """The front of all optima; the supplier names settle what is left."""
        baskets = [basket for _, basket in found.values() if basket]
        points = [summary(parcels_of(self.problem, basket)) for basket in baskets]
        self.front = nondominated(points)
        if not points:
            return
        self.best = min(points)
        self.suppliers, self.basket = min(
            (sorted(parcels_of(self.problem, basket)), basket) for point, basket in zip(points, baskets)
            if point == self.best)

    def parcel_json(self, supplier, parcel):
        """One parcel, in its supplier's currency."""
        currency = self.problem.catalogue.suppliers[supplier]["currency"]
        lines = []
        for offer in self.problem.offers:
            packs = self.basket.get(offer.index, 0)
            if packs and offer.supplier == supplier:
                lines.append({"brand": offer.part[0], "part_number": offer.part[1],
                              "supplier_code": offer.row.get("supplier_code"), "packs": packs,
                              "pack_quantity": float(offer.row.get("pack_quantity", "1")),
                              "price": money(offer.price, currency), "amount": money(packs * offer.price, currency)})
        return {"supplier": supplier, "arrives": parcel["arrives"].isoformat(), "lines": lines,
                **{part: money(parcel[part], currency) for part in ("goods", "shipping", "tax")}}

    def as_json(self):
        """In the shape of section 5, with `exit` beside it."""
        currency, kits = self.problem.currency, [kit["kit"] for kit in self.problem.case["kits"]]
        if not self.best:
            return {"version": 1, "kits": kits, "total": None, "parcels": [], "front": [], "exit": 1,
                    "gaps": [{"code": "|".join(codes)} for codes in closed_gaps(self.problem)]}
        parcels = parcels_of(self.problem, self.basket)
        sums = {part: money(self.sum(parcels, part), currency) for part in ("goods", "shipping", "tax", "deposits")}
        gaps = open_gaps(self.problem)
        return {"version": 1, "kits": kits, "currency": currency, **sums, "total": money(self.best[0], currency),
                "proved": True, "parcels": [self.parcel_json(s, p) for s, p in sorted(parcels.items())],
                "front": [{"total": money(total, currency), "parcels": n, "arrives": day.isoformat()}
                          for total, n, day in self.front],
                "gaps": [{"code": code} for code in gaps], "exit": 1 if gaps else 0}

    def sum(self, parcels, part):
        """A sum over parcels, each converted half up."""
        return sum(self.problem.catalogue.convert(parcel[part], self.problem.catalogue.suppliers[s]["currency"],
                                                  self.problem.currency) for s, parcel in parcels.items())


def main():
    """Print the answer of a case."""
    parser = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    parser.add_argument("outdir")
    try:
        print(json.dumps(Answer(parser.parse_args().outdir).as_json(), indent=1))
    except TooLarge:
        raise SystemExit("too large a case to go through all baskets") from None


if __name__ == "__main__":
    main()
