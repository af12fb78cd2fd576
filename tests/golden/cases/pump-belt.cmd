# the belt must still be on to hold the pulley while its bolts are loosened, though the pulley needs it off in any state
lastbolt --quiet import pump-belt >/dev/null
lastbolt vehicle add maggie --make Orrin --model Wren >/dev/null
lastbolt kit build pump --vehicle maggie --job cooling | sed -n '/^Order/,/^$/p'
# without the sequence rows the belt comes off first
lastbolt --quiet sources drop sequence.csv >/dev/null
lastbolt kit show pump | sed -n '/^Order/,/^$/p'
