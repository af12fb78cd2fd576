#include "importers/recast.h"

#include "base/decimal.h"
#include "base/money.h"
#include "importers/convert.h"

#include <criterion/criterion.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

static const struct lb_column *column_of(const char *name)
{
    for (int k = 0; k < lb_kind_count; k++) {
        int i = lb_kind_column(&lb_kinds[k], name);
        if (i >= 0)
            return &lb_kinds[k].columns[i];
    }
    cr_assert_fail("no column %s", name);
    return NULL;
}

/* What a cell of `field` becomes; a refusal as `!reason`. */
static void expect_cell(const char *field, const char *convert, const char *text, const char *want)
{
    struct lb_recast recast;
    struct lb_recast_cell cell = {0};
    struct lb_error err = {0};
    char got[300];
    cr_assert_eq(lb_recast_parse(&recast, convert, column_of(field), &err), LB_OK, "%s: %s", convert,
                 lb_error_text(&err));
    bool good = lb_recast_cell(&recast, column_of(field), text, NULL, &cell);
    snprintf(got, sizeof got, "%s%s", good ? "" : "!", lb_buf_text(good ? &cell.text : &cell.reason));
    cr_expect_str_eq(got, want, "%s \"%s\": %s", convert, text, got);
    lb_recast_cell_free(&cell);
    lb_recast_free(&recast);
}

Test(recast, numbers)
{
    expect_cell("price", "decimal comma", "12,50", "12.50");
    expect_cell("price", "decimal comma", "-12,50", "-12.50");
    expect_cell("price", "decimal comma", "\u221212,50", "-12.50");
    expect_cell("price", "decimal comma", "12,-", "12");
    expect_cell("price", "decimal comma", "12,\u2013", "12");
    expect_cell("price", "decimal comma; thousands .", "1.234.567,8", "1234567.8");
    expect_cell("price", "decimal comma; thousands .", "1234,50", "1234.50");
    expect_cell("price", "decimal comma; thousands space", "1\u00A0234,50", "1234.50");
    expect_cell("price", "decimal comma; thousands space", "1\u202F234,50", "1234.50");
    expect_cell("price", "thousands '", "1\u2019234.50", "1234.50");
    expect_cell("price", "thousands ,", "1,234.50", "1234.50");
    expect_cell("price", "thousands ,", "\uFF11\uFF12.\uFF15", "12.5");
    expect_cell("pack_quantity", "decimal comma", "1,5 L", "1.5 L");
    expect_cell("price", "decimal comma", "", "");
}

Test(recast, numbers_refused)
{
    expect_cell("price", "decimal comma", "12.50",
                "!\"12.50\" is not a number as this file writes them, with a decimal comma");
    expect_cell("price", "thousands ,", "12,50", "!\"12,50\" does not set its thousands in threes");
    expect_cell("price", "decimal comma; thousands .", "1.23,50",
                "!\"1.23,50\" does not set its thousands in threes");
    expect_cell("price", "decimal comma; thousands .", "0.123",
                "!\"0.123\" does not set its thousands in threes");
    expect_cell("price", "decimal comma; thousands .", "1234.567",
                "!\"1234.567\" does not set its thousands in threes");
    expect_cell("price", "decimal comma", "dear", "!\"dear\" is not a number");
    expect_cell("price", "decimal comma", "12,50 net", "!\"12,50 net\" is not an amount of money");
    expect_cell("price", "decimal comma", "1,2,3",
                "!\"1,2,3\" is not a number as this file writes them, with a decimal comma");
}

Test(recast, dates)
{
    expect_cell("valid_to", "date D.M.Y", "31.12.2026", "2026-12-31");
    expect_cell("valid_to", "date D.M.Y", "1.2.2026", "2026-02-01");
    expect_cell("valid_to", "date M/D/Y", "12/31/2026", "2026-12-31");
    expect_cell("valid_to", "date Y/M/D", "2026/1/2", "2026-01-02");
    expect_cell("valid_to", "date YMD", "20261231", "2026-12-31");
    expect_cell("valid_to", "date Y年M月D日", "2026年1月2日", "2026-01-02");
    expect_cell("built_from", "date M/Y", "3/2004", "2004-03");
    expect_cell("valid_to", "date D.M.Y; pivot 70", "31.12.69", "2069-12-31");
    expect_cell("valid_to", "date D.M.Y; pivot 70", "31.12.70", "1970-12-31");
    expect_cell("valid_to", "date D.M.Y", "31.02.2026", "!\"31.02.2026\" is a day that does not exist");
    expect_cell("valid_to", "date D.M.Y", "31/12/2026",
                "!\"31/12/2026\" is not a date as this file writes them");
    expect_cell("valid_to", "date D.M.Y", "31.12.2026 noon",
                "!\"31.12.2026 noon\" is more than a date as this file writes them");
    expect_cell(
        "valid_to", "date D.M.Y", "31.12.26",
        "!\"31.12.26\" has a year of two digits; the profile must say which century, such as `pivot 70`");
}

