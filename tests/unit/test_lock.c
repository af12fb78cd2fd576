/* A locked kit as a text: what is written is read again as it was, and what is no lock is refused where it
 * begins to be none. */
#include "base/text.h"
#include "kit/lock.h"
#include "purchase_help.h"

static struct lb_kit_lock lock_kit(struct shop *shop, const char *name)
{
    struct lb_kit *kit = shop_open_kit(shop, name);
    struct lb_kit_lock lock;
    expect_ok(lb_lock_make(&lock, shop->store, kit, SHOP_TODAY, &err));
    lb_kit_free(kit);
    return lock;
}

static char *text_of(const struct lb_kit_lock *lock)
{
    struct lb_buf out = {0};
    lb_lock_write(&out, lock);
    cr_assert(!out.failed);
    return out.text;
}

static struct lb_kit_lock read_again(const char *text)
{
    struct lb_kit_lock lock;
    expect_ok(lb_lock_read(&lock, text, strlen(text), "sat.lock", &err));
    return lock;
}

static void same_text(const char *seen, const char *want, const char *what)
{
    cr_expect(seen && want ? strcmp(seen, want) == 0 : seen == want, "%s: %s instead of %s", what,
              seen ? seen : "(none)", want ? want : "(none)");
}
#define SAME_TEXT(a, b, field)   same_text((a)->field, (b)->field, #field)
#define SAME_NUMBER(a, b, field) cr_expect_eq((a)->field, (b)->field, #field)

static void same_part(const struct lb_lock_part *a, const struct lb_lock_part *b)
{
    SAME_TEXT(a, b, brand);
    SAME_TEXT(a, b, number);
    SAME_TEXT(a, b, unit);
    SAME_TEXT(a, b, replaced_by);
    SAME_NUMBER(a, b, discontinued);
    cr_assert_eq(a->offers.count, b->offers.count);
    for (size_t i = 0; i < a->offers.count; i++) {
        const struct lb_lock_offer *x = &a->offers.at[i], *y = &b->offers.at[i];
        SAME_TEXT(x, y, supplier);
        SAME_TEXT(x, y, code);
        SAME_TEXT(x, y, currency);
        SAME_NUMBER(x, y, price);
        SAME_NUMBER(x, y, pack);
        SAME_NUMBER(x, y, minimum);
    }
}

static void same_line(const struct lb_lock_line *a, const struct lb_lock_line *b)
{
    SAME_TEXT(a, b, key);
    SAME_TEXT(a, b, part_type);
    SAME_TEXT(a, b, spec);
    SAME_TEXT(a, b, unit);
    SAME_NUMBER(a, b, quantity);
    SAME_NUMBER(a, b, reason);
    SAME_NUMBER(a, b, decision);
    SAME_NUMBER(a, b, spare);
    SAME_NUMBER(a, b, sure);
    SAME_NUMBER(a, b, decided);
    cr_assert_eq(a->places.count, b->places.count);
    for (size_t i = 0; i < a->places.count; i++) {
        SAME_TEXT(&a->places.at[i], &b->places.at[i], component);
        SAME_TEXT(&a->places.at[i], &b->places.at[i], item);
    }
    same_part(&a->part, &b->part);
}

static void same_map(const struct lb_kit_lock *a, const struct lb_kit_lock *b)
{
    cr_assert_eq(a->fastenings.count, b->fastenings.count);
    for (size_t i = 0; i < a->fastenings.count; i++) {
        const struct lb_lock_fastening *x = &a->fastenings.at[i], *y = &b->fastenings.at[i];
        SAME_TEXT(x, y, component);
        SAME_TEXT(x, y, item);
        SAME_TEXT(x, y, part_type);
        SAME_TEXT(x, y, spec);
        SAME_TEXT(x, y, unit);
        SAME_NUMBER(x, y, quantity);
        SAME_NUMBER(x, y, reuse);
        SAME_NUMBER(x, y, torque);
        SAME_NUMBER(x, y, angle);
    }
    cr_assert_eq(a->circuits.count, b->circuits.count);
    for (size_t i = 0; i < a->circuits.count; i++) {
        const struct lb_lock_circuit *x = &a->circuits.at[i], *y = &b->circuits.at[i];
        SAME_TEXT(x, y, circuit);
        SAME_TEXT(x, y, fluid);
        SAME_TEXT(x, y, spec);
        SAME_TEXT(x, y, diluent);
        SAME_NUMBER(x, y, capacity);
        SAME_NUMBER(x, y, mix);
        SAME_NUMBER(x, y, freeze_to);
    }
}

