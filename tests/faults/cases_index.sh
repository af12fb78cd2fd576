# shellcheck shell=bash
# The index itself: not one, another program's, a newer one, damaged, read-only, on a full disk.
# shellcheck disable=SC2034 # index and as are read by lb

refuses_index() {
    remember_bytes "$index"
    expect 4 sources
    says "$index" "$@"
    expect 4 import map
    says "$index" "$@"
    expect 4 verify
    says "$index" "$@"
    untouched "$index"
}

case_index_text_file() {
    index=notes.txt
    yes "these are notes about a car" | head -50 >notes.txt
    refuses_index "is not a lastbolt index" "--db"
}

case_index_short_text_file() {
    index=notes.txt
    echo hello >notes.txt
    refuses_index "is not a lastbolt index" "--db"
}

case_index_of_another_program() {
    index=other.db
    sqlite3 other.db 'CREATE TABLE wheels (size); INSERT INTO wheels VALUES (17)'
    refuses_index "is a database of another program" "--db"
}

case_index_from_a_newer_program() {
    sqlite3 i.db 'PRAGMA user_version = 900; PRAGMA wal_checkpoint(TRUNCATE)' >/dev/null
    refuses_index "was made by a newer lastbolt" "900" "--db"
}

case_index_is_a_folder() {
    index=map
    expect 4 sources
    says "map: the index cannot be"
    expect 4 import trade
}

case_index_is_absent() {
    index=none.db
    expect 3 sources
    says "there is no index yet" "lastbolt import PATH"
    [ ! -e none.db ] || miss "no index to be made by reading" none.db
}

case_index_in_an_absent_folder() {
    index=no/such/i.db
    expect 0 import map
    : >afile
    index=afile/i.db
    expect 4 import map
    says "afile" "cannot be made"
}

case_index_is_an_empty_file() {
    index=new.db
    : >new.db
    expect 3 sources
    says "there is no index yet"
    expect 0 import map
    expect 0 verify
}

# Bytes of a stated seed over a page, the same in every run.
spoil_page() {
    awk -v seed="$2" 'BEGIN { srand(seed); for (i = 0; i < 4096; i++) printf "%c", 33 + int(rand() * 90) }' |
        dd of="$1" bs=4096 seek="$2" count=1 iflag=fullblock conv=notrunc status=none
}

# Any verb may work on what is still there or say that the index is damaged; none may crash, and verify must see it.
judge_damaged() {
    local words
    expect 4 verify
    says "the index is damaged" "Move it away and import the catalogues again"
    while read -r words; do
        # shellcheck disable=SC2086 # a list of words
        lb $words
        [ "$status" -le 4 ] || miss "a sane status from $words" "$status"
        [ "$status" != 4 ] || says "i.db: the index"
    done <<'VERBS'
sources
--json kit show base
kit check base
part Orlop 100-01
vehicle show finch
kit set base 1 have
import trade/offers.csv map
VERBS
}

case_index_damaged_in_the_middle() {
    local pages page
    pages=$(($(stat -c %s i.db) / 4096))
    for page in 1 2 $((pages / 4)) $((pages / 3)) $((pages / 2)) $((pages - 2)); do
        cp ../template/i.db i.db && rm -f i.db-wal i.db-shm
        spoil_page i.db "$page"
        spoil_page i.db $((page % 2 ? page + 1 : page - 1)) # the other half of a page of 8 KiB
        judge_damaged
    done
}

case_index_damaged_for_long() {
    local page
    for page in $(seq 3 40); do
        spoil_page i.db "$page"
    done
    judge_damaged
}

case_index_truncated() {
    local size
    size=$(stat -c %s i.db)
    for part in $((size / 2)) $((size - 4096)) $((size / 3 + 100)) 8192; do
        cp ../template/i.db i.db && rm -f i.db-wal i.db-shm
        truncate -s "$part" i.db
        judge_damaged
    done
}

case_index_header_only() {
    truncate -s 100 i.db
    expect 4 verify
    says "i.db"
    expect 4 import trade
}

