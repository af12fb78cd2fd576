lastbolt import shed
lastbolt import shed
lastbolt import --json shed/jobs.csv shed/facts.csv
lastbolt --json sources
lastbolt sources drop shed/jobs.csv
lastbolt sources drop jobs.cvs
lastbolt sources drop jobs.csv
lastbolt --json sources drop facts.csv
# an edition that changed: one row other, one gone, one new
sed -i -e 's/K-200,1.20/K-200,1.35/' -e '/K-600/d' shed/offers.csv
echo barn,Kestrel,K-700,3.00,EUR,1, >> shed/offers.csv
lastbolt import --dry-run shed/offers.csv
lastbolt import shed/offers.csv
lastbolt import shed/offers.csv
lastbolt verify
lastbolt --json verify
lastbolt --json import shed/parts.csv
