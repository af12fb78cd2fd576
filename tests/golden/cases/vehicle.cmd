lastbolt vehicle list
lastbolt vehicle add maggie --make Orrin --model Wren --built 2001 --with engine=k16 --with AC=yes
lastbolt vehicle list
lastbolt vehicle show maggie
lastbolt vehicle show MAGGIE --json
lastbolt vehicle add Maggie --make Orrin --model Wren
lastbolt vehicle show magie
lastbolt vehicle set maggie built=2001-03 engine=
lastbolt vehicle set maggie built=2001-13
lastbolt vehicle set maggie colour
lastbolt vehicle set maggie make=
lastbolt vehicle set maggie =red
lastbolt vehicle add nona --model Wren
lastbolt vehicle add '' --make Orrin --model Wren
# the VIN: refused, remarked upon, or kept as it is when the vehicle is older than the rule
lastbolt vehicle set maggie vin=12345
lastbolt vehicle set maggie vin=0VLTH20M84B021877
lastbolt --quiet vehicle show maggie
lastbolt vehicle add old --make Orrin --model Lark --vin 12345 --built 1969
lastbolt vehicle set maggie vin=777 built=1970
# options may stand anywhere, a word after -- is a word
lastbolt --json vehicle --quiet list
lastbolt --db=other.db vehicle add --model Wren -- --make --make=Orrin
lastbolt vehicle add --model=Wren --db other.db --make=Orrin -- --make
lastbolt --db other.db vehicle show -- --make
