#include "base/shell.h"
#include "scratch.h"

#include <criterion/criterion.h>
#include <stdint.h>
#include <stdio.h>
#include <string.h>

static void gives(const char *word, const char *expected)
{
    struct lb_buf room = {0};
    cr_expect_str_eq(lb_shell_word(&room, word), expected);
    lb_buf_free(&room);
}

Test(shell, plain_words_stay_as_they_are)
{
    gives("saturday", "saturday");
    gives("M6x1.0x25", "M6x1.0x25");
    gives("finch-2_b./:,%+@=", "finch-2_b./:,%+@=");
}

Test(shell, others_are_quoted)
{
    gives("big job", "'big job'");
    gives("Bolt & Son", "'Bolt & Son'");
    gives("", "''");
    gives("'", "''\\'''");
    gives("Jo's van", "'Jo'\\''s van'");
    gives("~", "'~'");
    gives("$HOME", "'$HOME'");
    gives("a\\b", "'a\\b'");
    gives("Köln", "'Köln'");
    gives("#1", "'#1'");
}

Test(shell, words_go_behind_what_is_there)
{
    struct lb_buf out = {0};
    lb_buf_puts(&out, "buy ");
    cr_expect_str_eq(lb_shell_word(&out, "big job"), "buy 'big job'");
    lb_buf_putc(&out, ' ');
    cr_expect_str_eq(lb_shell_word(&out, "small"), "buy 'big job' small");
    lb_buf_free(&out);
}

enum { WORDS = 3000, LONGEST = 40 };

static uint32_t next_random(uint32_t *state)
{
    *state = *state * 1664525u + 1013904223u;
    return *state >> 8;
}

/* Bytes as they come, or such as shells take for something. */
static void random_word(char *word, uint32_t *state)
{
    static const char signs[] = "''\\\"$`!&|;<>()[]{}*?~# \t\n=%^-aZ9";
    size_t length = next_random(state) % LONGEST;
    for (size_t i = 0; i < length; i++)
        word[i] = next_random(state) % 2 ? signs[next_random(state) % (sizeof signs - 1)]
                                         : (char)(1 + next_random(state) % 255);
    word[length] = '\0';
}

/* What /bin/sh makes of them: each word with a NUL behind it. */
static size_t read_by_shell(const struct lb_buf *script, char *out, size_t room)
{
    struct scratch scratch = scratch_make();
    char command[256];
    scratch_write(&scratch, "words.sh", script->text, script->length);
    snprintf(command, sizeof command, "/bin/sh '%s'", scratch_path(&scratch, "words.sh"));
    FILE *shell = popen(command, "r");
    cr_assert(shell);
    size_t length = fread(out, 1, room, shell);
    cr_expect_eq(pclose(shell), 0);
    scratch_remove(&scratch);
    return length;
}

Test(shell, a_shell_reads_the_same_bytes)
{
    static char expected[WORDS * (LONGEST + 1)], seen[WORDS * (LONGEST + 1) + 1];
    struct lb_buf script = {0};
    uint32_t state = 20261130;
    size_t length = 0;
    for (int i = 0; i < WORDS; i++) {
        char *word = expected + length;
        random_word(word, &state);
        length += strlen(word) + 1;
        lb_buf_puts(&script, "printf '%s\\0' ");
        lb_shell_word(&script, word);
        lb_buf_putc(&script, '\n');
    }
    cr_assert_not(script.failed);
    cr_assert_eq(read_by_shell(&script, seen, sizeof seen), length);
    cr_expect(memcmp(seen, expected, length) == 0);
    lb_buf_free(&script);
}