Test(recast, currencies)
{
    expect_cell("price", "decimal comma; currency symbol", "1,50 €", "1.50");
    expect_cell("price", "currency symbol", "£9.99", "9.99");
    expect_cell("price", "currency symbol", "US$ 9.99", "9.99");
    expect_cell("price", "currency symbol", "9.99", "9.99");
    expect_cell("price", "currency $=USD", "$9.99", "9.99");
    expect_cell("currency", "currency symbol", "12,50 EUR", "EUR");
    expect_cell("currency", "currency symbol", "EUR 12,50 / 100 St.", "EUR");
    expect_cell("currency", "currency symbol", "zł", "PLN");
    expect_cell("currency", "currency kr=SEK", "12 kr", "SEK");
    expect_cell("currency", "currency symbol; empty GBP", "", "GBP");
    expect_cell("currency", "currency symbol", "12.50", "!\"12.50\" names no currency");
    expect_cell("price", "currency symbol", "$9.99",
                "!\"$9.99\" has a sign that several currencies share; the profile must say which, such as "
                "`currency $=USD`");
    expect_cell("price", "currency symbol; decimal comma", "PEUR 5", "!\"PEUR 5\" is not a number");
}

/* The row's own currency settles a sign that several share, and contradicts another one. */
Test(recast, currency_of_the_row)
{
    struct lb_recast recast;
    struct lb_recast_cell cell = {0};
    const struct lb_column *price = column_of("price");
    cr_assert_eq(lb_recast_parse(&recast, "currency symbol", price, NULL), LB_OK);
    cr_expect(lb_recast_cell(&recast, price, "$9.99", "CAD", &cell));
    cr_expect_str_eq(lb_buf_text(&cell.text), "9.99");
    cr_expect(!lb_recast_cell(&recast, price, "£9.99", "EUR", &cell));
    cr_expect_str_eq(lb_buf_text(&cell.reason), "\"£9.99\" is in another currency than its row");
    lb_recast_cell_free(&cell);
    lb_recast_free(&recast);
}

Test(recast, packs)
{
    static const char unsure[] =
        "is not a pack that can be read for sure, such as \"10 pcs\", \"VE 10\", \"box of "
        "10\" or \"5 L\"";
    static const char *const good[][2] = {
        {"10", "10"},         {"10 pcs", "10"},    {"10 Stk.", "10"},
        {"10Stück", "10"},    {"VE 10", "10"},     {"VE: 10", "10"},
        {"Box of 10", "10"},  {"10er-Pack", "10"}, {"boîte de 10 pièces", "10"},
        {"20個", "20"},       {"5 L", "5 L"},      {"2.5 kg", "2.5 kg"},
        {"1000 szt.", "1000"}};
    static const char *const bad[] = {"dozen", "10 x 5 m",  "1 pair", "10 packs",
                                      "10-20", "pallet 10", "2 °C"};
    for (size_t i = 0; i < sizeof good / sizeof *good; i++)
        expect_cell("pack_quantity", "pack text", good[i][0], good[i][1]);
    for (size_t i = 0; i < sizeof bad / sizeof *bad; i++) {
        char want[200];
        snprintf(want, sizeof want, "!\"%s\" %s", bad[i], unsure);
        expect_cell("pack_quantity", "pack text", bad[i], want);
    }
    expect_cell("pack_quantity", "pack text; decimal comma; thousands .", "1.000 Stk", "1000");
}

Test(recast, words)
{
    expect_cell("part_type", "lower-words", "Water Pump", "water-pump");
    expect_cell("part_type", "lower-words", " O-Ring / Set ", "o-ring-set");
    expect_cell("part_type", "lower-words", "Kühlmittel", "kühlmittel");
    expect_cell("brand", "upper", "Halvane", "HALVANE");
    expect_cell("part_number", "strip *", "*A-1*", "A-1");
    expect_cell("part_number", "prefix HV-", "77", "HV-77");
    expect_cell("part_number", "strip X; prefix HV-; upper", "x7X", "HV-X7");
    expect_cell("status", "map Auslaufend=discontinued|lieferbar=current", "AUSLAUFEND ", "discontinued");
    expect_cell("status", "map a=b|*=current", "z", "current");
    expect_cell("status", "map a=b|*=*", "z", "z");
    expect_cell("status", "map a=", "a", "");
    expect_cell("status", "map a=b", "z", "!\"z\" is not one of the words that are mapped");
    expect_cell("note", "map a\\=b=c\\;d", "A=B", "c;d");
    expect_cell("unit", "unit text", "Stk.", "each");
    expect_cell("unit", "unit text", "L", "L");
    expect_cell("price", "on-request auf Anfrage|POA", "Auf  Anfrage",
                "!price on request: the cell says \"Auf  Anfrage\"");
}

