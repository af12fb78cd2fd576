/* Find on catalogues that come in as any others do: what careless words lead to, and the quick walk against
 * the exhaustive one. */
#include "find_help.h"

Test(find, abbreviations_and_other_names_lead_to_the_part)
{
    struct found_in x = find_in("Velmora,V-100,radiator-hose,HOSE RAD UPR,\n"
                                "Velmora,V-101,radiator-hose,HOSE RAD LWR,\n"
                                "Velmora,V-200,bonnet-stay,Stay for the bonnet,\n"
                                "Velmora,V-300,timing-belt,Timing belt 120 teeth,\n");
    cr_assert_str_eq(find_numbers(&x, "upper radiator hose"), "V-100 V-101");
    cr_assert_str_eq(find_first(&x, "hood stay"), "V-200");
    cr_assert_str_eq(find_first(&x, "t-belt"), "V-300");
    cr_assert_str_eq(find_first(&x, "lower rad hose"), "V-101");
    find_out(&x);
}

Test(find, typing_errors_are_repaired_and_said)
{
    struct found_in x = find_in("Velmora,V-100,radiator-hose,Upper radiator hose,\n"
                                "Velmora,V-101,thermostat,Thermostat 88,\n");
    cr_assert_str_eq(find_first(&x, "radaitor hsoe uper"), "V-100");
    cr_assert_str_eq(find_remarks(&x), "no title has \"radaitor\": taken for \"radiator\"; "
                                       "no title has \"hsoe\": taken for \"hose\"; "
                                       "no title has \"uper\": taken for \"upper\"");
    cr_assert_str_eq(find_first(&x, "thermostat"), "V-101");
    cr_assert_str_eq(find_remarks(&x), "", "a known word is never rewritten");
    find_out(&x);
}

Test(find, the_last_word_may_go_on)
{
    struct found_in x = find_in("Velmora,V-100,radiator-hose,Upper radiator hose,\n"
                                "Velmora,V-101,radiator-cap,Cap,\n");
    cr_assert_str_eq(find_first(&x, "radiator ho"), "V-100");
    cr_assert_str_eq(find_first(&x, "ca"), "V-101");
    find_out(&x);
}

Test(find, words_written_apart_or_together_are_the_same)
{
    struct found_in x = find_in("Velmora,V-100,drive-part,Crankshaft pulley,\n"
                                "Velmora,V-101,lamp,Lamp 12 V 55 W,\n"
                                "Velmora,V-102,lamp,Lamp 24V 70W,\n");
    cr_assert_str_eq(find_first(&x, "crank shaft pulley"), "V-100");
    cr_assert_str_eq(find_first(&x, "lamp 12v"), "V-101");
    cr_assert_str_eq(find_first(&x, "lamp 24 v"), "V-102");
    find_out(&x);
}

Test(find, measures_are_the_same_long_or_short)
{
    struct found_in x = find_in("Velmora,V-1,hose,Garden hose 50 feet,\n"
                                "Velmora,V-2,hose,Garden hose 25ft,\n"
                                "Velmora,V-3,lamp,Lamp 20-Volt,\n"
                                "Velmora,V-4,plank,2 in. x 4 in. plank,\n"
                                "Velmora,V-5,plank,2 in. x 6 in. plank,\n");
    cr_assert_str_eq(find_first(&x, "hose 50ft"), "V-1");
    cr_assert_str_eq(find_first(&x, "hose 50 ft"), "V-1");
    cr_assert_str_eq(find_first(&x, "hose 25 feet"), "V-2");
    cr_assert_str_eq(find_first(&x, "lamp 20v"), "V-3");
    cr_assert_str_eq(find_first(&x, "2x6 plank"), "V-5");
    find_out(&x);
}

Test(find, opposite_positions_go_down)
{
    struct found_in x = find_in("Velmora,V-1,brake-hose,Brake hose rear left,\n"
                                "Velmora,V-2,brake-hose,Brake hose front right reinforced for long travel,\n"
                                "Velmora,V-3,brake-hose,Brake hose,\n");
    cr_assert_str_eq(find_first(&x, "front brake hose"), "V-2");
    cr_assert_str_eq(find_numbers(&x, "front brake hose"), "V-2 V-3 V-1");
    find_out(&x);
}

Test(find, current_parts_come_before_others)
{
    struct found_in x = find_in("Velmora,V-1,seal,Shaft seal,discontinued\n"
                                "Velmora,V-2,seal,Shaft seal,current\n");
    cr_assert_str_eq(find_numbers(&x, "shaft seal"), "V-2 V-1");
    find_out(&x);
}

Test(find, nothing_found_is_never_a_blank)
{
    struct found_in x = find_in("Velmora,V-1,seal,Shaft seal,\n");
    cr_assert_str_eq(find_numbers(&x, "qqqq"), "");
    cr_assert_gt(x.result->advice_count, 0);
    cr_assert_str_eq(find_numbers(&x, "shaqqqq"), "");
    cr_assert(strstr(x.result->advice[0], "\"shaft\""), "%s", x.result->advice[0]);
    find_out(&x);
}