judge_readable() {
    expect 0 kit check base
    expect 0 --json sources
    expect 0 part Orlop 100-01
    expect 0 vehicle list
    expect 0 verify
    expect 0 log finch
    expect 0 prefer
}

judge_not_writable() {
    local words
    while read -r words; do
        # shellcheck disable=SC2086 # a list of words
        expect 4 $words
        says "i.db: the index is read-only; nothing was changed" "permissions"
    done <<'VERBS'
import more.csv
vehicle set finch abs=yes
kit set base 1 have
kit build other --vehicle finch --job temperature
sources drop offers.csv
log finch --at 100
prefer water-pump 5
VERBS
}

case_index_read_only_file() {
    big_list 5 >more.csv
    chmod 444 i.db
    chmod 777 .
    become_ordinary
    remember
    judge_readable
    judge_not_writable
    unchanged
}

# What an older program made is brought up to date first, which takes leave to write.
case_index_read_only_and_older() {
    sqlite3 i.db 'PRAGMA user_version = 4'
    chmod 444 i.db
    chmod 777 .
    become_ordinary
    expect 4 vehicle list
    says "i.db: was made by an older lastbolt, and is read-only" "a copy"
}

case_index_read_only_folder() {
    mkdir shut
    mv i.db shut/i.db
    big_list 5 >more.csv
    chmod 666 shut/i.db
    chmod 555 shut
    become_ordinary
    index=shut/i.db
    remember
    judge_readable
    judge_not_writable
    unchanged
    chmod 755 shut
}

case_index_closed_to_us() {
    chmod 000 i.db
    chmod 777 .
    become_ordinary
    expect 4 sources
    says "i.db: the index cannot be opened: Permission denied"
    expect 4 import trade
    chmod 644 i.db
}

case_index_others_write_meanwhile() {
    remember
    mkfifo hold
    sqlite3 i.db <hold >/dev/null 2>&1 &
    local holder=$!
    exec 7>hold
    echo 'BEGIN IMMEDIATE; DELETE FROM offers;' >&7
    sleep 0.2
    expect 0 kit check base # reading does not wait
    unchanged
    exec 7>&-
    wait "$holder"
    unchanged
    sound
}

# A full disk: the old content is there afterwards, whole, and once there is room the import goes through.
judge_full() {
    [ "$status" = 4 ] || miss "status 4 with $1" "$status: $(cat err)"
    says "i.db: the" "the disk is full" "nothing was changed. Make room and try again."
}

case_index_file_may_not_grow() {
    local size room
    remember
    big_list 20000 >big.csv
    size=$(($(stat -c %s i.db) / 1024))
    for room in 16 64 200 $((size + 8)) $((size + 100)) $((size + 600)); do
        # shellcheck disable=SC2154 # program is set by run.sh
        (ulimit -f "$room" && exec "$program" --db i.db import big.csv) >out 2>err
        status=$?
        judge_full "files of at most $room KiB"
        sound
        unchanged
    done
    expect 0 import big.csv
}

case_index_on_a_small_disk() {
    local room size
    [ "$(id -u)" = 0 ] || skip "only root can mount a small disk"
    mkdir disk
    mount -t tmpfs -o size=64k none disk 2>/dev/null || skip "nothing can be mounted here"
    trap 'umount disk 2>/dev/null || umount -l disk' EXIT
    remember
    big_list 20000 >big.csv
    size=$(($(stat -c %s i.db) / 1024))
    for room in 8 120 400 800; do
        mount -o "remount,size=$((size + 40 + room))k" disk
        rm -f disk/*
        cp ../template/i.db disk/i.db
        index=disk/i.db
        lb import big.csv --rejects r.csv
        judge_full "$room KiB of room"
        sound
        unchanged
    done
    mount -o remount,size=64m disk
    expect 0 import big.csv
}

case_index_output_cannot_be_written() {
    [ -c /dev/full ] || skip "there is no /dev/full here"
    "$program" --db i.db kit show base >/dev/full 2>err
    status=$?
    [ "$status" = 4 ] || miss "status 4 when the output is full" "$status"
    cp err out
    says "the output cannot be written"
}
