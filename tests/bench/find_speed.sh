#!/bin/bash
# How quick `find` is. Builds the preset `bench` first.
#
#     tests/bench/find_speed.sh [ROWS]                                        5000000
#     tests/bench/find_speed.sh --growth 500000,1000000,2000000,5000000
#
# Options: --folder SCRATCH (catalogues, indexes and full-text tables are made there once and used again), --fresh (makes
# the index anew: after a change to what is derived from the rows), --runs N (5), --queries N (2000), --exhaustive N (20 a
# kind; 0: none). find_speed.py says what is measured. Exit status 1: a demand is missed.
set -eu
here=$(cd "$(dirname "${BASH_SOURCE[0]}")" && pwd)
cd "$here/../.."
cmake --preset bench >/dev/null
cmake --build --preset bench --target make_catalog lastbolt find_speed -- --quiet
exec python3 "$here/find_speed.py" --program .build/bench/src/lastbolt --generator .build/bench/tests/make_catalog \
     --inside .build/bench/tests/find_speed "$@"
