# small shops: one is near, one is cheap, one is abroad, one says next to nothing. The totals can be worked out by hand
lastbolt --quiet import stall >/dev/null
lastbolt --quiet vehicle add finch --make Orrin --model Heron >/dev/null
lastbolt kit build pump --vehicle finch --job pump >/dev/null
lastbolt kit build hose --vehicle finch --job hose >/dev/null
lastbolt kit build lamp --vehicle finch --job lamp >/dev/null
lastbolt kit build valve --vehicle finch --job valve >/dev/null
# 30 pounds from abroad at 1.20, and bolts for 3.00: 39.00. Sooner: 46.20, then 57.00; in one parcel: 58.80
lastbolt buy pump
# (44.00 + 5.00) and a fifth of that: 58.80
lastbolt buy pump --suppliers-at-most 1
# (30.00 + 6.00) and a fifth of that, and the bolts: 46.20
lastbolt buy pump --arrive-by 2026-09-26
# (30.00 + 6.00 + 4.00 + 5.00) and a fifth of that: 54.00; all from the corner 58.80
lastbolt buy pump --without island --without silent --why
# (40.00 + 5.00) and a fifth of that, and the bolts: 57.00
lastbolt buy pump --only corner --only "silent stores"
# the basket alone: no table of other choices, and no time spent on one
lastbolt buy pump --cheapest-only
lastbolt --json buy pump --cheapest-only | grep -A1 '"front'
lastbolt buy pump --cheapest-only --without island --without silent --why | tail -5
# two kits in one basket: (45.00 + 6.00) and a fifth of that, and the bolts: 64.20. Sooner: 70.44; in one parcel: 72.24
lastbolt buy pump hose --without island
lastbolt buy hose pump pump --without island | head -1
# whether it is needed is not known, so it is bought: (2.10 + 5.00) and a fifth of that: 8.52
lastbolt buy lamp
# two bolts and a bulb more and shipping is free: (40.00 + 6.00 + 4.20) and a fifth of that: 60.24 instead of 61.32
lastbolt buy pump lamp --suppliers-at-most 1 --why
# what cannot be bought
lastbolt buy valve
lastbolt buy hose valve
lastbolt buy pump --only depot
lastbolt buy pump --arrive-by 2026-09-21
lastbolt --json buy valve
# nothing to buy
lastbolt kit set hose 1 have >/dev/null
lastbolt kit set hose 2 drop >/dev/null
lastbolt buy hose
lastbolt --json buy hose
# what has moved: (22.50 + 10.00) pounds at 1.20 and bolts from the corner for 10.80: 49.80
lastbolt buy pump | head -1
sed -i -e 's/^island,.*,20.00,/island,Marlow,M-10,,22.50,/' -e '/^silent/d' stall/offers.csv
lastbolt --quiet import stall >/dev/null
lastbolt buy pump
lastbolt --json buy pump
# nobody and nothing of that name
lastbolt buy pmp
lastbolt buy pump --without corne
lastbolt buy pump --only nowhere
