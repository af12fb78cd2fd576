# shellcheck shell=bash
# The template: a small invented vehicle, its parts, and an index with one complete kit.
# shellcheck disable=SC2154 # work and program are set by run.sh

write_map() {
    cat >map/platforms.csv <<'CSV'
platform,make,model,built_from,built_to,when
orlop-f1,Orlop,Finch,2000,2009,
CSV
    cat >map/components.csv <<'CSV'
platform,component,part_type,quantity,when
orlop-f1,water-pump,water-pump,1,
orlop-f1,drive-belt,drive-belt,1,
orlop-f1,fan-shroud,fan-shroud,1,
orlop-f1,thermostat,thermostat,1,engine = f20
CSV
    cat >map/access.csv <<'CSV'
platform,component,needs,state,to,when
orlop-f1,water-pump,drive-belt,removed,,
orlop-f1,drive-belt,fan-shroud,removed,,
CSV
    cat >map/fastenings.csv <<'CSV'
platform,component,item,kind,part_type,quantity,reuse,spec,joint,torque,when
orlop-f1,water-pump,pump bolt,bolt,flange-bolt,4,never,M6x1.0x25 8.8,,9,
orlop-f1,water-pump,pump gasket,gasket,pump-gasket,1,never,,,,
orlop-f1,fan-shroud,shroud clip,clip,shroud-clip,3,check,,,,
orlop-f1,thermostat,housing seal,o-ring,housing-seal,1,never,,,,built >= 2004
CSV
    cat >map/circuits.csv <<'CSV'
platform,circuit,capacity,fluid_type,spec
orlop-f1,coolant,6,coolant,
CSV
    cat >map/opens.csv <<'CSV'
platform,component,circuit,share_percent
orlop-f1,water-pump,coolant,70
CSV
    cat >map/jobs.csv <<'CSV'
platform,job,component,action
orlop-f1,cooling,water-pump,renew
orlop-f1,temperature,thermostat,renew
CSV
}

write_trade() {
    cat >trade/suppliers.csv <<'CSV'
supplier,currency
quayside,EUR
CSV
    cat >trade/parts.csv <<'CSV'
brand,part_number,part_type,spec,unit
Orlop,100-01,water-pump,,each
Orlop,100-02,flange-bolt,M6x1.0x25 8.8,each
Orlop,100-03,pump-gasket,,each
Orlop,100-04,coolant,,L
Orlop,100-05,thermostat,,each
Orlop,100-06,housing-seal,,each
Orlop,100-07,water-pump,,each
CSV
    cat >trade/applications.csv <<'CSV'
brand,part_number,make,model
Orlop,100-01,Orlop,Finch
Orlop,100-03,Orlop,Finch
Orlop,100-05,Orlop,Finch
Orlop,100-06,Orlop,Finch
CSV
    cat >trade/offers.csv <<'CSV'
supplier,brand,part_number,price,currency
quayside,Orlop,100-01,48.00,EUR
quayside,Orlop,100-02,1.10,EUR
quayside,Orlop,100-03,3.20,EUR
quayside,Orlop,100-04,7.50,EUR
quayside,Orlop,100-05,12.00,EUR
quayside,Orlop,100-06,2.00,EUR
CSV
}

# big_list ROWS [EDITION]: offers for parts that no list describes; another edition has other prices.
big_list() {
    awk -v rows="$1" -v edition="${2:-1}" 'BEGIN {
        print "supplier,brand,part_number,price,currency"
        for (i = 1; i <= rows; i++)
            printf "quayside,Bulk,%07d,%d.%02d,EUR\n", i, (i * edition) % 900, i % 100
    }'
}

prepare_template() {
    mkdir -p "$work/case/map" "$work/case/trade"
    cd "$work/case" || exit 2
    write_map
    write_trade
    {
        "$program" --db i.db import map trade &&
            "$program" --db i.db vehicle add finch --make Orlop --model Finch --built 2003-05 --with engine=f20 &&
            "$program" --db i.db kit build base --vehicle finch --job cooling &&
            "$program" --db i.db kit check base
    } >log 2>&1 || { echo "the template cannot be made:" && cat log && exit 1; }
    rm log
    mv "$work/case" "$work/template" && cd "$work" || exit 2
}
