#!/usr/bin/env python3
"""Whether the scores are right, and what is made for scoring is what it should be. Needs no lastbolt."""
import random
import tempfile
import unittest
from pathlib import Path

import by_hand
import parts
import queries
import spoil
from collection import Collection
from scores import dcg, exponential, hit, linear, ndcg, of_wanted
from systems import FullText


class Scores(unittest.TestCase):
    def test_published_example(self):
        """Wikipedia, "Discounted cumulative gain": six documents graded 3 2 3 0 1 2, and two more, 3 and 2, not found."""
        found = [3, 2, 3, 0, 1, 2]
        self.assertAlmostEqual(dcg(found), 6.861, 3)
        self.assertAlmostEqual(dcg([3, 3, 3, 2, 2, 2]), 8.740, 3)
        self.assertAlmostEqual(ndcg(found, [3, 2, 3, 0, 1, 2, 3, 2], depth=6), 0.785, 3)

    def test_power_of_two(self):
        self.assertEqual([exponential(grade) for grade in (0, 1, 2, 3)], [0, 1, 3, 7])
        self.assertAlmostEqual(ndcg([1, 3], [3, 1], gain=exponential), (1 + 7 / 1.5849625) / (7 + 1 / 1.5849625), 6)

    def test_ends(self):
        self.assertEqual(ndcg([2, 1, 0], [0, 1, 2]), 1.0)
        self.assertEqual(ndcg([], [1]), 0.0)
        self.assertEqual(ndcg([0] * 10 + [1], [1]), 0.0)
        self.assertIsNone(ndcg([0], [0]))
        self.assertEqual(linear(-1), 0.0)
        self.assertEqual((hit([0, 0, 1], 2), hit([0, 0, 1], 3), hit([], 3)), (0.0, 1.0, 0.0))

    def test_more_wanted_than_shown(self):
        wanted = set(range(30))
        self.assertEqual(of_wanted(list(range(10)), wanted)["ndcg"], 1.0)

    def test_twice_the_same_hit_counts_once(self):
        self.assertAlmostEqual(of_wanted(["a", "a"], {"a", "b"})["ndcg"], 1 / (1 + 1 / 1.5849625), 6)


class Spoiling(unittest.TestCase):
    def test_misspelt_words_differ_a_little(self):
        for seed in range(500):
            rng = random.Random(seed)
            spoilt, at = spoil.misspell_one(["the", "Radiator", "9000"], rng)
            self.assertEqual((at, spoilt[0], spoilt[2]), (1, "the", "9000"))
            self.assertNotEqual(spoilt[1].lower(), "radiator")
            self.assertLessEqual(abs(len(spoilt[1]) - 8), 1)
        self.assertIsNone(spoil.misspell_one(["hose", "6PK2120"], rng))

    def test_keyboard(self):
        self.assertEqual(sorted(spoil.neighbours("g")), sorted("fhtyvb"))
        self.assertEqual(sorted(spoil.neighbours("q")), sorted("wa"))

    def test_numbers_keep_their_key(self):
        for number in ("KV 4410", "FW 110.110", "1140-0081", "803 40 76", "HV-WP1120"):
            for make in (spoil.without_separators, spoil.with_blanks, spoil.with_separators):
                words = make(number, random.Random(number))
                self.assertEqual(spoil.key_of("".join(words)), spoil.key_of(number))
            self.assertEqual(spoil.key_of("".join(spoil.without_tail(number, None))), spoil.key_of(number)[:-2])
            wrong = spoil.key_of("".join(spoil.one_wrong(number, random.Random(1))))
            apart = [(a, b) for a, b in zip(wrong, spoil.key_of(number)) if a != b]
            self.assertEqual((len(apart), apart[0][0].isdigit()), (1, apart[0][1].isdigit()))

    def test_shorthand(self):
        self.assertIn(spoil.abbreviate(["Upper", "radiator", "hose"], random.Random(1))[0], ("UPR", "upr"))
        self.assertIsNone(spoil.abbreviate(["hose"], random.Random(1)))
        self.assertEqual(spoil.spell_out(["HOSE", "RAD", "UPR"]), ["HOSE", "radiator", "upper"])


