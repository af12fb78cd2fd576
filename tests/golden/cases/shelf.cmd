lastbolt shelf
lastbolt import yard >/dev/null
lastbolt shelf
lastbolt --json shelf
lastbolt shelf set kestrel k110 12
lastbolt shelf set Kestrel K-130 1400mL --opened
lastbolt shelf set Kestrel K-130 1.2
lastbolt --json shelf
# what is not there, and what makes no sense
lastbolt shelf set Kestrel K-1300 1
lastbolt shelf set Kestrel K-110 many
lastbolt shelf set Kestrel K-130 "2 kg"
lastbolt shelf set Kestrel K-110 -- -2
lastbolt shelf set Kestrel K-110
# a kit takes it first
lastbolt vehicle add pip --make Orrin --model Plover --built 2004 >/dev/null
lastbolt kit build pump --vehicle pip --job pump | sed -n '/^Hardware/,/^$/p; /^Fluids/,/^$/p'
lastbolt --json kit show pump | grep -A4 '"here"'
lastbolt kit why pump 2 | tail -4
lastbolt kit why pump 4 | tail -4
lastbolt kit check pump
lastbolt shelf set Kestrel K-110 0
# whose parts are preferred
lastbolt prefer
lastbolt prefer Water_Pump 15
lastbolt prefer coolant 2.5%
lastbolt --json prefer
lastbolt prefer warter-pump 10
lastbolt prefer warter-pump 0
lastbolt prefer water-pump
lastbolt prefer water-pump much
lastbolt prefer water-pump 1001
lastbolt prefer -- water-pump -3
lastbolt prefer '??' 3
# nothing was ordered yet
lastbolt deposits
lastbolt --json deposits
lastbolt deposits claim pump
lastbolt deposits claim pump 1
lastbolt deposits claim pump 99
lastbolt deposits claim pomp
lastbolt receive pump 1 1
lastbolt receive pump 99 1
lastbolt receive pump one 1
lastbolt receive pump 1 1 Kestrel
lastbolt receive pump 1 0
lastbolt receive pump 4 "2 kg"
lastbolt receive pump 1 1 --wrong --short
lastbolt receive pomp 1 1
