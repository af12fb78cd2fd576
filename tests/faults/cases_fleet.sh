# shellcheck shell=bash
# shellcheck disable=SC2154 # program and status are set by run.sh and lib.sh
# Kits of several vehicles: names that clash, vehicles that are not there, many of them; and readers that leave.

park() {
    for vehicle in "$@"; do
        expect 0 vehicle add "$vehicle" --make Orlop --model Finch --built 2003 --with engine=f20
    done
}

case_fleet_unknown_vehicle_in_the_middle() {
    park gull
    remember
    expect 3 kit build k --vehicle finch --job cooling --vehicle gul --job cooling --vehicle gull --job cooling
    says "there is no vehicle \"gul\"" "Did you mean \"gull\"?"
    not_stored k
    expect 3 kit build base --vehicle finch --job cooling --vehicle gull --job coling
    says "base/gull: " "has no job \"coling\"" "Did you mean \"cooling\"?"
    unchanged
}

case_fleet_same_vehicle_twice() {
    park gull
    expect 0 --json kit build k --vehicle finch --job cooling --vehicle gull --job cooling --vehicle Finch --replace fan-shroud
    holds "SELECT json_array_length(out, '\$.vehicles') FROM j" 2
    holds "SELECT json_extract(out, '\$.vehicles[0].jobs') FROM j" '["cooling","fan-shroud"]'
    expect 0 --json kit build once --vehicle finch --job cooling --vehicle finch --job temperature
    holds "SELECT json_extract(out, '\$.vehicle') FROM j" finch
}

case_fleet_without_a_name() {
    park gull
    remember
    expect 3 kit build '' --vehicle finch --job cooling --vehicle gull --job cooling
    says "needs a name"
    unchanged
}

case_fleet_without_a_job() {
    park gull
    remember
    expect 2 kit build k --vehicle finch --vehicle gull --job cooling
    says "what is to be done to finch"
    expect 2 kit build k --vehicle finch --job cooling --vehicle gull
    says "what is to be done to gull"
    expect 2 kit build k --job cooling --vehicle finch --vehicle gull
    says "say for which vehicle before"
    unchanged
}

case_fleet_names_clash() {
    park gull
    expect 0 kit build k --vehicle finch --job cooling --vehicle gull --job cooling
    expect 0 kit build m/gull --vehicle gull --job cooling
    remember
    expect 3 kit build k/gull --vehicle gull --job cooling
    says "k/gull is the kit for gull in k"
    expect 3 kit build K/GULL --vehicle finch --job cooling --vehicle gull --job cooling
    says "k/gull is the kit for gull in k"
    expect 3 kit build m --vehicle finch --job cooling --vehicle gull --job cooling
    says "the kit for gull would be called m/gull"
    unchanged
}

# A name is a kit's or a fleet's, and building it again changes which; what was decided stays.
case_fleet_and_kit_in_turns() {
    park gull
    expect 0 --json kit show base
    line=$(line_of pump-gasket)
    expect 0 kit set base "$line" have
    expect 0 kit build base --vehicle gull --job cooling --vehicle finch --job cooling
    expect 0 --json kit show base/finch
    holds "SELECT json_extract(value, '\$.decision') FROM j, json_each(j.out, '\$.lines') WHERE json_extract(value, '\$.part_type') = 'pump-gasket'" have
    expect 3 kit show base/fnch
    says "Did you mean \"base/finch\"?"
    expect 0 kit build base --vehicle finch --job cooling
    expect 3 kit show base/finch
    expect 0 --json kit show base
    holds "SELECT json_extract(value, '\$.decision') FROM j, json_each(j.out, '\$.lines') WHERE json_extract(value, '\$.part_type') = 'pump-gasket'" have
}

# A map that is taken away later: it is said whose kit cannot be worked out.
case_fleet_map_taken_away() {
    park gull
    expect 0 kit build k --vehicle finch --job cooling --vehicle gull --job cooling
    expect 0 sources drop components.csv
    expect 0 sources drop platforms.csv
    expect 3 kit check k
    says "k/finch: no service map covers finch"
    expect 3 buy k
    expect 0 kit list
    says "finch, gull"
}

case_fleet_lines_that_are_not_there() {
    park gull
    expect 0 kit build k --vehicle finch --job cooling --vehicle gull --job cooling
    remember
    expect 3 kit why k 0
    expect 3 kit why k 999
    says "over all its vehicles"
    expect 3 kit set k 99999999999999 have
    expect 2 kit set k first have
    expect 3 receive k 999 1
    expect 3 receive k 1 1 2 1
    says "Nothing was recorded"
    expect 3 receive k --from quayside
    expect 3 deposits claim k
    unchanged
}

case_fleet_of_thirty() {
    words=()
    for number in $(seq 30); do
        park "van$number"
        words+=(--vehicle "van$number" --job cooling)
    done
    expect 0 --json kit build yard "${words[@]}"
    holds "SELECT json_array_length(out, '\$.vehicles') FROM j" 30
    holds "SELECT json_extract(value, '\$.quantity') FROM j, json_each(j.out, '\$.needs') WHERE json_extract(value, '\$.part_type') = 'flange-bolt'" 120
    expect 0 kit check yard
    says "yard: complete"
    expect 0 --json buy yard --cheapest-only
}

# `| head -1`: whoever leaves early has what he wanted; the program ends as filters do, without a word.
case_fleet_reader_leaves() {
    park gull
    expect 0 kit build k --vehicle finch --job cooling --vehicle gull --job cooling
    for words in "kit show k" "kit show base" "vehicle list" "--json kit show k" "buy k"; do
        # shellcheck disable=SC2086 # a list of words
        { "$program" --db "$index" $words 2>err; echo "$?" >ended; } | true
        case $(cat ended) in
            0 | 141) ;;
            *) miss "$words to end as filters do when its reader left" "status $(cat ended): $(cat err)" ;;
        esac
        [ ! -s err ] || miss "$words to end quietly when its reader left" "$(cat err)"
    done
    # what was to be done is done all the same
    { sleep 0.3; "$program" --db "$index" kit set base 1 have 2>err; echo "$?" >ended; } | true
    [ "$(cat ended)" = 141 ] || miss "kit set to end by SIGPIPE" "status $(cat ended): $(cat err)"
    [ ! -s err ] || miss "kit set to end quietly" "$(cat err)"
    expect 0 --json kit show base
    holds "SELECT json_extract(out, '\$.lines[0].decision') FROM j" have
}
