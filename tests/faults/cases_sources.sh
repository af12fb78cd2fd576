# shellcheck shell=bash
# Catalogues that come from somewhere else: by https, packed, stopped half-way.
# shellcheck disable=SC2154 # program and here are set by run.sh

# serve: a server of lists in srv/, its address in $server; it ends with the case.
serve() {
    local port
    mkdir -p srv home
    coproc LISTS { exec "$python" "$here/../fetch/server.py" srv DNS:localhost,IP:127.0.0.1 2>/dev/null; }
    read -r -t 30 port <&"${LISTS[0]}" || skip "no server of lists can be started here"
    server=https://localhost:$port
    export HOME=$PWD/home SSL_CERT_FILE=$PWD/srv/server.pem
    unset XDG_CACHE_HOME
}

has_https() {
    lb import https://localhost:1/x.csv
    ! grep -q "built without https" err || skip "built without https"
}

case_sources_https() {
    has_https
    serve
    expect 0 import "$server/whole,whole,v2/offers.csv"
    expect 0 import "$server/whole,whole,v2/offers.csv"
    says "Nothing changed"
    expect 0 --json import "$server/whole,whole,v2/offers.csv"
    holds "SELECT json_extract(j.out, '\$.files[0].changed') > 4000 AND json_extract(j.out, '\$.files[0].added') = 0 FROM j" 1
    remember
    expect 4 import "$server/cut-50000/offers.csv"
    expect 3 import "$server/status-404/offers.csv"
    unset SSL_CERT_FILE
    expect 4 import "$server/whole,whole,v2/offers.csv"
    says "certificate"
    unchanged
    sound
}

case_sources_offline() {
    has_https
    remember
    expect 4 import https://localhost:1/offers.csv
    says "on line"
    unchanged
}

case_sources_truncated_archive() {
    big_list 20000 >big.csv
    gzip -k big.csv
    expect 0 import big.csv.gz
    head -c $(($(stat -c %s big.csv.gz) / 2)) big.csv.gz >half.gz && mv half.gz big.csv.gz
    remember
    expect 3 import big.csv.gz
    says "big.csv.gz"
    unchanged
    sound
}

# What an ordinary Ctrl-C does: the first one stops the import, and nothing of it is kept.
case_sources_interrupt() {
    { big_list 1; echo "a bad row"; big_list 300000 | tail -n +2; } >big.csv
    remember
    "$python" - "$program" <<'PYTHON' || miss "status 130 after an interrupt" "$(cat stopped 2>/dev/null)"
import os, signal, subprocess, sys, time
run = subprocess.Popen([sys.argv[1], "--db", "i.db", "import", "big.csv"], stderr=open("stopped", "w"))
while run.poll() is None and not os.path.exists("i.rejects.csv.part"):
    time.sleep(0.005)  # until the bad row was read
run.send_signal(signal.SIGINT)
sys.exit(run.wait(60) != 130)
PYTHON
    grep -q "stopped; the index is as it was" stopped || miss "to be told so" "$(cat stopped)"
    unchanged
    sound
}
