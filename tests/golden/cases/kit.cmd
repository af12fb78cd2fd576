lastbolt import shed >/dev/null
lastbolt vehicle add maggie --make Orrin --model Wren --built 2001 >/dev/null
lastbolt kit list
lastbolt kit show pump
lastbolt kit build pump --vehicle maggie --job pump
lastbolt kit list
lastbolt --json kit list
lastbolt kit check pump
lastbolt kit why pump 1
lastbolt kit why pump 99
lastbolt kit set pump 1 have
lastbolt kit set pump 2 buy Kestrel K-999
lastbolt kit set pump 99 drop
lastbolt --json kit show pump | grep -c .
# what cannot be worked out is not kept, and leaves what had its name
lastbolt kit build other --vehicle maggie --job pmp
lastbolt kit build other --vehicle nobody --job pump
lastbolt kit build pump --vehicle maggie --replace gearbox
lastbolt kit list
lastbolt kit check pmp
lastbolt kit build '' --vehicle maggie --job pump
# numbers that supersede each other in a ring: such a kit cannot be worked out either
printf 'brand,part_number,new_brand,new_number\nKestrel,K-100,Kestrel,K-101\nKestrel,K-101,Kestrel,K-100\n' > supersessions.csv
lastbolt kit build pump --vehicle maggie --replace belt >/dev/null
lastbolt import supersessions.csv
lastbolt kit build pump --vehicle maggie --job pump
lastbolt kit build ring --vehicle maggie --job pump
lastbolt kit list
