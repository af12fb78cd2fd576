lastbolt import belts >/dev/null
lastbolt vehicle add wren --make Orrin --model Wren --built 2004 >/dev/null
lastbolt kit build pump --vehicle wren --job pump >/dev/null
lastbolt kit build alternator --vehicle wren --job alternator >/dev/null
# a belt that cannot run does not stop the others
lastbolt draw pump belt
lastbolt --json draw pump belt | cut -c1-60
lastbolt sheet pump | grep -E "drawn|DRAWN" | grep -v "<desc>"
# nor is there nothing when it is the only one
lastbolt draw alternator belt
# and the map's author is told, also of the belt that no run is long enough for
lastbolt map check b1
