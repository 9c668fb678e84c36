// What is in the board's own lines, as docs/protocol.md has them.
#pragma once

/** No line of the board is longer, its check and end included. */
#define LONGEST_SAID 180

void say_boot(void);
void say_board(void);
void say_seen(void);
void say_lost(void);
