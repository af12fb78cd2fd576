lastbolt import shed >/dev/null
lastbolt vehicle add maggie --make Orrin --model Wren --built 2001 >/dev/null
lastbolt kit build pump --vehicle maggie --job pump >/dev/null
lastbolt sheet
lastbolt sheet pmp
lastbolt sheet pump extra
lastbolt sheet pump | sed '/<style>/,/<\/style>/d' | sed -n 1,60p
lastbolt sheet pump | grep -c 'type="checkbox"'
lastbolt --json sheet pump | sed -n 1,3p
# the whole page again, as one value
[ "$(lastbolt --json sheet pump | "${LB_PYTHON:-python3}" -c 'import json, sys; sys.stdout.write(json.load(sys.stdin)["page"])' | cksum)" = "$(lastbolt sheet pump | cksum)" ]