Test(recast, what_a_price_is_for)
{
    static const struct {
        const char *text, *amount;
        int64_t per;
    } rows[] = {{"12,50", "12,50", 0},
                {"12,50 / 100 St.", "12,50", 100 * LB_MILLION},
                {"12,50/100", "12,50", 100 * LB_MILLION},
                {"12,50 € / Stk", "12,50 €", LB_MILLION},
                {"12.50 per 10 pcs", "12.50", 10 * LB_MILLION}};
    size_t length;
    int64_t per;
    for (size_t i = 0; i < sizeof rows / sizeof *rows; i++) {
        cr_expect_null(lb_recast_split_per(rows[i].text, &length, &per));
        cr_expect_eq(length, strlen(rows[i].amount), "%s", rows[i].text);
        cr_expect_eq(per, rows[i].per, "%s", rows[i].text);
    }
    cr_expect_not_null(lb_recast_split_per("12,50 / m", &length, &per));
    cr_expect_not_null(lb_recast_split_per("12,50 / 0", &length, &per));
}

static void expect_per(const char *price, int64_t per, const char *pack, const char *currency,
                       const char *want)
{
    struct lb_buf amount = {0}, out = {0}, reason = {0};
    if (lb_recast_per(price, per * LB_MILLION, pack, currency, &amount, &out, &reason)) {
        lb_buf_puts(&amount, " for ");
        lb_buf_puts(&amount, lb_buf_text(&out));
        cr_expect_str_eq(amount.text, want);
    } else {
        cr_expect_str_eq(lb_buf_text(&reason), want);
    }
    lb_buf_free(&amount);
    lb_buf_free(&out);
    lb_buf_free(&reason);
}

/* No money is rounded: not exact is not read. */
Test(recast, a_price_per_hundred)
{
    expect_per("24.60", 100, "50", "EUR", "12.3 for 50");
    expect_per("12.34", 100, "", "EUR", "12.34 for 100");
    expect_per("12.34", 100, "100", "EUR", "12.34 for 100");
    expect_per("12.34", 1, "10", "EUR", "123.4 for 10");
    expect_per("45", 1, "20", "JPY", "900 for 20");
    expect_per("12.345", 100, "200", "EUR", "24.69 for 200");
    expect_per("12.34", 0, "7", "EUR", "12.34 for 7");
    expect_per("12.34", 100, "1", "EUR",
               "\"12.34\" for 100 comes to no whole amount of money for a pack of 1");
    expect_per("50", 100, "1", "JPY", "\"50\" for 100 comes to no whole amount of money for a pack of 1");
    expect_per("1", 3, "1", "EUR", "\"1\" for 3 comes to no whole amount of money for a pack of 1");
    expect_per("1", 100, "5 L", "EUR",
               "\"5 L\" is a pack in a unit, and the price is one for so many pieces");
    expect_per("", 100, "5", "EUR", " for 5");
}

Test(recast, pieces_in_packs)
{
    struct lb_buf out = {0}, reason = {0};
    static const struct {
        const char *pieces, *pack;
        bool up;
        const char *want;
    } rows[] = {{"25", "10", true, "3"}, {"25", "10", false, "2"}, {"25", "", true, "25"},
                {"0", "10", true, "0"},  {"-3", "10", true, "-3"}, {"some", "10", true, "some"}};
    for (size_t i = 0; i < sizeof rows / sizeof *rows; i++) {
        lb_buf_clear(&out);
        cr_expect(lb_recast_pieces(rows[i].pieces, rows[i].pack, rows[i].up, &out, &reason));
        cr_expect_str_eq(lb_buf_text(&out), rows[i].want);
    }
    cr_expect(!lb_recast_pieces("25", "5 L", true, &out, &reason));
    lb_buf_free(&out);
    lb_buf_free(&reason);
}

/* Parse and write: the spelling that comes back, or the refusal behind `!`. */
static void expect_convert(const char *field, const char *convert, const char *want)
{
    struct lb_recast recast;
    struct lb_error err = {0};
    struct lb_buf out = {0};
    if (lb_recast_parse(&recast, convert, column_of(field), &err))
        lb_buf_printf(&out, "!%s", lb_error_text(&err));
    else
        lb_recast_write(&out, &recast);
    cr_expect_str_eq(lb_buf_text(&out), want);
    lb_recast_free(&recast);
    lb_error_free(&err);
    lb_buf_free(&out);
}