class Sets(unittest.TestCase):
    @classmethod
    def setUpClass(cls):
        with tempfile.TemporaryDirectory() as name:
            cls.sets = [make(Path(name)) for make in (parts.electronics, parts.vehicles, parts.sample)]

    def test_same_seed_same_queries(self):
        for part_set in self.sets:
            first, again = (queries.make(part_set, 20, 1) for _ in range(2))
            self.assertEqual(first, again)
            self.assertNotEqual(first, queries.make(part_set, 20, 2))

    def test_wanted_parts_hold_the_words(self):
        for part_set in self.sets:
            for query in queries.make(part_set, 40, 3):
                self.assertTrue(query.wanted and query.words)
                if query.kind in ("title", "reordered", "dropped"):
                    self.assertLessEqual(query.wanted, part_set.holding(query.words), query)
                if query.kind == "dropped":
                    self.assertLessEqual(part_set.holding(query.words), query.wanted, query)

    def test_beginnings(self):
        part_set = parts.PartSet("x", [parts.Part("b", f"77-{i:02}", "t", "d") for i in range(30)], [])
        self.assertEqual(len(part_set.beginning_with("771")), 10)
        self.assertFalse(queries.counted_tail(part_set, "77"))
        self.assertTrue(queries.counted_tail(part_set, "77-1"))

    def test_codes_are_apart(self):
        self.assertEqual(len({parts.code(i) for i in range(5000)}), 5000)
        self.assertTrue(parts.code(123456).isalpha())

    def test_by_hand(self):
        asked = by_hand.read()
        self.assertEqual(by_hand.unknown(asked), [])
        self.assertEqual(len({one.query for one in asked}), len(asked))


class Collections(unittest.TestCase):
    def read(self, titles, wanted, judgments, **more):
        with tempfile.TemporaryDirectory() as name:
            paths = []
            for i, text in enumerate((titles, wanted, judgments)):
                paths.append(Path(name) / str(i))
                paths[-1].write_bytes(text if isinstance(text, bytes) else text.encode())
            return Collection(*paths, **more)

    def told(self, collection):
        names = {part.key: part.description for part in collection.parts}
        return [(one.id, one.clean, one.typed, {names[key]: grade for key, grade in one.grades.items()}) for one in collection.asked]

    def test_as_told(self):
        got = self.read('id,title\na,"Red, hose"\nb,Blue hose\n', "query_id,query,as typed\n1,red hose,rde hose\n2,x,y\n",
                        "query_id,id,grade\n1,a,3\n1,b,1\n1,c,2\n2,b,0\n")
        self.assertEqual(self.told(got), [("1", ["red", "hose"], ["rde", "hose"], {"Red, hose": 3.0, "Blue hose": 1.0})])
        self.assertEqual(len(got.remarks), 2)

    def test_other_headings_separators_and_order(self):
        got = self.read("title\tdoc_id\nRed hose 5\" wide\ta\n", "qid;text\n1;red\n", "rel,qid,docid\n2,1,a\n")
        self.assertEqual(self.told(got), [("1", ["red"], None, {'Red hose 5" wide': 2.0})])

    def test_no_headings_blanks_and_windows(self):
        got = self.read("a,H\u00f6se\n".encode("cp1252"), "1,red\n", "1 0 a 2\n", header=False)
        self.assertEqual(self.told(got), [("1", ["red"], None, {"H\u00f6se": 2.0})])

    def test_grades_found_without_heading(self):
        got = self.read("id,title\na,hose\n", "query_id,query\n1,red\n", "1\ta\t1\n")
        self.assertEqual(self.told(got), [("1", ["red"], None, {"hose": 1.0})])

    def test_labels(self):
        got = self.read("id,title\na,hose\n", "query_id,query\n1,red\n", "query_id,id,label\n1,a,E\n", labels={"E": "3"})
        self.assertEqual(self.told(got)[0][3], {"hose": 3.0})


class Baseline(unittest.TestCase):
    def test_words_and_stems(self):
        other = FullText([parts.Part("b", "1", "t", "red hoses"), parts.Part("b", "2", "t", "blue hose")])
        self.assertEqual(other.ask(["red", "hose"], "AND"), [("b", "1")])
        self.assertEqual(other.ask(["red", "hose"], "OR")[0], ("b", "1"))
        self.assertEqual(len(other.ask(["hose\"", "OR", "*"], "OR")), 2)
        self.assertEqual(other.ask(["%", "-"], "OR"), [])


if __name__ == "__main__":
    unittest.main()
