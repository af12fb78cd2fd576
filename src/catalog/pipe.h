/* Two threads and the batches between them: one reads and converts, the other writes the index. A handful of
 * batches goes round, so the quicker of the two waits for the other.
 *
 *     lb_pipe_start(&pipe, read_it, me, &err);            // read_it runs beside, and gives batches with
 *     …                                                   //   lb_pipe_blank / lb_pipe_send
 *     while (!(status = lb_pipe_take(pipe, 100, &batch)) …) { …; lb_pipe_back(pipe, batch); }
 *     status = lb_pipe_join(pipe, &err);
 */
#ifndef LB_CATALOG_PIPE_H
#define LB_CATALOG_PIPE_H

#include "catalog/batch.h"

struct lb_pipe;

/* `work` runs in a thread of its own; what it returns, lb_pipe_join passes on. */
LB_CHECK lb_status lb_pipe_start(struct lb_pipe **out,
                                 lb_status (*work)(struct lb_pipe *, void *, struct lb_error *),
                                 void *context, struct lb_error *err);

/* For the work: an empty batch, waiting for one to come back; NULL: the other side has given up. */
struct lb_batch *lb_pipe_blank(struct lb_pipe *pipe);
/* Waits while another batch with postings is under way: they are large. */
void lb_pipe_send(struct lb_pipe *pipe, struct lb_batch *batch);

/* For the other side. Waits up to `milliseconds`; *batch NULL and true: nothing came so far; false: the work
 * is done. */
bool lb_pipe_take(struct lb_pipe *pipe, int milliseconds, struct lb_batch **batch);
/* A batch that was taken, to be used again. */
void lb_pipe_back(struct lb_pipe *pipe, struct lb_batch *batch);
/* Waits for the work to end (`stop`: tells it to first), frees everything and gives what the work returned.
 */
LB_CHECK lb_status lb_pipe_join(struct lb_pipe *pipe, bool stop, struct lb_error *err);

#endif
