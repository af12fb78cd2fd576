#!/bin/sh
# Writes the job sheets of the sample's kits, and of one of everything at once, into a folder.
#
#   sheets.sh PROGRAM SAMPLE FOLDER
set -eu
program=$1 sample=$2 folder=$3
export SOURCE_DATE_EPOCH=1790000000 LASTBOLT_DB="$folder/index.db" LC_ALL=C TZ=UTC
run() { "$program" "$@"; }

run import "$sample" >/dev/null
run vehicle add maggie --make Velmora --model Tern --built 2004 --vin 0VLTH20M74B021877 \
    --with engine=tq20 --with gearbox=manual --with ac=yes >/dev/null
run vehicle add hector --make Brannoch --model Pike --built 1999-05 --vin 0BRPD25M0XH004519 \
    --with engine=bw25 --with gearbox=manual --with drive=4wd --with ac=no >/dev/null
run vehicle add otto --make Brannoch --model "Pike Van" >/dev/null # hardly anything is known of it
for vehicle in maggie hector otto; do
    for job in cooling-system timing-drive front-brakes; do
        run kit build "$vehicle-$job" --vehicle "$vehicle" --job "$job" >/dev/null
        run sheet "$vehicle-$job" >"$folder/$vehicle-$job.html"
    done
done
run kit build everything --vehicle maggie --job cooling-system --job timing-drive --job front-brakes --job rear-brakes \
    --job clutch --job front-suspension --job oil-service --job engine-mounts >/dev/null
run sheet everything >"$folder/everything.html"
