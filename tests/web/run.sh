#!/bin/sh
# The sample's job sheets under a validator (vnu-jar), under axe-core in Chromium on a phone and on a desk, and printed.
#
#   run.sh PROGRAM SAMPLE [PACKAGES [OUT]]
#
# PACKAGES: the node_modules folder with what package.json names; without it (or with "") they are fetched, once into the
# folder that LB_WEB_KEEP names, else each time into a temporary one. OUT: where pages and PDFs (and, with PICTURES=1, pictures) stay to be looked at; without it they go
# away. Exit status 77
# (skipped), with words, when node, npm, java or chromium is missing or nothing can be fetched.
set -eu
here=$(cd "$(dirname "$0")" && pwd)
program=$(realpath "$1") sample=$(realpath "$2") packages=${3:+$(realpath "$3")} out=${4-}
skip() {
    echo "not looked at: $1" >&2
    exit 77
}
command -v node >/dev/null || skip "node is missing"
command -v java >/dev/null || skip "java is missing"
browser=$(command -v chromium || command -v chromium-browser) || skip "chromium is missing"

work=$(mktemp -d)
trap 'rm -rf "$work"' EXIT
if [ -z "$packages" ]; then
    keep=${LB_WEB_KEEP:-$work}
    if ! cmp -s "$here/package.json" "$keep/fetched.json"; then # the last thing that is written when all is there
        command -v npm >/dev/null || skip "npm is missing"
        mkdir -p "$keep"
        rm -rf "$keep/node_modules" "$keep/fetched.json"
        cp "$here/package.json" "$keep"
        (cd "$keep" && npm install --ignore-scripts --no-audit --no-fund --no-package-lock >npm.log 2>&1) ||
            skip "the packages could not be fetched: $(tail -1 "$keep/npm.log")"
        cp "$here/package.json" "$keep/fetched.json"
    fi
    packages=$keep/node_modules
fi
for name in vnu-jar axe-core playwright-core; do
    [ -d "$packages/$name" ] || skip "$packages has no $name"
done

[ -n "$out" ] || out=$work/out
mkdir -p "$out"
out=$(realpath "$out")
rm -f "$out/index.db"
sh "$here/sheets.sh" "$program" "$sample" "$out"
failed=0
# It runs for a few seconds, in which compiling well takes longer than it saves.
java -Xss4m -XX:TieredStopAtLevel=1 -XX:+UseSerialGC -jar "$packages/vnu-jar/build/dist/vnu.jar" "$out"/*.html || failed=1
[ "$failed" = 1 ] || echo "vnu: no fault in $(ls "$out"/*.html | wc -l) pages"
# One sheet of each job, each vehicle and everything at once; the others are of the same make.
cd "$out"
node "$here/sheet.mjs" "$packages" "$browser" . everything.html maggie-cooling-system.html hector-front-brakes.html \
    otto-timing-drive.html || failed=1
exit "$failed"
