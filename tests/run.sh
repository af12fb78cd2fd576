#!/bin/sh
# Installs what is missing, builds and runs every test. `sh tests/run.sh debug` does so under the sanitizers.
set -eu
cd "$(dirname "$0")/.."
preset=${1:-release}
sh .ci/setup tests
cmake --preset "$preset" -DLB_WERROR=ON >/dev/null
cmake --build --preset "$preset" -- --quiet
ctest --preset "$preset" --no-tests=error
