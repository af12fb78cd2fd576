/* Edition after edition on one index, at random, against the model in editions_model.h. */
#include "scratch.h"

#include "base/buf.h"
#include "base/spec.h"
#include "base/text.h"
#include "catalog/spans.h"
#include "catalog/import.h"
#include "catalog/lookup.h"
#include "catalog/partkey.h"
#include "editions_model.h"

#include <criterion/criterion.h>

enum { EDITIONS = 32, ROWS = 160, NUMBERS = 140, TYPES = 6 };

static struct lb_error err;
static uint64_t state;

static int below(int limit)
{
    state ^= state << 13;
    state ^= state >> 7;
    state ^= state << 17;
    return (int)((state >> 11) % (uint64_t)limit);
}

static void expect_ok(lb_status status)
{
    cr_assert_eq(status, LB_OK, "%s", lb_error_text(&err));
}

/* Items and files. */

static struct item random_item(void)
{
    struct item item = {.quoted = below(8) == 0, .bad = below(25) == 0, .blanks = below(20) == 0 ? 2 : 0};
    const int limits[FIELDS] = {5, NUMBERS, TYPES, 30, 3, 5000, 3};
    for (int f = 0; f < FIELDS; f++)
        item.fields[f] = below(limits[f]);
    return item;
}

static void change_item(struct item *item)
{
    static const enum field often[] = {PRICE, PRICE, DESCRIPTION, DESCRIPTION, TYPE, CODE};
    if (below(5) == 0)
        item->quoted = !item->quoted; /* the text changes, what it says does not */
    else
        item->fields[often[below(6)]] = below(3);
}

static void write_cell(struct lb_buf *out, const struct model *m, const struct item *item, enum field field)
{
    char word[64];
    model_word(word, sizeof word, m->form, item, field);
    const char *text = item->bad && field == NUMBER ? "" : word;
    bool quoted = item->quoted || strpbrk(text, ",\"\n");
    lb_buf_puts(out, quoted ? "\"" : "");
    for (; *text; text++)
        lb_buf_printf(out, *text == '"' ? "\"\"" : "%c", *text);
    lb_buf_puts(out, quoted ? "\"" : "");
}

static const char *heading(enum form form, enum field field)
{
    static const char *const parts[FIELDS] = {"brand",    "part_number", "part_type",    "description",
                                              "supplier", "price",       "supplier_code"};
    static const char *const map[FIELDS] = {"platform", "component", "part_type", "name"};
    return form == FORM_COMPONENTS ? map[field] : parts[field];
}

/* The cells of one row, or the headings for a NULL item. */
static void write_row(struct lb_buf *out, const struct model *m, const struct item *item)
{
    bool first = true;
    for (int i = 0; i < FIELDS; i++) {
        enum field field = (enum field)((i + m->layout.turn) % FIELDS);
        if (!model_has(m->form, field))
            continue;
        lb_buf_puts(out, first ? "" : ",");
        first = false;
        if (item)
            write_cell(out, m, item, field);
        else
            lb_buf_puts(out, heading(m->form, field));
    }
    if (model_has(m->form, PRICE))
        lb_buf_puts(out, item ? ",EUR" : ",currency");
    if (m->layout.extra)
        lb_buf_puts(out, item ? ",x" : ",shelf_mark");
}

static void write_file(struct scratch *s, const struct model *m)
{
    struct lb_buf out = {0};
    const char *end = m->layout.dos ? "\r\n" : "\n";
    write_row(&out, m, NULL);
    for (size_t i = 0; i < m->items.count; i++) {
        for (int b = 0; b <= m->items.at[i].blanks; b++)
            lb_buf_puts(&out, end);
        write_row(&out, m, &m->items.at[i]);
    }
    lb_buf_puts(&out, end);
    scratch_write(s, m->file, out.text, out.length);
    lb_buf_free(&out);
}

/* The model's own reading of an edition. */

