#!/bin/bash
# What goes wrong, on purpose: bad files, bad indexes, full disks, killed programs, odd words. Every case runs the program
# in a folder of its own and says what it expected and what it found when they differ.
#
#     tests/faults/run.sh PROGRAM [CASE...]     a case is named as its function, e.g. case_import_empty_file
set -u
here=$(cd "$(dirname "${BASH_SOURCE[0]}")" && pwd)
[ $# -ge 1 ] || { echo "use it so: $0 PROGRAM [CASE...]" >&2; exit 2; }

# A folder that an ordinary user may enter, and the program in it: some cases leave root behind.
root=$(mktemp -d) || exit 2
trap 'rm -rf "$root"' EXIT
chmod 755 "$root"
program=$root/lastbolt
cp "$1" "$program" && chmod 755 "$program" || exit 2
shift

export LC_ALL=C SOURCE_DATE_EPOCH=1795564800 COLUMNS=200
# A sanitizer that finds something ends the program with a status that is none of its own.
export ASAN_OPTIONS=exitcode=99 UBSAN_OPTIONS=halt_on_error=1:exitcode=99
unset LASTBOLT_DB XDG_DATA_HOME

# shellcheck source-path=SCRIPTDIR source=lib.sh
. "$here/lib.sh"
# shellcheck source-path=SCRIPTDIR source=catalogue.sh
. "$here/catalogue.sh"
for part in import reimport index interrupted kit fleet sources words find order; do
    # shellcheck disable=SC1090 # the files of this folder, one by one
    . "$here/cases_$part.sh"
done

# every_other FIRST CASE...: that case and each second one after it, in a folder of their own.
every_other() {
    local passed=0 failed=0 name
    work=$root/$1
    mkdir "$work"
    shift "$1"
    prepare_template
    while [ $# -gt 0 ]; do
        name=$1
        shift $(($# > 1 ? 2 : 1))
        run_case "$name"
        case $? in
            0) passed=$((passed + 1)) ;;
            "$SKIPPED") ;;
            *) failed=$((failed + 1)) ;;
        esac
    done
    echo "$passed $failed" >"$work.count"
}

[ $# -gt 0 ] || mapfile -t cases < <(all_cases)
[ $# -gt 0 ] || set -- "${cases[@]}"
(every_other 1 "$@") &
(every_other 2 "$@")
wait
read -r passed failed < <(awk '{ p += $1; f += $2 } END { print p, f, NR == 2 ? "" : "a half did not end" }' "$root"/?.count)
echo "$passed passed, $failed failed"
[ "$failed" = 0 ]
