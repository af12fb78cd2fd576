# the data folder is made when there is something to keep
LASTBOLT_DB= HOME=$PWD/home lastbolt vehicle list
LASTBOLT_DB= HOME=$PWD/home lastbolt vehicle add maggie --make Orrin --model Wren >/dev/null
find home -name '*.db'
LASTBOLT_DB= XDG_DATA_HOME=$PWD/data lastbolt import shed/jobs.csv >/dev/null
find data -name '*.db'
LASTBOLT_DB= XDG_DATA_HOME=relative HOME= lastbolt vehicle list
lastbolt --db shed/jobs.csv/index.db vehicle add x --make A --model B
# output that cannot be written
lastbolt --help >/dev/full
lastbolt --version >/dev/full
# files that are no index
echo 'not an index at all' > text.db; lastbolt --db text.db vehicle list
lastbolt --db text.db vehicle add x --make A --model B; cat text.db
lastbolt --db shed verify
# a file that may not grow
(ulimit -f 16; lastbolt import shed) 2>/dev/null
lastbolt vehicle list
# a damaged index
lastbolt import shed >/dev/null
head -c 20000 /dev/zero | dd of=index.db bs=1 seek=8192 conv=notrunc status=none; lastbolt verify 2>&1 | cut -c1-60
# long words
lastbolt vehicle show $(head -c 100000 /dev/zero | tr '\0' m) 2>&1 | wc -c
lastbolt $(head -c 100000 /dev/zero | tr '\0' m)
lastbolt --$(head -c 100000 /dev/zero | tr '\0' m)
