lastbolt import $SAMPLE >/dev/null
lastbolt map check velmora-t2
lastbolt --json map check brannoch-p1
lastbolt import faulty >/dev/null
lastbolt map check f1
lastbolt --json map check f1
lastbolt map check velmora-t3
lastbolt map check nothing-like-it
lastbolt map check
lastbolt map
