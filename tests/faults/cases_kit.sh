# shellcheck shell=bash
# shellcheck disable=SC2154 # program is set by run.sh
# Kits that cannot be worked out, or not wholly: who is named, and what is stored.

take() {
    cat >"$1"
    expect 0 import "$1"
}

# Nothing of a kit that was refused is kept.
not_stored() {
    expect 3 kit show "$1"
    says "there is no kit \"$1\""
}

case_kit_two_maps_undecided() {
    take platforms.csv <<'CSV'
platform,make,model,built_from,built_to,when
orlop-g1,Orlop,Gannet,2000,2004-06,
orlop-g2,Orlop,Gannet,2004-07,2009,
CSV
    expect 0 vehicle add gull --make Orlop --model Gannet --built 2004
    expect 3 kit build k --vehicle gull --replace water-pump
    says "orlop-g1" "orlop-g2" "platforms.csv:2" "platforms.csv:3" "What decides: built" "vehicle set gull"
    not_stored k
}

case_kit_two_maps_overlap() {
    take platforms.csv <<'CSV'
platform,make,model
orlop-g1,Orlop,Gannet
orlop-g2,Orlop,Gannet
CSV
    expect 0 vehicle add gull --make Orlop --model Gannet --built 2004
    expect 3 kit build k --vehicle gull --replace water-pump
    says "orlop-g1" "orlop-g2" "platforms.csv:2" "platforms.csv:3" "must not overlap"
    not_stored k
}

case_kit_no_platform() {
    expect 0 vehicle add lorry --make Orlop --model Heron --built 2004
    expect 3 kit build k --vehicle lorry --job cooling
    says "no service map covers lorry (Orlop Heron, built 2004)" "vehicle set lorry"
    not_stored k
}

case_kit_unknown_job() {
    remember
    expect 3 kit build k --vehicle finch --job coling
    says "has no job \"coling\"" "Did you mean \"cooling\"?"
    not_stored k
    expect 3 kit build base --vehicle finch --job coling
    unchanged
}

case_kit_unknown_component() {
    expect 3 kit build k --vehicle finch --replace water-pmup
    says "has no component \"water-pmup\"" "Did you mean \"water-pump\"?"
    not_stored k
}

case_kit_unknown_vehicle() {
    expect 3 kit build k --vehicle fich --job cooling
    says "there is no vehicle \"fich\"" "Did you mean \"finch\"?"
    not_stored k
}

case_kit_unknown_kit() {
    expect 3 kit show bass
    says "there is no kit \"bass\"" "Did you mean \"base\"?"
    expect 3 kit check bass
    expect 3 kit set bass 1 have
    expect 3 kit why bass 1
}

case_kit_loop_in_access() {
    remember
    take access.csv <<'CSV'
platform,component,needs,state
orlop-f1,fan-shroud,thermostat,removed
orlop-f1,thermostat,water-pump,removed
CSV
    mv remembered before
    expect 3 kit build k --vehicle finch --job cooling
    says "water-pump" "drive-belt" "fan-shroud" "thermostat" "(access.csv:2)" "(access.csv:3)" "/access.csv:2)" "/access.csv:3)"
    not_stored k
    expect 0 sources drop "$(loop_source)"
    mv before remembered
    unchanged
}

# The second access.csv, under the name that `sources` gives it.
loop_source() {
    "$program" --db i.db --json sources >out
    ask "SELECT json_extract(value, '\$.source') FROM j, json_each(j.out, '\$.sources') WHERE json_extract(value, '\$.source') LIKE '%/access.csv'"
}

case_kit_loop_of_one() {
    take rows-access.csv <<'CSV'
platform,component,needs,state
orlop-f1,water-pump,water-pump,removed
CSV
    expect 3 kit build k --vehicle finch --job cooling
    says "water-pump" "rows-access.csv:2"
    not_stored k
}

