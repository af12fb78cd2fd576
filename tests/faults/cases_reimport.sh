# shellcheck shell=bash
# The same catalogue again, whole or a little different: what changed is counted, nothing is taken twice.

# counts FILE ADDED CHANGED UNCHANGED REMOVED, of the import that was printed last.
counts() {
    holds "SELECT json_extract(value, '\$.added') || ' ' || json_extract(value, '\$.changed') || ' ' || json_extract(value, '\$.unchanged') || ' ' || json_extract(value, '\$.removed')
        FROM j, json_each(j.out, '\$.files') WHERE json_extract(value, '\$.file') LIKE '%$1'" "$2 $3 $4 $5"
}

case_reimport_same_says_so() {
    remember
    expect 0 import trade map
    says "Nothing changed"
    unchanged
}

case_reimport_same_in_json() {
    remember
    expect 0 --json import trade map
    holds "SELECT count(*) > 9 AND sum(json_extract(value, '\$.unchanged') <> json_extract(value, '\$.accepted')) = 0 AND sum(json_extract(value, '\$.added') + json_extract(value, '\$.changed') + json_extract(value, '\$.removed')) = 0
        FROM j, json_each(j.out, '\$.files')" 1
    unchanged
}

case_reimport_touched_only() {
    remember
    touch trade/offers.csv
    expect 0 --json import trade/offers.csv
    counts offers.csv 0 0 6 0
    unchanged
}

case_reimport_price_changed() {
    sed -i 's/100-03,3.20/100-03,3.30/' trade/offers.csv
    expect 0 --json import trade/offers.csv
    counts offers.csv 0 1 5 0
}

case_reimport_row_added() {
    echo 'quayside,Orlop,100-07,40.00,EUR' >>trade/offers.csv
    expect 0 --json import trade/offers.csv
    counts offers.csv 1 0 6 0
}

case_reimport_row_removed() {
    sed -i '/100-06/d' trade/offers.csv
    expect 0 --json import trade/offers.csv
    counts offers.csv 0 0 5 1
}

case_reimport_all_at_once() {
    sed -i -e 's/100-03,3.20/100-03,3.30/' -e '/100-06/d' trade/offers.csv
    echo 'quayside,Orlop,100-07,40.00,EUR' >>trade/offers.csv
    expect 0 --json import trade/offers.csv
    counts offers.csv 1 1 4 1
    expect 0 --json kit show base
    sound
}

case_reimport_rows_in_another_order() {
    { head -1 trade/offers.csv && tail -n +2 trade/offers.csv | tac; } >turned && mv turned trade/offers.csv
    expect 0 --json import trade/offers.csv
    counts offers.csv 0 0 6 0
}

case_reimport_edition_of_no_use() {
    remember
    echo 'nothing,of,the,kind' >trade/offers.csv
    expect 3 import trade/offers.csv
    says "offers.csv:1:"
    unchanged
}

case_reimport_copy_elsewhere() {
    remember
    cp -r map copied-map
    expect 0 import copied-map
    says "is in the index already"
    unchanged
}

case_reimport_moved_file() {
    expect 0 --json kit show base
    cp out kit.before
    mv map moved-map
    expect 0 import moved-map
    expect 0 sources
    says "moved-map"
    expect 0 --json kit show base
    cmp -s kit.before out || miss "the same kit" "$(diff kit.before out | head -5)"
}

case_reimport_rejects_account_for_every_row() {
    { echo 'supplier,brand,part_number,price,currency'
      echo 'quayside,Orlop,100-01,48.00,EUR'
      echo 'quayside,Orlop,100-02,-1,EUR'
      echo 'quayside,"Orl,op",100-03,x,EUR'
      echo 'quayside,Orlop,100-04,7.50,EUR'
      echo 'quayside,Orlop,,7.50,EUR'; } >more.csv
    expect 3 --json import more.csv --rejects r.csv
    holds "SELECT json_extract(out, '\$.files[0].read') || json_extract(out, '\$.files[0].accepted') || json_extract(out, '\$.files[0].rejected') FROM j" 523
    sqlite3 :memory: '.mode csv' '.import r.csv r' 'SELECT file, line, "column", heading, length(reason) > 5, row FROM r' |
        tr -d '\r' >got
    { echo 'more.csv,3,4,price,1,"quayside,Orlop,100-02,-1,EUR"'
      echo 'more.csv,4,4,price,1,"quayside,""Orl,op"",100-03,x,EUR"'
      echo 'more.csv,6,3,part_number,1,"quayside,Orlop,,7.50,EUR"'; } >wanted
    cmp -s wanted got || miss "$(cat wanted)" "$(cat got r.csv)"
}

case_reimport_rejected_rows_are_judged_again() {
    printf 'supplier,brand,part_number,price,currency\nquayside,Orlop,100-01,x,EUR\n' >more.csv
    expect 3 import more.csv
    expect 3 import more.csv
    says "1 row was refused"
}

case_reimport_dropped_source() {
    expect 0 sources drop offers.csv
    expect 1 kit check base
    says "no-offer"
    expect 3 sources drop offers.csv
    expect 0 import trade
    expect 0 kit check base
}
