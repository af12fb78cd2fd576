# shellcheck shell=bash
# shellcheck disable=SC2034,SC2154 # index is read by lb; program is set by run.sh
# Odd command lines: a sane status and a hint, whatever the words.

case_words_none() {
    "$program" >out 2>err </dev/null
    status=$?
    [ "$status" = 2 ] || miss "status 2 without words" "$status"
    says "lastbolt --help"
}

case_words_unknown_verb() {
    remember
    expect 2 improt map
    says "no verb \"improt\"" "import" "--help"
    expect 2 kit biuld k
    says "Did you mean" "build"
    expect 2 kit
    expect 2 vehicle
    expect 2 ''
    expect 2 sources list now
    unchanged
}

case_words_unknown_option() {
    expect 2 kit build k --vehicel finch --job cooling
    says "--vehicel" "Did you mean \"--vehicle\"?"
    expect 2 import map --frob
    says "lastbolt import --help"
    expect 2 import map --dry-run=yes
    says "takes no value"
    expect 2 --frob sources
}

case_words_missing_value() {
    expect 2 import map --supplier
    says "--supplier needs a value"
    expect 2 kit build k --vehicle finch --job
    expect 2 kit build k --vehicle finch
    says "--job"
    expect 2 kit build k --job cooling
    says "--vehicle"
    expect 2 kit build --vehicle finch --job cooling
    expect 2 part Orlop
    expect 2 vehicle add x --make
    expect 2 vehicle set finch
    "$program" --db >out 2>err </dev/null
    status=$?
    [ "$status" = 2 ] || miss "status 2 from a lone --db" "$status"
}

case_words_no_index_named() {
    index=
    expect 2 sources
    expect 2 import map
}

case_words_facts_that_are_none() {
    remember
    expect 2 vehicle set finch engine
    says "KEY=VALUE"
    expect 2 vehicle set finch =f20
    expect 2 vehicle set finch built=2004-13
    expect 2 vehicle set finch built=yesterday
    expect 2 vehicle add late --make Orlop --model Finch --built 2004-02-31
    expect 3 vehicle add finch --make Orlop --model Finch
    unchanged
}

# What an option cannot be, by `|`: the option, what is said of each wrong value, the values ("~" for none at all), the
# words before the option.
write_wrong_values() {
    cat <<'TABLE'
--limit|whole number from 1 to 1000|~|0|-1|1001|1000000000000|1.5|ten|find pump
--suppliers-at-most|whole number from 1 to 1000|~|0|-1|1001|99999999999999999999|1.5|few|buy base
--seconds|number above 0|~|0|-1|soon|1e3|buy base
--arrive-by|YYYY-MM-DD|~|soon|2027-1|12.05.2027|2027-05-01 |buy base
--arrive-by|does not exist|2027-13|2027-02-30|0000|buy base
--arrive-by|is past|2001|2026-11-24|buy base
--within|whole number|~|-1|1.5|soon|99999999999999999999|due finch
--within|at the most|36501|1000000000000|due finch
--at|distance in km|~|far|-1|1000000000000|9 kg|log finch
--on|YYYY-MM-DD|~|yesterday|2026-1|log finch --at 5
--on|does not exist|2026-13|2026-02-29|log finch --at 5
--on|still to come|2026-11-26|2100|log finch --at 5
--ordered|YYYY-MM-DD|~|yesterday|2026-1|receive base --from quayside
--ordered|does not exist|2026-13|receive base --from quayside
--quantity|above 0 and up to 1000000|~| |0|-2|0.0000001|1000001|1000000000000|some|1e3|missed base o-ring --on water-pump
--quantity|too long|LONG|missed base o-ring --on water-pump
--spec|too long|LONG|missed base o-ring --on water-pump
--on|COMPONENT|~|missed base o-ring
--built|YYYY, YYYY-MM or YYYY-MM-DD|2004-13|2004-02-31|yesterday|0000|vehicle add late --make Orlop --model Finch
--vin|17 characters|12345|vehicle add late --make Orlop --model Finch
--make|cannot be empty|~|vehicle add late --model Finch
--model|cannot be empty|~|vehicle add late --make Orlop
--with|YYYY, YYYY-MM or YYYY-MM-DD|built=2004-13|vehicle add late --make Orlop --model Finch
--with|no name for a fact|3=4| =4|vehicle add late --make Orlop --model Finch
--as|name|~|import map
--out|FILE|~|kit lock base
--against|FILE|~|kit check base
--out|DIR|~|order base
TABLE
}