case_kit_loop_in_supersessions() {
    take supersessions.csv <<'CSV'
brand,part_number,new_brand,new_number
Orlop,100-01,Orlop,200-01
Orlop,200-01,Orlop,300-01
Orlop,300-01,Orlop,100-01
CSV
    for words in "kit show base" "kit check base" "part Orlop 100-01"; do
        # shellcheck disable=SC2086 # a list of words
        expect 3 $words
        says "100-01" "200-01" "300-01" "supersessions.csv:2" "supersessions.csv:3" "supersessions.csv:4"
    done
}

case_kit_contradicting_sequence() {
    take sequence.csv <<'CSV'
platform,first,then
orlop-f1,remove water-pump,remove fan-shroud
orlop-f1,fit thermostat,fit water-pump
orlop-f1,drain coolant,remove drive-belt
CSV
    expect 3 kit build k --vehicle finch --job cooling
    says "contradicts itself" "sequence.csv:2" "access.csv:2" "access.csv:3"
    says_not "sequence.csv:3"
    says_not "sequence.csv:4"
    not_stored k
}

case_kit_contradiction_of_two_rows() {
    take sequence.csv <<'CSV'
platform,first,then
orlop-f1,fit fan-shroud,fill coolant
orlop-f1,fill coolant,fit fan-shroud
CSV
    expect 3 kit build k --vehicle finch --job cooling
    says "sequence.csv:2" "sequence.csv:3"
    says_not "access.csv"
    not_stored k
}

case_kit_joint_that_differs() {
    take joint-fastenings.csv <<'CSV'
platform,component,item,kind,part_type,quantity,reuse,spec,joint
orlop-f1,water-pump,upper bolt,bolt,flange-bolt,2,never,M6x1.0x25 8.8,j1
orlop-f1,drive-belt,same bolt,bolt,flange-bolt,2,never,M8x1.25x25 8.8,j1
CSV
    expect 3 kit build k --vehicle finch --job cooling
    says "upper bolt of water-pump (joint-fastenings.csv:2)" "same bolt of drive-belt (joint-fastenings.csv:3)" "one joint"
    not_stored k
}

case_kit_questions() {
    expect 0 vehicle add doubt --make Orlop --model Finch --built 2004 --with engine=f20
    expect 0 vehicle add blank --make Orlop --model Finch
    expect 0 --json kit build k --vehicle blank --job temperature
    holds "SELECT json_extract(out, '\$.ask_first') FROM j" '["built","engine"]'
    holds "SELECT count(*) > 1 FROM j, json_each(j.out, '\$.questions')" 1
    expect 1 kit check k
    says "ask" "depends on: built"
    expect 0 vehicle set blank built=2003 engine=f20
    expect 0 kit check k
    expect 0 --json kit build k2 --vehicle doubt --job temperature
    holds "SELECT json_array_length(out, '\$.questions') FROM j" 0
    expect 0 kit check k2
}

case_kit_job_without_rows() {
    expect 0 vehicle add big --make Orlop --model Finch --built 2003 --with engine=f30
    remember
    expect 0 kit build k --vehicle big --job temperature
    unchanged
}

case_kit_gaps_and_complete() {
    expect 0 kit check base
    says "base: complete"
    expect 0 --json kit show base
    holds "SELECT json_extract(out, '\$.verdict') FROM j" complete
    sed -i '/100-03/d' trade/offers.csv
    expect 0 import trade
    expect 1 kit check base
    says "1 gap" "no-offer" "100-03"
    expect 1 --json kit check base
    holds "SELECT json_extract(out, '\$.verdict') FROM j" gaps
    expect 0 kit show base # showing is no judging
}

# decide PART_TYPE DECISION [BRAND NUMBER]
decide() {
    expect 0 --json kit show base
    local line
    line=$(line_of "$1")
    shift
    expect 0 kit set base "$line" "$@"
}

case_kit_reuse_of_single_use() {
    decide flange-bolt reuse
    expect 1 kit check base
    says "reused-single-use"
    decide flange-bolt buy
    expect 0 kit check base
}

