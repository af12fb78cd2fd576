lastbolt import yard >/dev/null
lastbolt import lists/mill.csv --profile lists/mill-profile.csv
lastbolt vehicle add pip --make Orrin --model Plover >/dev/null
lastbolt kit build sat --vehicle pip --job pump >/dev/null
lastbolt kit build sun --vehicle pip --job pump --job start --job intake >/dev/null
lastbolt order sat
lastbolt order
lastbolt order satt --out out
lastbolt order sat --out out --profile none.csv
# what is not settled must be decided first
lastbolt order sat sun --out out
lastbolt --json order sun --out out
ls out
lastbolt kit set sun 6 buy >/dev/null
lastbolt shelf set Kestrel K-110 3 >/dev/null
# a file in the way: nothing is ordered
mkdir -p lists/out && echo mine > lists/out/mill-order.txt
lastbolt order sat sun --out lists/out
ls -A lists/out
lastbolt shelf
# ordered
lastbolt order sat sun --out new/out
ls -A new/out
cat new/out/quay-order.csv new/out/mill-order.csv
cat new/out/quay-order.txt new/out/mill-order.txt
lastbolt shelf
lastbolt order sat --out new/out
lastbolt --json order sat --out new/out
lastbolt kit show sat | sed -n '1,3p; /^Hardware/,/^$/p; /^Fluids/,/^$/p'
lastbolt kit check sun
lastbolt --json kit show sat | grep -A4 '"here"' | head -10
# it comes
lastbolt receive sat 2 6
lastbolt --json receive sat 2 4
lastbolt receive sat 1 1 --damaged
lastbolt kit check sat
lastbolt receive sat 1 1
lastbolt receive sat 1 1
lastbolt receive sun 3 1 --wrong
lastbolt receive sun 1 2
lastbolt receive sat 5 5
lastbolt receive sat 4 10
lastbolt shelf
lastbolt order sat --out new/second
cat new/second/*.csv
# deposits are open once the packs came
lastbolt deposits
lastbolt receive sun 2 1
lastbolt deposits
lastbolt --json deposits
lastbolt deposits claim sun 2
lastbolt deposits claim sun
lastbolt deposits
lastbolt receive sun 2 1 --damaged
