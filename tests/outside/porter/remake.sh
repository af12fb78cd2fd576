#!/bin/sh
# Makes words.tsv anew: the vocabulary of Debian's package snowball-data, stemmed by the npm package stemmer.
# Needs apt-get, dpkg-deb, node and npm, and a network; the test itself needs none of them.
set -eu
cd "$(dirname "$0")"
target=$PWD/words.tsv
folder=$(mktemp -d)
trap 'rm -rf "$folder"' EXIT
cd "$folder"
apt-get download snowball-data
dpkg-deb -x snowball-data_*.deb data
npm install --silent --ignore-scripts stemmer@2.0.1
cat >stem.mjs <<'END'
import fs from 'node:fs'
import {stemmer} from 'stemmer'
const words = fs.readFileSync('data/usr/share/snowball/data/porter/voc.txt', 'utf8').split('\n')
const line = word => (stemmer(word) === word ? word : word + '\t' + stemmer(word)) + '\n'
process.stdout.write(words.filter(word => /^[a-z]+$/.test(word)).map(line).join(''))
END
node stem.mjs >words.tsv
mv words.tsv "$target"
wc -lc "$target"
