/* A folder of a test's own, removed with what is in it when the test ends. */
#ifndef LB_TESTS_SCRATCH_H
#define LB_TESTS_SCRATCH_H

#include <criterion/criterion.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

struct scratch {
    char folder[64];
    char path[160];
};

static inline struct scratch scratch_make(void)
{
    struct scratch s = {.folder = "/tmp/lastbolt-test-XXXXXX"};
    cr_assert(mkdtemp(s.folder));
    return s;
}

/* The path of a file in it; valid until the next call. */
static inline const char *scratch_path(struct scratch *s, const char *name)
{
    snprintf(s->path, sizeof s->path, "%s/%s", s->folder, name);
    return s->path;
}

static inline void scratch_write(struct scratch *s, const char *name, const void *bytes, size_t length)
{
    FILE *file = fopen(scratch_path(s, name), "wb");
    cr_assert(file);
    cr_assert_eq(fwrite(bytes, 1, length, file), length);
    cr_assert_eq(fclose(file), 0);
}

static inline void scratch_remove(struct scratch *s)
{
    char command[128];
    snprintf(command, sizeof command, "rm -rf '%s'", s->folder);
    cr_assert_eq(system(command), 0);
}

#endif
