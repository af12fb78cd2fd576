lastbolt import shed >/dev/null
lastbolt vehicle add maggie --make Orrin --model Wren --built 2001 >/dev/null
lastbolt kit build saturday --vehicle maggie --job pump >/dev/null
lastbolt rules
# a piece that no catalogue knows, by what people call the component
lastbolt missed saturday 'Push  Pins' --on 'drive belt' --quantity 2
# the seal that was there already wants one more; so does the coolant
lastbolt missed saturday o-ring --on water-pump --spec '34.52 x 3.53'
lastbolt missed saturday distilled-water --on undertray --quantity '500 ml'
lastbolt missed saturday distilled-water --on undertray --quantity '0.25 L'
lastbolt missed saturday cable-tie --on pump-flange --quantity 3 --spec '=4.8 "black"'
lastbolt --json missed saturday cable-tie --on pump-flange --spec '=4.8 "black"'
lastbolt kit show saturday | sed -n '/Seals/,/^While/p'
lastbolt --json kit show saturday | grep -B12 -A20 'missed_before": true' | grep -e part_type -e file -e '"line"' -e reason -e missed
lastbolt kit why saturday 4
lastbolt kit why saturday 6
lastbolt rules | tr -d '\r'
lastbolt --json rules | head -12
lastbolt missed saturday cable-tie --on pump-flange --spec '=4.8 "black"'
# what comes as a file counts once, beside what is the owner's own
lastbolt rules > rules.csv
lastbolt import rules.csv | head -1
lastbolt kit why saturday 6 | grep missed
lastbolt rules drop 3
lastbolt kit why saturday 6 | grep missed
lastbolt sources drop rules.csv
lastbolt kit why saturday 6 | grep -c missed
lastbolt sources drop 'your own rules'
lastbolt --json rules drop 1 | head -4
lastbolt rules drop 3
lastbolt rules drop three
# what makes no sense is not kept
lastbolt missed sunday o-ring --on water-pump
lastbolt missed saturday o-ring --on watter-pump
lastbolt missed saturday o-ring --on coolant
lastbolt missed saturday o-ring
lastbolt missed saturday '?' --on belt
lastbolt missed saturday o-ring --on belt --quantity 0
lastbolt missed saturday o-ring --on belt --quantity -2
lastbolt missed saturday o-ring --on belt --quantity some
lastbolt missed saturday o-ring --on belt --quantity ''
lastbolt missed saturday o-ring --on belt --quantity 2000000
lastbolt missed saturday o-ring --on belt --spec "$(printf 'x%.0s' {1..300})"
lastbolt missed saturday o-ring --on belt --quantity '2 bags' --spec 'as before'
lastbolt rules | tr -d '\r'