#define SAME_LIST(a, b, list)                                                                                \
    do {                                                                                                     \
        cr_assert_eq((a)->list.count, (b)->list.count, #list);                                               \
        for (size_t n = 0; n < (a)->list.count; n++)                                                         \
            same_text((a)->list.at[n], (b)->list.at[n], #list);                                              \
    } while (0)

static void same_lock(const struct lb_kit_lock *a, const struct lb_kit_lock *b)
{
    SAME_TEXT(a, b, kit);
    SAME_TEXT(a, b, vehicle);
    SAME_TEXT(a, b, make);
    SAME_TEXT(a, b, model);
    SAME_TEXT(a, b, built);
    SAME_TEXT(a, b, vin);
    SAME_TEXT(a, b, platform);
    SAME_NUMBER(a, b, locked);
    cr_assert_eq(a->facts.count, b->facts.count);
    for (size_t i = 0; i < a->facts.count; i++) {
        SAME_TEXT(&a->facts.at[i], &b->facts.at[i], key);
        SAME_TEXT(&a->facts.at[i], &b->facts.at[i], value);
    }
    cr_assert_eq(a->sources.count, b->sources.count);
    for (size_t i = 0; i < a->sources.count; i++) {
        SAME_TEXT(&a->sources.at[i], &b->sources.at[i], name);
        SAME_TEXT(&a->sources.at[i], &b->sources.at[i], fingerprint);
    }
    cr_assert_eq(a->lines.count, b->lines.count);
    for (size_t i = 0; i < a->lines.count; i++)
        same_line(&a->lines.at[i], &b->lines.at[i]);
    same_map(a, b);
    SAME_LIST(a, b, wants);
    SAME_LIST(a, b, cautions);
    SAME_LIST(a, b, steps);
    SAME_LIST(a, b, questions);
}

static void round_trip(const struct lb_kit_lock *lock)
{
    char *text = text_of(lock);
    struct lb_kit_lock again = read_again(text);
    char *once_more = text_of(&again);
    same_lock(&again, lock);
    cr_expect_str_eq(once_more, text);
    cr_expect_eq(text[strlen(text) - 1], '\n');
    cr_expect(lb_text_is_utf8(text, strlen(text), NULL));
    free(once_more);
    free(text);
    lb_lock_free(&again);
}

Test(lock, kits_are_read_as_they_were_written)
{
    struct shop shop = shop_open();
    const char *const names[] = {"sat", "sun"};
    decide(&shop, "sat", "flange-bolt", LB_HAVE, "Kestrel", "K-2");
    for (size_t i = 0; i < 2; i++) {
        struct lb_kit_lock lock = lock_kit(&shop, names[i]), again = lock_kit(&shop, names[i]);
        char *once = text_of(&lock), *twice = text_of(&again);
        cr_expect_str_eq(once, twice);
        cr_expect(lock.lines.count >= 4 && lock.fastenings.count && lock.circuits.count && lock.steps.count);
        round_trip(&lock);
        free(once);
        free(twice);
        lb_lock_free(&lock);
        lb_lock_free(&again);
    }
    shop_close(&shop);
}

/* Fluids that are mixed, joints, boxes, questions, spares: what a real kit has. */
Test(lock, the_samples_kits_are_read_as_they_were_written)
{
    static const char *const vehicles[][3] = {{"maggie", "Velmora", "Tern"}, {"hector", "Brannoch", "Pike"}};
    static const char *const jobs[] = {"cooling-system", "clutch"};
    struct shop shop = {.s = scratch_make()};
    expect_ok(lb_store_open(&shop.store, scratch_path(&shop.s, "i.db"), LB_STORE_WRITE, &err));
    expect_ok(lb_lookup_ready(shop.store, &err));
    fitting_import(shop.store, LB_TESTS_DIR "/../sample-catalog");
    for (size_t i = 0; i < 2; i++) {
        struct lb_vehicle vehicle = {.name = strdup(vehicles[i][0]), .interval = {LB_DATE_MIN, LB_DATE_MAX}};
        struct lb_kit *kit;
        struct lb_want want = {LB_WANT_JOB, (char *)jobs[i]};
        expect_ok(lb_vehicle_state(&vehicle, "make", vehicles[i][1], &err));
        expect_ok(lb_vehicle_state(&vehicle, "model", vehicles[i][2], &err));
        expect_ok(lb_vehicle_state(&vehicle, "built", i ? "1999-05" : "2004", &err));
        expect_ok(lb_vehicle_save(shop.store, &vehicle, &err));
        expect_ok(lb_kit_build(&kit, shop.store, vehicles[i][0], &vehicle, &want, 1, SHOP_TODAY, &err));
        lb_kit_free(kit);
        lb_vehicle_free(&vehicle);
        struct lb_kit_lock lock = lock_kit(&shop, vehicles[i][0]);
        cr_expect(lock.lines.count > 5 && lock.questions.count, "%zu lines", lock.lines.count);
        round_trip(&lock);
        lb_lock_free(&lock);
    }
    shop_close(&shop);
}

/* The whole of a small one: whoever changes the form sees it here, and raises its version. */
Test(lock, text_is_one_fact_a_line)
{
    struct shop shop = shop_open();
    shop_kit(&shop, "lid", "cover");
    struct lb_kit_lock lock = lock_kit(&shop, "lid");
    for (size_t i = 0; i < lock.sources.count; i++)
        lock.sources.at[i].fingerprint = "f";
    char *text = text_of(&lock);
    cr_expect_str_eq(text, "lastbolt kit lock, version 1\n"
                           "kit: lid\n"
                           "locked: 2026-01-01\n"
                           "vehicle: finch\n"
                           "make: Orlop\n"
                           "model: Finch\n"
                           "platform: p1\n"
                           "wanted: job cover\n"
                           "source: applications.csv\n"
                           "  fingerprint: f\n"
                           "source: circuits.csv\n"
                           "  fingerprint: f\n"
                           "source: components.csv\n"
                           "  fingerprint: f\n"
                           "source: fastenings.csv\n"
                           "  fingerprint: f\n"
                           "source: jobs.csv\n"
                           "  fingerprint: f\n"
                           "source: offers.csv\n"
                           "  fingerprint: f\n"
                           "source: opens.csv\n"
                           "  fingerprint: f\n"
                           "source: parts.csv\n"
                           "  fingerprint: f\n"
                           "source: platforms.csv\n"
                           "  fingerprint: f\n"
                           "\n"
                           "line: cover|@cover/\n"
                           "  part type: cover\n"
                           "  quantity: 1\n"
                           "  unit: each\n"
                           "  reason: target\n"
                           "  as: need\n"
                           "  needed: sure\n"
                           "  decision: buy\n"
                           "  decided by the owner: no\n"
                           "  brand: Orlop\n"
                           "  number: 100-09\n"
                           "  counted in: each\n"
                           "  discontinued: no\n"
                           "  for: cover\n"
                           "  offer: quay\n"
                           "    currency: EUR\n"
                           "    price: 12.00\n"
                           "    pack: 1\n"
                           "    minimum packs: 1\n"
                           "\n"
                           "line: flange-bolt|thread:8000:1250:25000:8.8|each\n"
                           "  part type: flange-bolt\n"
                           "  spec: M8x1.25x25 8.8\n"
                           "  quantity: 4\n"
                           "  unit: each\n"
                           "  reason: single-use\n"
                           "  as: need\n"
                           "  needed: sure\n"
                           "  decision: buy\n"
                           "  decided by the owner: no\n"
                           "  brand: Orlop\n"
                           "  number: 100-08\n"
                           "  counted in: each\n"
                           "  discontinued: no\n"
                           "  for: cover\n"
                           "    item: cover bolt\n"
                           "  offer: quay\n"
                           "    currency: EUR\n"
                           "    price: 0.40\n"
                           "    pack: 1\n"
                           "    minimum packs: 1\n"
                           "\n"
                           "fastening of: cover\n"
                           "  item: cover bolt\n"
                           "  part type: flange-bolt\n"
                           "  spec: M8x1.25x25 8.8\n"
                           "  quantity: 4\n"
                           "  unit: each\n"
                           "  goes back: never\n"
                           "\n"
                           "step: remove cover\n"
                           "step: fit cover\n"
                           "\n"
                           "end\n");
    free(text);
    lb_lock_free(&lock);
    shop_close(&shop);
}

/* What breaks a line, looks like the text's own words, or is no UTF-8. */
static const char *const hostile[] = {
    "",     " ",           " a ",  "a\nb",       "a\r\n", "end",          "\\",
    "\\n",  "\\x41",       "a: b", "  price: 1", "\x1f",  "\x7f",         "\xff\xfe",
    "\xc3", "caf\xc3\xa9", "\t",   "line: x",    "\n",    "\xe2\x80\xa8", "\xf0\x9f\x94\xa9 \xed\xa0\x80"};
enum { HOSTILE = sizeof hostile / sizeof *hostile };

static void fill_line(struct lb_kit_lock *lock, size_t i)
{
    struct lb_buf key = {0};
    lb_buf_printf(&key, "%zu%s", i, hostile[i]);
    struct lb_lock_line line = {.key = lb_arena_text(&lock->texts, key.text, key.length),
                                .part_type = hostile[i],
                                .spec = i % 2 ? hostile[i] : NULL,
                                .unit = hostile[(i + 1) % HOSTILE],
                                .quantity = (int64_t)i * 333333,
                                .reason = (enum lb_reason)(i % (LB_MISSED_BEFORE + 1)),
                                .decision = (enum lb_decision)(i % (LB_DROP + 1)),
                                .spare = i % 3 == 0,
                                .sure = i % 2,
                                .decided = i % 5 == 0};
    if (i % 4)
        line.part = (struct lb_lock_part){.brand = hostile[i],
                                          .number = hostile[(i + 2) % HOSTILE],
                                          .unit = hostile[(i + 3) % HOSTILE],
                                          .replaced_by = i % 3 ? hostile[i] : NULL,
                                          .discontinued = i % 2};
    for (size_t k = 0; k < i % 3; k++)
        cr_assert(LB_PUSH(&line.places, ((struct lb_lock_place){hostile[i], k ? hostile[k] : NULL})));
    static const char *const currencies[] = {"EUR", "JPY", "KWD", "no money"};
    for (size_t k = 0; i % 4 && k < 4; k++)
        cr_assert(LB_PUSH(&line.part.offers,
                          ((struct lb_lock_offer){hostile[i], k % 2 ? hostile[k] : NULL, currencies[k],
                                                  k == 2 ? 9000000000000000 : (int64_t)(i * 7 + k),
                                                  (int64_t)(k + 1) * 1500001, (int64_t)k})));
    cr_assert(LB_PUSH(&lock->lines, line));
    lb_buf_free(&key);
}

static void fill_rest(struct lb_kit_lock *lock, size_t i)
{
    const char *text = hostile[i], *other = hostile[(i + 5) % HOSTILE];
    cr_assert(LB_PUSH(&lock->facts, ((struct lb_lock_fact){text, other})));
    cr_assert(LB_PUSH(&lock->sources, ((struct lb_lock_source){text, other})));
    cr_assert(LB_PUSH(
        &lock->fastenings,
        ((struct lb_lock_fastening){text, other, text, i % 2 ? other : NULL, text, (int64_t)i - 3,
                                    (enum lb_reuse)(i % 3), i % 2 ? LB_LOCK_UNSAID : (int64_t)i * 1100000,
                                    i % 3 ? LB_LOCK_UNSAID : 90 * LB_MILLION})));
    cr_assert(LB_PUSH(&lock->circuits,
                      ((struct lb_lock_circuit){text, other, i % 2 ? text : NULL, i % 3 ? other : NULL,
                                                9000000000000 * LB_MILLION, i % 2 ? LB_LOCK_UNSAID : 0,
                                                i % 3 ? LB_LOCK_UNSAID : -37 * LB_MILLION})));
    cr_assert(LB_PUSH(&lock->wants, text) && LB_PUSH(&lock->cautions, text) && LB_PUSH(&lock->steps, text) &&
              LB_PUSH(&lock->questions, text));
}

static struct lb_kit_lock hostile_lock(void)
{
    struct lb_kit_lock lock = {.kit = "a\nkit",
                               .vehicle = "",
                               .make = "\\",
                               .model = " ",
                               .vin = "\xff",
                               .platform = "end",
                               .locked = SHOP_TODAY};
    for (size_t i = 0; i < HOSTILE; i++) {
        fill_line(&lock, i);
        fill_rest(&lock, i);
    }
    return lock;
}

Test(lock, hostile_names_are_read_as_they_were)
{
    struct lb_kit_lock lock = hostile_lock();
    round_trip(&lock);
    lb_lock_free(&lock);
}

/* Reads bytes that may be anything: a lock, or words that name the text. */
static bool reads(const char *text, size_t length, char **again)
{
    struct lb_kit_lock lock;
    lb_status status = lb_lock_read(&lock, text, length, "some.lock", &err);
    if (again)
        *again = status ? NULL : text_of(&lock);
    cr_assert(status == LB_OK || status == LB_DATA);
    if (status)
        cr_expect(strncmp(lb_error_text(&err), "some.lock:", 10) == 0, "%s", lb_error_text(&err));
    else
        lb_lock_free(&lock);
    return !status;
}

static void cut_everywhere(const struct lb_kit_lock *lock)
{
    char *text = text_of(lock);
    size_t length = strlen(text);
    for (size_t cut = 0; cut < length; cut++) {
        char *again;
        if (!reads(text, cut, &again))
            continue;
        cr_expect_eq(cut, length - 1, "what is cut at %zu of %zu is taken for whole", cut, length);
        cr_expect_str_eq(again, text);
        free(again);
    }
    free(text);
}

Test(lock, what_is_cut_off_is_refused)
{
    struct shop shop = shop_open();
    struct lb_kit_lock lock = lock_kit(&shop, "sat"), odd = hostile_lock();
    cut_everywhere(&lock);
    cut_everywhere(&odd);
    lb_lock_free(&lock);
    lb_lock_free(&odd);
    shop_close(&shop);
}

/* Whatever is done to its bytes, it is refused, or read as something that is written as it was read. */
Test(lock, changed_bytes_do_no_harm)
{
    struct lb_kit_lock lock = hostile_lock();
    char *text = text_of(&lock);
    size_t length = strlen(text), read = 0;
    uint32_t random = 12345;
    for (int round = 0; round < 20000; round++) {
        char *again = NULL, *third = NULL, *changed = strdup(text);
        random = random * 1664525 + 1013904223;
        size_t at = random % length;
        random = random * 1664525 + 1013904223;
        changed[at] = round % 3 ? " \n:\\x1endabc0-9"[random % 15] : (char)(random >> 24);
        if (reads(changed, length, &again)) {
            read++;
            cr_assert(reads(again, strlen(again), &third));
            cr_expect_str_eq(third, again);
        }
        free(changed);
        free(again);
        free(third);
    }
    cr_expect(read > 100 && read < 19900, "%zu of 20000 were read", read);
    free(text);
    lb_lock_free(&lock);
}

/* What an editor makes of a text when it is saved. */
static void save_as(struct lb_buf *out, const char *text, const char *mark, const char *line_end)
{
    lb_buf_clear(out);
    lb_buf_puts(out, mark);
    for (const char *c = text; *c; c++)
        if (*c == '\n')
            lb_buf_puts(out, line_end);
        else
            lb_buf_putc(out, *c);
}

Test(lock, an_editor_may_have_put_a_mark_before_it_or_changed_its_line_ends)
{
    static const char *const saved[][2] = {{"", "\r\n"}, {"\xEF\xBB\xBF", "\n"}, {"\xEF\xBB\xBF", "\r\n"}};
    struct lb_kit_lock lock = hostile_lock();
    char *text = text_of(&lock), *again;
    struct lb_buf other = {0};
    for (size_t i = 0; i < sizeof saved / sizeof *saved; i++) {
        save_as(&other, text, saved[i][0], saved[i][1]);
        cr_assert(reads(other.text, other.length, &again), "%zu", i);
        cr_expect_str_eq(again, text, "%zu", i);
        free(again);
    }
    /* a mark before the mark, or within, is none */
    save_as(&other, text, "\xEF\xBB\xBF\xEF\xBB\xBF", "\n");
    cr_expect_not(reads(other.text, other.length, &again));
    save_as(&other, text, "", "\n\xEF\xBB\xBF");
    cr_expect_not(reads(other.text, other.length, &again));
    free(text);
    lb_buf_free(&other);
    lb_lock_free(&lock);
}

/* The lock of "lid" with one text in the place of another, and what is said of it. */
Test(lock, what_was_changed_into_nonsense_is_refused_where_it_is)
{
    static const struct {
        const char *from, *to, *words;
    } cases[] = {
        {"lock, version 1", "lock, version 2",
         ":1: this kit was locked by a newer lastbolt, in version 2 of the form; this one knows version 1."},
        {"lock, version 1", "lock, version 1.5",
         ":1: this is no locked kit; one begins with \"lastbolt kit lock, version 1\"."},
        {"lastbolt kit", "brand,part",
         ":1: this is no locked kit; one begins with \"lastbolt kit lock, version 1\"."},
        {"kit: lid\n", "", ":2: no locked kit says this: unknown, or not in its place: locked."},
        {"vehicle: finch\n", "",
         ":4: no locked kit says this: before it something is missing, namely vehicle."},
        {"2026-01-01", "2026-13-01", ":3: no locked kit says this: no day: 2026-13-01."},
        {"2026-01-01", "2026-01", ":3: no locked kit says this: no day: 2026-01."},
        {"  quantity: 1\n", "  quantity: one\n", ":30: no locked kit says this: no such number can be: one."},
        {"  quantity: 1\n", "",
         ":30: no locked kit says this: before it something is missing, namely quantity."},
        {"  quantity: 1\n", " quantity: 1\n",
         ":30: no locked kit says this: not \"name: value\": quantity: 1."},
        {"  quantity: 1\n", "quantity: 1\n",
         ":30: no locked kit says this: unknown, or not in its place: quantity."},
        {"  quantity: 1\n", "  amount: 1\n",
         ":30: no locked kit says this: unknown, or not in its place: amount."},
        {"price: 12.00", "price: 12.005", ":44: no locked kit says this: no such number can be: 12.005."},
        {"price: 12.00", "price: -1.00", ":44: no locked kit says this: no such number can be: -1.00."},
        {"reason: target", "reason: whim",
         ":32: no locked kit says this: not one of the words that may stand here: whim."},
        {"  number: 100-09\n", "",
         ":40: no locked kit says this: before it something is missing, namely brand, number or counted in."},
        {"make: Orlop", "make: Or\\lop",
         ":5: no locked kit says this: a backslash stands before n, another one, or x and two digits only: "
         "Or\\lop."},
        {"make: Orlop", "make: \xff", ":5: no locked kit says this: bytes that are no UTF-8."},
        {"line: flange-bolt|thread:8000:1250:25000:8.8|each", "line: cover|@cover/",
         ":48: no locked kit says this: this line stands here twice: cover|@cover/."},
        {"\nend\n", "\n", ":80: the locked kit is cut off here; its last line is \"end\"."},
        {"\nend\n", "\nend\nstep: rest\n", ":82: no locked kit says this: behind its end stands step: rest."},
        {"step: fit cover\n", "<<<<<<< mine\n",
         ":79: no locked kit says this: not \"name: value\": <<<<<<< mine."},
    };
    struct shop shop = shop_open();
    shop_kit(&shop, "lid", "cover");
    struct lb_kit_lock lock = lock_kit(&shop, "lid"), read;
    char *text = text_of(&lock);
    for (size_t i = 0; i < sizeof cases / sizeof *cases; i++) {
        struct lb_buf changed = {0}, want = {0};
        const char *at = strstr(text, cases[i].from);
        cr_assert(at, "%s", cases[i].from);
        lb_buf_append(&changed, text, (size_t)(at - text));
        lb_buf_puts(&changed, cases[i].to);
        lb_buf_puts(&changed, at + strlen(cases[i].from));
        lb_buf_printf(&want, "lid.lock%s", cases[i].words);
        cr_expect_eq(lb_lock_read(&read, changed.text, changed.length, "lid.lock", &err), LB_DATA, "%s",
                     cases[i].to);
        cr_expect_str_eq(lb_error_text(&err), want.text);
        lb_buf_free(&changed);
        lb_buf_free(&want);
    }
    free(text);
    lb_lock_free(&lock);
    shop_close(&shop);
}
