# what fits one vehicle, what may, and with --all what does not
lastbolt --quiet import "$SAMPLE" >/dev/null
lastbolt vehicle add maggie --make Velmora --model Tern --built 2004 --vin 0VLTH20M74B021877 --with engine=tq20 --with gearbox=manual --with ac=yes >/dev/null
lastbolt vehicle add hector --make Brannoch --model Pike --built 1999-05 --vin 0BRPD25M0XH004519 --with engine=bw25 --with gearbox=manual --with drive=4wd --with ac=no >/dev/null
lastbolt find brake pads frnt --vehicle hector --limit 2
lastbolt find front pads --vehicle maggie --limit 2
# it depends on a fact that is not stated, until it is
lastbolt find radiator hose lower --vehicle maggie --limit 4
lastbolt vehicle set maggie built=2004-05 >/dev/null
lastbolt find radiator hose lower --vehicle maggie --limit 4
lastbolt find radiator hose lower --vehicle maggie --limit 5 --all
lastbolt find 1141-0330 --vehicle maggie --limit 2 --why
# a fluid fits what takes it
lastbolt find SM-C2 --vehicle maggie --limit 1
# no list knows a vehicle of the first; the second is for the other make alone
lastbolt find B11-014 --vehicle maggie --limit 3
lastbolt find B11-014 --vehicle maggie --limit 3 --all
lastbolt find B11-014 --vehicle maggie --limit 1 --json
lastbolt find zzyzx --vehicle maggie
lastbolt find hose --vehicle nobody
lastbolt find hose --all --limit 1