static bool meet(struct model *m, const char *text, long line, size_t *expected)
{
    for (size_t i = 0; i <= m->rows.count; i++) {
        size_t at = i == 0 ? *expected : i - 1;
        if (at >= m->rows.count || m->rows.at[at].met || strcmp(m->rows.at[at].text, text) != 0)
            continue;
        m->rows.at[at].met = true;
        m->rows.at[at].line = line;
        *expected = at + 1;
        m->unchanged++;
        return true;
    }
    return false;
}

static void forget(struct model *m, const struct item *item)
{
    size_t kept = 0;
    for (size_t i = 0; i < m->former.count; i++)
        if (!model_same_part(m->form, &m->former.at[i].item, item))
            m->former.at[kept++] = m->former.at[i];
    m->former.count = kept;
}

/* Takes the place of an old row; true when it did. `old` lists those that nothing met and no other took. */
static bool replace(struct model *m, struct model_row *row, size_t *stale)
{
    for (size_t i = 0; i < m->rows.count; i++) {
        struct model_row *old = &m->rows.at[i];
        if (old->met || !old->text || !model_same(m->form, &old->item, &row->item, true))
            continue;
        *(model_same(m->form, &old->item, &row->item, false) ? &m->unchanged : &m->changed) += 1;
        memcpy(&row->prices, &old->prices, sizeof row->prices);
        if (model_has(m->form, PRICE) && old->item.fields[PRICE] != row->item.fields[PRICE])
            cr_assert(LB_PUSH(&row->prices, old->item.fields[PRICE]));
        free(old->text);
        old->text = NULL;
        ++*stale;
        return true;
    }
    return false;
}

static void retire(struct model *m, struct model_row *old, size_t *stale)
{
    for (int k = 0; k < model_kinds(m->form); k++)
        cr_assert(LB_PUSH(&m->former, ((struct model_former){old->item, old->line, k})));
    free(old->text);
    free(old->prices.at);
    old->text = NULL;
    m->removed++;
    ++*stale;
}

struct fresh_rows {
    LB_VEC(struct model_row) list;
};

static void settle(struct model *m, struct fresh_rows *fresh, size_t *stale)
{
    size_t kept = 0;
    for (size_t i = 0; i < fresh->list.count; i++)
        if (!replace(m, &fresh->list.at[i], stale)) {
            m->added++;
            forget(m, &fresh->list.at[i].item);
        }
    for (size_t i = 0; i < m->rows.count; i++)
        if (!m->rows.at[i].met && m->rows.at[i].text)
            retire(m, &m->rows.at[i], stale);
    for (size_t i = 0; i < m->rows.count; i++)
        if (m->rows.at[i].text)
            m->rows.at[kept++] = m->rows.at[i];
    m->rows.count = kept;
    for (size_t i = 0; i < fresh->list.count; i++)
        cr_assert(LB_PUSH(&m->rows, fresh->list.at[i]));
    free(fresh->list.at);
}

static int breaks(const char *text)
{
    int count = 0;
    for (; (text = strchr(text, '\n')); text++)
        count++;
    return count;
}

/* Are the columns that the index keeps where they were? */
static bool is_read_alike(struct model *m)
{
    struct lb_buf text = {0};
    bool extra = m->layout.extra;
    m->layout.extra = false;
    write_row(&text, m, NULL);
    m->layout.extra = extra;
    bool alike = strcmp(m->headings, text.text) == 0;
    snprintf(m->headings, sizeof m->headings, "%s", text.text);
    lb_buf_free(&text);
    return alike;
}

