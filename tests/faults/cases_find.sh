# shellcheck shell=bash
# Find: whatever is typed, and whatever became of the index.
# shellcheck disable=SC2034,SC2154 # index and as are read by lb; program, here and status are set elsewhere

# Parts enough for several blocks of the lookup, and what else find goes by.
write_find() {
    mkdir find
    awk 'BEGIN {
        print "brand,part_number,part_type,description,spec"
        split("upper lower radiator hose pump seal long rear front left", word, " ")
        split("hose water-pump oil-seal radiator-hose bolt", type, " ")
        for (i = 1; i <= 900; i++)
            printf "B%d,N-%d,%s,%s %s %s w%s,\n", i % 7, i, type[i % 5 + 1], word[i % 10 + 1], word[i % 3 + 4], word[i % 9 + 1],
                substr("abcdefghijklmnopqrstuvwxyz", i % 23 + 1, 3)
        print "Halvane,O1I0,oil-seal,Crankshaft seal,35x52x7"
    }' >find/parts.csv
    printf 'term,means\nsquirrel,water pump\n' >find/synonyms.csv
    cat >find/supersessions.csv <<'CSV'
brand,part_number,new_brand,new_number
Orlop,100-07,Orlop,100-01
Halvane,L-1,Halvane,L-2
Halvane,L-2,Halvane,L-1
CSV
    cat >find/crossrefs.csv <<'CSV'
brand,part_number,other_brand,other_number,relation
Tidewell,TW-1,Orlop,100-01,same
CSV
    expect 0 import find
}

case_find_odd_words() {
    local words
    # Nothing to look for.
    for words in "" "   " $'\t\r\n' '"*-:()' $'\x01\x02' $'\xf0\x9f\x94\xa7' '***' "''" ';--'; do
        expect 2 find "$words"
        says "nothing to look for"
    done
    expect 2 find
    for words in $'\xff\xfe' $'pump \xff\xfe\xc3' $'pump \xed\xa0\x80'; do
        expect 2 find "$words"
        says "is not UTF-8 text"
    done
    # Something is left of it.
    for words in 'pump NEAR(x' '"pump" AND x*' "pump' OR 1=1 --" 'pump;DROP TABLE parts' 'pump ^ {a b}:' \
        $'pump \xf0\x9f\x94\xa7' $'pump\x01' $'\x1b[31m pump \x1b[0m' $'\xe2\x80\xaepump\xe2\x80\xac' $'pump \xd7\x90\xd7\x91' \
        '%n%s%n pump' 'pump %' '*pump*' 'pump?' "pump'" 'pump"' 'pump\'; do
        expect 0 find "$words"
        says "100-01"
        says_not $'\x1b'
        expect 0 --json find "$words" --why
        holds "SELECT json_extract(out, '\$.hits[0].part_type') FROM j" water-pump
    done
    expect 0 find -- -pump
    says "100-01"
}

case_find_limits() {
    local limit
    for limit in 0 -1 1001 1000000 99999999999999999999 1.5 ten ''; do
        expect 2 find pump --limit "$limit"
        says "--limit"
    done
    for limit in 1 1000; do
        expect 0 find pump --limit "$limit"
    done
}

case_find_many_words() {
    local words
    mapfile -t words < <(seq -f 'pump%g' 9999)
    expect 0 find pump "${words[@]}"
    says "100-01" "only the first 32 words count"
    # One argument has 128 KiB at the most on Linux, all of them some MiB: as much as goes.
    words[0]=$(head -c 120000 /dev/zero | tr '\0' x)
    expect 0 find pump "${words[0]}" "${words[0]}" "${words[0]}" "${words[0]}" "${words[0]}" "${words[0]}" "${words[0]}"
    says "100-01"
    words[0]=$(yes pump | head -c 120000)
    expect 0 find "${words[0]}" "${words[0]}" "${words[0]}" "${words[0]}" "${words[0]}" "${words[0]}" "${words[0]}"
    says "100-01" "only the first 32 words count"
    # More than that is the shell's to refuse; the program is not even begun.
    words[0]=$(head -c 1048576 /dev/zero | tr '\0' x)
    ("$program" --db i.db find "${words[0]}") >out 2>err
    status=$?
    [ "$status" = 126 ] || [ "$status" -le 4 ] || miss "an argument of 1 MiB to be refused or answered" "$status: $(cat err)"
}

