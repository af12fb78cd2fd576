# shellcheck shell=bash
# shellcheck disable=SC2034,SC2154 # as is read by lb; program is set by run.sh
# Importing what is not as it should be: where it is said, what is kept.

case_import_empty_file() {
    remember
    : >empty.csv
    expect 3 import empty.csv
    says "empty.csv" "the file is empty"
    says_not "the index has all of this already"
    unchanged
}

case_import_header_only() {
    echo 'supplier,brand,part_number,price,currency' >header.csv
    expect 0 --json import header.csv
    holds "SELECT json_extract(out, '\$.files[0].kind') || json_extract(out, '\$.files[0].read') FROM j" offers0
    expect 0 kit check base
}

case_import_folder_without_csv() {
    remember
    mkdir bare && echo hello >bare/notes.txt
    expect 3 import bare
    says "bare: there are no .csv files"
    unchanged
}

case_import_absent_path() {
    remember
    expect 3 import trade/offers.csv nowhere.csv
    says "nowhere.csv: cannot be opened"
    unchanged
}

case_import_unreadable_file() {
    remember
    cp trade/offers.csv closed.csv
    chmod -R a+rwX .
    chmod 000 closed.csv
    become_ordinary
    expect 4 import closed.csv
    says "closed.csv: cannot be opened"
    as=
    unchanged
}

case_import_missing_column() {
    remember
    printf 'brand,part_number,price,stock\nOrlop,100-01,3.00,4\n' >short.csv
    expect 3 import short.csv
    says "short.csv:1:" "offers" "supplier" "currency"
    unchanged
}

case_import_no_headings() {
    remember
    printf 'Orlop,100-01,3.00\nOrlop,100-02,4.00\n' >bare.csv
    expect 3 import bare.csv
    says "bare.csv:1:" "is the row of headings missing?"
    unchanged
}

case_import_one_bad_file_among_good() {
    mkdir mixed && : >mixed/empty.csv && printf 'supplier,currency\nharbour,EUR\n' >mixed/suppliers.csv
    expect 3 import mixed
    says "empty.csv"
    expect 0 sources
    says "suppliers.csv"
}

case_import_unknown_brand() {
    printf 'supplier,brand,part_number,price,currency\nquayside,Nowhere,N 1,2.00,EUR\n' >more.csv
    expect 0 --json import more.csv
    holds "SELECT json_extract(out, '\$.files[0].accepted') FROM j" 1
    expect 3 part Nowhere N1
    says "Nowhere N1" "quayside" "no parts file describes it"
    expect 3 part Nowhere N2
    says "no catalogue knows Nowhere N2"
}

case_import_chosen_part_without_description() {
    printf 'supplier,brand,part_number,price,currency\nquayside,Nowhere,N 1,2.00,EUR\n' >more.csv
    expect 0 import more.csv
    expect 0 kit set base 1 buy Nowhere N1
    expect 1 kit check base
    says "fit-unknown" "Nowhere"
}

# refuses HEADER ROW COLUMN HEADING WORD...: one bad row after the headings; it goes to the rejects file and nowhere else.
refuses() {
    local place="bad.csv,2,$3,$4,"
    printf '%s\n%s\n' "$1" "$2" >bad.csv
    shift 4
    "$program" --db i.db --json kit show base >kit.before
    expect 3 import bad.csv --rejects refused.csv
    says "1 row was refused" "refused.csv"
    grep -qF -e "$place" refused.csv || miss "$place in the rejects" "$(cat refused.csv)"
    local word
    for word; do
        grep -qF -e "$word" refused.csv || miss "the word \"$word\" in the rejects" "$(cat refused.csv)"
    done
    "$program" --db i.db --json kit show base | cmp -s kit.before - || miss "the kit as it was" "another"
}

case_import_negative_price() {
    refuses supplier,brand,part_number,price,currency "quayside,Orlop,100-01,-4.00,EUR" 4 price "negative"
}