static void model_import(struct model *m, size_t *stale)
{
    struct fresh_rows fresh = {0};
    struct lb_buf text = {0};
    size_t expected = 0;
    bool alike = is_read_alike(m);
    long line = 2;
    m->read = m->accepted = m->rejected = m->added = m->changed = m->unchanged = m->removed = 0;
    for (size_t i = 0; i < m->rows.count; i++)
        m->rows.at[i].met = false;
    for (size_t i = 0; i < m->items.count; i++) {
        const struct item *item = &m->items.at[i];
        line += item->blanks;
        lb_buf_clear(&text);
        write_row(&text, m, item);
        m->read++;
        *(item->bad ? &m->rejected : &m->accepted) += 1;
        if (!item->bad && !(alike && meet(m, text.text, line, &expected)))
            cr_assert(LB_PUSH(&fresh.list, ((struct model_row){*item, strdup(text.text), line, false, {0}})));
        line += 1 + breaks(text.text);
    }
    settle(m, &fresh, stale);
    lb_buf_free(&text);
}

static void lay_out(struct model *m)
{
    if (below(8) == 0)
        m->layout.turn = below(FIELDS);
    if (below(6) == 0)
        m->layout.dos = !m->layout.dos;
    if (below(8) == 0)
        m->layout.extra = !m->layout.extra;
}

/* The next edition of a file. */
static void mutate(struct model *m)
{
    int stirred = below(6) == 0 ? 60 : 8;
    for (size_t i = 0; i < m->items.count; i++) {
        int draw = below(200);
        if (draw < stirred)
            change_item(&m->items.at[i]);
        else if (draw < stirred + 4)
            m->items.at[i] = m->items.at[below((int)m->items.count)]; /* the same once more, the other gone */
        else if (draw < stirred + 8)
            m->items.at[i] = m->items.at[--m->items.count]; /* gone */
        else if (draw < stirred + 12)
            m->items.at[i].bad = !m->items.at[i].bad;
    }
    for (int i = below(12); i > 0 || m->items.count < ROWS / 2; i--)
        if (m->items.count < ROWS)
            cr_assert(LB_PUSH(&m->items, random_item()));
    for (int i = below(10); i > 0; i--) { /* elsewhere */
        size_t a = (size_t)below((int)m->items.count), b = (size_t)below((int)m->items.count);
        struct item swap = m->items.at[a];
        m->items.at[a] = m->items.at[b];
        m->items.at[b] = swap;
    }
}

/* What the index has, as text; what the model has, as the same text. */

static void append_rows(struct lb_buf *out, struct lb_store *store, const char *sql, const char *file)
{
    struct lb_statement *st;
    bool row;
    expect_ok(lb_store_prepare(store, &st, sql, &err));
    lb_bind_text(st, 1, file);
    while (lb_step(st, &row, &err) == LB_OK && row)
        lb_buf_printf(out, "%s\n", lb_text(st, 0));
    expect_ok(err.status);
    lb_statement_free(st);
}

/* Shows where they part, and frees both. */
static void expect_same_text(struct lb_buf *got, struct lb_buf *wanted, const char *what, const char *file)
{
    const char *g = lb_buf_text(got), *w = lb_buf_text(wanted);
    size_t at = 0;
    while (g[at] && g[at] == w[at])
        at++;
    bool same = g[at] == w[at];
    while (at > 0 && g[at - 1] != '\n')
        at--;
    cr_assert(same, "%s of %s: got …%.90s…\nwanted …%.90s…", what, file, g + at, w + at);
    lb_buf_free(got);
    lb_buf_free(wanted);
}

static int by_line(const void *left, const void *right)
{
    const struct model_row *const *a = left, *const *b = right;
    return ((*a)->line > (*b)->line) - ((*a)->line < (*b)->line);
}

/* The columns of the model that a kind has. */
static bool kind_has(enum form form, const char *kind, enum field field)
{
    if (form != FORM_STOCK)
        return model_has(form, field);
    return model_has(strcmp(kind, "parts") == 0 ? FORM_PARTS : FORM_OFFERS, field);
}

