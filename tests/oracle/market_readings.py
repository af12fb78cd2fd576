"""How the market oracle reads the places where formats.md leaves room; the letters are those of the table in README.md."""

MARKET = {
    # (B) what bounds the packs of an offer: "lines" all that the part could be needed for, before boxes cover any;
    #     "chosen" the lines that it answers
    "bound": "lines",
    # (C) a line that boxes cover whole may still name a part that is bought for its weight in the parcel only
    "nominal": True,
    # (D) whether a line has a sure candidate that can be bought is asked after --only and --without
    "fit_after_options": True,
    # (E) the offers that decide the basket's currency: those left by --only and --without (True) or all live ones
    "currency_after_options": False,
    # (F) and with stock enough for their minimum_packs
    "currency_in_stock": False,
    # (G) contents without number or spec stay in the kit that the box was chosen for
    "loose_within_kit": True,
    # (H) a box that has no applications of its own applies when it stands for a part that does
    "box_inherits": True,
}
