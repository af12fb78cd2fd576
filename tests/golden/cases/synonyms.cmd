# words of the owner's own
lastbolt import words/synonyms.csv
cat index.rejects.csv
lastbolt import words/shop-words.csv
lastbolt sources | sed 's/  *[^ ]*$//'
# the next edition: one row gone, one with another note, one new
sed -i -e '/^dipper/d' -e 's/as the old hands say it/top hose/' -e '/^T-BELT/,$d' words/synonyms.csv
echo wobbler,rocker arm, >> words/synonyms.csv
lastbolt import words/synonyms.csv
lastbolt import --json words/synonyms.csv
lastbolt import --dry-run words/shop-words.csv
# a column is missing
printf 'term,note\nx,y\n' > words/half.csv
lastbolt import words/half.csv
lastbolt sources drop synonyms.csv
