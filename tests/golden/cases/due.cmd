# what was done on the sample catalogue's vehicle, and what is due on it in September 2026
lastbolt --quiet import "$SAMPLE" >/dev/null
lastbolt due
lastbolt vehicle add maggie --make Velmora --model Tern --built 2004-05 --with engine=tq20 --with gearbox=manual --with ac=yes >/dev/null
lastbolt vehicle add hector --make Brannoch --model Pike --with engine=bw25 --with drive=4wd >/dev/null
lastbolt log maggie
lastbolt --quiet log maggie --done timing-drive --at 121000 --on 2018-10-06 --note "by the yard in town" >/dev/null
lastbolt log maggie --done cooling-system --at "80000 mi" --on 2020-03
lastbolt log maggie --done clutch --on 2021-06-12 >/dev/null
lastbolt log maggie --done front-suspension --done engine-mounts --at 141000 --on 2022-02-01 >/dev/null
# a digit is missing
lastbolt log maggie --at 15100 --on 2023-02-01 >/dev/null
lastbolt log maggie --at 155000 --on 2023-10-01 >/dev/null
lastbolt log maggie --done "front-brakes" --at 166000 --on 2025-02-01 --batch "receipt 77" --part "Saltmere SM-C2" --part "Nobody 1 2" --batch "lot 4" >/dev/null
lastbolt log maggie --done oil-service --done spark-plugs --at 171200 --on 2025-09-14 >/dev/null
lastbolt kit build rear --vehicle maggie --job rear-brakes >/dev/null
lastbolt log maggie --kit rear --at 176800 --on 2026-06-14
# the whole log
lastbolt log maggie
lastbolt due maggie
lastbolt due maggie --within 30
lastbolt --json due maggie | head -73
lastbolt due
# what makes no sense, and lines taken back
lastbolt log maggie --done timing-drve
lastbolt log maggie --done timing-drive --on 2026-09-22
lastbolt log maggie --done timing-drive --on soon
lastbolt log maggie --at "3 kg"
lastbolt log maggie --at=-3
lastbolt log maggie --on 2026-01-01
lastbolt log maggie --swapped --done timing-drive
lastbolt log maggie --batch 7 --done timing-drive
lastbolt log maggie --part Saltmere
lastbolt log hector --kit rear
lastbolt log nobody --at 1
lastbolt log maggie --done timing-drive --at 190000 --on 1925-06-14
lastbolt log maggie --note ' '
lastbolt log drop maggie 99
lastbolt log drop maggie last
lastbolt log drop maggie 5 | head -3
lastbolt due nobody
lastbolt due maggie --within soon
lastbolt due maggie --within 36501
# a vehicle that no map covers
lastbolt vehicle add rook --make Orrin --model Rook >/dev/null
lastbolt log rook --done "Fork seals" --at 31000 --on 2026-05-01
lastbolt log rook --at 100 --on 2026-06-01 --swapped
lastbolt due rook
lastbolt --json log rook
# a note and a part alone, and a job said twice
lastbolt log rook --note "chain greased" --on 2026-07-01 >/dev/null
lastbolt log rook --part "Saltmere SM-C2" --on 2026-07-02 >/dev/null
lastbolt log rook --done "fork seals" --done "Fork Seals" --on 2026-07-03
# what was due before the odometer was exchanged
lastbolt vehicle add wren --make Velmora --model Tern --built 2006 --with engine=tq20 --with gearbox=manual --with ac=no >/dev/null
lastbolt log wren --at 150000 --on 2026-01-01 >/dev/null
lastbolt log wren --at 100 --on 2026-02-01 --swapped >/dev/null
lastbolt log wren --at 3100 --on 2026-08-01 >/dev/null
lastbolt due wren --within 0 | head -20
