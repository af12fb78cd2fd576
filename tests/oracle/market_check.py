"""Does a basket that the program printed add up, meet every need and keep every rule? Faults in words, [] when it does."""

from market_feasible import feasible_somehow
from market_rows import DIGITS, minor
from market_search import parcels_of, summary

PARTS = ("goods", "shipping", "tax")


def cents(money):
    """Minor units of a JSON money."""
    return minor(money["amount"], money["currency"])


def written(money):
    """Money is written with all digits of its currency (section 5)."""
    digits = DIGITS.get(money["currency"], 2)
    return len(money["amount"].partition(".")[2]) == digits


def offer_of(problem, supplier, line):
    """The live offer that a line of a parcel means; None when there is none."""
    fits = [offer for offer in problem.offers if offer.supplier == supplier
            and offer.part == (line["brand"], line["part_number"])
            and same_pack(float(offer.row.get("pack_quantity", "1")), float(line["pack_quantity"]))
            and (offer.row.get("supplier_code") or None) == (line["supplier_code"] or None)]
    return fits[0] if fits else None


def same_pack(stated, shown):
    """A part's own unit in the list, the line's in the answer: kg and g, L and mL."""
    return any(abs(stated * factor - shown) < 1e-9 for factor in (1, 1000, 0.001))


def in_own(problem, offer, money):
    """A price in the supplier's currency: as it is, or as the offer states it."""
    theirs = problem.catalogue.suppliers[offer.supplier]["currency"]
    return problem.catalogue.convert(cents(money), money["currency"], theirs)


def read_lines(problem, parcel, basket):
    """Fills the basket; faults of the lines."""
    faults = []
    for line in parcel["lines"]:
        offer = offer_of(problem, parcel["supplier"], line)
        name = f"{parcel['supplier']}: {line['packs']} x {line['brand']} {line['part_number']}"
        if offer is None:
            faults.append(f"{name}: no offer that may be bought (live, with a rate, in stock, fitting, allowed)")
            continue
        basket[offer.index] = basket.get(offer.index, 0) + line["packs"]
        if in_own(problem, offer, line["price"]) != offer.price:
            faults.append(f"{name}: price {line['price']}, expected {offer.price}")
        a_pack = offer.price if line["amount"]["currency"] != line["price"]["currency"] else cents(line["price"])
        if cents(line["amount"]) != line["packs"] * a_pack:
            faults.append(f"{name}: amount {line['amount']} is not packs times {line['price']}")
        if not offer.least <= basket[offer.index] <= problem.bounds[offer.index]:
            faults.append(f"{name}: not between {offer.least} and {problem.bounds[offer.index]}")
    return faults


def parcel_differs(problem, parcel, mine):
    """Money and day of one parcel, in the supplier's currency or in the basket's."""
    supplier, faults = parcel["supplier"], []
    theirs = problem.catalogue.suppliers[supplier]["currency"]
    for part in PARTS:
        found = parcel[part]
        wanted = problem.catalogue.convert(mine[part], theirs, found["currency"])
        if found["currency"] not in (theirs, problem.currency) or cents(found) != wanted or not written(found):
            faults.append(f"{supplier}: {part} {found}, expected {mine[part]} minor units of {theirs}")
    if parcel["arrives"] != mine["arrives"].isoformat():
        faults.append(f"{supplier}: arrives {parcel['arrives']}, expected {mine['arrives']}")
    return faults


def options_differ(problem, parcels):
    """--arrive-by and --suppliers-at-most; --only and --without are in the offers."""
    options = problem.options
    faults = [f"{s}: arrives too late" for s, p in parcels.items()
              if p["arrives"].isoformat() > options.get("arrive_by", "9999")]
    if len(parcels) > options.get("suppliers_at_most", len(parcels)):
        faults.append("too many suppliers")
    return faults


def sums_differ(problem, answer, parcels):
    """Totals of the basket, every parcel converted half up."""
    faults, sums = [], dict.fromkeys((*PARTS, "deposits"), 0)
    for supplier, parcel in parcels.items():
        theirs = problem.catalogue.suppliers[supplier]["currency"]
        for part in sums:
            sums[part] += problem.catalogue.convert(parcel[part], theirs, problem.currency)
    sums["total"] = summary(parcels)[0]
    for part, wanted in sums.items():
        if answer[part]["currency"] != problem.currency or cents(answer[part]) != wanted:
            faults.append(f"{part} {answer[part]}, its parcels come to {wanted} minor units of {problem.currency}")
    return faults


def basket_differs(problem, answer):
    """All faults of a basket."""
    basket, faults = {}, []
    names = [parcel["supplier"] for parcel in answer["parcels"]]
    if len(names) != len(set(names)):
        faults.append("two parcels of one supplier")
    for parcel in answer["parcels"]:
        faults += read_lines(problem, parcel, basket)
    parcels = parcels_of(problem, basket)
    if parcels is not None and set(names) != set(parcels):
        faults.append("a parcel with nothing in it")
    if parcels is None:
        return faults + ["a parcel that its supplier does not send: below minimum_order, or no shipping row"]
    if faults:
        return faults
    for parcel in answer["parcels"]:
        faults += parcel_differs(problem, parcel, parcels[parcel["supplier"]])
    faults += options_differ(problem, parcels) + sums_differ(problem, answer, parcels)
    if not feasible_somehow(problem, basket):
        faults.append("it does not meet every line, or something comes that answers none")
    return faults
