# by the lexicon alone, and the first rows
lastbolt import --dry-run lists/osterby.csv --supplier osterby
lastbolt import --dry-run lists/doubtful.csv --supplier nordlager
lastbolt import --dry-run lists/pack-unsure.csv --supplier nordlager
# what was understood, kept, and used
lastbolt import lists/osterby.csv --supplier osterby --save-profile osterby.csv
cat osterby.csv
lastbolt import lists/osterby.csv --supplier osterby --save-profile osterby.csv
lastbolt import lists/osterby.csv --profile osterby.csv
lastbolt import lists/osterby.csv --profile osterby.csv --supplier harbour
lastbolt import lists/osterby.csv shed/parts.csv --supplier osterby --save-profile both.csv
# by a profile
cp -R $SAMPLE/../importers/profiles .
cat profiles/nordlager.csv
lastbolt import --dry-run lists/nordlager.csv --profile profiles/nordlager.csv
cat index.rejects.csv
lastbolt import --dry-run lists/westquay.csv --profile profiles/westquay.csv
lastbolt import --dry-run lists/hamabe.csv --profile profiles/hamabe.csv
lastbolt import --dry-run --json lists/westquay.csv --profile profiles/westquay.csv
# a heading that is not there: one that must be, one that need not
sed -e 's/Nettopreis/Preis/' lists/nordlager.csv > renamed.csv
lastbolt import renamed.csv --profile profiles/nordlager.csv
sed -e 's/Bestand/Lager/' lists/nordlager.csv > renamed.csv
lastbolt import --dry-run renamed.csv --profile profiles/nordlager.csv 2>&1 | tail -2
# profiles that are none
lastbolt import lists/nordlager.csv --profile lists/bad-profile.csv
lastbolt import lists/nordlager.csv --profile lists/worse-profile.csv
lastbolt import lists/nordlager.csv --profile shed/parts.csv
lastbolt import lists/nordlager.csv --profile no-such-file.csv
# our own column names
lastbolt import --dry-run shed/offers.csv
