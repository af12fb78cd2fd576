# the sample catalogue and the gaps that its page says are left on purpose
lastbolt --quiet import "$SAMPLE" >/dev/null
lastbolt vehicle add maggie --make Velmora --model Tern --built 2004 --vin 0VLTH20M74B021877 --with engine=tq20 --with gearbox=manual --with ac=yes
lastbolt vehicle add juno --make Velmora --model "Tern Estate" --built 2006-09 --vin 0VLTE23A16B030412 --with engine=tq23 --with gearbox=automatic --with ac=yes --with abs=yes >/dev/null
lastbolt vehicle add hector --make Brannoch --model Pike --built 1999-05 --vin 0BRPD25M0XH004519 --with engine=bw25 --with gearbox=manual --with drive=4wd --with ac=no >/dev/null
lastbolt vehicle add otto --make Brannoch --model "Pike Van" --built 2002-06 --vin 0BRVD28A62H017230 --with engine=bw28 --with gearbox=automatic --with drive=2wd --with ac=yes >/dev/null
lastbolt kit build saturday --vehicle maggie --job cooling-system
lastbolt kit why saturday 11
lastbolt kit why saturday 28
lastbolt kit why saturday 32
lastbolt kit check saturday
lastbolt vehicle set maggie built=2004-05 >/dev/null
lastbolt kit check saturday
lastbolt kit set saturday 14 reuse >/dev/null
lastbolt kit check saturday
lastbolt kit build brakes --vehicle maggie --job front-brakes >/dev/null
lastbolt kit check brakes
lastbolt kit build clutch --vehicle maggie --job clutch >/dev/null
lastbolt kit check clutch
lastbolt kit build estate --vehicle juno --job cooling-system >/dev/null
lastbolt kit check estate
lastbolt kit build belt --vehicle hector --job timing-drive >/dev/null
lastbolt kit check belt
lastbolt kit build pike --vehicle hector --job cooling-system --job front-brakes >/dev/null
lastbolt kit check pike
lastbolt kit build auto --vehicle otto --job gearbox-service >/dev/null
lastbolt kit check auto
lastbolt kit build none --vehicle otto --job clutch
lastbolt part Velmora 1140-0081
lastbolt part Velmora 1140-0018