Test(recast, spelling)
{
    expect_convert("price", " thousands .;decimal comma ; ", "decimal comma; thousands .");
    expect_convert("price", "per column PE; currency kr=SEK|$=USD", "currency kr=SEK|$=USD; per column PE");
    expect_convert("price", "on-request a\\|b|c", "on-request a\\|b|c");
    expect_convert("brand", "prefix a\\;b", "prefix a\\;b");
    expect_convert("brand", "prefix AB\\ ; upper", "prefix AB\\ ; upper");
    expect_convert("brand", "fixed a; b", "fixed a; b");
    expect_convert("valid_to", "pivot 50; date D.M.Y", "date D.M.Y; pivot 50");
    expect_convert("price", "", "");
    expect_convert("price", "decimal dot",
                   "!\"decimal dot\": `decimal` is `decimal comma` or `decimal point`");
    expect_convert("price", "decimel comma",
                   "!\"decimel comma\" is no conversion; did you mean \"decimal\"?");
    expect_convert("brand", "decimal comma", "!`decimal` makes no sense for brand: it is for numbers");
    expect_convert("stock", "per 100", "!`per` makes no sense for stock: it is for the price");
    expect_convert("price", "thousands .",
                   "!thousands and decimals cannot both be marked with \".\"; is `decimal comma` missing?");
    expect_convert("price", "per 100; per text", "!`per` stands here twice");
    expect_convert("valid_to", "date D.M",
                   "!\"date D.M\": `date` is written with D, M and Y once each, such as "
                   "`date D.M.Y`");
    expect_convert("price", "currency $=US",
                   "!\"currency $=US\": `currency` is `currency symbol`, or `currency "
                   "$=USD` with a code of ISO 4217");
    expect_convert("brand", "fixed", "!`fixed` wants a value behind it");
    expect_convert("status", "map a", "!\"map a\": `map` wants A=B, or several with | between");
}

/* An amount as six kinds of people write it. */
static void print_amount(char *out, size_t size, uint64_t cents, char decimal, const char *thousands)
{
    char whole[32], grouped[64] = "";
    snprintf(whole, sizeof whole, "%llu", (unsigned long long)(cents / 100));
    size_t length = strlen(whole);
    for (size_t i = 0; i < length; i++) {
        if (i && (length - i) % 3 == 0)
            strcat(grouped, thousands);
        strncat(grouped, &whole[i], 1);
    }
    snprintf(out, size, "%s%c%02d", grouped, decimal, (int)(cents % 100));
}

Test(recast, amounts_come_back_exactly)
{
    static const struct {
        char decimal;
        const char *thousands, *convert;
    } styles[] = {{'.', "", "decimal point"},
                  {',', "", "decimal comma"},
                  {',', ".", "decimal comma; thousands ."},
                  {'.', ",", "thousands ,"},
                  {',', "\u202F", "decimal comma; thousands space"},
                  {'.', "'", "thousands '"}};
    const struct lb_column *price = column_of("price");
    srand(7);
    for (int n = 0; n < 6000; n++) {
        uint64_t cents = (uint64_t)rand() % (n % 3 ? 100000 : 2000000000);
        struct lb_recast recast;
        struct lb_recast_cell cell = {0};
        char text[80];
        int64_t read = -1;
        print_amount(text, sizeof text, cents, styles[n % 6].decimal, styles[n % 6].thousands);
        cr_assert_eq(lb_recast_parse(&recast, styles[n % 6].convert, price, NULL), LB_OK);
        cr_assert(lb_recast_cell(&recast, price, text, NULL, &cell), "%s: %s", text,
                  lb_buf_text(&cell.reason));
        cr_assert_null(lb_money_parse(lb_buf_text(&cell.text), "EUR", &read));
        cr_assert_eq(read, (int64_t)cents, "%s", text);
        lb_recast_cell_free(&cell);
        lb_recast_free(&recast);
    }
}

/* Whatever stands in a cell: it is refused, or it is text that reads as a number without another meaning. */
Test(recast, noise_is_refused_or_a_number)
{
    static const char signs[] = "0123456789.,' -+€/";
    const struct lb_column *price = column_of("price");
    struct lb_recast recast;
    struct lb_recast_cell cell = {0};
    cr_assert_eq(
        lb_recast_parse(&recast, "decimal comma; thousands .; currency symbol; per text", price, NULL),
        LB_OK);
    srand(11);
    for (int n = 0; n < 20000; n++) {
        char text[12];
        size_t length = 1 + (size_t)rand() % 10;
        for (size_t i = 0; i < length; i++)
            text[i] = signs[(size_t)rand() % (sizeof signs - 1)];
        text[length] = '\0';
        if (!lb_recast_cell(&recast, price, text, "EUR", &cell) || !cell.text.length)
            continue;
        int64_t value;
        cr_expect(lb_decimal_parse(lb_buf_text(&cell.text), &value) || strlen(lb_buf_text(&cell.text)) > 7,
                  "\"%s\" became \"%s\"", text, lb_buf_text(&cell.text));
    }
    lb_recast_cell_free(&cell);
    lb_recast_free(&recast);
}
