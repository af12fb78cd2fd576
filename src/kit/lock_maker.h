/* What the files share that make a lock of a kit. Private to kit/lock_make*.c. */
#ifndef LB_KIT_LOCK_MAKER_H
#define LB_KIT_LOCK_MAKER_H

#include "base/names.h"
#include "kit/lock_text.h"

struct lock_maker {
    struct lb_kit_lock *lock;
    struct lb_store *store;
    const struct lb_kit *kit;
    const struct lb_map *map;
    struct lb_names sources;
    struct lb_error *err;
};

struct lock_pair {
    const char *from, **to;
};

/* Texts (which may be NULL) as the lock's own. */
LB_CHECK lb_status lock_copy_all(struct lock_maker *m, const struct lock_pair *pairs, size_t count);
#define LOCK_COPY(m, ...)                                                                                    \
    lock_copy_all(m, (const struct lock_pair[]){__VA_ARGS__},                                                \
                  sizeof((const struct lock_pair[]){__VA_ARGS__}) / sizeof(struct lock_pair))

LB_CHECK lb_status lock_copy(struct lock_maker *m, const char *text, const char **out);
/* The same of what was written, which it frees. */
LB_CHECK lb_status lock_take_words(struct lock_maker *m, struct lb_buf *words, const char **out);
/* A file whose rows the kit uses; NULL: none. */
LB_CHECK lb_status lock_note_source(struct lock_maker *m, const char *name);

/* lock_make_lines.c, lock_make_map.c: the stages. */
LB_CHECK lb_status lock_take_lines(struct lock_maker *m);
LB_CHECK lb_status lock_take_fastenings(struct lock_maker *m);
LB_CHECK lb_status lock_take_circuits(struct lock_maker *m);
LB_CHECK lb_status lock_take_work(struct lock_maker *m);

#endif