static void describe(struct lb_buf *out, const struct model *m, const char *kind, const struct model_row *row)
{
    char word[64];
    lb_buf_printf(out, "%ld", row->line);
    for (int f = 0; f < FIELDS; f++)
        if (kind_has(m->form, kind, (enum field)f) && f == PRICE)
            lb_buf_printf(out, "|%d", row->item.fields[f]);
        else if (kind_has(m->form, kind, (enum field)f))
            lb_buf_printf(out, "|%s", model_word(word, sizeof word, m->form, &row->item, (enum field)f));
    for (size_t i = 0; i < row->prices.count && strcmp(kind, "offers") == 0; i++)
        lb_buf_printf(out, " was %d", row->prices.at[i]);
    lb_buf_puts(out, "\n");
}

static void ask_rows(struct lb_buf *sql, const struct model *m, const char *kind)
{
    lb_buf_puts(sql, "SELECT (" LB_PLACE_LINE ")");
    for (int f = 0; f < FIELDS; f++)
        if (kind_has(m->form, kind, (enum field)f))
            lb_buf_printf(sql, " || '|' || coalesce(r.%s, '')", heading(m->form, (enum field)f));
    if (strcmp(kind, "offers") == 0)
        lb_buf_puts(sql, " || coalesce((SELECT group_concat(' was ' || price, '') FROM (SELECT price FROM "
                         "price_was WHERE row = r.id ORDER BY id)), '')");
    lb_buf_printf(sql, LB_PLACED("%s") " WHERE s.name = ?1" LB_IN_ORDER, kind);
}

static void check_rows(struct lb_store *store, const struct model *m, const char *kind)
{
    struct lb_buf got = {0}, wanted = {0}, sql = {0};
    const struct model_row **rows = malloc((m->rows.count + 1) * sizeof *rows);
    for (size_t i = 0; i < m->rows.count; i++)
        rows[i] = &m->rows.at[i];
    qsort(rows, m->rows.count, sizeof *rows, by_line);
    for (size_t i = 0; i < m->rows.count; i++)
        describe(&wanted, m, kind, rows[i]);
    ask_rows(&sql, m, kind);
    append_rows(&got, store, sql.text, m->file);
    expect_same_text(&got, &wanted, kind, m->file);
    lb_buf_free(&sql);
    free(rows);
}

static void check_former(struct lb_store *store, const struct model *m)
{
    struct lb_buf got = {0}, wanted = {0};
    char word[64];
    for (int k = 0; k < model_kinds(m->form); k++)
        for (long line = 2; line < 4 * ROWS + 10; line++)
            for (size_t i = 0; i < m->former.count; i++)
                if (m->former.at[i].kind == k && m->former.at[i].line == line)
                    lb_buf_printf(&wanted, "%s|%ld|%s\n", model_kind(m->form, k), line,
                                  model_word(word, sizeof word, m->form, &m->former.at[i].item, NUMBER));
    append_rows(&got, store,
                "SELECT kind || '|' || line || '|' || coalesce(json_extract(cells, '$.part_number'), "
                "json_extract(cells, '$.component')) FROM former f JOIN source s ON s.id = f.source WHERE "
                "s.name = ?1 ORDER BY kind, line, f.id",
                m->file);
    expect_same_text(&got, &wanted, "former rows", m->file);
}

static int64_t ask(struct lb_store *store, const char *sql)
{
    int64_t value;
    expect_ok(lb_store_integer(store, sql, &value, &err));
    return value;
}

static void check_whole(struct lb_store *store, const struct model *models, size_t stale)
{
    int64_t live = 0;
    for (int f = 0; f < FORMS; f++)
        live += (int64_t)models[f].rows.count;
    cr_assert_eq(ask(store, "SELECT sum(count) FROM span"), live);
    cr_assert_eq(ask(store, "SELECT count(*) FROM (SELECT first + count AS past, lead(first) OVER (ORDER BY "
                            "first) AS next FROM span) WHERE next < past"),
                 0, "two spans overlap");
    cr_assert_eq(ask(store, "SELECT stale FROM state"), (int64_t)stale);
    cr_assert_eq(ask(store, "SELECT max(first + count) <= (SELECT next_row FROM state) FROM span"), 1);
    cr_assert_eq(ask(store,
                     "SELECT count(*) FROM price_was WHERE NOT EXISTS (SELECT 1 FROM span WHERE first = "
                     "(SELECT max(first) FROM span WHERE first <= row) AND row < first + count)"),
                 0, "prices of rows that are gone");
    if (stale == 0)
        cr_assert_eq(ask(store, "SELECT (SELECT count(*) FROM offers) + (SELECT count(*) FROM components)"),
                     (int64_t)(models[FORM_OFFERS].rows.count + models[FORM_STOCK].rows.count +
                               models[FORM_COMPONENTS].rows.count));
}

