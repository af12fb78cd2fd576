lastbolt receive --help
lastbolt import yard >/dev/null
lastbolt import lists/mill.csv --profile lists/mill-profile.csv >/dev/null
lastbolt vehicle add pip --make Orrin --model Plover --built 2004 >/dev/null
lastbolt kit build sat --vehicle pip --job pump >/dev/null
lastbolt kit build sun --vehicle pip --job pump --job start --job intake >/dev/null
lastbolt order sat sun --out new/out >/dev/null
# what makes no sense
lastbolt receive sat
lastbolt receive sat 1
lastbolt receive sat 1 1 2
lastbolt receive sat 1 1 two 2 Kestrel
lastbolt receive sat 1 1 --from quay
lastbolt receive sat 1 1 --ordered 2026-09-21
lastbolt receive sat --from quay --ordered monday
lastbolt receive sat --from quay --wrong --short
# several at a time; with one wrong, none of it is recorded, and it is named
lastbolt receive sat 1 1 99 1
lastbolt receive sat 1 1 2 some
lastbolt receive sat 1 1 2 21
lastbolt receive sat 1 1 2 6 Kestrel K-111
lastbolt receive sat 2 12 3 1 2 12
lastbolt receive sat 1 1 2 8 --short 3 0
lastbolt kit check sat
lastbolt receive sat 1 1 2 10 Kestrel K-110 4 5
lastbolt --json receive sat 3 1 2 2 --damaged
# all that a supplier's order was still to bring, for other kits too
lastbolt receive sat --from kway
lastbolt receive sat --from quay --ordered 2026-09-20
lastbolt receive sat --from "quayside parts"
lastbolt receive sat --from quay
lastbolt receive sun --from mill --short
lastbolt kit show sun | sed -n '/^Fluids/,/^$/p'
lastbolt shelf
# two orders to one supplier
lastbolt --json receive sat --from mill
lastbolt receive sun 1 1 4 2 --wrong
SOURCE_DATE_EPOCH=1790100000 lastbolt order sun --out new/second
lastbolt receive sun 6 1 --damaged
SOURCE_DATE_EPOCH=1790200000 lastbolt order sun sat --out new/third
SOURCE_DATE_EPOCH=1790300000 lastbolt receive sun --from quay
SOURCE_DATE_EPOCH=1790300000 lastbolt receive sun --from quay --ordered 2026-09-23
SOURCE_DATE_EPOCH=1790300000 lastbolt receive sun --from quay
