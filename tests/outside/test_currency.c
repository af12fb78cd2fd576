/* ISO 4217 List One, published 2024-06-25, as the maintenance agency's XML states it (read from a package
 * that ships the file). */
#include "base/money.h"

#include <criterion/criterion.h>
#include <stdint.h>

static void all_have(const char *const *codes, size_t count, int digits)
{
    for (size_t i = 0; i < count; i++)
        cr_expect_eq(lb_currency_digits(codes[i]), digits, "%s", codes[i]);
}

#define ALL_HAVE(codes, digits) all_have(codes, sizeof codes / sizeof *codes, digits)

/* <CcyMnrUnts> of each, the whole list but for the 140 codes with 2. */
Test(currency, the_exceptions)
{
    const char *const none[] = {"BIF", "CLP", "DJF", "GNF", "ISK", "JPY", "KMF", "KRW", "PYG",
                                "RWF", "UGX", "UYI", "VND", "VUV", "XAF", "XOF", "XPF"};
    const char *const three[] = {"BHD", "IQD", "JOD", "KWD", "LYD", "OMR", "TND"};
    const char *const four[] = {"CLF", "UYW"};
    const char *const not_applicable[] = {"XAG", "XAU", "XBA", "XBB", "XBC", "XBD", "XDR",
                                          "XPD", "XPT", "XSU", "XTS", "XUA", "XXX"};
    ALL_HAVE(none, 0);
    ALL_HAVE(three, 3);
    ALL_HAVE(four, 4);
    ALL_HAVE(not_applicable, -1);
}

/* Common locale data rounds these to 0 digits in daily use, where the standard says 2 or 3: a price in them
 * has its minor units. From memory: the choice of codes; their digits are List One's. */
Test(currency, the_standard_not_the_habit)
{
    const char *const two[] = {"AFN", "ALL", "IRR", "LAK", "LBP", "MMK", "SOS", "SYP", "YER", "HUF", "IDR"};
    ALL_HAVE(two, 2);
}

/* Withdrawn: no money any more. From memory: that they once were. */
Test(currency, withdrawn_codes_are_none)
{
    const char *const gone[] = {"DEM", "FRF", "ITL", "HRK", "EEK", "ZWL", "MRO", "STD", "BYR", "SLL"};
    ALL_HAVE(gone, -1);
}

static char *code_of(int n, char code[4])
{
    code[0] = (char)('A' + n / 676);
    code[1] = (char)('A' + n / 26 % 26);
    code[2] = (char)('A' + n % 26);
    code[3] = '\0';
    return code;
}

/* Every code there could be: 140, 17, 7 and 2 of them are currencies, and a sum over the XML's pairs of code
 * and digits in alphabetical order (FNV-1a, 32 bit) says that they are the same ones. */
Test(currency, the_whole_list)
{
    int by_digits[5] = {0};
    uint32_t sum = 0x811c9dc5;
    for (int n = 0; n < 26 * 26 * 26; n++) {
        char code[4];
        int digits = lb_currency_digits(code_of(n, code));
        if (digits < 0)
            continue;
        by_digits[digits]++;
        for (int i = 0; i < 4; i++)
            sum = (sum ^ (uint32_t)(i < 3 ? code[i] : '0' + digits)) * 0x01000193u;
    }
    cr_expect_eq(by_digits[2], 140);
    cr_expect_eq(by_digits[0], 17);
    cr_expect_eq(by_digits[3], 7);
    cr_expect_eq(by_digits[4], 2);
    cr_expect_eq(by_digits[1], 0);
    cr_expect_eq(sum, 0x732addcc);
}