/* Rows of a kind among the ids that satisfy the part key (or the type). */
static int64_t count_found(struct lb_store *store, const char *kind, const char *ids, const char *part_key,
                           const char *type)
{
    struct lb_buf sql = {0}, key = {0};
    struct lb_statement *st;
    bool row;
    int64_t found = 0;
    lb_buf_printf(&sql,
                  "SELECT r.brand, r.part_number, %s" LB_PLACED("%s") "WHERE r.id IN (SELECT value FROM "
                                                                      "json_each(?1))",
                  type ? "r.part_type" : "''", kind);
    expect_ok(lb_store_prepare(store, &st, sql.text, &err));
    lb_bind_text(st, 1, ids);
    while (lb_step(st, &row, &err) == LB_OK && row) {
        lb_part_key(&key, lb_text(st, 0), lb_text(st, 1));
        found += type ? strcmp(lb_text(st, 2), type) == 0 : strcmp(lb_buf_text(&key), part_key) == 0;
    }
    lb_statement_free(st);
    lb_buf_free(&sql);
    lb_buf_free(&key);
    return found;
}

static int64_t count_wanted(const struct model *models, const char *kind, const struct item *part, int type)
{
    int64_t wanted = 0;
    for (int f = 0; f < FORM_COMPONENTS; f++)
        for (int k = 0; k < model_kinds((enum form)f); k++)
            for (size_t i = 0; strcmp(model_kind((enum form)f, k), kind) == 0 && i < models[f].rows.count;
                 i++)
                wanted += part ? model_same_part((enum form)f, &models[f].rows.at[i].item, part)
                               : models[f].rows.at[i].item.fields[TYPE] == type;
    return wanted;
}

static void check_part(struct lb_store *store, struct lb_lookup *lookup, const struct model *models)
{
    struct item item = random_item();
    struct lb_buf ids = {0}, key = {0};
    char brand[64], number[64];
    lb_part_key(&key, model_word(brand, sizeof brand, FORM_PARTS, &item, BRAND),
                model_word(number, sizeof number, FORM_PARTS, &item, NUMBER));
    expect_ok(lb_lookup_part(lookup, lb_buf_text(&key), &ids, &err));
    cr_assert_eq(count_found(store, "parts", ids.text, key.text, NULL),
                 count_wanted(models, "parts", &item, 0), "parts %s %s", brand, number);
    cr_assert_eq(count_found(store, "offers", ids.text, key.text, NULL),
                 count_wanted(models, "offers", &item, 0), "offers of %s %s", brand, number);
    lb_buf_free(&ids);
    lb_buf_free(&key);
}

static void check_lookup(struct lb_store *store, const struct model *models)
{
    struct lb_lookup *lookup;
    expect_ok(lb_lookup_open(&lookup, store, &err));
    for (int i = 0; i < 50; i++)
        check_part(store, lookup, models);
    for (int type = 0; type <= TYPES; type++) {
        struct lb_buf ids = {0};
        char word[24];
        snprintf(word, sizeof word, "type-%d", type);
        expect_ok(lb_lookup_type(lookup, word, NULL, &ids, &err));
        cr_assert_eq(count_found(store, "parts", ids.text, NULL, word),
                     count_wanted(models, "parts", NULL, type), "%s", word);
        lb_buf_free(&ids);
    }
    lb_lookup_close(lookup);
}

