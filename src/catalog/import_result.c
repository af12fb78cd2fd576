/* What an import tells of its files. */
#include "catalog/import.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

enum { WARNINGS_KEPT = 20 };

void lb_imported_file_mention(struct lb_imported_file *file, long line, const char *words)
{
    char *text = NULL;
    if (file->warning_total++ >= WARNINGS_KEPT)
        return;
    if (line > 0 ? asprintf(&text, "line %ld: %s", line, words) < 0 : !(text = strdup(words)))
        return;
    struct {
        char **at;
        size_t count, room;
    } list = {file->warnings, file->warning_count, file->warning_room};
    if (!LB_PUSH(&list, text))
        free(text);
    file->warnings = list.at;
    file->warning_count = list.count;
    file->warning_room = list.room;
}

void lb_import_result_free(struct lb_import_result *result)
{
    for (size_t i = 0; i < result->files.count; i++) {
        struct lb_imported_file *file = &result->files.at[i];
        free(file->file);
        free(file->kind);
        free(file->problem);
        for (int r = 0; r < file->refusal_count; r++)
            free(file->refusals[r]);
        for (size_t w = 0; w < file->warning_count; w++)
            free(file->warnings[w]);
        free(file->warnings);
        lb_mapping_free(file->mapping);
        lb_preview_free(&file->preview);
    }
    free(result->files.at);
    memset(result, 0, sizeof *result);
}
