# names with blanks and with signs that mean something to a shell: what is to be typed next is quoted
lastbolt --quiet import shed >/dev/null
lastbolt vehicle add 'old van' --make Orrin --model Wren --built 2001-05 >/dev/null
lastbolt vehicle add "Jo's lark" --make Orrin --model Lark >/dev/null
lastbolt vehicle add 'old van' --make Orrin --model Wren
lastbolt kit build 'big job' --vehicle "Jo's lark" --job pump
lastbolt kit build 'big job & more' --vehicle 'old van' --job pump | grep -e vehicle -e 'kit set'
lastbolt kit build '$(date)' --vehicle 'old van' --job flange | grep -e 'kit set'
lastbolt kit check 'big job & more' | tail -1
lastbolt log 'old van'
lastbolt log 'old van' --done pump --on 1999
lastbolt log drop 'old van' 7
lastbolt missed 'big job & more' o-ring --on water-pump | tail -2
lastbolt draw 'big job & more' water
lastbolt prefer 'oil; filter'
lastbolt kit build 'big job' --job 'front brakes'
lastbolt receive 'big job & more' 1 1
# several vehicles
lastbolt vehicle set "Jo's lark" model=Wren >/dev/null
lastbolt kit build 'two vans' --vehicle 'old van' --job pump --vehicle "Jo's lark" --job pump | tail -4
# what was suggested can be said as it stands
lastbolt kit lock 'big job & more' | head -2
lastbolt kit why 'big job & more' 1 | head -2
lastbolt due 'old van' | grep lastbolt
