#include "importers/unpack.h"

#include <stdbool.h>
#include <string.h>

/* How much may come out of how little. Invented price lists of 3 million rows that repeat all but the part
 * number or the price break came to 29 times with gzip, 125 with zstd and 193 with xz, so the limit has room
 * for honest ones. Filler, which a bomb is made of, comes to 1030 times with deflate and to many thousands
 * with the others. Below 64 MiB anything goes: that much hurts no one. */
#define RATIO_MAX    500
#define RATIO_FROM   ((uint64_t)64 << 20)
#define UNPACKED_MAX ((uint64_t)64 << 30) /* hundreds of millions of rows */

enum lb_packing lb_packing_of(const char *head, size_t length)
{
    static const struct {
        const char *magic;
        size_t at, size;
        enum lb_packing packing;
    } known[] = {
        {"\x1F\x8B", 0, 2, LB_GZIP},
        {"\x28\xB5\x2F\xFD", 0, 4, LB_ZSTD},
        {"\xFD"
         "7zXZ\0",
         0, 6, LB_XZ},
        {"BZh", 0, 3, LB_BZIP2},
        {"PK\3\4", 0, 4, LB_ZIP},
        {"PK\5\6", 0, 4, LB_EMPTY_ZIP},
        {"ustar\0", 257, 6, LB_TAR},
        {"ustar ", 257, 6, LB_TAR},
    };
    for (size_t i = 0; i < sizeof known / sizeof *known; i++) {
        bool fits = length >= known[i].at + known[i].size &&
                    memcmp(head + known[i].at, known[i].magic, known[i].size) == 0;
        /* Text may well begin with BZh; a block or the end of the stream follows in bzip2. */
        if (fits && known[i].packing == LB_BZIP2)
            fits = length >= 10 && (memcmp(head + 4, "1AY&SY", 6) == 0 ||
                                    memcmp(head + 4, "\x17\x72\x45\x38\x50\x90", 6) == 0);
        if (fits)
            return known[i].packing;
    }
    return LB_UNPACKED;
}

lb_status lb_unpack_check(uint64_t out, uint64_t in, const char *name, struct lb_error *err)
{
    if (out > UNPACKED_MAX)
        return lb_fail(
            err, LB_DATA,
            "%s unpacks to more than 64 GiB, which no catalogue comes to. If it is right, unpack it "
            "and import what is in it",
            name);
    if (out > RATIO_FROM && out / RATIO_MAX > in)
        return lb_fail(err, LB_DATA,
                       "%s unpacks to more than %d times its size, as no catalogue does; it may be made to "
                       "fill a disk. If it is right, unpack it and import what is in it",
                       name, RATIO_MAX);
    return LB_OK;
}

lb_status lb_unpack_unable(const char *name, struct lb_error *err)
{
    return lb_fail(err, LB_DATA, "this lastbolt was built without archive support; unpack %s first", name);
}

lb_status lb_unpack_cut_off(const char *name, struct lb_error *err)
{
    return lb_fail(err, LB_DATA, "%s is cut off: it ends before its content does. Get the file again", name);
}

lb_status lb_unpack(struct lb_bytes **bytes, enum lb_packing packing, const char *name, struct lb_error *err)
{
#if LB_HAVE_ARCHIVE
    return packing == LB_GZIP ? lb_unpack_gzip(bytes, name, err)
                              : lb_unpack_filter(bytes, packing, name, err);
#else
    (void)bytes;
    (void)packing;
    return lb_unpack_unable(name, err);
#endif
}
