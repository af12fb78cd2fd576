#!/bin/sh
# The main job on the sample catalogue: installs what is missing, builds, imports, builds a kit and shows it.
set -eu
cd "$(dirname "$0")/.."
sh .ci/setup
cmake --preset release >/dev/null
cmake --build --preset release --target lastbolt -- --quiet
demo=$(mktemp -d)
trap 'rm -rf "$demo"' EXIT
lastbolt() { .build/release/src/lastbolt --db "$demo/demo.db" "$@"; }
lastbolt import sample-catalog
lastbolt vehicle add maggie --make Velmora --model Tern --built 2004 --vin 0VLTH20M74B021877 \
    --with engine=tq20 --with gearbox=manual --with ac=yes
lastbolt kit build saturday --vehicle maggie --job cooling-system
