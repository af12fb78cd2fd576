#include "catalog/pipe.h"

#include <pthread.h>
#include <signal.h>
#include <stdlib.h>
#include <string.h>
#include <time.h>

enum { BATCHES = 6 };

struct lb_pipe {
    pthread_mutex_t lock;
    pthread_cond_t changed;
    pthread_t thread;
    lb_status (*work)(struct lb_pipe *, void *, struct lb_error *);
    void *context;
    struct lb_batch *blank, *sent, **sent_last;
    bool stopped, done;
    int postings;     /* batches that carry some: sent and not back */
    lb_status status; /* of the work */
    struct lb_error err;
};

static void *run(void *argument)
{
    struct lb_pipe *pipe = argument;
    lb_status status = pipe->work(pipe, pipe->context, &pipe->err);
    pthread_mutex_lock(&pipe->lock);
    pipe->status = status;
    pipe->done = true;
    pthread_cond_broadcast(&pipe->changed);
    pthread_mutex_unlock(&pipe->lock);
    return NULL;
}

static void pipe_free(struct lb_pipe *pipe)
{
    struct lb_batch *lists[] = {pipe->blank, pipe->sent};
    for (int i = 0; i < 2; i++)
        while (lists[i]) {
            struct lb_batch *next = lists[i]->next;
            lb_batch_free(lists[i]);
            lists[i] = next;
        }
    pthread_cond_destroy(&pipe->changed);
    pthread_mutex_destroy(&pipe->lock);
    lb_error_free(&pipe->err);
    free(pipe);
}

static lb_status fill(struct lb_pipe *pipe, struct lb_error *err)
{
    for (int i = 0; i < BATCHES; i++) {
        struct lb_batch *batch;
        lb_status status = lb_batch_new(&batch, err);
        if (status)
            return status;
        batch->next = pipe->blank;
        pipe->blank = batch;
    }
    return LB_OK;
}

/* Signals are for the thread that was there before. */
static int start_thread(struct lb_pipe *pipe)
{
    sigset_t all, before;
    sigfillset(&all);
    pthread_sigmask(SIG_SETMASK, &all, &before);
    int trouble = pthread_create(&pipe->thread, NULL, run, pipe);
    pthread_sigmask(SIG_SETMASK, &before, NULL);
    return trouble;
}

lb_status lb_pipe_start(struct lb_pipe **out, lb_status (*work)(struct lb_pipe *, void *, struct lb_error *),
                        void *context, struct lb_error *err)
{
    pthread_condattr_t clock;
    struct lb_pipe *pipe = *out = calloc(1, sizeof *pipe);
    if (!pipe)
        return lb_fail_nomem(err);
    pipe->work = work;
    pipe->context = context;
    pipe->sent_last = &pipe->sent;
    pthread_mutex_init(&pipe->lock, NULL);
    pthread_condattr_init(&clock);
    pthread_condattr_setclock(&clock, CLOCK_MONOTONIC);
    pthread_cond_init(&pipe->changed, &clock);
    pthread_condattr_destroy(&clock);
    lb_status status = fill(pipe, err);
    int trouble = status ? 0 : start_thread(pipe);
    if (trouble)
        status = lb_fail(err, LB_SYSTEM, "no thread can be started: %s", strerror(trouble));
    if (status) {
        pipe_free(pipe);
        *out = NULL;
    }
    return status;
}

struct lb_batch *lb_pipe_blank(struct lb_pipe *pipe)
{
    pthread_mutex_lock(&pipe->lock);
    while (!pipe->blank && !pipe->stopped)
        pthread_cond_wait(&pipe->changed, &pipe->lock);
    struct lb_batch *batch = pipe->stopped ? NULL : pipe->blank;
    if (batch)
        pipe->blank = batch->next;
    pthread_mutex_unlock(&pipe->lock);
    return batch;
}

void lb_pipe_send(struct lb_pipe *pipe, struct lb_batch *batch)
{
    batch->next = NULL;
    pthread_mutex_lock(&pipe->lock);
    while (batch->postings && pipe->postings && !pipe->stopped)
        pthread_cond_wait(&pipe->changed, &pipe->lock);
    pipe->postings += batch->postings != NULL;
    *pipe->sent_last = batch;
    pipe->sent_last = &batch->next;
    pthread_cond_broadcast(&pipe->changed);
    pthread_mutex_unlock(&pipe->lock);
}

static struct timespec in(int milliseconds)
{
    struct timespec until;
    clock_gettime(CLOCK_MONOTONIC, &until);
    until.tv_nsec += milliseconds % 1000 * 1000000L;
    until.tv_sec += milliseconds / 1000 + until.tv_nsec / 1000000000L;
    until.tv_nsec %= 1000000000L;
    return until;
}

bool lb_pipe_take(struct lb_pipe *pipe, int milliseconds, struct lb_batch **batch)
{
    struct timespec until = in(milliseconds);
    int trouble = 0;
    pthread_mutex_lock(&pipe->lock);
    while (!pipe->sent && !pipe->done && !trouble)
        trouble = pthread_cond_timedwait(&pipe->changed, &pipe->lock, &until);
    *batch = pipe->sent;
    if (*batch && !(pipe->sent = (*batch)->next))
        pipe->sent_last = &pipe->sent;
    bool more = *batch || !pipe->done;
    pthread_mutex_unlock(&pipe->lock);
    return more;
}

void lb_pipe_back(struct lb_pipe *pipe, struct lb_batch *batch)
{
    bool carried = batch->postings != NULL;
    lb_batch_clear(batch);
    pthread_mutex_lock(&pipe->lock);
    pipe->postings -= carried;
    batch->next = pipe->blank;
    pipe->blank = batch;
    pthread_cond_broadcast(&pipe->changed);
    pthread_mutex_unlock(&pipe->lock);
}

lb_status lb_pipe_join(struct lb_pipe *pipe, bool stop, struct lb_error *err)
{
    pthread_mutex_lock(&pipe->lock);
    pipe->stopped |= stop;
    pthread_cond_broadcast(&pipe->changed);
    pthread_mutex_unlock(&pipe->lock);
    pthread_join(pipe->thread, NULL);
    lb_status status = pipe->status;
    if (status && !stop) {
        lb_error_free(err);
        *err = pipe->err;
        pipe->err = (struct lb_error){0};
    }
    pipe_free(pipe);
    return status;
}
