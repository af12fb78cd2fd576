lastbolt find --help
lastbolt find
lastbolt find hose --limit 0
lastbolt find hose --limit 1001
lastbolt find hose --limit ten
lastbolt find hose --limit
lastbolt find hose --limt 3
lastbolt find hose
# nothing of all this made an index
ls index.db
