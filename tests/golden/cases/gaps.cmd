lastbolt import shed >/dev/null
lastbolt vehicle add maggie --make Orrin --model Wren --built 2001 >/dev/null
lastbolt vehicle add spare --make Orrin --model Lark >/dev/null
lastbolt kit build flange --vehicle maggie --job flange
lastbolt kit check flange
lastbolt --json kit check flange >/dev/null
lastbolt kit build pump --vehicle spare --job pump
lastbolt kit set flange 1 drop >/dev/null
lastbolt kit check flange
lastbolt kit show flange >/dev/null
