# shellcheck shell=bash
# Killed in the middle: the index holds the old edition or the new one, never a part of either.
# shellcheck disable=SC2154 # program and here are set by run.sh

# stops SERIES: from the template's index, imports killed at points spread over one; the kit must stay as it was, too.
stops() {
    "$python" "$here/kill_import.py" "$program" --points "$(fewer 20 10)" --rows 4000 --base i.db --only "$1" --also "--json kit show base" \
        >killed 2>&1 || miss "the old edition or the new after every stop" "$(cat killed)"
}

case_interrupted_import() {
    stops first
}

case_interrupted_reimport() {
    stops again
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
