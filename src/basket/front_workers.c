#include "basket/front_walk.h"
#include "basket/lazy_glpk.h"
#include "basket/solver.h"

#include <math.h>
#include <string.h>

enum { MOST_WORKERS = 16 };

struct work {
    struct front_walk *walk;
    front_visit *visit;
};

/* One worker takes what came last: what it finds bounds the price of what waits. One that works beside others
 * takes what came first, where their answers would help it least. */
static bool take_ahead(struct front_walk *walk, struct front_zone *zone)
{
    while (walk->ahead.count) {
        size_t i = walk->asked.count ? 0 : walk->ahead.count - 1;
        *zone = walk->ahead.at[i];
        walk->ahead.count--;
        memmove(&walk->ahead.at[i], &walk->ahead.at[i + 1], (walk->ahead.count - i) * sizeof *zone);
        if (!front_was_visited(walk, zone) && !front_waits(walk, zone) && !front_is_asked(walk, zone))
            return true;
    }
    return false;
}

/* What was put off, once more, with an even share of the time that is left each. */
static bool take_later(struct front_walk *walk, double left, struct front_zone *zone, double *seconds)
{
    while (walk->again < walk->later.count) {
        *seconds = fmin(left, left * walk->workers / (double)(walk->later.count - walk->again));
        *zone = walk->later.at[walk->again++];
        if (*seconds >= FRONT_TOO_SHORT && !front_was_visited(walk, zone))
            return true;
    }
    return false;
}

static bool take_zone(struct front_walk *walk, struct front_zone *zone, double *seconds)
{
    double left = walk->until - basket_now();
    *seconds = fmin(walk->quick, left);
    return take_ahead(walk, zone) || take_later(walk, left, zone, seconds);
}

static void leave(struct front_walk *walk, const struct front_zone *zone)
{
    size_t i = 0;
    while (!front_is_same(&walk->asked.at[i], zone))
        i++;
    walk->asked.at[i] = walk->asked.at[--walk->asked.count];
}

/* The caller's error takes the words over; it may be NULL. */
static void take_words(struct lb_error *to, struct lb_error *from)
{
    if (!to)
        return;
    lb_error_free(to);
    *to = *from;
    *from = (struct lb_error){0};
}

/* The lock is held. */
static void ask(struct front_walk *walk, front_visit *visit, const struct front_zone *zone, double seconds)
{
    struct lb_error err = {0};
    lb_status status = LB_PUSH(&walk->asked, *zone) ? LB_OK : lb_fail_nomem(&err);
    if (!status) {
        status = visit(walk, zone, seconds, &err);
        leave(walk, zone);
    }
    if (status && !walk->status) {
        walk->status = status;
        take_words(walk->err, &err);
    }
    lb_error_free(&err);
    pthread_cond_broadcast(&walk->changed);
}

/* Until nothing is left to ask and nobody is at what could bring more. */
static void *work_on(void *argument)
{
    const struct work *work = argument;
    struct front_walk *walk = work->walk;
    struct front_zone zone;
    double seconds;
    pthread_mutex_lock(&walk->lock);
    while (!walk->status) {
        if (take_zone(walk, &zone, &seconds))
            ask(walk, work->visit, &zone, seconds);
        else if (walk->asked.count)
            pthread_cond_wait(&walk->changed, &walk->lock);
        else
            break;
    }
    pthread_mutex_unlock(&walk->lock);
    return NULL;
}

/* GLPK keeps its memory by thread. */
static void *work_aside(void *argument)
{
    work_on(argument);
    basket_glpk.glp_free_env();
    return NULL;
}

void front_work(struct front_walk *walk, front_visit *visit)
{
    struct work work = {walk, visit};
    pthread_t threads[MOST_WORKERS];
    int started = 0;
    walk->workers = walk->workers < 1 ? 1 : walk->workers > MOST_WORKERS ? MOST_WORKERS : walk->workers;
    while (basket_glpk_load() && started + 1 < walk->workers &&
           !pthread_create(&threads[started], NULL, work_aside, &work))
        started++;
    work_on(&work); /* by itself, when the system gives no threads */
    for (int i = 0; i < started; i++)
        pthread_join(threads[i], NULL);
}
