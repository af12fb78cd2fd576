# a shop, and a kit that is complete; three parts are the owner's choice
lastbolt import shed >/dev/null
lastbolt vehicle add maggie --make Orrin --model Wren --built 2001 >/dev/null
lastbolt kit build pump --vehicle maggie --job pump >/dev/null
lastbolt kit set pump 1 buy Kestrel K-100 >/dev/null
lastbolt kit set pump 4 buy Kestrel K-400 >/dev/null
lastbolt kit set pump 5 buy Kestrel K-500 >/dev/null
lastbolt kit check pump
# the second edition, a month on: a price up, an offer gone (K-300), a part gone from its catalogue (K-400), two from everywhere
sed -i -e 's/K-200,1.20/K-200,1.35/' -e '/K-300/d' -e '/K-500/d' -e '/K-100/d' shed/offers.csv
sed -i -e '/K-100/d' -e '/K-400/d' -e '/K-500/d' shed/parts.csv
sed -i -e '/K-100/d' shed/applications.csv
SOURCE_DATE_EPOCH=1792600000 lastbolt import shed/offers.csv shed/parts.csv shed/applications.csv
lastbolt part Kestrel K-300
lastbolt part Kestrel K-400
lastbolt part Kestrel K-100
lastbolt part Kestrel K-101
lastbolt --json part Kestrel K-300
# what the kit lacks now, and since when
lastbolt kit check pump
lastbolt kit why pump 1
lastbolt kit why pump 2
lastbolt kit why pump 3
lastbolt kit why pump 4
lastbolt kit why pump 5
# the same when nobody named the parts, and they cannot be named any more
lastbolt kit set pump 1 buy >/dev/null
lastbolt kit set pump 4 buy >/dev/null
lastbolt kit set pump 5 buy >/dev/null
lastbolt kit check pump
lastbolt kit why pump 1
lastbolt kit why pump 5
lastbolt kit set pump 1 buy Kestrel K-100
# the third edition: a price up again, an offer and a part back, which are not former any more
sed -i -e 's/K-200,1.35/K-200,1.50/' shed/offers.csv
echo barn,Kestrel,K-300,0.45,EUR,1,40 >> shed/offers.csv
echo 'Kestrel,K-400,o-ring,O-ring,34.52x3.53,' >> shed/parts.csv
SOURCE_DATE_EPOCH=1793200000 lastbolt import shed/offers.csv shed/parts.csv
lastbolt part Kestrel K-200
lastbolt --json part Kestrel K-200
lastbolt part Kestrel K-300
lastbolt part Kestrel K-400
lastbolt kit check pump
# the last three prices are told, programs get all
sed -i -e 's/K-200,1.50/K-200,1.60/' shed/offers.csv
SOURCE_DATE_EPOCH=1793800000 lastbolt import shed/offers.csv >/dev/null
sed -i -e 's/K-200,1.60/K-200,1.45/' shed/offers.csv
SOURCE_DATE_EPOCH=1794400000 lastbolt import shed/offers.csv >/dev/null
lastbolt part Kestrel K-200
lastbolt --json part Kestrel K-200 | grep -c until
# only what it fits is gone: the offer is as good as ever, but nobody says that it fits
printf 'brand,part_number,part_type,unit\nPlainway,T-9,water-pump,\nPlainway,T-10,assembly-paste,g\n' > plainway.csv
printf 'supplier,brand,part_number,price,currency,pack_quantity\nbarn,Plainway,T-9,39.00,EUR,1\nbarn,Plainway,T-10,4.00,EUR,50\n' > plainway-prices.csv
printf 'brand,part_number,make,model,when,position\nPlainway,T-9,Orrin,Wren,engine = k14,front\nPlainway,T-9,Orrin,Lark,,\n' > plainway-fits.csv
lastbolt import plainway.csv plainway-prices.csv plainway-fits.csv >/dev/null
lastbolt vehicle set maggie engine=k14 >/dev/null
lastbolt kit set pump 1 buy Plainway T-9 >/dev/null
sed -i -e '/Wren/d' plainway-fits.csv
sed -i -e '/T-10/d' plainway-prices.csv
SOURCE_DATE_EPOCH=1794500000 lastbolt import plainway-prices.csv plainway-fits.csv
lastbolt part Plainway T-9
lastbolt kit why pump 1
lastbolt part Plainway T-10
lastbolt kit check pump
lastbolt verify
# what a source said is forgotten with it
lastbolt sources drop offers.csv
lastbolt kit why pump 5
