#!/bin/bash
# How long an import takes beside the least that SQLite needs for the same file. Builds the preset `bench` first.
#
#     tests/bench/import_ratio.sh [ROWS...]            1000000 5000000
#     tests/bench/import_ratio.sh import_growth [ROWS...]
#
# Options, before the rows: --runs N (3), --folder SCRATCH (the indexes are made there; it decides the disk), --offers
# (supplier prices as well), --program LASTBOLT (instead of building one). import_ratio.py says what is measured.
set -eu
here=$(cd "$(dirname "${BASH_SOURCE[0]}")" && pwd)
cd "$here/../.."
cmake --preset bench >/dev/null
cmake --build --preset bench --target make_catalog lastbolt -- --quiet
exec python3 "$here/import_ratio.py" --program .build/bench/src/lastbolt --generator .build/bench/tests/make_catalog "$@"