case_import_price_in_words() {
    refuses supplier,brand,part_number,price,currency "quayside,Orlop,100-01,cheap,EUR" 4 price "cheap"
}

case_import_price_too_fine() {
    refuses supplier,brand,part_number,price,currency "quayside,Orlop,100-01,1.005,EUR" 4 price "1.005"
}

case_import_unknown_currency() {
    refuses supplier,brand,part_number,price,currency "quayside,Orlop,100-01,1.00,ZZQ" 5 currency "ZZQ"
}

case_import_quantity_zero() {
    refuses platform,component,item,kind,part_type,quantity,reuse "orlop-f1,water-pump,bolt,bolt,bolt,0,never" 6 quantity
}

case_import_torque_in_words() {
    refuses platform,component,item,kind,part_type,quantity,reuse,torque \
        "orlop-f1,water-pump,bolt,bolt,bolt,1,never,tight" 8 torque "tight"
}

case_import_unknown_reuse() {
    refuses platform,component,item,kind,part_type,quantity,reuse "orlop-f1,water-pump,bolt,bolt,bolt,1,maybe" 7 reuse \
        "never" "check" "always"
}

case_import_month_thirteen() {
    refuses platform,make,model,built_from "orlop-f2,Orlop,Finch,2004-13" 4 built_from "2004-13"
}

case_import_condition_without_value() {
    refuses platform,component,part_type,quantity,when "orlop-f1,hose,hose,1,engine=" 5 when "engine"
}

case_import_required_cell_empty() {
    refuses supplier,brand,part_number,price,currency "quayside,,100-01,1.00,EUR" 2 brand "must be stated"
}

case_import_huge_number() {
    refuses supplier,brand,part_number,price,currency "quayside,Orlop,100-01,99999999999999999999999,EUR" 4 price
}

case_import_huge_cell() {
    { echo 'supplier,brand,part_number,price,currency'
      printf 'quayside,Orlop,%s,cheap,EUR\n' "$(head -c 1000000 /dev/zero | tr '\0' x)"; } >wide.csv
    expect 3 import wide.csv
    expect 0 kit check base
}

case_import_bytes_of_no_encoding() {
    printf 'supplier,brand,part_number,price,currency\nquayside,Orl\000op,100-01,1.00,EUR\n' >bad.csv
    expect 3 import bad.csv
    grep -q '^bad.csv,2,' i.rejects.csv || miss "line 2 in the rejects" "$(cat i.rejects.csv)"
    expect 0 kit check base
}

case_import_open_quote() {
    printf 'supplier,brand,part_number,price,currency\nquayside,"Orlop,100-01,1.00,EUR\n' >bad.csv
    expect 3 import bad.csv
    grep -q '^bad.csv,2,' i.rejects.csv || miss "line 2 in the rejects" "$(cat i.rejects.csv)"
    expect 0 kit check base
}

case_import_name_that_is_no_text() {
    mkdir odd
    cp trade/offers.csv "odd/$(printf 'l\351ger').csv" 2>/dev/null || skip "no such file names here"
    expect 3 import odd
    says "UTF-8"
    expect 0 --json sources
    holds "SELECT json_valid(out) FROM j" 1
}

case_import_headings_with_control_characters() {
    printf 'supplier,currency,\033[31mred\nharbour,EUR,x\n' >suppliers.csv
    expect 0 import suppliers.csv
    grep -q "$(printf '\033')" err out && miss "no control characters on the terminal" "$(cat -v err out)"
    return 0
}

case_import_rejects_cannot_be_written() {
    remember
    printf 'supplier,brand,part_number,price,currency\nquayside,Orlop,100-01,cheap,EUR\n' >bad.csv
    expect 4 import bad.csv --rejects no/such/folder.csv
    says "no/such/folder.csv" "--rejects"
    unchanged
}

case_import_dry_run() {
    remember
    big_list 50 >more.csv
    expect 0 import more.csv --dry-run
    says "Nothing was kept"
    unchanged
}
