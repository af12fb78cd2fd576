lastbolt
lastbolt --help
lastbolt --version
lastbolt help vehicle
lastbolt kit build --help
lastbolt import --help
lastbolt vehcle list
lastbolt vehicle
lastbolt vehicle shw maggie
lastbolt wheel --help
lastbolt --bogus
lastbolt vehicle list --jsn
lastbolt vehicle list -j
lastbolt vehicle add x --mak Orrin --model Wren
lastbolt vehicle add x --make
lastbolt vehicle list --json=yes
lastbolt vehicle list --db=
lastbolt vehicle list --db no/such/index.db
lastbolt vehicle show
lastbolt vehicle show a b
lastbolt vehicle show ''
lastbolt vehicle add $'ma\xffggie' --make Orrin --model Wren
lastbolt $'\xff\xfe'
lastbolt ''
lastbolt import ''
lastbolt import shed --vehicle p
lastbolt kit build pump
lastbolt kit build pump --vehicle a
lastbolt kit build pump --job pump --vehicle a
lastbolt kit build pump --vehicle a --job pump --vehicle b
lastbolt kit build pump --vehicle a --vehicle b --job pump
lastbolt kit why pump first
lastbolt kit set pump 1 borrow
lastbolt kit set pump 1 buy Kestrel
lastbolt buy
lastbolt buy --help
lastbolt buy pump --arrive-by friday
lastbolt buy pump --arrive-by 2026-02-30
# 2026-09-21 is the day of these tests: a month that holds it is not past
lastbolt buy pump --arrive-by 2026-09-20
lastbolt buy pump --arrive-by 2026-09
lastbolt buy pump --suppliers-at-most 0
lastbolt buy pump --suppliers-at-most few
lastbolt buy pump --seconds 0
lastbolt buy pump --seconds 1e3
lastbolt buy pump --only harbour --only westquay --without Harbour
SOURCE_DATE_EPOCH=soon lastbolt vehicle list
# nothing of all this made an index
ls index.db
