# rules of a platform that no service map has are kept, and said once a platform, where it comes first
printf 'platform,component,part_type,quantity,unit,missed\nwren-1,water-pump,o-ring,1,each,2026-05-01\nlark-9,belt,clip,2,each,2026-05-02\nlark-9,belt,o-ring,1,each,2026-05-02\nrook-2,belt,clip,1,each,2026-05-03\n' > rules.csv
printf 'platform,component,part_type,quantity,unit,missed\nlark-9,belt,strap,2,each,2026-05-02\nteal-4,belt,strap,2,each,2026-05-02\n' > more.csv
lastbolt import rules.csv more.csv
# the map may come in the same call, behind its rules
lastbolt --db other.db import rules.csv shed | tail -1
lastbolt --db third.db import rules.csv --dry-run --quiet | tail -1
# once it is there nothing is said of it, and what is still missing is said again
lastbolt --quiet import shed >/dev/null
lastbolt import rules.csv
lastbolt sources drop platforms.csv >/dev/null
lastbolt --json import rules.csv >/dev/null
