/* Between odometer.c, which says what counts, and odometer_forecast.c, which says what follows from it. */
#ifndef LB_GARAGE_ODOMETER_PARTS_H
#define LB_GARAGE_ODOMETER_PARTS_H

#include "garage/odometer.h"

/* Fills rate, spread and what goes with them from the points. */
void odometer_rate(struct lb_odometer *odometer);

#endif
