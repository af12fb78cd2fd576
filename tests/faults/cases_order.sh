# shellcheck shell=bash
# Orders that cannot be placed: nothing is recorded, no file is left, and what is there is not touched.
# shellcheck disable=SC2154 # program is set by run.sh

# How much of the kit is on its way.
on_way() {
    "$program" --db "$index" --json kit show base >out 2>err || miss "to read the kit" "$(cat err)"
    ask "SELECT sum(json_extract(value, '\$.on_way')) FROM j, json_each(j.out, '\$.lines')"
}

# nothing_ordered FOLDER: nothing on its way, nothing in the folder (hidden or not) but what is named behind it.
nothing_ordered() {
    local found folder=$1
    shift
    found=$(on_way)
    [ "$found" = 0 ] || [ "$found" = 0.0 ] || miss "nothing on its way" "$found"
    found=$(cd "$folder" 2>/dev/null && ls -A)
    [ "$found" = "$*" ] || miss "no file of an order in $folder" "$found"
}

case_order_goes_through_once() {
    expect 0 order base --out lists/new
    [ "$(cd lists/new && echo *)" = "quayside-order.csv quayside-order.txt" ] || miss "two files" "$(ls -A lists/new)"
    expect 0 order base --out lists/other
    says "nothing to order"
    [ ! -e lists/other ] || miss "no folder for nothing" "$(ls -A lists/other)"
    expect 0 kit check base
    sound
}

case_order_folder_is_a_file() {
    echo mine >afile
    expect 4 order base --out afile
    says "afile" "cannot be made"
    expect 4 order base --out afile/lists
    [ "$(cat afile)" = mine ] || miss "the file left as it was" "$(cat afile)"
    nothing_ordered none
}

case_order_folder_is_read_only() {
    mkdir shut
    chmod 777 .
    chmod 666 i.db
    chmod 555 shut
    become_ordinary
    expect 4 order base --out shut
    says "shut/quayside-order.csv: cannot be written: Permission denied. Nothing was ordered."
    expect 4 order base --out shut/lists
    says "cannot be made"
    as=
    nothing_ordered shut
}

case_order_file_is_there() {
    mkdir lists
    echo mine >lists/quayside-order.txt
    expect 3 order base --out lists
    says "quayside-order.txt is there already" "Nothing was ordered"
    [ "$(cat lists/quayside-order.txt)" = mine ] || miss "the file left as it was" "$(cat lists/quayside-order.txt)"
    nothing_ordered lists quayside-order.txt
}

case_order_on_a_full_disk() {
    [ "$(id -u)" = 0 ] || skip "only root can mount a small disk"
    mkdir disk
    mount -t tmpfs -o size=8k none disk 2>/dev/null || skip "nothing can be mounted here"
    trap 'umount disk 2>/dev/null || umount -l disk' EXIT
    for full in 4096 8192; do # no room for the second file, for neither
        head -c "$full" /dev/zero >disk/full
        expect 4 order base --out disk
        says "cannot be written" "No space left" "Nothing was ordered"
        nothing_ordered disk full
    done
    rm disk/full
    expect 0 order base --out disk
}

case_order_index_may_not_grow() {
    local room
    mkdir lists
    for room in 34 40 48; do
        (ulimit -f "$room" && exec "$program" --db i.db order base --out lists) >out 2>err
        status=$?
        [ "$status" = 4 ] || miss "status 4 when the index may not grow" "$status: $(cat out err)"
        nothing_ordered lists
        sound
    done
    expect 0 order base --out lists
}

case_order_index_is_read_only() {
    chmod 777 .
    chmod 444 i.db
    become_ordinary
    expect 4 order base --out lists
    says "the index is read-only; nothing was changed"
    expect 4 shelf set Orlop 100-01 1
    expect 0 shelf
    expect 0 deposits
    as=
    nothing_ordered lists
}

# Stopped anywhere: either nothing is recorded and no list is there, or all is, and the next order names what waits.
case_order_killed() {
    local begun ended point found points after files
    points=$(fewer 30 10)
    begun=$(date +%s%N)
    expect 0 order base --out lists
    ended=$(date +%s%N)
    for point in $(seq 1 "$points"); do
        cp ../template/i.db i.db && rm -rf i.db-wal i.db-shm lists
        "$program" --db i.db order base --out lists >/dev/null 2>&1 &
        after=$(((ended - begun) * point / points / 1000)) # microseconds
        sleep "$((after / 1000000)).$(printf '%06d' $((after % 1000000)))"
        kill -KILL $! 2>/dev/null
        wait $! 2>/dev/null
        sound
        found=$(on_way)
        if [ "$found" = 0 ] || [ "$found" = 0.0 ]; then
            compgen -G 'lists/*' >/dev/null && miss "no list of what was not ordered" "$(ls -A lists)"
            expect 0 order base --out lists
        else
            expect 0 order base --out other
            says "nothing to order"
        fi
        files=(lists/* lists/.[!.]*) # the second stands for itself when there is none
        [ "${files[*]}" = "lists/quayside-order.csv lists/quayside-order.txt lists/.[!.]*" ] ||
            miss "both files and no other" "point $point: $(ls -A lists)"
    done
}
