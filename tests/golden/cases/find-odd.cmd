# whatever is typed: an answer or a reason, and no harm
lastbolt find hose
lastbolt --quiet import "$SAMPLE" >/dev/null
# nothing found: what is near
lastbolt find zzyzx
lastbolt find mainatnance
lastbolt find zzyzx --json
# signs that mean something to full-text searches, databases or shells
lastbolt find '"rad* hose' --limit 2
lastbolt find 'NEAR(' --limit 2
lastbolt find 'hose AND NOT thermostat' --limit 2
lastbolt find "o'ring'; DROP TABLE parts; --" --limit 2
lastbolt find '%' ; lastbolt find '_*'
lastbolt find '🔧'
lastbolt find '🔧 hose 🔧' --limit 2
lastbolt find 'HOSE' 'RÅDIATOR' --limit 2
lastbolt find ''
lastbolt find --limit 2 -- --hose
lastbolt find "$(printf 'h\377se')"
# very long: one word, many words
lastbolt find "$(head -c 3000 /dev/zero | tr '\0' a)"
lastbolt find $(seq 1 40 | sed 's/.*/hose/') --limit 2
lastbolt find $(seq 1 40 | sed 's/.*/hose/') --limit 2 --json | grep -c .
# nothing of it changed the index
lastbolt verify | grep -o 'sound'
