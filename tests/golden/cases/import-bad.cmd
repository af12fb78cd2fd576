lastbolt import bad/empty.csv
lastbolt import bad/header-only.csv
lastbolt import folder-without-csv
lastbolt import no-such-file.csv
lastbolt import bad/no-state.csv
lastbolt import bad/no-reuse.csv
lastbolt import bad/offers.csv
cat index.rejects.csv
lastbolt import bad/fastenings.csv --rejects refused.csv
cat refused.csv
lastbolt import bad/platforms.csv
lastbolt import bad/picture.csv
lastbolt import bad/latin.csv
lastbolt import bad/open-quote.csv
# a good file beside bad ones is taken in
lastbolt --json import shed/jobs.csv bad/empty.csv bad/offers.csv
lastbolt --quiet import bad/offers.csv bad/empty.csv
lastbolt verify
