/* Freezing points of water and ethylene glycol, by volume.
 * Source: ASHRAE Handbook, Fundamentals, "Physical Properties of Secondary Coolants", freezing points: vol %
 * -> °C; linear between rows, and from (0 %, 0 °C) to the first. Past 57.8 % (-48.3 °C) there is no data.
 * ASTM D3306: concentrates are meant for 40 to 60 vol %. */
#ifndef LB_BASE_GLYCOL_H
#define LB_BASE_GLYCOL_H

#include <stdbool.h>
#include <stdint.h>

#define LB_GLYCOL_COLDEST ((int64_t)-48300000) /* millionths of a °C */

/* The least share (millionths of a percent, rounded up) that protects to `celsius` (millionths of a °C).
 * 0 for 0 °C and above. False: colder than LB_GLYCOL_COLDEST, no data. */
bool lb_glycol_share(int64_t celsius, int64_t *share);
/* The freezing point (millionths of a °C) of a share, rounded towards the warmer; false: below 0 or
 * above 57.8 %. */
bool lb_glycol_freezing(int64_t share, int64_t *celsius);

#endif
