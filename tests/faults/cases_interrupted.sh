# shellcheck shell=bash
# Killed in the middle: the index holds the old edition or the new one, never a part of either.
# shellcheck disable=SC2154 # program is set by run.sh

STOPS=20

# The rows themselves and what they belong to, as one line.
rows_of() {
    sqlite3 -readonly "$1" "SELECT name, rows_read FROM source ORDER BY name; SELECT count(*), sum(price), sum(id * price) FROM offers; SELECT count(*), sum(count), sum(line * count) FROM span; SELECT count(*), sum(length(pairs)) FROM lookup_block; SELECT count(*) FROM kit_target" | tr '\n' ' '
}

now_us() {
    echo "${EPOCHREALTIME/./}"
}

# stop_at MICROSECONDS: an import of big.csv that is killed then.
stop_at() {
    "$program" --db i.db import big.csv >out 2>err </dev/null &
    local running=$!
    sleep "$(printf '%d.%06d' $(($1 / 1000000)) $(($1 % 1000000)))"
    kill -9 "$running" 2>/dev/null
    wait "$running" 2>/dev/null
}

# judge_stops: from old.db, 20 imports killed at points spread over one. On a busy machine a kill may come late.
judge_stops() {
    local begun took old new now stop half=0
    cp old.db i.db
    old=$(rows_of old.db)
    begun=$(now_us)
    expect 0 import big.csv
    took=$(($(now_us) - begun))
    new=$(rows_of i.db)
    [ "$old" != "$new" ] || miss "two editions that differ" "$old"
    for stop in $(seq 1 "$STOPS"); do
        rm -f i.db i.db-wal i.db-shm
        cp old.db i.db
        stop_at $((took * stop / STOPS))
        sound
        now=$(rows_of i.db)
        [ "$now" = "$old" ] || [ "$now" = "$new" ] || miss "the old edition or the new after stop $stop" "$now"
        [ "$now" = "$new" ] || half=$((half + 1))
    done
    [ "$half" -gt 0 ] || miss "some of $STOPS stops to come before the end" "none"
    expect 0 import big.csv
    [ "$(rows_of i.db)" = "$new" ] || miss "the import to go through after all" "$(rows_of i.db)"
}

case_interrupted_import() {
    cp i.db old.db
    big_list 10000 >big.csv
    judge_stops
}

case_interrupted_reimport() {
    big_list 10000 1 >big.csv
    expect 0 import big.csv
    cp i.db old.db
    big_list 10200 2 >big.csv
    judge_stops
}

case_interrupted_two_at_once() {
    big_list 3000 >one.csv
    big_list 3000 2 >two.csv
    "$program" --db i.db import one.csv >one.out 2>&1 &
    local other=$!
    expect 0 import two.csv
    wait "$other" || miss "both imports to go through" "$(cat one.out)"
    sound
    expect 0 --json sources
    holds "SELECT sum(json_extract(value, '\$.rows')) FROM j, json_each(j.out, '\$.sources') WHERE json_extract(value, '\$.source') IN ('one.csv', 'two.csv')" 6000
}
