"""Markets small enough to be worked out on paper, with their answers: [(total in minor units, parcels, arrives)]."""

COLUMNS = {
    "platforms": "platform make model", "components": "platform component part_type quantity",
    "fastenings": "platform component item kind part_type quantity reuse spec", "jobs": "platform job component",
    "suppliers": "supplier currency minimum_order ship_days tax_percent", "shipping": "supplier goods_from charge",
    "parts": "brand part_number part_type spec unit status", "rates": "currency in rate",
    "applications": "brand part_number make model when quantity", "crossrefs": "brand part_number other_brand other_number relation",
    "supersessions": "brand part_number new_brand new_number quantity group",
    "contents": "brand part_number item_type item_brand item_number item_spec quantity",
    "offers": "supplier brand part_number price currency pack_quantity minimum_packs stock lead_days valid_to"}

CASE = {"today": "2026-03-02", "kits": [{"kit": "one", "vehicle": "v", "jobs": ["service"]}],
        "vehicles": {"v": {"make": "Velmora", "model": "Tern", "built": "2004", "facts": {"engine": "tq20"}}}}

PUMP = {"platforms": ["t1|Velmora|Tern"], "jobs": ["t1|service|pump"], "components": ["t1|pump|pump|1"],
        "parts": ["Arvel|P1|pump||each|", "Bexon|P2|pump||each|"],
        "applications": ["Arvel|P1|Velmora|Tern||"], "suppliers": ["a|EUR||1|", "b|EUR||1|"]}
BOLTS = {"fastenings": ["t1|pump|bolts|bolt|bolt|8|never|M6x20 8.8"],
         "parts": [*PUMP["parts"], "Arvel|B1|bolt|M6x1.0x20 8.8|each|"]}
BOTH = ["Arvel|P1|Velmora|Tern||", "Bexon|P2|Velmora|Tern||"]


def known(front, names=None, options=None, **rows):
    """One case: the pump's rows, with some kinds of rows put in their place."""
    return {"front": front, "suppliers": names, "columns": COLUMNS, "rows": {**PUMP, **rows},
            "case": {**CASE, "options": options or {}}}


