# a kit is locked: a text for version control, which the index remembers
lastbolt --quiet import shed >/dev/null
lastbolt vehicle add maggie --make Orrin --model Wren --built 2001 --with engine=k14 >/dev/null
lastbolt kit build pump --vehicle maggie --job pump >/dev/null
lastbolt kit check pump
lastbolt kit lock pump
lastbolt kit lock pump --out pump.lock
lastbolt --quiet --json kit lock pump | head -5
lastbolt kit check pump
lastbolt --json kit check pump | tail -5
# another edition of the prices and of the map, a fact corrected, a part superseded, a decision
sed -i -e 's/K-200,1.20/K-200,1.35/' -e 's/K-600,2.10/K-600,1.95/' -e '/K-300/d' shed/offers.csv
printf 'brand,part_number,new_brand,new_number,quantity\nKestrel,K-400,Kestrel,K-401,1\n' > shed/supersessions.csv
sed -i -e 's/,10,/,12,/' shed/fastenings.csv
printf 'platform,component,text\nwren-1,water-pump,Open the system only when it is cold.\n' > shed/cautions.csv
lastbolt --quiet import shed >/dev/null
lastbolt vehicle set maggie built=2001-05 engine=k16 >/dev/null
lastbolt kit set pump 1 have >/dev/null
lastbolt kit check pump
lastbolt --json kit check pump | sed -n '/"locked"/,$p'
# buying says what has moved, as far as it is bought
lastbolt kit set pump 3 have >/dev/null
lastbolt buy pump --cheapest-only | sed -n '/^What has moved/,/^$/p'
lastbolt --json buy pump --cheapest-only | sed -n '/"moved_since_lock"/,$p'
# locked again: what has changed is said in short, and the file shows the rest
lastbolt kit lock pump --out pump.lock
lastbolt kit check pump
lastbolt kit check pump --against pump.lock
# what is no lock, or that of another kit, is neither compared with nor replaced
lastbolt kit build belt --vehicle maggie --replace belt >/dev/null
lastbolt kit check belt --against pump.lock
lastbolt kit lock belt --out pump.lock
lastbolt kit check pump --against shed/parts.csv
lastbolt kit lock pump --out shed/parts.csv
head -20 pump.lock > cut.lock
lastbolt kit check pump --against cut.lock
sed 's/version 1/version 2/' pump.lock > new.lock
lastbolt kit check pump --against new.lock
sed 's/quantity: 5/quantity: five/' pump.lock > odd.lock
lastbolt kit check pump --against odd.lock
lastbolt kit check pump --against nowhere.lock
lastbolt kit lock pump --out nowhere/pump.lock
lastbolt kit lock pump --out ''
lastbolt kit lock pmp
# "-" is standard output, and standard input
lastbolt --quiet kit lock pump --out - | cmp - pump.lock
lastbolt kit check pump --against - < pump.lock
ls
