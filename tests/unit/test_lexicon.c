#include "importers/lexicon.h"

#include "importers/recast.h"
#include "importers/scheme.h"

#include <criterion/criterion.h>
#include <string.h>

static struct lb_lexicon *lexicon;

static void open_it(void)
{
    cr_assert_eq(lb_lexicon_open(&lexicon, NULL), LB_OK);
}

static void close_it(void)
{
    lb_lexicon_free(lexicon);
}

TestSuite(lexicon, .init = open_it, .fini = close_it);

static bool is_doubtful(const struct lb_lexicon_entry *entry)
{
    return strcmp(entry->field, "price?") == 0;
}

Test(lexicon, no_heading_twice)
{
    const struct lb_lexicon_entry *entry, *before = lb_lexicon_at(lexicon, 0);
    for (size_t i = 1; (entry = lb_lexicon_at(lexicon, i)); before = entry, i++)
        cr_expect_str_neq(entry->key, before->key, "lines %ld and %ld", before->line, entry->line);
}

Test(lexicon, every_field_and_conversion_exists)
{
    const struct lb_lexicon_entry *entry;
    for (size_t i = 0; (entry = lb_lexicon_at(lexicon, i)); i++) {
        struct lb_recast recast;
        const struct lb_column *column = lb_scheme_type(entry->field);
        cr_expect(*entry->key && *entry->heading, "line %ld", entry->line);
        if (is_doubtful(entry) || strcmp(entry->field, "per") == 0)
            continue;
        cr_assert(column, "line %ld: %s", entry->line, entry->field);
        cr_expect_eq(lb_recast_parse(&recast, entry->convert, column, NULL), LB_OK, "line %ld", entry->line);
        lb_recast_free(&recast);
    }
}

/* What our own columns are called is no business of the lexicon: it would never be asked. */
Test(lexicon, no_own_names)
{
    const struct lb_lexicon_entry *entry;
    for (size_t i = 0; (entry = lb_lexicon_at(lexicon, i)); i++)
        cr_expect_null(lb_scheme_type(entry->heading), "line %ld: %s", entry->line, entry->heading);
}

Test(lexicon, nine_languages)
{
    static const char *const languages[] = {"en", "de", "fr", "es", "it", "nl", "pl", "sv", "ja"};
    for (size_t l = 0; l < sizeof languages / sizeof *languages; l++) {
        int count = 0;
        const struct lb_lexicon_entry *entry;
        for (size_t i = 0; (entry = lb_lexicon_at(lexicon, i)); i++)
            count += strcmp(entry->language, languages[l]) == 0;
        cr_expect_geq(count, 25, "%s has %d", languages[l], count);
    }
}

Test(lexicon, headings_as_people_type_them)
{
    static const char *const rows[][2] = {{"Artikel-Nr.", "part_number"}, {"ARTIKELNR", "part_number"},
                                          {"Art. Nr.", "part_number"},    {"Stück-Preis", "price"},
                                          {"prix  HT", "price"},          {"N° de pièce", "part_number"},
                                          {"品番", "part_number"},        {"Gültig bis:", "valid_to"},
                                          {"Cena netto", "price"},        {"EAN 13", "gtin"},
                                          {"Référence", "part_number"},   {"PE", "per"}};
    for (size_t i = 0; i < sizeof rows / sizeof *rows; i++) {
        const struct lb_lexicon_entry *entry = lb_lexicon_find(lexicon, rows[i][0]);
        cr_assert(entry, "%s", rows[i][0]);
        cr_expect_str_eq(entry->field, rows[i][1]);
    }
    cr_expect_null(lb_lexicon_find(lexicon, "Nummer"));
    cr_expect_null(lb_lexicon_find(lexicon, "number"));
    cr_expect_null(lb_lexicon_find(lexicon, ""));
    cr_expect_null(lb_lexicon_find(lexicon, "---"));
}

static void expect_priced(const char *heading, const char *field, const char *code)
{
    struct lb_buf got = {0};
    const struct lb_lexicon_entry *entry = lb_lexicon_find_priced(lexicon, heading, &got);
    cr_expect_str_eq(entry ? entry->field : "", field, "%s", heading);
    if (*code)
        cr_expect_str_eq(lb_buf_text(&got), code, "%s", heading);
    lb_buf_free(&got);
}

Test(lexicon, headings_with_a_currency)
{
    expect_priced("Preis EUR", "price", "EUR");
    expect_priced("Nettopreis (EUR)", "price", "EUR");
    expect_priced("Preis in €", "price", "EUR");
    expect_priced("Net price [GBP]", "price", "GBP");
    expect_priced("Pfand EUR", "core_deposit", "EUR");
    expect_priced("Bestand EUR", "", "");
    expect_priced("Farbe EUR", "", "");
    expect_priced("Preis", "", "");
}
