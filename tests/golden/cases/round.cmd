# the whole round on the sample catalogue: bought, ordered, come but for some of it, and bought again
lastbolt --quiet import "$SAMPLE" >/dev/null
lastbolt vehicle add maggie --make Velmora --model Tern --built 2004-05 --with engine=tq20 --with gearbox=manual --with ac=yes --with abs=yes >/dev/null
lastbolt vehicle add juno --make Velmora --model "Tern Estate" --built 2006-09 --with engine=tq23 --with gearbox=automatic --with ac=yes --with abs=yes >/dev/null
lastbolt kit build saturday --vehicle maggie --job cooling-system >/dev/null
lastbolt kit build stop --vehicle maggie --job front-calipers >/dev/null
lastbolt buy saturday stop --cheapest-only
lastbolt order saturday stop --out sent
# nothing is left to buy, and nothing has come
lastbolt buy saturday stop
lastbolt kit check saturday
lastbolt deposits
# one parcel comes whole, and a caliper with a deposit in it; of another two nuts and a push-pin are missing
lastbolt receive saturday --from tinshed | head -9
lastbolt receive saturday 19 2 14 1 --short
lastbolt receive saturday --from boltbarn | sed '/^Still/,$d'
# of a third two lines come, and one that is wrong; of a fourth three, but not more than was ordered
lastbolt receive saturday 8 2 12 1 | sed '/^Still/,$d'
lastbolt receive saturday 7 1 --wrong | sed '/^Still/,$d'
lastbolt receive saturday 36 5 33 60
lastbolt receive saturday 36 5 33 50 34 0.4
lastbolt kit check saturday
lastbolt kit show saturday | sed -n '/^Hardware/,/^$/p'
lastbolt shelf
lastbolt deposits
# bought again: what is wrong and missing, and nothing that is still to come
lastbolt buy saturday stop --cheapest-only
SOURCE_DATE_EPOCH=1790100000 lastbolt order saturday stop --out again
# two orders to one supplier are open
SOURCE_DATE_EPOCH=1790300000 lastbolt receive saturday --from harbour
SOURCE_DATE_EPOCH=1790300000 lastbolt receive saturday --from harbour --ordered 2026-09-22 | sed '/^Still/,$d'
# another kit takes the shelf first
SOURCE_DATE_EPOCH=1790300000 lastbolt kit build estate --vehicle juno --job coolant-change >/dev/null
SOURCE_DATE_EPOCH=1790300000 lastbolt buy estate saturday stop --cheapest-only
SOURCE_DATE_EPOCH=1790300000 lastbolt order estate saturday stop --out third
SOURCE_DATE_EPOCH=1790300000 lastbolt shelf
# the second deposit is open once its parcel came
SOURCE_DATE_EPOCH=1790300000 lastbolt receive saturday --from nordlager | sed '/^Still/,$d'
SOURCE_DATE_EPOCH=1790300000 lastbolt deposits
SOURCE_DATE_EPOCH=1790300000 lastbolt deposits claim stop
SOURCE_DATE_EPOCH=1790300000 lastbolt buy saturday
