# sizes of belts, threads and O-rings: what meets them, and what comes near
lastbolt --quiet import "$SAMPLE" >/dev/null
lastbolt find 6pk1400 --limit 3
lastbolt find 6 pk 1395 --limit 3
lastbolt find 4PK 1055 --limit 3
lastbolt find m6 x 25 --limit 3
lastbolt find flange bolt M6x1.0x25 --limit 3
lastbolt find as568-214 --limit 3
lastbolt find o-ring 25 mm --limit 3
# none within reach
lastbolt find 6pk 2120
