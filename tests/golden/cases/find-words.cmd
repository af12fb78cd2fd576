# words as somebody says them, about the sample catalogue
lastbolt --quiet import "$SAMPLE" >/dev/null
# an abbreviation, a word typed wrongly, any order
lastbolt find rad hose uper --limit 4
lastbolt find "uper hose rad" --limit 2
# the last word as far as it is typed
lastbolt find thermostat hous --limit 3
# one word that catalogues write as two, other names
lastbolt find waterpump --limit 3
lastbolt find brake disks front --limit 3
# the reasons
lastbolt find rad hose uper --limit 2 --why
# a word that no title has is left out, and said to be
lastbolt find qqqqzzz thermostat --limit 2
# the owner's own words
lastbolt find wobbler --limit 2
printf 'term,means\nwobbler,water pump\n' > shop.csv
lastbolt import shop.csv >/dev/null
lastbolt find wobbler --limit 2
lastbolt find rad hose uper --limit 1 --json --why
