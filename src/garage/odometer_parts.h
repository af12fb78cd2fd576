/* Between odometer.c, which says what counts, odometer_forecast.c and odometer_past.c, which say what follows
 * from it. */
#ifndef LB_GARAGE_ODOMETER_PARTS_H
#define LB_GARAGE_ODOMETER_PARTS_H

#include "garage/odometer.h"

/* Fills rate, spread and what goes with them from the points. */
void odometer_rate(struct lb_odometer *odometer);
/* So many days after a day, within LB_ODOMETER_FIRST_DAY and _LAST_DAY. Readings are taken to be of noon. */
int32_t odometer_day_after(int32_t day, double days);
/* The latest day, in 8 of 10 cases, on which so much (millionths of a km, more than 0) has been driven since
 * the last reading that counts; LB_DATE_MAX: open. */
int32_t odometer_latest(const struct lb_odometer *odometer, int64_t distance);
/* odometer_past.c. False: it was not reached up to the last reading, or nobody can tell. */
bool odometer_past(const struct lb_odometer *odometer, const struct lb_driven *since, int64_t distance,
                   struct lb_forecast *out);

#endif