case_find_without_an_index() {
    index=none.db
    expect 3 find pump
    says "there is no index yet" "lastbolt import PATH"
    [ ! -e none.db ] || miss "no index to be made by finding" none.db
    : >new.db
    index=new.db
    expect 3 find pump
    says "there is no index yet"
}

case_find_in_an_empty_index() {
    lb sources
    sqlite3 i.db "DELETE FROM span; DELETE FROM source"
    expect 0 find pump
    says_not "100-01"
    index=words.db
    mkdir words
    printf 'term,means\nsquirrel,water pump\n' >words/synonyms.csv
    expect 0 import words
    expect 0 find squirrel
    expect 0 find 100-01
}

case_find_in_an_index_of_a_version_before() {
    expect 0 --json find pump
    cp out before
    sqlite3 i.db 'UPDATE state SET lookup_version = lookup_version - 1; DELETE FROM word; DELETE FROM spelling;
                  PRAGMA wal_checkpoint(TRUNCATE)' >/dev/null
    rm -f i.db-wal i.db-shm
    mkdir shut
    cp i.db shut/i.db
    chmod 444 shut/i.db
    chmod 555 shut
    # Where it can be written, it is brought up to date in passing; elsewhere it is said what to do.
    (
        become_ordinary
        index=shut/i.db
        chmod 777 .
        expect 3 find pump
        says "was made by another version of lastbolt" "any import"
    ) || exit $?
    chmod 755 shut
    expect 0 --json find pump
    cmp -s out before || miss "the answer from before" "$(cat out)"
    sqlite3 i.db 'UPDATE state SET lookup_version = lookup_version - 1'
    expect 0 import trade
    expect 0 --json find pump
    cmp -s out before || miss "the answer from before, after an import" "$(cat out)"
    sound
}

case_find_in_a_read_only_folder() {
    expect 0 --json find pump --vehicle finch
    cp out before
    sqlite3 i.db 'PRAGMA wal_checkpoint(TRUNCATE)' >/dev/null
    mkdir shut
    cp i.db shut/i.db
    chmod 444 shut/i.db
    chmod 555 shut
    chmod 777 .
    become_ordinary
    index=shut/i.db
    expect 0 --json find pump --vehicle finch
    chmod 755 shut
    cmp -s out before || miss "the same answer" "$(cat out)"
}

case_find_in_a_damaged_index() {
    command -v "$python" >/dev/null || skip "there is no python3 here"
    write_find
    expect 0 find pump
    sqlite3 i.db 'PRAGMA wal_checkpoint(TRUNCATE)' >/dev/null
    "$python" "$here/damage_index.py" "$program" i.db --times "$(fewer 8 3)" >out 2>&1 || miss "no crash, no hang, words of our own" "$(cat out)"
}

# The old content or the new, never something between: both lists say how many there are of them.
case_find_while_others_import() {
    local edition importer count
    list_of() {
        awk -v edition="$1" 'BEGIN {
            print "brand,part_number,part_type,description"
            for (i = 1; i <= 2000; i++)
                printf "Bulk,%07d,spoke,Wheel spoke edition%s\n", i * edition, edition == 1 ? "one" : "two"
        }' >bulk.csv
    }
    list_of 1
    expect 0 import bulk.csv
    list_of 2
    (
        for edition in 1 2 1 2; do
            list_of "$edition"
            "$program" --db i.db import bulk.csv >import.log 2>&1 || exit 1
        done
        : >done
    ) &
    importer=$!
    for ((count = 0; count < 400; count++)); do
        [ ! -e done ] || break
        kill -0 "$importer" 2>/dev/null || break
        expect 0 --json find editionone editiontwo spoke --limit 1000
        holds "SELECT count(*), count(DISTINCT json_extract(value, '\$.description')) FROM j, json_each(out, '\$.hits')" "1000|1"
    done
    wait "$importer" || miss "the imports to go through" "$(cat import.log)"
    sound
}
