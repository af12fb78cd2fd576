# what is asked first: a build date tells the year, and without air conditioning the trim of the bracket does not matter
lastbolt --quiet import doubts >/dev/null
lastbolt vehicle add wren --make Orrin --model Wren >/dev/null
lastbolt kit build pump --vehicle wren --replace pump | sed -n '/^What is not known/,/^$/p'
lastbolt --json kit show pump | sed -n '/"ask_first"/,/"ask_first_exact"/p'
lastbolt vehicle set wren ac=no >/dev/null
lastbolt vehicle set wren built=2004-05 >/dev/null
lastbolt --json kit show pump | grep -c '"need": "ask"'
# loads are words and numbers here: no telling which answers there are
lastbolt kit build shield --vehicle wren --replace shield | sed -n '/^What is not known/,/^$/p'
lastbolt --json kit show shield | sed -n '/"ask_first"/,/"ask_first_exact"/p'