KNOWN = {
    # 10.00 + 5.00 at a against 12.00 + 2.00 at b.
    "shipping counts": known([(1400, 1, "2026-03-03")], ["b"], shipping=["a|0|5.00", "b|0|2.00"],
                             offers=["a|Arvel|P1|10.00|EUR|||||", "b|Arvel|P1|12.00|EUR|||||"]),
    # 7.7 % of 12.00 + 3.00 is 1.155, rounded up once to 1.16.
    "tax of goods and shipping, half up": known(
        [(1616, 1, "2026-03-03")], shipping=["a|0|3.00"], suppliers=["a|EUR||1|7.7"],
        offers=["a|Arvel|P1|12.00|EUR|||||"]),
    # One pump is 18.00 + 6.00; two of them are 36.00, no help; nothing above two more packs: 3 x 18.00 = 54.00 is free.
    "a surplus that does not pay": known([(2400, 1, "2026-03-03")], shipping=["a|0|6.00", "a|50|0"],
                                         offers=["a|Arvel|P1|18.00|EUR|||||"]),
    # One pump is 18.00 + 20.00; two are 36.00 and free.
    "a surplus that pays": known([(3600, 1, "2026-03-03")], shipping=["a|0|20.00", "a|36|0"],
                                 offers=["a|Arvel|P1|18.00|EUR|||||"]),
    # No row applies below 30.00: two pumps.
    "no parcel below the first row": known([(3900, 1, "2026-03-03")], shipping=["a|30|3.00"],
                                           offers=["a|Arvel|P1|18.00|EUR|||||"]),
    # Four would be needed and three is the most.
    "too small for its supplier": known([], shipping=["a|70|3.00"], offers=["a|Arvel|P1|18.00|EUR|||||"]),
    # Five of eight bolts at 0.10 are in stock at a, the rest at b, where a parcel costs 1.00; all at b is 15.00.
    "packs from two suppliers": known(
        [(1300, 2, "2026-03-03"), (1500, 1, "2026-03-03")], ["a", "b"], **BOLTS, shipping=["b|0|1.00"],
        offers=["a|Arvel|P1|10.00|EUR|||||", "a|Arvel|B1|0.10|EUR|||5||", "b|Arvel|P1|10.00|EUR|||||",
                "b|Arvel|B1|0.50|EUR|||||"]),
    # The box at 14.00 brings five bolts, three more at 0.50 make 15.50; bare, 10.00 and eight at 0.50, are 14.00.
    "a box that does not pay": known(
        [(1400, 1, "2026-03-03")], **BOLTS, contents=["Bexon|P2|bolt|||M6x20 8.8|5"], applications=BOTH,
        offers=["a|Arvel|P1|10.00|EUR|||||", "a|Bexon|P2|14.00|EUR|||||", "a|Arvel|B1|0.50|EUR|||||"]),
    # At 12.00 it does: 12.00 + 1.50.
    "a box that pays": known(
        [(1350, 1, "2026-03-03")], **BOLTS, contents=["Bexon|P2|bolt|||M6x20 8.8|5"], applications=BOTH,
        offers=["a|Arvel|P1|10.00|EUR|||||", "a|Bexon|P2|12.00|EUR|||||", "a|Arvel|B1|0.50|EUR|||||"]),
    # 10.00 GBP at 1.16; the tax of 2.00 GBP is 2.32 EUR.
    "another currency": known(
        [(1392, 1, "2026-03-03")], ["b"], rates=["GBP|EUR|1.16"], suppliers=["a|EUR||1|", "b|GBP||1|20"],
        offers=["a|Arvel|P1|15.00|EUR|||||", "a|Arvel|P1|15.50|EUR|2||||", "b|Arvel|P1|10.00|GBP|||||"]),
    # A pair answers two with one.
    "a pair": known([(1500, 1, "2026-03-03")], components=["t1|pump|pump|2"],
                    applications=["Arvel|P1|Velmora|Tern||", "Bexon|P2|Velmora|Tern||1"],
                    offers=["a|Arvel|P1|8.00|EUR|||||", "a|Bexon|P2|15.00|EUR|||||"]),
    # P1 was superseded by P2, P2 by P3; `P4 instead P1` is one way, `P1 instead P5` the wrong one.
    "what stands for the part": known(
        [(500, 1, "2026-03-03")], supersessions=["Arvel|P1|Bexon|P2||", "Bexon|P2|Bexon|P3||"],
        crossrefs=["Bexon|P4|Arvel|P1|instead", "Arvel|P1|Bexon|P5|instead"],
        parts=[f"{b}|P{n}|pump||each|" for b, n in (("Arvel", 1), ("Bexon", 2), ("Bexon", 3), ("Bexon", 4), ("Bexon", 5))],
        offers=["a|Bexon|P3|5.00|EUR|||||", "a|Bexon|P4|6.00|EUR|||||", "a|Bexon|P5|4.00|EUR|||||",
                "a|Arvel|P1|3.00|EUR|||||2026-03-01"]),
    # P1 became P2 and two P3, 2.00 + 2 x 1.50; or P4 at 6.00.
    "needed together": known(
        [(500, 1, "2026-03-03")], supersessions=["Arvel|P1|Bexon|P2||1", "Arvel|P1|Bexon|P3|2|1", "Arvel|P1|Bexon|P4||2"],
        parts=[f"{b}|P{n}|pump||each|" for b, n in (("Arvel", 1), ("Bexon", 2), ("Bexon", 3), ("Bexon", 4))],
        offers=["a|Bexon|P2|2.00|EUR|||||", "a|Bexon|P3|1.50|EUR|||||", "a|Bexon|P4|6.00|EUR|||||"]),
    # Cheap and late, dear and soon.
    "a front": known([(1000, 1, "2026-03-08"), (1200, 1, "2026-03-04")], ["a"],
                     offers=["a|Arvel|P1|10.00|EUR||||5|", "b|Arvel|P1|12.00|EUR||||1|2026"]),
    "arrive by": known([(1200, 1, "2026-03-04")], ["b"], {"arrive_by": "2026-03-07"},
                       offers=["a|Arvel|P1|10.00|EUR||||5|", "b|Arvel|P1|12.00|EUR||||1|2026-03"]),
    # Equal totals and days: the name.
    "a tie": known([(1000, 1, "2026-03-03")], ["a"], offers=["b|Arvel|P1|10.00|EUR|||||", "a|Arvel|P1|10.00|EUR|||||"]),
    # The one that surely fits, though the other is cheaper.
    "sure first": known([(1000, 1, "2026-03-03")], applications=["Arvel|P1|Velmora|Tern||", "Bexon|P2|Velmora|Tern|abs = yes|"],
                        offers=["a|Arvel|P1|10.00|EUR|||||", "a|Bexon|P2|5.00|EUR|||||"]),
}
