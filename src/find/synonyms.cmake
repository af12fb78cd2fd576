# Writes synonyms.csv as the table of find/synonyms_table.h: its phrases in order, and what each of them means. Folds
# what is plain ASCII as base/words.h does, and takes nothing else; test_synonyms.c compares the two.
cmake_minimum_required(VERSION 3.25)

function(fold side out)
  string(TOLOWER "${side}" side)
  string(REGEX REPLACE "[^a-z0-9]+" " " side "${side}")
  string(STRIP "${side}" side)
  set(${out} "${side}" PARENT_SCOPE)
endfunction()

file(STRINGS ${FILE} rows)
list(POP_FRONT rows heading)
if(NOT heading STREQUAL "term,means,note")
  message(FATAL_ERROR "${FILE}: the first row is not term,means,note")
endif()
set(phrases)
foreach(row IN LISTS rows)
  if(row MATCHES "[^ -~]|\"" OR NOT row MATCHES "^([^,]+),([^,]+),[^,]*$")
    message(FATAL_ERROR "${FILE}: not three plain cells: ${row}")
  endif()
  fold("${CMAKE_MATCH_1}" term)
  fold("${CMAKE_MATCH_2}" means)
  list(APPEND phrases "${term}" "${means}")
  list(APPEND "means_${term}" "${means}")
  list(APPEND "means_${means}" "${term}")
endforeach()
list(REMOVE_DUPLICATES phrases)
list(SORT phrases)

set(at 0)
foreach(phrase IN LISTS phrases)
  set("at_${phrase}" ${at})
  math(EXPR at "${at} + 1")
endforeach()

set(offset 0)
set(first 0)
set(text)
set(entries)
set(meanings)
foreach(phrase IN LISTS phrases)
  string(REPLACE " " ";" words "${phrase}")
  list(LENGTH words count)
  string(REPLACE " " "\\000" ended "${phrase}")
  string(APPEND text "    \"${ended}\\000\"\n")
  string(APPEND entries "    {${offset}, ${first}, ${count}},\n")
  foreach(means IN LISTS "means_${phrase}")
    string(APPEND meanings " ${at_${means}},")
    math(EXPR first "${first} + 1")
  endforeach()
  string(APPEND meanings "\n")
  string(LENGTH "${phrase}" length)
  math(EXPR offset "${offset} + ${length} + 1")
endforeach()

file(WRITE ${OUT} "#include \"find/synonyms_table.h\"

const char lb_synonym_words[] =
${text};
const struct lb_synonym_entry lb_synonym_entries[] = {
${entries}    {${offset}, ${first}, 0},
};
const size_t lb_synonym_entry_count = sizeof lb_synonym_entries / sizeof *lb_synonym_entries - 1;
const uint32_t lb_synonym_meanings[] = {
${meanings}};
")
