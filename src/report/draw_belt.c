#include "report/draw.h"
lb_status lb_draw_belts(struct lb_buf *out, const struct lb_kit *kit, size_t *count, struct lb_error *err)
{
    (void)out;
    (void)kit;
    (void)err;
    *count = 0;
    return LB_OK;
}
