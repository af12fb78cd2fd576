/* Bytes in any encoding -> bytes in UTF-8. Which encoding it is, is told by the caller or found out: by a
 * byte-order mark, by the NUL bytes of UTF-16, and otherwise not before the first byte that is not ASCII,
 * from up to 1 MiB that follow it. What is UTF-8 passes through unchanged (and unchecked: the row reader
 * looks at every row), less its byte-order mark.
 *
 * Not a repair shop: where a sequence cannot be decoded there is one byte 0xFF instead, which UTF-8 never
 * has, so that the row reader refuses that row and no other. NUL bytes stay as they are.
 *
 *     struct lb_bytes *file, *text;
 *     status = lb_bytes_open_file(&file, "offers.csv", &err);
 *     if (!status && (status = lb_encoding_open(&text, file, NULL, &err))) lb_bytes_close(file);
 *     … text->read …, then text->encoding is "Windows-1252" or what else it was
 */
#ifndef LB_IMPORTERS_ENCODING_H
#define LB_IMPORTERS_ENCODING_H

#include "importers/bytes.h"

/* `encoding`: a name that iconv knows, or NULL to find out. On success *out owns `from`; after a failure it
 * is still the caller's. LB_USAGE: no such encoding; the words name a few. out->encoding says which one is in
 * use, as soon as that is known. Reading fails only where `from` does. */
LB_CHECK lb_status lb_encoding_open(struct lb_bytes **out, struct lb_bytes *from, const char *encoding,
                                    struct lb_error *err);

#endif
