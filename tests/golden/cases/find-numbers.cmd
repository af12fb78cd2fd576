# part numbers as somebody reads them off a part
lastbolt --quiet import "$SAMPLE" >/dev/null
# as written, with other separators, in two words with the brand
lastbolt find pw88959
lastbolt find 1140.0150 --limit 3
lastbolt find velmora 1140 0150 --limit 3
# a letter O for a nought
lastbolt find HV-52O56
# its beginning, a piece of it, with one character wrong
lastbolt find 1140-01 --limit 3
lastbolt find 88959
lastbolt find 1140-0159 --limit 3 --why
# superseded: what it became, and the living part behind it
lastbolt find 1140-0081
lastbolt find 1140-0081 --limit 2 --json
# none like it
lastbolt find 9999-9999
