# the belt must still be on to hold the pulley while its bolts are loosened
lastbolt --quiet import belt >/dev/null
lastbolt vehicle add finch --make Orrin --model Wren >/dev/null
lastbolt kit build pulley --vehicle finch --job pulley | sed -n '/^Order/,/^$/p'
# a map that wants the belt off before the bolts are loosened contradicts itself
lastbolt --quiet --db loop.db import belt-loop >/dev/null
lastbolt --db loop.db vehicle add finch --make Orrin --model Wren >/dev/null
lastbolt --db loop.db kit build pulley --vehicle finch --job pulley
