# Writes the lexicon as the C string that importers/lexicon.c reads.
file(READ ${FILE} text)
string(REPLACE "\\" "\\\\" text "${text}")
string(REPLACE "\"" "\\\"" text "${text}")
string(REPLACE "\n" "\\n\"\n    \"" text "${text}")
file(WRITE ${OUT} "#include \"importers/lexicon.h\"\n\nconst char lb_lexicon_text[] =\n    \"${text}\";\n")
