/* FTS5's tokenizer `porter` over `unicode61`, called as FTS5 itself calls it (SQLite documentation, "FTS5
 * Extension", 7: "Extending FTS5"). No table is made and nothing is asked of the database after opening. */
#include "store/stem.h"

#include "base/words.h"
#include "store/store_private.h"

#include <stdlib.h>
#include <string.h>

/* A stem is hardly longer than its word: what folding adds, and one `e`. */
enum { STEM_MAX = 2 * LB_WORD_MAX };

struct lb_stemmer {
    fts5_tokenizer calls;
    Fts5Tokenizer *porter;
    int tokens; /* of the word in hand */
    size_t length;
    char stem[STEM_MAX];
};

/* The way to a connection's FTS5: a function that fills the pointer it is given. NULL: the function does
 * not. */
static lb_status find_fts5(struct lb_store *store, fts5_api **api, struct lb_error *err)
{
    sqlite3_stmt *stmt = NULL;
    *api = NULL;
    int code = sqlite3_prepare_v2(store->db, "SELECT fts5(?1)", -1, &stmt, NULL);
    if (code == SQLITE_OK)
        code = sqlite3_bind_pointer(stmt, 1, (void *)api, "fts5_api_ptr", NULL);
    if (code == SQLITE_OK)
        code = sqlite3_step(stmt) == SQLITE_ROW ? SQLITE_OK : sqlite3_errcode(store->db);
    sqlite3_finalize(stmt);
    /* SQLITE_ERROR is what an unknown function comes to. */
    return code == SQLITE_OK || (code & 0xff) == SQLITE_ERROR ? LB_OK : store_fail(store, err);
}

static lb_status start_porter(struct lb_stemmer *stemmer, fts5_api *api, struct lb_error *err)
{
    const char *arguments[] = {"unicode61", "remove_diacritics", "2"};
    void *context = NULL;
    int code = SQLITE_ERROR;
    if (api && api->iVersion >= 2)
        code = api->xFindTokenizer(api, "porter", &context, &stemmer->calls);
    if (code == SQLITE_OK)
        code = stemmer->calls.xCreate(context, arguments, 3, &stemmer->porter);
    if (code == SQLITE_NOMEM)
        return lb_fail_nomem(err);
    if (code != SQLITE_OK)
        return lb_fail(
            err, LB_SYSTEM,
            "the SQLite library on this machine (%s) lacks full-text search (FTS5), by which words "
            "are found; nothing was changed. Install an SQLite built with SQLITE_ENABLE_FTS5.",
            sqlite3_libversion());
    return LB_OK;
}

lb_status lb_stemmer_open(struct lb_stemmer **out, struct lb_store *store, struct lb_error *err)
{
    fts5_api *api;
    *out = NULL;
    struct lb_stemmer *stemmer = calloc(1, sizeof *stemmer);
    if (!stemmer)
        return lb_fail_nomem(err);
    lb_status status = find_fts5(store, &api, err);
    if (!status)
        status = start_porter(stemmer, api, err);
    if (status)
        lb_stemmer_close(stemmer);
    else
        *out = stemmer;
    return status;
}

void lb_stemmer_close(struct lb_stemmer *stemmer)
{
    if (stemmer && stemmer->porter)
        stemmer->calls.xDelete(stemmer->porter);
    free(stemmer);
}

static int take_token(void *context, int flags, const char *token, int length, int start, int end)
{
    struct lb_stemmer *stemmer = context;
    (void)flags, (void)start, (void)end;
    stemmer->tokens++;
    if (length <= 0 || length > STEM_MAX)
        stemmer->tokens = 2; /* no stem that could be used */
    else
        memcpy(stemmer->stem, token, stemmer->length = (size_t)length);
    return SQLITE_OK;
}

lb_status lb_stem(struct lb_stemmer *stemmer, const char *word, size_t length, const char **stem,
                  size_t *stem_length, struct lb_error *err)
{
    int code = SQLITE_OK;
    stemmer->tokens = 0;
    if (length <= LB_WORD_MAX) /* no word of base/words.h is longer */
        code = stemmer->calls.xTokenize(stemmer->porter, stemmer, FTS5_TOKENIZE_DOCUMENT, word, (int)length,
                                        take_token);
    if (code == SQLITE_NOMEM)
        return lb_fail_nomem(err);
    if (code != SQLITE_OK)
        return lb_fail(err, LB_SYSTEM, "full-text search (FTS5) refuses the word \"%.*s\": %s.", (int)length,
                       word, sqlite3_errstr(code));
    bool whole = stemmer->tokens == 1;
    *stem = whole ? stemmer->stem : word;
    *stem_length = whole ? stemmer->length : length;
    return LB_OK;
}
