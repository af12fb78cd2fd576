# one list for two vehicles, with the sample catalogue
lastbolt --quiet import "$SAMPLE" >/dev/null
lastbolt --quiet vehicle add maggie --make Velmora --model Tern --built 2004-05 --vin 0VLTH20M74B021877 --with engine=tq20 --with gearbox=manual --with ac=yes >/dev/null
lastbolt --quiet vehicle add hector --make Brannoch --model Pike --built 1999-05 --vin 0BRPD25M0XH004519 --with engine=bw25 --with gearbox=manual --with drive=4wd --with ac=no >/dev/null
lastbolt kit build spring --vehicle maggie --job cooling-system --vehicle hector --job cooling-system --job front-brakes
lastbolt kit check spring
lastbolt kit list
lastbolt --json kit list
lastbolt kit show spring/hector | head -3
# line 60 and hector's line 9 are one
lastbolt kit why spring 60 | head -2
lastbolt kit why spring/hector 8 | head -1
lastbolt --json kit why spring 60 | head -8
lastbolt kit set spring 73 reuse >/dev/null
lastbolt kit set spring/hector 22 drop | head -1
lastbolt kit set spring 82 have | tail -8
lastbolt kit set spring 94 have
lastbolt kit check spring
lastbolt --json kit show spring | grep -A 32 '"part_type": "distilled-water"' | tail -33
lastbolt buy spring --cheapest-only | head -3
lastbolt buy spring/hector spring/maggie --cheapest-only | head -3
# a name is a kit's or a fleet's
lastbolt kit build spring/maggie --vehicle maggie --job clutch
lastbolt kit build other/hector --vehicle hector --job clutch >/dev/null
lastbolt kit build other --vehicle maggie --job clutch --vehicle hector --job clutch
# each with its jobs; joined when named twice; nothing is kept of what cannot be worked out
lastbolt kit build autumn --vehicle maggie --vehicle hector --job clutch
lastbolt kit build autumn --vehicle maggie --job clutch --vehicle hectr --job clutch
lastbolt kit build autumn --vehicle maggie --job clutch --vehicle hector --job cluch
lastbolt kit show autumn
lastbolt kit build autumn --vehicle maggie --job clutch --vehicle hector --job clutch --vehicle Maggie --replace thermostat >/dev/null
lastbolt kit list
# one vehicle again, with what was decided for it; and back
lastbolt kit build spring --vehicle hector --job cooling-system --job front-brakes >/dev/null
lastbolt kit list
lastbolt kit check spring
lastbolt kit build Spring --vehicle hector --job cooling-system --job front-brakes --vehicle maggie --job cooling-system >/dev/null
lastbolt kit check spring
# orders hang on a kit, so it cannot go away
lastbolt kit set spring 18 drop >/dev/null
lastbolt kit set spring 21 drop >/dev/null
lastbolt kit check spring
lastbolt buy spring --cheapest-only | head -2
lastbolt buy spring/maggie spring/hector --cheapest-only | head -2
lastbolt order spring --out lists | grep -c csv
lastbolt kit build spring --vehicle hector --job cooling-system --job front-brakes
lastbolt kit build spring --vehicle maggie --job cooling-system
lastbolt kit build spring --vehicle hector --job clutch --vehicle maggie --job cooling-system >/dev/null
lastbolt kit build spring --vehicle hector --job cooling-system --job front-brakes --vehicle maggie --job cooling-system >/dev/null
# what comes: for lines of both, all or none
lastbolt receive spring 1 1 42 1 93 1
lastbolt receive spring 1 1 42 1 8 2
lastbolt receive spring 42 1 1 1 | head -4
lastbolt --json receive spring 3 1 44 1 | grep -v -e here -e on_way -e to_ | head -40
lastbolt receive spring --from "bolt barn" | head -2
lastbolt receive spring --from nobody
lastbolt deposits
lastbolt deposits claim spring
lastbolt deposits claim spring
# a lock is that of one kit; a name is one line
lastbolt kit lock spring/hector --out hector.lock | head -1
lastbolt kit check spring --against hector.lock
lastbolt kit build $'two\nlines' --vehicle maggie --job clutch
lastbolt kit build "$(printf 'x%.0s' {1..201})" --vehicle maggie --job clutch
lastbolt vehicle add $'tab\there' --make Velmora --model Tern
# what has changed since a member was locked, for programs
lastbolt --json kit check spring | grep -A5 -E '^  "checks"'
lastbolt --json kit check spring | grep -c '"to_buy_again"'
