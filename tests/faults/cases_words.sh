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
    expect 3 vehicle set finch built=2004-13
    expect 3 vehicle set finch built=yesterday
    expect 3 vehicle add late --make Orlop --model Finch --built 2004-02-31
    expect 3 vehicle add finch --make Orlop --model Finch
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
