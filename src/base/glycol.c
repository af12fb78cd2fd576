#include "base/glycol.h"

#include "base/decimal.h"

#include <stddef.h>

/* The first row is water itself; the others are ASHRAE's. */
static const struct row {
    int64_t share, celsius; /* millionths */
} rows[] = {
    {0, 0},
    {4400000, -1400000},
    {8900000, -3200000},
    {18100000, -7800000},
    {22900000, -10700000},
    {27700000, -14100000},
    {32600000, -17900000},
    {37500000, -22300000},
    {42500000, -27500000},
    {47600000, -33800000},
    {50600000, -37900000},
    {57800000, LB_GLYCOL_COLDEST},
};

#define ROWS (sizeof rows / sizeof *rows)

bool lb_glycol_share(int64_t celsius, int64_t *share)
{
    if (celsius < LB_GLYCOL_COLDEST)
        return false;
    *share = 0;
    if (celsius >= 0)
        return true;
    size_t i = 1;
    while (rows[i].celsius > celsius)
        i++;
    const struct row *warm = &rows[i - 1], *cold = &rows[i];
    /* up, never down: a share short of the asked-for by a millionth would not protect */
    *share = warm->share + lb_decimal_ceil_div((warm->celsius - celsius) * (cold->share - warm->share),
                                               warm->celsius - cold->celsius);
    return true;
}

bool lb_glycol_freezing(int64_t share, int64_t *celsius)
{
    if (share < 0 || share > rows[ROWS - 1].share)
        return false;
    size_t i = 1;
    while (rows[i].share < share)
        i++;
    const struct row *warm = &rows[i - 1], *cold = &rows[i];
    /* division cuts towards zero, so what is promised is rather too warm than too cold */
    *celsius =
        warm->celsius - (share - warm->share) * (warm->celsius - cold->celsius) / (cold->share - warm->share);
    return true;
}