case_kit_reuse_of_sealing() {
    decide pump-gasket reuse
    expect 1 kit check base
    says "reused-single-use"
    decide pump-gasket drop
    expect 0 kit check base
}

case_kit_reuse_of_a_target() {
    decide water-pump reuse
    expect 0 kit check base
}

case_kit_decisions_close_gaps() {
    sed -i '/100-03/d' trade/offers.csv
    expect 0 import trade
    for decision in have drop; do
        decide pump-gasket "$decision"
        expect 0 kit check base
        decide pump-gasket buy
        expect 1 kit check base
        says "no-offer"
    done
}

case_kit_named_part() {
    remember
    expect 0 --json kit show base
    line=$(line_of water-pump)
    expect 3 kit set base "$line" buy Orlop 999-99
    says "no catalogue knows Orlop 999-99"
    expect 2 kit set base "$line" buy Orlop
    expect 2 kit set base "$line" sell
    expect 3 kit set base 999 buy
    says "its lines are 1 to"
    expect 3 kit set base 0 buy
    expect 2 kit set base two buy
    unchanged
    expect 0 kit set base "$line" buy Orlop 100-07
    expect 1 kit check base
    says "100-07"
}

case_kit_decisions_survive_rebuilding() {
    decide pump-gasket have
    expect 0 kit build base --vehicle finch --job cooling
    expect 0 --json kit show base
    holds "SELECT json_extract(value, '\$.decision') FROM j, json_each(j.out, '\$.lines') WHERE json_extract(value, '\$.part_type') = 'pump-gasket'" have
}

case_kit_map_taken_away() {
    expect 0 sources drop components.csv
    expect 0 sources drop platforms.csv
    expect 3 kit show base
    says "no service map covers finch"
    expect 0 import map
    expect 0 kit check base
}

# What the owner missed stays although its map is gone, and does nothing until it is back.
case_kit_rule_without_its_platform() {
    expect 0 missed base o-ring --on water-pump --quantity 2
    expect 1 kit check base
    says "o-ring: no catalogue has a part for it"
    expect 0 sources drop platforms.csv
    expect 3 kit check base
    says "no service map covers"
    expect 3 missed base fuse --on water-pump
    expect 0 rules
    says "1,orlop-f1,water-pump,o-ring,2,each,,2026-11-25,base"
    says_not fuse
    take other.csv <<'CSV'
platform,make,model
orlop-f2,Orlop,Finch
CSV
    take others.csv <<'CSV'
platform,component,part_type
orlop-f2,water-pump,water-pump
CSV
    take jobs-of-others.csv <<'CSV'
platform,job,component
orlop-f2,cooling,water-pump
CSV
    expect 0 kit check base
    expect 0 sources drop other.csv
    expect 0 import map
    expect 1 kit check base
    says "o-ring: no catalogue has a part for it"
    sound
}

# A file of rules is a catalogue like another: bad rows are counted, and the owner's own rules stand beside it.
case_kit_rules_file_is_bad() {
    expect 0 missed base o-ring --on water-pump
    cat >mine.csv <<'CSV'
rule,platform,component,part_type,quantity,unit,spec,missed,kit
1,orlop-f1,water-pump,o-ring,0,each,,2026-11-25,base
1,orlop-f1,water-pump,o-ring,1,,,2026-11-25,base
1,orlop-f1,water-pump,o-ring,1,each,,2026-13-25,base
1,orlop-f1,no-such-thing,o-ring,1,each,,2026-11-25,base
1,orlop-f1,water-pump,rag,3,each,,2026-11-25,"'=base"
CSV
    expect 3 import mine.csv
    says "quantity must be above 0" "unit must be stated" "month 13 does not exist"
    expect 0 rules
    says "1,orlop-f1,water-pump,o-ring,1,each,,2026-11-25,base"
    says_not rag
    expect 0 --json kit show base
    expect 0 kit why base "$(line_of rag)"
    says "missed before, in =base on 2026-11-25 (mine.csv:6)"
    sound
}
