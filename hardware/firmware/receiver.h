// Gathers received bytes into lines and has each read and obeyed.
#pragma once

/** Takes what waits, a bounded number of bytes a call. */
void receiver_step(void);
