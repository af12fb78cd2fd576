/* On which day a distance was reached that the odometer shows already: looked for between the stops on the
 * way, which are the day from which it counts and every reading that counts since. */
#include "garage/odometer_parts.h"

#include "base/decimal.h"

/* Distances from the beginning on, in millionths of a km. What odometers counted is known; days of which none
 * tells may have been without any driving, or with any amount of it. */
struct stop {
    int32_t day;
    int64_t least, most;
    bool bounded; /* `most` is known */
    double likely;
};

static struct stop stop_at(const struct lb_odometer *o, const struct lb_driven *since, size_t point)
{
    const struct lb_odometer_point *at = &o->points[point], *first = &o->points[since->point];
    const struct lb_odometer_point *last = lb_odometer_last(o);
    int64_t counted = at->counted - first->counted;
    struct stop stop = {.day = at->day, .least = since->lead_least + counted};
    stop.bounded = since->lead_bounded && at->blind == first->blind;
    stop.most = stop.bounded ? since->lead_most + counted : 0;
    stop.likely = (double)(since->km - (last->counted - at->counted)) +
                  (double)o->per_day * (double)(since->blind - (last->blind - at->blind));
    return stop;
}

static int32_t day_between(const struct stop *a, const struct stop *b, double distance)
{
    double share = b->likely > a->likely ? (distance - a->likely) / (b->likely - a->likely) : 0;
    return odometer_day_after(a->day, ((double)b->day - a->day) * share);
}

bool odometer_past(const struct lb_odometer *o, const struct lb_driven *since, int64_t distance,
                   struct lb_forecast *out)
{
    struct stop before = {.day = since->day, .bounded = true};
    bool reached = false, surely = false;
    if (since->point >= o->point_count || (since->blind && !o->has_rate) ||
        stop_at(o, since, o->point_count - 1).likely < (double)distance)
        return false;
    *out = (struct lb_forecast){.known = true, .ranged = true, .earliest = since->day, .latest = LB_DATE_MAX};
    for (size_t p = since->point; p < o->point_count && !surely; p++) {
        struct stop stop = stop_at(o, since, p);
        if (!reached && stop.likely >= (double)distance) {
            out->day = day_between(&before, &stop, (double)distance);
            out->before_first = p == 0 && stop.likely > (double)distance;
            reached = true;
        }
        if (stop.bounded && stop.most < distance) /* what is shown may have been shown for long */
            out->earliest = stop.day;
        surely = stop.least >= distance;
        if (surely)
            out->latest = stop.day;
        before = stop;
    }
    if (!surely)
        out->latest = odometer_latest(o, distance - before.least);
    return true;
}
