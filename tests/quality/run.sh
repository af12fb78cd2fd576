#!/bin/bash
# Everything that quality.py measures, with a catalogue of 100,000 parts for numbers that stand close together. Builds the
# preset `bench` first; takes quality.py's options, and --program LASTBOLT instead of the one that is built.
#
#     tests/quality/run.sh [--sets NAME,...] [--show 5]
set -eu
here=$(cd "$(dirname "${BASH_SOURCE[0]}")" && pwd)
cd "$here/../.."
program=.build/bench/src/lastbolt
if [ "${1-}" = --program ]; then
    program=$2
    shift 2
fi
cmake --preset bench >/dev/null
cmake --build --preset bench --target make_catalog lastbolt -- --quiet
work=$(mktemp -d)
trap 'rm -rf "$work"' EXIT
.build/bench/tests/make_catalog 100000 >"$work/catalogue.csv"
python3 "$here/quality.py" "$program" --catalog "$work/catalogue.csv" "$@"
