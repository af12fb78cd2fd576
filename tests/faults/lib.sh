# shellcheck shell=bash
# What every case may use. A case runs in a subshell, in a folder of its own that holds a copy of the template: the
# catalogue of catalogue.sh and the index i.db made from it. The first check that does not hold ends the case.
# shellcheck disable=SC2154 # work and program are set by run.sh

SKIPPED=77

# Under the sanitizers a process takes three times as long to start, so there what is done again and again is done less
# often: fewer MANY FEW prints FEW there, MANY elsewhere.
fewer() {
    [ "${LB_FEWER:-0}" = 1 ] && echo "$2" || echo "$1"
}

# The script that is called python3 may look for the real one each time.
python=${LB_PYTHON:-python3}

all_cases() {
    declare -F | sed -n 's/^declare -f \(case_.*\)/\1/p'
}

# The index knows its files by their absolute paths, so every case stands where the template was made.
run_case() {
    local result
    case_name=$1
    rm -rf "$work/case"
    cp -r "$work/template" "$work/case" || exit 2
    (cd "$work/case" && "$case_name")
    result=$?
    [ "$result" = 0 ] || [ "$result" = "$SKIPPED" ] || [ "$result" = 1 ] || echo "$1: expected to run, found status $result"
    return $result
}

one_line() {
    printf '%s' "$1" | head -c 700 | tr -s ' \n' ' ' | tr -c '[:print:]' '?'
}

# miss EXPECTED FOUND: the case has failed.
miss() {
    printf '%s: expected %s; found %s\n' "$case_name" "$(one_line "$1")" "$(one_line "$2")"
    exit 1
}

skip() {
    echo "$case_name: skipped: $1"
    exit $SKIPPED
}

# Runs the program on the case's index; leaves $status, the files out and err, and judges that it did not crash.
index=i.db
as=
lb() {
    $as "$program" --db "$index" "$@" >out 2>err </dev/null
    status=$?
    [ "$status" -lt 99 ] || miss "lastbolt $(brief "$@") not to crash" "status $status: $(cat err)"
}

brief() {
    one_line "$*" | head -c 200
}

as_nobody() {
    setpriv --reuid=65534 --regid=65534 --clear-groups "$@"
}

# Root writes where it likes, so root becomes an ordinary user for these.
become_ordinary() {
    [ "$(id -u)" = 0 ] || return 0
    as_nobody true 2>/dev/null || skip "root cannot become another user here"
    as=as_nobody
}

# expect STATUS WORD...: runs the program and judges its exit status.
expect() {
    local wanted=$1
    shift
    lb "$@"
    [ "$status" = "$wanted" ] || miss "status $wanted from lastbolt $(brief "$@")" "$status: $(cat err out)"
}

# add_whole FILE: behind $shown. By this shell itself: cases ask a thousand times what was printed, and processes for it
# would take longer than what is tested.
add_whole() {
    local piece
    while IFS= read -r -d '' piece || [ -n "$piece" ]; do
        shown+=$piece
        piece=
    done <"$1"
}

# printed: what was printed, to either stream, goes into $shown.
printed() {
    shown=
    add_whole out
    add_whole err
}

# says TEXT...: each was printed, to either stream; blanks and line ends are one blank.
says() {
    local text shown
    printed
    shown=${shown//$'\n'/ }
    while [[ $shown == *'  '* ]]; do
        shown=${shown//'  '/ }
    done
    for text; do
        [[ $shown == *"$text"* ]] || miss "the words \"$text\"" "$(cat err out)"
    done
}

says_not() {
    local shown
    printed
    [[ $shown != *"$1"* ]] || miss "no words \"$1\"" "$(cat err out)"
}

# ask SQL: over the JSON that was printed last, which is called `out` there.
ask() { # always in $( ), which it ends
    exec sqlite3 -readonly :memory: "WITH j(out) AS (SELECT CAST(readfile('out') AS TEXT)) $1" 2>&1
}

# holds SQL VALUE: what the printed JSON says.
holds() {
    local found
    found=$(ask "$1")
    [ "$found" = "$2" ] || miss "$1 to be $2" "$found"
}

# The number of the kit's line for a part type, of the `kit show --json` that was printed last.
line_of() {
    ask "SELECT json_extract(value, '\$.line') FROM j, json_each(j.out, '\$.lines') WHERE json_extract(value, '\$.part_type') = '$1' LIMIT 1"
}

# What the index says to the outside: its sources, and the template's kit.
content() {
    $as "$program" --db "$index" --json sources </dev/null && $as "$program" --db "$index" --json kit show base </dev/null
}

remember() {
    content >remembered 2>&1 || miss "to read the index" "$(cat remembered)"
}

unchanged() {
    content >now 2>&1
    cmp -s remembered now || miss "an unchanged index" "$(diff remembered now | head -5)"
}

sound() {
    expect 0 verify
}

# The bytes of a file that must not be touched, and that nothing was put beside it.
remember_bytes() {
    sha256sum "$1" >bytes
    printf '%s\n' "$1"* >beside
}

untouched() {
    sha256sum --status -c bytes || miss "$1 left byte for byte" "other bytes"
    printf '%s\n' "$1"* | cmp -s beside - || miss "nothing beside $1" "$(echo "$1"*)"
}