case_words_wrong_values() {
    local fields words option said value i count=0 long
    long=$(head -c 300 /dev/zero | tr '\0' x)
    remember
    while IFS= read -r line; do
        IFS='|' read -ra fields <<<"$line"
        option=${fields[0]} said=${fields[1]}
        read -ra words <<<"${fields[-1]}"
        for ((i = 2; i < ${#fields[@]} - 1; i++)); do
            value=${fields[i]}
            [ "$value" = '~' ] && value=
            [ "$value" = LONG ] && value=$long
            expect 2 "${words[@]}" "$option" "$value"
            says "$option" "$said"
            expect 2 --json "${words[@]}" "$option=$value"
            [ ! -s out ] || miss "nothing on standard output after $(brief "${words[@]}" "$option=$value")" "$(cat out)"
            count=$((count + 1))
        done
    done < <(write_wrong_values)
    [ "$count" -gt 75 ] || miss "more than 75 wrong values" "$count"
    unchanged
    # no index is made for a command line that is wrong
    index=none.db
    expect 2 vehicle add late --make Orlop --model Finch --built 2004-13
    expect 2 missed base o-ring --on water-pump --quantity 0
    [ ! -e none.db ] || miss "no index" "one was made"
}

# What is just right is not refused.
case_words_right_values() {
    expect 0 find pump --limit 1000
    expect 0 buy base --suppliers-at-most 1000 --seconds 0.5 --arrive-by 2026-11-25 --cheapest-only
    expect 0 due finch --within 36500
    expect 0 due finch --within 0
    expect 0 log finch --at 0 --on 2026-11-25
    expect 0 log finch --at '5 mi' --on 2026
    expect 0 missed base o-ring --on water-pump --quantity 0.000001
    expect 0 missed base o-ring --on water-pump --quantity ' 1000000 '
    expect 0 vehicle add late --make Orlop --model Finch --built 2004-02-29 --with x=
}

case_words_wrong_quantities() {
    local value
    remember
    for value in '' many -1 1e3 '2 kg' 99999999999999999999; do
        expect 2 shelf set Orlop 100-01 -- "$value"
        says "the quantity of Orlop 100-01"
        expect 2 receive base 1 -- "$value"
        says "the quantity of line 1"
    done
    for value in '' many -1 1001 '3 kg'; do
        expect 2 prefer oil-seal -- "$value"
        says "from 0 to 1000"
    done
    unchanged
}

case_words_too_large() {
    local big words=() i
    big=$(head -c 120000 /dev/zero | tr '\0' x)
    for i in 1 2 3 4 5 6 7 8 9; do
        words+=("k$i=$big")
    done
    expect 3 kit show "$big"
    expect 3 part "$big" "$big"
    expect 3 kit build k --vehicle finch --job "$big"
    expect 3 kit build k --vehicle finch --replace "$big"
    expect 2 "$big"
    expect 2 import map "--$big"
    expect 2 kit set base "$big" buy
    expect 2 kit set base 1 "$big"
    lb import "$big"
    [ "$status" = 3 ] || [ "$status" = 4 ] || miss "status 3 or 4 for a path too long" "$status"
    expect 0 vehicle set finch "${words[@]}" # a megabyte of facts
    expect 0 kit check base
    sound
}

ODD_WORDS=('' ' ' $'\377\376' $'a\300\257b' $'tab\there' $'line\nbreak' $'\033[31mred' $'\001\002' $'\302\205'
    '%s%n%s' '../../x' "'; DROP TABLE kit; --" '-' '=' '🔩')

# Every verb with every odd word in the place of a name: the status is one of ours, and JSON that is printed is JSON.
# Under the sanitizers each word goes to every third place only, the next word to the places beside them.
turn=0 places=$(fewer 1 3)
judge_word() {
    local shown=
    turn=$((turn + 1))
    [ $((turn % places)) = 0 ] || return 0
    lb --json "$@"
    [ "$status" -le 4 ] || miss "a sane status from $(brief "$@")" "$status"
    [ "$status" = 0 ] || [ -s err ] || miss "an explanation of status $status from $(brief "$@")" nothing
    if [ "$status" = 0 ] && [ -s out ]; then
        holds "SELECT json_valid(out) FROM j" 1
    fi
    add_whole err
    case $shown in
        *$'\033'*) miss "no control characters on the terminal after $(brief "$@")" "$(cat err)" ;;
        *'out of memory'*) miss "another reason than memory for $(brief "$@")" "$(cat err)" ;;
    esac
}

case_words_odd_when_reading() {
    local word
    remember
    for word in "${ODD_WORDS[@]}"; do
        judge_word kit show "$word"
        judge_word kit why base "$word"
        judge_word part Orlop "$word"
        judge_word part "$word" "$word"
        judge_word vehicle show "$word"
        judge_word "$word"
        judge_word kit "$word"
        judge_word sources "--$word"
    done
    unchanged
}

case_words_odd_when_writing() {
    local word
    for word in "${ODD_WORDS[@]}"; do
        judge_word kit build "$word" --vehicle finch --job cooling
        judge_word kit build k --vehicle "$word" --job "$word"
        judge_word kit build k --vehicle finch --replace "$word"
        judge_word kit set base 1 buy "$word" "$word"
        judge_word kit set base 1 "$word"
        judge_word vehicle add "$word" --make "m$word" --model "m$word" --with "$word=$word"
        judge_word vehicle set finch "x$word=y$word"
        judge_word sources drop "$word"
        judge_word import "$word" --dry-run
        turn=$((turn + 1)) # nine places: else it were the same three for every word
    done
    for word in "kit list" "vehicle list" sources "kit show base" "vehicle show finch"; do
        # shellcheck disable=SC2086 # a list of words
        expect 0 --json $word
        holds "SELECT json_valid(out) FROM j" 1
    done
    sound
}
