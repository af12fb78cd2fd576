#include "base/money.h"

#include "base/decimal.h"

#include <stdlib.h>
#include <string.h>

/* ISO 4217 List One, published 2024-06-25: codes by minor digits, sorted, four bytes each. Left out are the
 * thirteen codes whose minor unit is "N.A.": metals, bond market units, SDR, testing, no currency. */
static const struct {
    int digits;
    const char *codes;
} groups[] = {
    {2, "AED AFN ALL AMD ANG AOA ARS AUD AWG AZN BAM BBD BDT BGN BMD BND BOB BOV BRL BSD BTN BWP "
        "BYN BZD CAD CDF CHE CHF CHW CNY COP COU CRC CUC CUP CVE CZK DKK DOP DZD EGP ERN ETB EUR "
        "FJD FKP GBP GEL GHS GIP GMD GTQ GYD HKD HNL HTG HUF IDR ILS INR IRR JMD KES KGS KHR KPW "
        "KYD KZT LAK LBP LKR LRD LSL MAD MDL MGA MKD MMK MNT MOP MRU MUR MVR MWK MXN MXV MYR MZN "
        "NAD NGN NIO NOK NPR NZD PAB PEN PGK PHP PKR PLN QAR RON RSD RUB SAR SBD SCR SDG SEK SGD "
        "SHP SLE SOS SRD SSP STN SVC SYP SZL THB TJS TMT TOP TRY TTD TWD TZS UAH USD USN UYU UZS "
        "VED VES WST XCD YER ZAR ZMW ZWG "},
    {0, "BIF CLP DJF GNF ISK JPY KMF KRW PYG RWF UGX UYI VND VUV XAF XOF XPF "},
    {3, "BHD IQD JOD KWD LYD OMR TND "},
    {4, "CLF UYW "},
};

#define STRIDE 4 /* three letters and a blank */
#define LIMIT  ((int64_t)9000000000000000)

static int compare_code(const void *key, const void *entry)
{
    return memcmp(key, entry, 3);
}

int lb_currency_digits(const char *code)
{
    if (strlen(code) != 3)
        return -1;
    for (size_t i = 0; i < sizeof groups / sizeof *groups; i++) {
        const char *codes = groups[i].codes;
        if (bsearch(code, codes, strlen(codes) / STRIDE, STRIDE, compare_code))
            return groups[i].digits;
    }
    return -1;
}

const char *lb_money_parse(const char *text, const char *currency, int64_t *minor)
{
    int digits = lb_currency_digits(currency);
    if (digits < 0)
        return "has a currency that ISO 4217 does not list";
    const char *rest = "";
    int64_t read = 0;
    enum lb_scan scan = lb_decimal_scan(text, digits, LIMIT, &read, &rest);
    if (scan == LB_SCAN_NO_NUMBER || *rest)
        return "is not an amount of money";
    if (scan == LB_SCAN_TOO_FINE)
        return "has more decimal places than its currency";
    if (scan == LB_SCAN_TOO_LARGE)
        return "is too large an amount";
    *minor = read;
    return NULL;
}

void lb_money_print(struct lb_buf *out, int64_t minor, const char *currency)
{
    int digits = lb_currency_digits(currency);
    lb_decimal_print_places(out, minor, digits < 0 ? 0 : digits);
}

int64_t lb_money_percent(int64_t minor, int64_t percent)
{
    return lb_decimal_muldiv(minor, percent, 100 * LB_MILLION);
}