static void check_counts(const struct model *m, const struct lb_imported_file *file)
{
    const long got[] = {file->read,           file->accepted,         file->rejected,      file->change.added,
                        file->change.changed, file->change.unchanged, file->change.removed};
    const long wanted[] = {m->read, m->accepted, m->rejected, m->added, m->changed, m->unchanged, m->removed};
    static const char *const what[] = {"read",    "accepted",  "rejected", "added",
                                       "changed", "unchanged", "removed"};
    cr_assert_null(file->problem, "%s", file->problem);
    for (int i = 0; i < 7; i++)
        cr_assert_eq(got[i], wanted[i], "%s: %s: %ld, not %ld", file->file, what[i], got[i], wanted[i]);
}

static struct model *model_of(struct model *models, const char *file)
{
    for (int f = 0; f < FORMS; f++)
        if (strcmp(models[f].file, file) == 0)
            return &models[f];
    cr_assert_fail("%s?", file);
    return NULL;
}

static void import_and_check(struct scratch *s, struct lb_store *store, struct model *models, size_t *stale)
{
    const char *const paths[] = {s->folder};
    char rejects[160];
    snprintf(rejects, sizeof rejects, "%s/rejects.txt", s->folder);
    const struct lb_import_options options = {
        .paths = paths, .path_count = 1, .rejects = rejects, .now = "2026-01-01T00:00:00Z"};
    struct lb_import_result result = {0};
    expect_ok(lb_import(store, &options, &result, &err));
    cr_assert_eq(result.files.count, FORMS);
    for (size_t i = 0; i < result.files.count; i++) {
        struct model *m = model_of(models, result.files.at[i].file);
        model_import(m, stale);
        check_counts(m, &result.files.at[i]);
    }
    lb_import_result_free(&result);
}

static void check_index(struct lb_store *store, struct model *models, size_t *stale)
{
    size_t live = 0;
    for (int f = 0; f < FORMS; f++)
        live += models[f].rows.count;
    if (*stale > 1000 && *stale * 4 > live)
        *stale = 0;
    check_whole(store, models, *stale);
    for (int f = 0; f < FORMS; f++) {
        for (int k = 0; k < model_kinds((enum form)f); k++)
            check_rows(store, &models[f], model_kind((enum form)f, k));
        check_former(store, &models[f]);
    }
    check_lookup(store, models);
}

static void model_free(struct model *m)
{
    for (size_t i = 0; i < m->rows.count; i++) {
        free(m->rows.at[i].text);
        free(m->rows.at[i].prices.at);
    }
    free(m->rows.at);
    free(m->items.at);
    free(m->former.at);
}

static void run(uint64_t seed)
{
    struct scratch s = scratch_make();
    struct model models[FORMS] = {{.form = FORM_PARTS, .file = "parts.csv"},
                                  {.form = FORM_OFFERS, .file = "offers.csv"},
                                  {.form = FORM_STOCK, .file = "stock.csv"},
                                  {.form = FORM_COMPONENTS, .file = "components.csv"}};
    struct lb_store *store;
    size_t stale = 0;
    int tidied = 0;
    state = seed;
    expect_ok(lb_store_open(&store, scratch_path(&s, "index.db"), LB_STORE_WRITE, &err));
    expect_ok(lb_lookup_ready(store, &err));
    for (int edition = 0; edition < EDITIONS; edition++) {
        for (int f = 0; f < FORMS; f++) {
            if (edition == 0 || below(4)) {
                mutate(&models[f]);
                lay_out(&models[f]);
            }
            write_file(&s, &models[f]);
        }
        import_and_check(&s, store, models, &stale);
        size_t before = stale;
        check_index(store, models, &stale);
        tidied += before && !stale;
    }
    cr_expect_gt(tidied, 0);
    for (int f = 0; f < FORMS; f++)
        model_free(&models[f]);
    lb_store_close(store);
    scratch_remove(&s);
}

Test(editions, random_one)
{
    run(0x9e3779b97f4a7c15);
}

Test(editions, random_two)
{
    run(20260101);
}
