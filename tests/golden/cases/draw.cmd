lastbolt import "$SAMPLE" >/dev/null
lastbolt vehicle add maggie --make Velmora --model Tern --built 2004 --with engine=tq20 --with gearbox=manual --with ac=yes >/dev/null
lastbolt vehicle add stan --make Velmora --model Tern --built 2004 >/dev/null
lastbolt kit build belt --vehicle maggie --job accessory-belt >/dev/null
lastbolt kit build brakes --vehicle maggie --job front-brakes >/dev/null
lastbolt kit build other --vehicle stan --job accessory-belt >/dev/null
lastbolt draw belt belt
lastbolt draw belt cost
lastbolt --json draw belt cost | cut -c1-60
# where the arrows run is up to Graphviz
lastbolt draw brakes teardown | grep -E "title|desc"
# which run it is, nobody has said
lastbolt draw other belt
# what is not there, and what makes no sense
lastbolt draw brakes belt
lastbolt draw belt wheel
lastbolt draw belt
lastbolt draw bolt cost
