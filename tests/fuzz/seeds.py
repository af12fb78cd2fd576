#!/usr/bin/env python3
"""Writes seeds for fuzz_read: the control bytes, then a small piece of a catalogue.

    python3 tests/fuzz/seeds.py FOLDER
"""
import sys
from pathlib import Path

HERE = Path(__file__).resolve().parent
TESTS = HERE.parent
# In the order of importers/kinds.c; the last is a name that says no kind.
KINDS = ("suppliers shipping parts offers applications crossrefs supersessions contents platforms components fastenings"
         " access sequence circuits opens consumables cautions jobs rates facts pulleys synonyms list").split()
LIMIT = 1500

NASTY = {
    "quotes": b'brand,part_number,part_type\r\nA,"1 ""x""",y\r\nB,"2"z,y\r\nC,"3,y\r\nD,4,y\r\n',
    "bom-semicolon": b'\xef\xbb\xbfbrand;part_number;part_type\nA;1;"a;b"\n',
    "tab": b"brand\tpart_number\tpart_type\r\rA\t1\tx\rB\t2\ty",
    "bar": b"brand|part_number|part_type\nA|1|x\nB|2\nC|3|x|\nD|4|x|z\n",
    "nul": b"brand,part_number,part_type\nA,\x001,x\nB,2,y\n",
    "latin": b"brand,part_number,part_type\nA,\xe91,x\nB,\xc3\xa9,y\n",
    "lines": b'brand,part_number,part_type,description\nA,1,x,"one\ntwo\r\nthree"\n\n \nB,2,y,"four',
    "price-list": (b"supplier,supplier_code,brand,part_number,part_type,unit,pack_quantity,price,currency,make,model\n"
                   b"harbour,H1,A,1,hose,m,2.5 m,12.30,EUR,Orlop,Finch\n,,A,2,hose,L,,3,XXX,Orlop,Finch\n"),
    "gtin": b"brand,part_number,part_type,gtin,unit\nA,1,x,4006381333931,each\nA,2,x,4006381333932,kg\nA,3,x,no,furlong\n",
    "when": (b"platform,component,needs,state,to,when\np,a,b,removed,aside,engine = f20 and (abs or not built < 2004-05)\n"
             b"p,a,c,gone,,engine =\np,a,b,loosened,,built >= 2004-13\n"),
    "long": b"brand,part_number,part_type\nA,1," + b"x" * 1400 + b"\n",
    "twice": b"brand,brand,part_number,part_type\nA,A,1,x\n",
    "windows-1252": b"Marke;Artikelnummer;Bezeichnung;Preis\nA;1;K\xfchler;12,50\nB;2;Schl\xe4uche;1.234,00\n",
    "utf-16": "brand,part_number,part_type\nA,1,x\n".encode("utf-16"),
    "shift-jis": "メーカー,品番,品名,価格\nA,1,ラジエーター,1200\n".encode("shift_jis"),
    "empty": b"",
    "quote-only": b'"',
    "torque": (b"platform,component,item,kind,part_type,quantity,reuse,torque,angle\np,c,i,bolt,bolt,4,never,9 N\xc2\xb7m,90 deg\n"
               b"p,c,i,bolt,bolt,4,never,80 lbf in,\np,c,i,wire,bolt,0,maybe,tight,\n"),
}


def head(path):
    """As many whole lines as fit."""
    data = path.read_bytes()
    return data if len(data) <= LIMIT else data[:data.rfind(b"\n", 0, LIMIT) + 1]


def main():
    folder = Path(sys.argv[1])
    folder.mkdir(parents=True, exist_ok=True)
    seeds = []
    for path in sorted(TESTS.glob("golden/input/*/*.csv")) + sorted(TESTS.parent.glob("sample-catalog/*/*.csv")):
        seeds.append((path.parent.name + "-" + path.stem, path.stem, head(path)))
    for profile in sorted(TESTS.parent.glob("importers/profiles/*.csv")):
        listed = TESTS / "golden/input/lists" / profile.name
        if listed.exists():
            seeds.append(("with-profile-" + profile.stem, "list", profile.read_bytes() + b"---\n" + head(listed)))
    for name, data in NASTY.items():
        seeds.append(("nasty-" + name, "list", data))
    for i, (name, kind, data) in enumerate(seeds):
        control = bytes([KINDS.index(kind if kind in KINDS else "list"), i % 16 if i % 3 == 0 else (i % 2) | 8 * (i % 4 == 0), (0, 1, 7, 64, 255)[i % 5]])
        (folder / name).write_bytes(control + data)
    print(len(seeds), "seeds")


if __name__ == "__main__":
    main()