Test(find, odd_input_is_answered_or_refused_clearly)
{
    struct found_in x = find_in("Velmora,V-1,seal,Shaft seal,\n");
    static const char *const refused[] = {"", "   ", "\"*-:()", "\x01\x02", "\xf0\x9f\x94\xa7"};
    for (size_t i = 0; i < sizeof refused / sizeof *refused; i++)
        cr_assert_eq(find_status(&x, refused[i]), LB_USAGE, "%zu", i);
    static const char *const answered[] = {"shaft NEAR(seal",
                                           "\"shaft\" AND seal*",
                                           "-shaft:seal",
                                           "shaft' OR 1=1 --",
                                           "shaft \xd7\x90\xd7\x91 seal",
                                           "\xf0\x9f\x94\xa7 shaft",
                                           "sh\x01"
                                           "aft seal",
                                           "shaft \xff\xfe"};
    for (size_t i = 0; i < sizeof answered / sizeof *answered; i++)
        cr_assert_str_eq(find_first(&x, answered[i]), "V-1", "%zu", i);
    find_out(&x);
}

Test(find, very_long_input_is_answered)
{
    struct found_in x = find_in("Velmora,V-1,seal,Shaft seal,\n");
    size_t room = 1 << 20;
    char *text = malloc(room + 1);
    cr_assert(text);
    memset(text, 'x', room);
    text[room] = '\0';
    cr_assert_eq(find_status(&x, text), LB_OK);
    for (size_t i = 0; i + 6 <= room; i += 6)
        memcpy(text + i, "shaft ", 6);
    cr_assert_str_eq(find_first(&x, text), "V-1");
    cr_assert_str_eq(find_remarks(&x), "only the first 32 words count");
    for (size_t i = 0; i + 3 <= room; i += 3)
        memcpy(text + i, (char[]){(char)('a' + i % 23), (char)('a' + i / 69 % 26), ' '}, 3);
    cr_assert_eq(find_status(&x, text), LB_OK);
    free(text);
    find_out(&x);
}

/* Titles of words that are frequent to different degrees, so that the quick walk has much to pass over. */
static char *many_titles(size_t rows)
{
    static const char *const types[] = {"hose",          "water-pump", "seal", "oil-seal",
                                        "radiator-hose", "pump",       "bolt"};
    static const char *const words[] = {"upper", "lower", "radiator", "hose",  "pump",  "seal",
                                        "kit",   "black", "long",     "short", "steel", "water",
                                        "oil",   "rear",  "front",    "left"};
    char *text = malloc(rows * 200), *at = text;
    uint64_t state = 4711;
    cr_assert(text);
    for (size_t row = 0; row < rows; row++) {
        state = state * UINT64_C(6364136223846793005) + 1442695040888963407u;
        at += sprintf(at, "B%u,N-%zu,%s,", (unsigned)(state >> 60), row, types[(state >> 33) % 7]);
        for (uint64_t left = 1 + (state >> 40) % 9, draw = state; left; left--) {
            draw = draw * UINT64_C(6364136223846793005) + 1442695040888963407u;
            uint64_t first = (draw >> 33) % 16, second = (draw >> 45) % 16;
            at += sprintf(at, "%s ", words[first < second ? first : second]);
        }
        at += sprintf(at, ",\n");
    }
    return text;
}

Test(find, the_quick_walk_finds_what_the_exhaustive_one_finds)
{
    static const char *const queries[] = {"hose",
                                          "upper hose",
                                          "radiator hose upper",
                                          "water pump",
                                          "seal kit",
                                          "lower radiator",
                                          "oil seal front",
                                          "hose pump",
                                          "black long steel",
                                          "ra",
                                          "water s",
                                          "kit left rear seal",
                                          "pump uper",
                                          "rdiator hoes lower",
                                          "hose seal bolt pump",
                                          "upper lower hose",
                                          "t belt",
                                          "w o pump"};
    char *rows = many_titles(60000);
    struct found_in x = find_in(rows);
    int cut = 0;
    free(rows);
    for (size_t i = 0; i < sizeof queries / sizeof *queries; i++) {
        double quick[20], slow[20];
        x.exhaustive = false;
        size_t count = find_scores(&x, queries[i], quick);
        cut += x.result->total_least;
        x.exhaustive = true;
        cr_assert_eq(find_scores(&x, queries[i], slow), count, "%s", queries[i]);
        for (size_t h = 0; h < count; h++)
            cr_assert_float_eq(quick[h], slow[h], 1e-9, "%s, hit %zu: %f, %f", queries[i], h, quick[h],
                               slow[h]);
    }
    cr_assert_geq(cut, 5, "the quick walk passed something over in %d queries only", cut);
    find_out(&x);
}
